"""The ladder: by which way something is brought to a person next, and when, given what was tried and what is known to have arrived.

Pure: the time is an argument, and nothing is sent from here. All figures are *derived*: choices of ours, no published source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

AGAIN_AFTER = timedelta(minutes=2)
"""How long after the last try the ways are gone through again, where all were tried and nothing is known to have arrived."""
ROUNDS = 5
"""How often each way is tried; care that is still due is said again by the clock of the care itself."""
UNHEARD_AFTER = timedelta(minutes=10)
"""What nobody got within this time is itself a warning."""
CARRIED_FOR = timedelta(hours=1)
"""After a restart, what was said within this time is still carried on; what is older stands in the log."""


class Came(StrEnum):
    """What is known of one try."""

    FAILED = "failed"
    HANDED = "handed over"
    """Someone else has it now (an open page, a push service), and may confirm it yet."""
    ARRIVED = "arrived"


@dataclass(frozen=True, slots=True)
class Way:
    """A way to a person: its name, how long it is given to confirm, and whether it is the house's own, one for all people."""

    name: str
    patience: timedelta = timedelta()
    shared: bool = False


@dataclass(frozen=True, slots=True)
class Try:
    """The last try by one way: when, what became of it, and how many there were."""

    way: str
    at: datetime
    came: Came
    times: int = 1


@dataclass(frozen=True, slots=True)
class Step:
    """What to do: go by this way now, or look again at a moment; neither, where nothing is left to do."""

    way: Way | None = None
    again: datetime | None = None


def arrived(tries: Iterable[Try]) -> bool:
    """Whether any way is known to have brought it."""
    return any(one.came is Came.ARRIVED for one in tries)


def next_step(ways: Sequence[Way], tries: Iterable[Try], now: datetime) -> Step:
    """The next way in order that was not tried; no sooner than the last one has had its time. After a while all again, in rounds.

    A try that lies ahead was made before the clock was set back: it has had its time.
    """
    known = {one.way: one for one in tries}
    if arrived(known.values()) or not ways:
        return Step()
    waiting = [
        known[way.name].at + way.patience
        for way in ways
        if way.name in known and known[way.name].came is Came.HANDED and known[way.name].at <= now < known[way.name].at + way.patience
    ]
    if waiting:
        return Step(again=max(waiting))
    times = {way.name: known[way.name].times if way.name in known else 0 for way in ways}
    rounds = min(times.values())
    least = next(way for way in ways if times[way.name] == rounds)
    if rounds >= ROUNDS:
        return Step()
    if rounds == 0 or rounds < max(times.values()):
        return Step(least)  # in the midst of a round
    last = max(one.at for one in known.values())
    return Step(again=last + AGAIN_AFTER) if last <= now < last + AGAIN_AFTER else Step(least)


def unheard_at(said_at: datetime) -> datetime:
    """When something that nobody got by then is a warning."""
    return said_at + UNHEARD_AFTER
