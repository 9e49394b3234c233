"""Telling something about the household: the sections of what can be told, and one attempt to read it from a place on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass
from functools import cache
from typing import Any, NamedTuple

from parsers.edges import Opening, closing
from parsers.places import Places
from parsers.templates import Found, Templates
from parsers.vocabulary import load
from parsers.words import Word

_SETUP = load("setup")
_BETWEEN = frozenset((",", ";", "and", "&", "then", "/", "\n", "|", "-", "."))

Sets = dict[str, Any]
"""The contract's `sets` object."""
Spans = tuple[tuple[int, int], ...]
Result = tuple[Sets, int, Spans]
"""What an attempt read: what it sets, where it ends, and the spans that no field holds."""


@dataclass(frozen=True, slots=True)
class Section:
    """One sort of thing that can be told: its templates, and the words without which none of them is tried."""

    name: str
    needs: frozenset[str]
    also: frozenset[str]
    templates: Templates

    def may_be(self, hints: Set[str]) -> bool:
        """False where the message has not the words for it, so that its templates need not be tried."""
        return not self.needs.isdisjoint(hints) and (not self.also or not self.also.isdisjoint(hints))


class Attempt(NamedTuple):
    """One attempt to read something told from an opening on."""

    words: Sequence[Word]
    opening: Opening
    start: int
    end: int
    places: Places

    def next(self, templates: Templates, at: int) -> list[Found]:
        """The templates that stand at a place, the longest first."""
        return templates.match(self.words, at, self.end, self.places.fillings) if at < self.end else []

    def closed(self, at: int) -> int | None:
        """The end of what is told, if `at` is one and no question mark makes a question of it."""
        found = closing(self.words, at, self.end)
        if found is None or (found.question and not self.opening.asked):
            return None
        return found.end + found.question

    def over_joints(self, at: int) -> int:
        """Past a comma, `and` or the like."""
        while at < self.end and self.words[at].text in _BETWEEN:
            at += 1
        return at


TAGS: dict[str, tuple[str, ...]] = {
    "name": ("firm", "says", "has", "bare", "alone"),
    "list_of_names": ("head",),
    "every": ("says", "drug"),
    "snooze": ("says",),
    "on_duty": ("me", "other", "nobody", "me_until", "other_until"),
    "roster": ("head", "item", "none"),
    "units": ("says", "alone"),
    "formula": ("says",),
    "adult_grams": ("says",),
    "breed": ("says",),
    "reminders": ("off", "on"),
    "invite": ("firm", "says"),
    "phone": ("vet", "emergency"),
    "litter": ("head",),
}
"""The sections of setup.toml that something told may begin with, and the kinds of template in each."""


def _graph(section: str, tags: Iterable[str]) -> Templates:
    data = _SETUP[section]
    lists = {
        key: value
        for key, value in data.items()
        if isinstance(value, list) and key not in tags and all(isinstance(each, str) for each in value)
    }
    templates = Templates(_SETUP["shared"] | lists)
    for tag in tags:
        templates.add(tag, data[tag])
    return templates


@cache
def sections() -> tuple[Section, ...]:
    """Every sort of thing that can be told."""
    return tuple(
        Section(name, frozenset(_SETUP[name]["needs"]), frozenset(_SETUP[name].get("also", ())), _graph(name, tags))
        for name, tags in TAGS.items()
    )


@cache
def hinting() -> frozenset[str]:
    """All that any section asks of a message's words."""
    return frozenset[str]().union(*(section.needs | section.also for section in sections()))


@cache
def extra(section: str, tag: str) -> Templates:
    """Templates that only go on from something told."""
    return _graph(section, (tag,))


def plain(attempt: Attempt, found: Found, sets: Sets, left: Spans = ()) -> Result | None:
    """What is told, if it has ended there."""
    end = attempt.closed(found.end)
    return None if end is None else (sets, end, left)
