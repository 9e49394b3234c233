"""Pups by number: pup 3 · p3 · #3 · no. 3 · pups 6 and 7 born · all five."""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy
from typing import NamedTuple, Self

from parsers.litter_card import LitterCard
from parsers.measures import unit_words
from parsers.numbers import readings
from parsers.vocabulary import load
from parsers.words import Word

Whos = tuple[int | str, ...]
"""Pup numbers and/or "dam"."""

_DATA = load("subjects")
PUP = frozenset(_DATA["pup"]["words"])
HEARD = frozenset(_DATA["pup"]["heard"])
_BEFORE = frozenset(_DATA["pup"]["before"])
_GO_ON = frozenset(("to", "or", "each", "apiece", "on", "at", "for", "and"))
"""Behind a number these go on from a value: `all 10 each`, `all 10 to 15`."""
AND = frozenset(_DATA["join"]["and"]) | {","}


class Subject(NamedTuple):
    """A subject and how many words name it. `rest`, `both`, `pronoun` depend on what was named before and have no `whos` yet."""

    whos: Whos
    length: int
    how: str
    unknown: bool = False
    """True where a pup number is named outright that the litter does not have."""
    left_out: Whos = ()
    """For `everyone except Olive`: who is left out."""
    named: tuple[int, ...] = ()
    """Dead pups that were named outright."""
    counted: int | None = None
    """How many of them were said: `all 5`, `two boys`, `the other three`."""


_WASTE = frozenset(("poop", "poo", "poops", "stool", "stools", "pee", "urine", "wee"))
_LARGEST = 20  # pups in a litter; a larger number is no count of them (own choice)


