"""Words that tell of one pup by another: too, as well, same for, so did, hasn't; and what the dam does to one she will not have."""

from __future__ import annotations

from collections.abc import Sequence

from parsers.phrase_list import PhraseList
from parsers.vocabulary import load
from parsers.words import Word

_DATA = load("subjects")["likewise"]
_TOO = PhraseList({"too": _DATA["too"]})
_SAME = PhraseList({"same": _DATA["same"]})
_NOT = PhraseList({"not": _DATA["not"]})
ENDS = frozenset(_DATA["ends"])
"""Words that may follow such a phrase; any other goes on with something else (`blue also peed`)."""
PUSHES = frozenset(load("subjects")["rejected"]["away"])
REJECTS = PUSHES | frozenset(load("subjects")["rejected"]["says"])
"""What the dam does to a pup she will not have."""
_LONGEST = 4  # words of one such phrase


def too_behind(words: Sequence[Word], at: int) -> int:
    """How many words from `at` on say that it goes for the pup before them."""
    found = _TOO.at(words, at)
    return found[1] if found else 0


def denied_behind(words: Sequence[Word], at: int) -> int:
    """How many words from `at` on say that it does not go for the pup before them."""
    found = _NOT.at(words, at)
    return found[1] if found else 0


def same_before(words: Sequence[Word], at: int) -> int:
    """How many words right before `at` say that it goes for the pup behind them."""
    if not at or words[at - 1].text not in _SAME.words:
        return 0
    return next((size for size in range(min(_LONGEST, at), 0, -1) if _SAME.at(words[at - size : at], 0) == ("same", size)), 0)
