"""The edges of what is told: where a part of a sentence may begin, and where it has ended."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from typing import NamedTuple

from parsers.phrase_list import PhraseList
from parsers.times import loose
from parsers.vocabulary import load
from parsers.words import Word

_SETUP = load("setup")
_STOPS = frozenset(_SETUP["words"]["stops"])
_MARKS = frozenset('.,;:!()-/|\n"“”…>')
_TAIL_MARKS = frozenset('!.)"”')
_MOST_LEADS = 4


@cache
def _leads() -> PhraseList:
    return PhraseList(
        {"ask": _SETUP["words"]["asks"], "lead": [lead for lead in _SETUP["words"]["lead"] if lead not in _SETUP["words"]["asks"]]}
    )


@cache
def _tails() -> PhraseList:
    return PhraseList({"tail": _SETUP["words"]["tail"]})


class Opening(NamedTuple):
    """A place where something told may begin: `at`, after the small words from `start` on that lead it in."""

    start: int
    at: int
    asked: bool
    """True after `can you`: a question mark then makes no question of it."""


class Closing(NamedTuple):
    """Where something told has ended, with the thanks after it; `question` is True where a question mark follows."""

    end: int
    question: bool


def openings(words: Sequence[Word], start: int, end: int) -> Iterator[Opening]:
    """Every place from which something may be told: the start, after a mark, after `and`; with and without what leads it in."""
    for place in range(start, end):
        before = words[place - 1] if place > start else None
        if before is None or before.kind == "newline" or (before.kind == "mark" and before.text in _MARKS) or before.text in _STOPS:
            yield from _led(words, place, end)


def _led(words: Sequence[Word], place: int, end: int) -> Iterator[Opening]:
    yield Opening(place, place, asked=False)
    at, asked = place, False
    for _ in range(_MOST_LEADS):
        found = _leads().at(words, at)
        if found is None:
            return
        at, asked = at + found[1], asked or found[0] == "ask"
        if at < end and words[at].text == ",":
            at += 1
        if at >= end:
            return
        yield Opening(place, at, asked)


def closing(words: Sequence[Word], at: int, end: int) -> Closing | None:
    """The end of what is told, if `at` is one: the end, a mark, `and`, thanks or a loose time follows; None where the sentence goes on."""
    found: Closing | None = None
    place = at
    while True:
        found = _closed(words, place, end) or found
        tail = _tails().at(words, place) if place < end else None
        if tail is None or place + tail[1] > end:
            return found
        place += tail[1]


def _closed(words: Sequence[Word], place: int, end: int) -> Closing | None:
    """The end of what is told if it stands at `place` itself."""
    if place >= end:
        return Closing(place, question=False)
    word = words[place]
    if word.text == "?":
        return Closing(place, question=True)
    if word.kind == "newline" or (word.kind == "mark" and (word.text in _MARKS or not word.text.isascii())) or word.text in _STOPS:
        return Closing(place, question=False)
    later = loose(words, place)
    if later and place + later < end and words[place + later].kind != "mark":
        return None
    return Closing(place, question=False) if later else None
