"""What happened in a stretch of time: how often each thing was done to each dog, and when those were whose time matters."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from bot.care.doing import Doing, doing
from bot.care.nursery import Entry
from parsers.events import Event, Who
from parsers.events.fed import Fed
from parsers.events.toilet import Toilet

_TIMED = frozenset({"sign", "dose", "intake", "temperature", "born", "died"})
"""Kinds of which each time is told."""
_LAST = frozenset({"placed", "climate", "visitor", "note"})
"""Kinds of which the last time is told; of all others, how often."""


@dataclass(slots=True)
class Tally:
    """What happened to one dog, or to none: to the box, by a visitor, in notes."""

    times: Counter[str] = field(default_factory=Counter)
    """How often, by kind; `urine` and `stool` beside them."""
    ml: float = 0
    """How much was fed by hand, as far as it was told."""
    timed: dict[str, list[Doing]] = field(default_factory=dict)
    """By kind, in the order of time."""


@dataclass(frozen=True, slots=True)
class Happened:
    """All that was told in the time."""

    dogs: dict[Who | None, Tally]
    by: Counter[str]
    """How many entries each person made."""

    def tally(self, who: Who | None) -> Tally:
        """What happened to a dog; nothing, where it was not told of."""
        return self.dogs.get(who) or Tally()


def happened(entries: Iterable[Entry], end: datetime, people: Collection[str] = ()) -> Happened:
    """From entries, the latest first: those told until a moment, for what is told late is news too."""
    dogs: dict[Who | None, Tally] = {}
    by: Counter[str] = Counter()
    for entry in entries:
        event = entry.event
        if not isinstance(event, Event) or entry.told_at > end:
            continue
        kind, who = event.kind, getattr(event, "who", None)
        if not people or entry.by in people:  # a sensor of the box is nobody
            by[entry.by] += 1
        tally = dogs.get(who)
        if tally is None:
            tally = dogs[who] = Tally()
        tally.times[kind] += 1
        if kind in _TIMED or (kind in _LAST and _is_later(event.at or entry.told_at, tally.timed.get(kind))):
            done = doing(event, entry.told_at, entry.by)
            if kind in _LAST:
                tally.timed[kind] = [done]
            else:
                tally.timed.setdefault(kind, []).append(done)
        elif isinstance(event, Fed):
            tally.ml += event.ml or 0
        elif isinstance(event, Toilet):
            tally.times["urine"] += bool(event.urine)
            tally.times["stool"] += bool(event.stool)
    for tally in dogs.values():
        tally.timed = {kind: _in_order(done) for kind, done in tally.timed.items()}
    return Happened(dogs, by)


def _is_later(moment: datetime, than: Sequence[Doing] | None) -> bool:
    return not than or moment > than[0].began


def _in_order(latest_first: Sequence[Doing]) -> list[Doing]:
    """By time; of one time as they were told."""
    as_told = latest_first[::-1]
    return sorted(as_told, key=lambda done: done.began)
