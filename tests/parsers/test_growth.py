"""A message of many more words takes as much longer to read, whatever its words are: no word looks through all the others."""

from __future__ import annotations

from time import process_time

import pytest

from parsers import read
from tests.parsers.litters import NOW, litter

SHORT, LONG = 400, 3200  # words
AT_MOST = 2.5
"""How much longer a word of the long message may take: far more than noise, far less than a look through all the others."""


def _seconds_a_word(piece: str, words: int) -> float:
    text = " ".join((piece.split() * words)[:words])
    best = 1e9
    for _ in range(3):
        began = process_time()
        read(text, litter(), now=NOW, by="Ines")
        best = min(best, process_time() - began)
    return best / words


@pytest.mark.parametrize(
    "piece",
    [
        "all",
        "thanks",
        "can you tell me",
        "remind me every 2 hours",
        "3 nursed at 3:10.",
        "cleared 3,",
        "pup 1's",
        "olive him",
        "they nursed",
        "20 min ago",
        "no, 221",
        "two twelve",
        "3 or 4 nursed",
        "what's due?",
        "wasn't he?",
        "mom ate half",
        "crying",
        "so it was a long night and the rain came down on the roof",
    ],
)
def test_reading_grows_in_a_straight_line(piece: str) -> None:
    assert _seconds_a_word(piece, LONG) < AT_MOST * _seconds_a_word(piece, SHORT)
