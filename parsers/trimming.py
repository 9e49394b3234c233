"""Thanks, sighs and small words at the edges of a message are no part of it: it means the same with and without them."""

from __future__ import annotations

from collections.abc import Sequence
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
        while last > start and words[last - 1].text in _MARKS:
            last -= 1
        if last > start and words[last - 1].text not in after.words:
            break
        sizes = range(min(_LONGEST, last - start), 0, -1)
        begin = next((last - size for size in sizes if after.at(words[last - size : last], 0) == ("after", size)), None)
        if begin is None:
            break
        end = begin
        while end > start and words[end - 1].text in _MARKS:
            end -= 1
    return (start, end) if start < end else (0, len(words))
