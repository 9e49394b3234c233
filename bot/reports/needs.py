"""Needs: what is worrying of each dog and what is due of it, so that those who need a person most come first."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime

from bot.care.dog import Dog
from bot.care.due import Due
from bot.care.notice import URGENCIES, Notice
from bot.care.notices import standing
from bot.care.nursery import Nursery
from bot.care.rounds import due
from bot.care.wording import say_span, say_time
from parsers.events import Who

_SHORT = 40
"""Letters of what was seen that are said whole."""


@dataclass(frozen=True, slots=True)
class Need:
    """What stands of one dog at a moment."""

    dog: Dog
    worries: tuple[Notice, ...]
    """The warnings whose facts hold, the worst first."""
    dues: tuple[Due, ...]
    """The care that is due, the earliest first; none that the household silenced."""
    now: datetime

    @property
    def late(self) -> tuple[Due, ...]:
        """The care that is overdue."""
        return tuple(one for one in self.dues if one.at < self.now)

    @property
    def ahead(self) -> tuple[Due, ...]:
        """The care that will be due."""
        return tuple(one for one in self.dues if one.at >= self.now)

    @property
    def urgency(self) -> str | None:
        """The worst urgency of its warnings; None: nothing is worrying."""
        return self.worries[0].urgency if self.worries else None

    @property
    def rank(self) -> tuple[int, float]:
        """By which dogs are sorted: the most urgent first, then the longest overdue, then the rest as they come."""
        worst = 0 if self.urgency is None else -URGENCIES.index(self.worries[0].urgency)
        return worst, self.late[0].at.timestamp() if self.late else float("inf")


def needs(nursery: Nursery, dogs: Iterable[Dog], now: datetime) -> list[Need]:
    """The needs of these dogs, those of who needs a person most first, else by their order here."""
    worries, dues = standing(nursery, now), [one for one in due(nursery, now) if not nursery.choices.silences(one.care, one.drug)]
    found = (
        Need(dog, tuple(one for one in worries if dog.who in one.who), tuple(one for one in dues if one.who == dog.who), now)
        for dog in dogs
    )
    return sorted(found, key=lambda need: need.rank)


def say_worries(nursery: Nursery, named: Collection[Who], now: datetime) -> list[str]:
    """`Emergency: gasping (Pup 3)`: what is worrying of those named, or of all and the box where none is, the worst first."""
    worries = [one for one in standing(nursery, now) if not named or set(named) & set(one.who)]
    return [f"{say_worry(one)}{f' ({nursery.together(one.who)})' if one.who else ''}" for one in worries]


def say_worry(worry: Notice) -> str:
    """`Vet today: weak`, `Soon: cold pup, temp 96 F`: how urgent it is, its name, and what was seen, or the first of it."""
    seen = worry.seen if len(worry.seen) <= _SHORT else worry.seen.partition(", ")[0].partition(";")[0]
    named = worry.about == "sign" or worry.about in seen
    return f"{worry.urgency.capitalize()}: {seen if named else f'{worry.about}, {seen}' if seen else worry.about}"


def say_overdue(nursery: Nursery, found: Iterable[Need]) -> list[str]:
    """A line for each care that is overdue, the longest overdue first: `Overdue: nursing of Pups 1 and 2 by 25 min, of Pup 3 by 5 min`."""
    cares: dict[str, dict[str, list[Who]]] = {}
    late = [(need.now - one.at, one) for need in found for one in need.late]
    for by, one in sorted(late, key=lambda each: each[0], reverse=True):
        span = say_span(by.total_seconds() / 60)
        cares.setdefault(one.drug or one.care, {}).setdefault(span, []).append(one.who)
    return [
        f"Overdue: {what} {', '.join(f'{_of(nursery, whos)} by {span}' for span, whos in spans.items())}." for what, spans in cares.items()
    ]


def _of(nursery: Nursery, whos: Iterable[Who]) -> str:
    return f"of {nursery.together(sorted(whos, key=lambda who: 0 if who == 'dam' else who))}"


def say_dues(nursery: Nursery, dues: Iterable[Due], now: datetime) -> list[str]:
    """All of them as one sentence; none where there are none."""
    said = "; ".join(say_due(nursery, one, now) for one in dues)
    return [f"{said[:1].upper()}{said[1:]}."] if said else []


def say_due(nursery: Nursery, one: Due, now: datetime) -> str:
    """`nursing overdue by 25 min`, `calcium due 4:10 am`."""
    what = one.drug or one.care
    if one.at < now:
        return f"{what} overdue by {say_span((now - one.at).total_seconds() / 60)}"
    return f"{what} due {say_time(one.at, now, nursery.zone)}"
