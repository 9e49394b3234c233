"""Thanks, sighs and small words at the edges of a message are no part of it: it means the same with and without them."""

from __future__ import annotations

from collections.abc import Sequence, Set
from functools import cache

from parsers.phrase_list import PhraseList
from parsers.vocabulary import load
from parsers.words import Word

_MARKS = frozenset((",", ".", "!", "-", "\n", ";"))
_LONGEST = 5  # words in one such phrase


@cache
def _phrases() -> tuple[PhraseList, PhraseList]:
    edges = load("talk")["edges"]
    return PhraseList({"before": edges["before"] + edges["both"]}), PhraseList({"after": edges["after"] + edges["both"]})


def trim(words: Sequence[Word]) -> tuple[int, int]:
    """Where a message begins and ends without its thanks and sighs; all of it where nothing else is in it."""
    before, after = _phrases()
    start, end = 0, len(words)
    while start < end:
        found = before.at(words, start)
        if found is None:
            break
        place = start + found[1]
        while place < end and words[place].text in _MARKS:
            place += 1
        start = place
    while end > start:
        last = end
        while last > start and _is_mark(words[last - 1]):
            last -= 1
        if last > start and words[last - 1].text not in after.words:
            break
        sizes = range(min(_LONGEST, last - start), 0, -1)
        begin = next((last - size for size in sizes if after.at(words[last - size : last], 0) == ("after", size)), None)
        if begin is None:
            break
        end = begin
        while end > start and _is_mark(words[end - 1]):
            end -= 1
    return (start, end) if start < end else (0, len(words))


def _is_mark(word: Word) -> bool:
    """True for a mark or a face that ends a sentence."""
    return word.text in _MARKS or (word.kind == "mark" and not word.text.isascii())


def sender(words: Sequence[Word], start: int, end: int, people: Set[str]) -> int:
    """How many words from `start` on say who writes: `nadia: moss nursed 10`. None of a roster do: `nadia: 10 pm to 2`."""
    if start + 2 >= end or words[start].text not in people or words[start + 1].text != ":":
        return 0
    ahead = words[start + 2 : min(end, start + 2 + _SHIFT)]
    hours = [word for word in ahead if word.kind == "clock" or (word.value or 0) > 0]
    roster = any(word.text in _TO for word in ahead[1:]) and len(hours) > 1 and all((word.value or 0) <= _HOURS for word in hours)
    return 0 if roster or any(word.text in people for word in words[start + 2 : end]) else 2


_SHIFT = 6  # words of a shift: `10 : 30 pm to 2`
_HOURS = 24
_TO = frozenset(("to", "-", "till", "until", "thru", "through"))
