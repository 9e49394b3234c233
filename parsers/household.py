"""What a message tells about the litter and the household: names, intervals, units, the watch, telephone numbers (the contract's Setup).

Nothing of a plan, of talk or of a question is taken: something told stands as a sentence, or as a part of one that is set off.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cache, lru_cache
from typing import Any, Literal

from parsers import choices, litter_news, naming
from parsers.edges import openings
from parsers.litter_card import LitterCard
from parsers.places import Places
from parsers.setup_words import Hints
from parsers.subjects import Names
from parsers.telling import Attempt, Result, Section, Sets, Spans, extra, hinting, sections
from parsers.templates import Found
from parsers.words import Word


@dataclass(frozen=True, slots=True)
class Told:
    """Something told: what it sets, the words that it takes, and of these the spans that it has no room for."""

    sets: Sets
    start: int
    end: int
    left: Spans = ()
    """Spans inside it that no field holds (`2 clicks` of a plan): they are to be kept as they were said."""


OF_A_PUP = frozenset(("name",))
"""Sections of which every template speaks of a pup."""
_READERS: dict[str, Callable[[Attempt, Found], Result | None]] = {
    "name": naming.name,
    "list_of_names": naming.list_of_names,
    "every": choices.every,
    "snooze": choices.snooze,
    "on_duty": choices.on_duty,
    "roster": choices.roster,
    "units": choices.units,
    "formula": choices.formula,
    "adult_grams": choices.adult_grams,
    "breed": choices.breed,
    "reminders": choices.reminders,
    "invite": choices.invite,
    "phone": choices.phone,
    "litter": litter_news.litter,
}


@cache
def known_words() -> frozenset[str]:
    """Every word of the setup's vocabulary, for the speller."""
    extras = [extra("name", "more"), extra("on_duty", "end"), extra("litter", "tail")]
    return frozenset(
        word for templates in [*(section.templates for section in sections()), *extras] for word in templates.known if word.isalpha()
    )


def find(words: Sequence[Word], start: int, end: int, names: Names, card: LitterCard, now: datetime, *, by: str | None = None,
         last_who: int | Literal["dam"] | None = None) -> list[Told]:  # fmt: skip
    """Everything told in words[start:end], in order. `last_who` is whom `him` means in `call him Olive`."""
    hints = Hints(words, start, end, names, card)
    found_hints = hints.between(start, end)
    likely = _likely(hinting().intersection(found_hints))
    if last_who is None and "{number}" not in found_hints and not names.may_name(found_hints):
        likely = [section for section in likely if section.name not in OF_A_PUP]
    if not likely:
        return []
    quiet = _unshouted(words, start, end)
    if quiet is not words:
        words, hints = quiet, Hints(quiet, start, end, names, card)
    places = Places(end, names, card, now, by=by, last_who=last_who)
    found: list[Told] = []
    done, near_from, near = start, -1, likely
    for opening in openings(words, start, end):
        if opening.start < done:
            continue
        if opening.start != near_from and end - start > _WINDOW:
            found_hints = hints.between(opening.start, min(end, opening.start + _WINDOW))
            near_from, near = opening.start, [section for section in likely if section.may_be(found_hints)]
        told = _told(Attempt(words, opening, start, end, places), near) if near else None
        if told is not None:
            found.append(told)
            done = told.end
    return found


def _unshouted(words: Sequence[Word], start: int, end: int) -> Sequence[Word]:
    """The words as if in small letters, where all of them begin with a capital: then a capital shows no name."""
    letters = [word for word in words[start:end] if word.kind == "word" and word.text not in _ASIDE]
    if len(letters) < _SHOUTED or not all(word.capital for word in letters):
        return words
    return [replace(word, capital=False) for word in words]


_SHOUTED = 3
_ASIDE = frozenset(("ok", "okay", "um", "ugh", "well", "thanks", "please"))


@lru_cache(maxsize=256)
def _likely(found: frozenset[str]) -> Sequence[Section]:
    """The sections that may be told in a message, by all of its hints that any section asks for."""
    return [section for section in sections() if section.may_be(found)]


def merged(told: Iterable[Told]) -> Sets:
    """All that a message sets, as one object: several names, intervals or numbers become lists; of the rest the last word counts."""
    sets: Sets = {}
    for one in told:
        for key, value in one.sets.items():
            if key in _LISTS and key in sets:
                sets[key] = _as_list(sets[key]) + _as_list(value)
            elif key == "litter" and key in sets:
                sets[key] = sets[key] | value
            else:
                sets[key] = value
    return sets


_WINDOW = 20
"""Words in which something told shows what it is about."""
_LISTS = frozenset(("name", "every", "reminders", "phone", "roster"))


def _as_list(value: Any) -> list[Any]:
    return list(value) if isinstance(value, list) else [value]


def _told(attempt: Attempt, sections: Sequence[Section]) -> Told | None:
    best: Result | None = None
    for section in sections:
        for found in attempt.next(section.templates, attempt.opening.at):
            result = _READERS[section.name](attempt, found)
            if result is not None and (best is None or result[1] > best[1]):
                best = result
    return None if best is None else Told(best[0], attempt.opening.start, best[1], best[2])
