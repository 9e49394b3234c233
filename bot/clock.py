"""The clock is the only place that asks the machine what time it is, and in what zone it stands."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from time import monotonic

Clock = Callable[[], datetime]
"""Gives the moment it is called, aware, in UTC."""


def now() -> datetime:
    """This moment by the machine, in UTC."""
    return datetime.now(UTC)


def zone_guess() -> str:
    """The name of the zone that the machine is set to, such as `America/Chicago`; `UTC` where it does not say."""
    import tzlocal  # late: the commands that need no zone start faster without it

    try:
        return tzlocal.get_localzone_name() or "UTC"
    except (KeyError, ValueError, OSError):  # two zones that contradict each other, or a name that no zone has
        return "UTC"


STEP = timedelta(seconds=60)
"""A clock that moved by less beside the machine's own count was put right by the network, which is no matter."""
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def counted() -> float:
    """Seconds that the machine counted, also while it slept; nobody can set them."""
    return time.clock_gettime(time.CLOCK_BOOTTIME) if hasattr(time, "CLOCK_BOOTTIME") else monotonic()


class SetClock:
    """Notices that the machine's clock was set while the bot ran: by how much, and whether it shows what was counted since the start."""

    def __init__(self, wall: Clock = now, count: Callable[[], float] = counted) -> None:
        self._wall, self._count = wall, count
        self._start = self._last = self._ahead()

    def moved(self) -> timedelta | None:
        """By how much it was set since this was last asked; None: it was not."""
        ahead = self._ahead()
        by, self._last = ahead - self._last, ahead
        return by if abs(by) >= STEP else None

    @property
    def as_at_the_start(self) -> bool:
        """Whether the clock goes as it did when the bot started."""
        return abs(self._last - self._start) < STEP

    def _ahead(self) -> timedelta:
        """How far the wall clock is ahead of the count."""
        return (self._wall() - _EPOCH) - timedelta(seconds=self._count())


class StoryClock:
    """A clock for a night that is told faster than it was: it stands where it is put, then runs on at the pace of the machine.

    It never goes back. `tell` moves it; between two tellings it runs.
    """

    def __init__(self, start: datetime) -> None:
        self._at = start
        self._told = monotonic()

    def __call__(self) -> datetime:
        """The story's moment now, in UTC."""
        return self._at + timedelta(seconds=monotonic() - self._told)

    def tell(self, moment: datetime) -> datetime:
        """Go on to `moment`, or stay where a later one was reached already; gives the moment now."""
        self._at = max(moment, self())
        self._told = monotonic()
        return self._at
