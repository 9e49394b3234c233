"""A message is cut into its words in one pass, and what was worked out of them is kept beside them."""

from __future__ import annotations

import time

import pytest

from parsers.numbers import readings
from parsers.words import Words, cut

LONG = 40_000
SECONDS = 2.0
"""Many times what a pass takes; a cut that looks through the rest of the text at every sign takes minutes."""


@pytest.mark.parametrize(
    "part", ["a", "a.", "a@", "a.b@", "1.", "1/2", "4o", "a-", "'s", "3:1", "ab1", "www.", "http:/", "½", "_", "._", "a'"]
)
def test_a_text_without_an_end_is_cut_in_a_straight_line(part: str) -> None:
    started = time.process_time()
    words = cut(part * (LONG // len(part)))
    assert time.process_time() - started < SECONDS
    assert words[0].start == 0
    assert words[-1].end == len(part) * (LONG // len(part))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Pip's c-section, 3:10.", ["pip's", "c", "section", ",", "3:10", "."]),
        ("thirty- seven", ["thirty", "-", "seven"]),
        ("see www.place.example or a@b.example.", ["see", "www.place.example", "or", "a@b.example", "."]),
        ("212g w/ milk", ["212", "g", "with", "milk"]),
        ("it' is", ["it", "'", "is"]),
        ("½ don’t", ["½", "don't"]),
    ],
)
def test_a_word_is_cut_the_same_whatever_stands_behind_it(text: str, words: list[str]) -> None:
    assert [word.text for word in cut(text)] == words


def test_numbers_are_worked_out_once_for_the_words_of_a_message_and_anew_for_others() -> None:
    words = cut("two twelve g")
    assert readings(words, 0) is readings(words, 0)
    assert readings(words[:1], 0) != readings(words, 0)
    assert readings(Words(words[1:]), 0) == readings(words, 1)
    assert readings(list(words), 0) == readings(words, 0)