class PupNumbers:
    """Finds a litter's pups by their numbers."""

    def __init__(self, card: LitterCard) -> None:
        self.card = card
        self.numbers = frozenset(card.by_number)
        self.living = tuple(pup.pup for pup in card.living)
        self._dead = frozenset(pup.pup for pup in card.pups if pup.died is not None)

    def on(self, card: LitterCard) -> Self:
        """The same litter later on: with other weights and doses, and the same pups and names."""
        later = copy(self)
        later.card = card
        return later

    def _numbered(self, words: Sequence[Word], at: int, *, heard: bool) -> Subject | None:
        """`pup 3`, `pup number three`, `pups 1`; after a sound-alike of `pup` only a number of the litter."""
        skip = 0
        while at + skip < len(words) and skip < 2 and (words[at + skip].text in _BEFORE or (skip and words[at + skip].text == ".")):
            skip += 1
        if at + skip >= len(words):
            return None
        number = self._number(words, at + skip, outright=not heard) or self._newborn(words, at + skip)
        if number is None:
            return None
        who, length = number
        if who in self.numbers:
            return self._pups((who,), 1 + skip + length, "pup")
        return Subject((who,), 1 + skip + length, "pup", unknown=True)

    def _number(self, words: Sequence[Word], at: int, *, outright: bool) -> tuple[int, int] | None:
        """A pup's number at this place and its length; with `outright` also one that the litter does not have."""
        found = readings(words, at, alike=True)
        if len(found) == 1 and found[0].digits and found[0].value in self.numbers:  # nearly always
            return int(found[0].value), 1
        found = [one for one in found if one.whole and not one.joined and not one.tenths]
        for one in sorted(found, key=lambda one: (one.alike, one.length)):
            if int(one.value) in self.numbers and not (one.length > 1 and one.alike):
                return int(one.value), one.length
        plain = [one for one in found if not one.alike and 0 < one.value < 100]
        return (int(plain[0].value), plain[0].length) if plain and outright else None

    def _newborn(self, words: Sequence[Word], at: int) -> tuple[int, int] | None:
        """`pup tree born`: a birth may have a number that the litter does not have yet."""
        if at + 1 < len(words) and words[at + 1].text in ("born", "is", "was"):
            alike = [one for one in readings(words, at, alike=True) if one.length == 1]
            return (int(alike[0].value), 1) if alike else None
        return None

    def _newborns(self, words: Sequence[Word], at: int) -> Subject | None:
        """`pups 6 and 7 born`: numbers that the litter does not have yet."""
        if words[at].text != "pups":
            return None
        place, whos = at + 1, list[int]()
        while place < len(words) and words[place].whole and words[place].value not in self.numbers:
            whos.append(int(words[place].value or 0))
            place += 2 if place + 1 < len(words) and words[place + 1].text in AND else 1
        behind = place + (place < len(words) and words[place].text == ":")
        if not whos or behind >= len(words) or words[behind].text not in ("born", "stillborn"):
            return None
        return Subject(tuple(whos), place - at, "list", unknown=True)

    def _lettered(self, words: Sequence[Word], at: int) -> Subject | None:
        """`p3`, `#3`, `no. 3`, `number 3`."""
        text = words[at].text
        place = at + 1
        if text in ("no", "num", "nr") and place < len(words) and words[place].text == ".":
            place += 1
        elif text in ("no", "num", "nr"):
            return None
        if place >= len(words) or (text == "p" and words[place].kind != "number"):
            return None
        told = text == "number" and any(word.text in ("born", "is", "was") for word in words[place + 1 : place + 2])
        number = self._number(words, place, outright=told or (text in ("p", "#") and not words[place].spaced))
        if number is None:
            return None
        who, length = number
        if who not in self.numbers:
            return Subject((who,), place - at + length, "pup", unknown=True)
        return self._pups((who,), place - at + length, "pup")

    def _counted(self, words: Sequence[Word], at: int) -> Subject | None:
        """`all five`, `all 5 pups`, `all 5 nursed`: the litter, with the count that was said of it."""
        if words[at].text != "all" or at + 1 >= len(words):
            return None
        for one in readings(words, at + 1):
            end = at + 1 + one.length
            right = one.value == len(self.living)
            if one.tenths or one.joined or not (right or 1 < one.value <= _LARGEST):
                continue
            named = end < len(words) and words[end].text in PUP
            of_them = end + 1 < len(words) and words[end].text == "of" and words[end + 1].text == "them"
            if not (named or of_them) and (self._measured(words, end) or not (right or self._told_of(words, at, end))):
                return None
            return Subject(self.living, end + named + 2 * of_them - at, "all", counted=int(one.value))
        return None

    @staticmethod
    def _told_of(words: Sequence[Word], at: int, end: int) -> bool:
        """True where what `all 5` did follows it, so that 5 is no value: nothing stands before it, and a word behind."""
        opens = at == 0 or words[at - 1].kind in ("mark", "newline") or words[at - 1].text in AND
        return opens and end < len(words) and words[end].kind == "word" and words[end].text not in _GO_ON

    def _bare(self, words: Sequence[Word], at: int) -> Subject | None:
        """A number of the litter that stands alone; whether it is meant is for the clause to say."""
        if words[at].kind != "number" or not words[at].whole or words[at].value not in self.numbers:
            return None
        if self._measured(words, at + 1) or (at + 1 < len(words) and words[at + 1].kind == "fraction"):
            return None
        return self._pups((int(words[at].value or 0),), 1, "bare")

    def _measured(self, words: Sequence[Word], at: int) -> bool:
        """True where the word at `at` is a unit, so that the number before it is no pup."""
        return at < len(words) and (
            words[at].text in unit_words()
            or (words[at].kind == "word" and words[at].text in ("and",) and at + 1 < len(words) and words[at + 1].text in ("a", "half"))
        )

    def _pups(self, whos: Whos, length: int, how: str) -> Subject:
        dead = tuple([who for who in whos if isinstance(who, int) and who in self._dead]) if self._dead else ()
        return Subject(whos, length, how, named=dead)

    def _runs_on(self, words: Sequence[Word], at: int, whos: list[int | str]) -> bool:
        """`2 4 6 peed`: pup numbers set apart by spaces alone, going up, with a word behind the last."""
        last = whos[-1]
        place = at
        while place < len(words) and words[place].kind == "number":
            value = words[place].value
            if not words[place].whole or value not in self.numbers or not isinstance(last, int) or value <= last:
                return False
            last = int(value or 0)
            place += 1
        if self._measured(words, place) or (place < len(words) and words[place].kind in ("fraction", "clock", "figures")):
            return False
        return place > at and (place - at > 1 or len(whos) > 1 or (place < len(words) and words[place].kind == "word"))

    @staticmethod
    def _tells_a_look(words: Sequence[Word], at: int, named: Subject) -> bool:
        """`dot yellow poop`: no second pup."""
        return at + named.length < len(words) and words[at + named.length].text in _WASTE
