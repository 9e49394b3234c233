"""The clock is the only place that asks the machine what time it is, and in what zone it stands."""

from __future__ import annotations

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
