"""What happened in a stretch of time: how often each dog was nursed, fed, cleared and passed, its signs, temperatures and doses."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from bot.care.doing import Doing, doing
from bot.care.nursery import Entry
from parsers.events import Event, Who
from parsers.events.fed import Fed
from parsers.events.toilet import Toilet


@dataclass(slots=True)
class Tally:
    """What happened to one dog, in the order of time."""

    doings: list[Doing] = field(default_factory=list)

    def of(self, *kinds: str) -> list[Doing]:
        """Those of these kinds."""
        return [done for done in self.doings if done.event.kind in kinds]

    def times(self, kind: str) -> int:
        """How often."""
        return len(self.of(kind))

    @property
    def ml(self) -> float:
        """How much was fed by hand, as far as it was told."""
        return sum(done.event.ml or 0 for done in self.doings if isinstance(done.event, Fed))

    def passed(self, what: str) -> int:
        """How often there was `urine` or `stool`."""
        return sum(1 for done in self.doings if isinstance(done.event, Toilet) and getattr(done.event, what))


@dataclass(frozen=True, slots=True)
class Happened:
    """All that was told, or happened, in the time."""

    dogs: dict[Who, Tally]
    around: Sequence[Doing]
    """What is of no dog: the box, a visitor, what was cleaned, notes."""
    by: Counter[str]
    """How many entries each person made."""

    def tally(self, who: Who) -> Tally:
        """What happened to a dog; nothing, where it was not told of."""
        return self.dogs.get(who) or Tally()


def happened(entries: Iterable[Entry], end: datetime) -> Happened:
    """From entries, the latest first: those told until a moment, for what is told late is news too."""
    dogs: dict[Who, Tally] = {}
    around: list[Doing] = []
    by: Counter[str] = Counter()
    for entry in entries:
        if entry.told_at > end or not isinstance(entry.event, Event):
            continue
        by[entry.by] += 1
        done = doing(entry.event, entry.told_at, entry.by)
        who: Who | None = getattr(entry.event, "who", None)
        if who is None:
            around.append(done)
        else:
            dogs.setdefault(who, Tally()).doings.append(done)
    for tally in dogs.values():
        tally.doings = _in_order(tally.doings)
    return Happened(dogs, _in_order(around), by)


def _in_order(latest_first: list[Doing]) -> list[Doing]:
    """By time; of one time as they were told."""
    as_told = latest_first[::-1]
    return sorted(as_told, key=lambda done: done.began)
