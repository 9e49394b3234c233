"""The words of the setup: tables of phrases from the data, and what the words of a message hint at."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from typing import Any

from parsers.litter_card import LitterCard
from parsers.numbers import SPOKEN
from parsers.phrase_list import PhraseList
from parsers.subjects import Names
from parsers.templates import share
from parsers.vocabulary import load
from parsers.words import Word

_SETUP = load("setup")
_ALONE = 6
"""Words in a message that may be a pup and its name, and no more."""
_I = frozenset(("i", "i'"))


@cache
def table(section: str) -> PhraseList:
    """A table of setup.toml as phrases: what each stands for."""
    table: Mapping[str, Any] = _SETUP[section]
    if section == "intervals":
        return PhraseList({str(minutes): [phrase for phrase, each in table.items() if each == minutes] for minutes in set(table.values())})
    shared: Mapping[str, Sequence[str]] = _SETUP["shared"]
    return PhraseList({meaning: [share(each, shared) for each in patterns] for meaning, patterns in table.items()})


@cache
def cares() -> PhraseList:
    """The care that a reminder or an interval is for."""
    return table("care")


@cache
def deliveries() -> PhraseList:
    """How a litter was born."""
    litter = _SETUP["litter"]
    sections = ["[(" + "|".join(litter["before_section"]) + ")] " + each for each in litter["c-section"]]
    return PhraseList({"c-section": sections, "natural": litter["natural"]})


@cache
def units() -> PhraseList:
    """Units that the household may think in."""
    return PhraseList({unit: _SETUP["units"][unit] for unit in ("g", "oz", "C", "F", "metric", "imperial")})


@cache
def volumes() -> PhraseList:
    """Units of volume, by their ml."""
    return PhraseList({str(each["ml"]): each["says"] for each in _SETUP["formula"]["volumes"]})


@cache
def breeds() -> PhraseList:
    """Breeds, in one and in many."""
    data = load("breeds")
    plain = {name: [text := name.lower().replace("-", " "), f"{text}s"] for name in data["names"]}
    for alias, name in data["also"].items():
        plain.setdefault(name, []).append(alias)
    return PhraseList(plain)


@cache
def drugs() -> PhraseList:
    """Drugs known by name."""
    return PhraseList(dict(load("parts")["drug"]) | {drug: [drug] for drug in _SETUP["drugs"]["also"]})


UNITS: dict[str, dict[str, str]] = {
    "g": {"weights_in": "g"},
    "oz": {"weights_in": "oz"},
    "C": {"temperatures_in": "C"},
    "F": {"temperatures_in": "F"},
    "metric": {"weights_in": "g", "temperatures_in": "C"},
    "imperial": {"weights_in": "oz", "temperatures_in": "F"},
}
"""What each word for units sets."""


@cache
def _hint_words() -> tuple[tuple[str, frozenset[str]], ...]:
    """What a word of a message may hint at, apart from itself."""
    marks = _SETUP["marks"]
    return (
        ("{color}", frozenset(marks["colors"])),
        ("{mark}", frozenset(word for part in ("parts", "alone") for phrase in marks[part] for word in phrase.split())),
        ("{common}", frozenset(_SETUP["not_names"]["common"])),
        ("{number}", SPOKEN),
    )


@lru_cache(maxsize=5_000)
def _hinted(text: str) -> frozenset[str]:
    return frozenset((text, *(hint for hint, hinting in _hint_words() if text in hinting)))


_FIGURES = frozenset(("number", "clock", "fraction"))
_FIGURE = frozenset(("{number}",))


class Hints:
    """The words of a message, and what they hint at (`{color}`, `{number}`, `{people}`), for choosing what may be told in a part of it."""

    def __init__(self, words: Sequence[Word], start: int, end: int, names: Names, card: LitterCard) -> None:
        self._words, self._names, self._fresh = words, names, not card.pups
        part = words[start:end]
        self._start = start
        self._of_each = [_hinted(word.text) | _FIGURE if word.kind in _FIGURES else _hinted(word.text) for word in part]
        self._capital = [
            place for place, word in enumerate(part, start=start) if word.capital and word.kind == "word" and word.text[:2] not in _I
        ]

    def between(self, start: int, end: int) -> set[str]:
        """All that words[start:end] hint at."""
        found = set[str]().union(*self._of_each[start - self._start : end - self._start])
        if self._capital and any(start < place < end for place in self._capital):
            found.add("{capital}")
        if "{color}" in found and len(_hint_words()[0][1] & found) > 1:
            found.add("{colors}")
        if not found.isdisjoint(breeds().firsts) and any(breeds().at(self._words, place) for place in range(start, end)):
            found.add("{breed}")
        if not found.isdisjoint(self._names.people_said):
            found.add("{people}")
        if end - start <= _ALONE:
            found.add("{alone}")
        if self._fresh:
            found.add("{fresh}")
        return found
