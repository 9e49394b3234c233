"""A clock time becomes a moment: the latest that is not in the future, and what leaves it open."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property
from typing import Literal
from zoneinfo import ZoneInfo

from parsers.clocks import Clock
from parsers.days import dates
from parsers.wall_clock import Place, local, places

Problem = Literal["future", "either half", "before birth", "skipped"]

_FAR = timedelta(hours=6)
_SOON = timedelta(hours=1)
"""The contract's rule 6: figures over six hours back that come up again within the hour are left open."""


@dataclass(frozen=True)
class Frame:
    """What a told time is read against: now, the litter's zone, and its birth where it is known."""

    now: datetime
    tz: ZoneInfo
    born: datetime | None = None

    @cached_property
    def instant(self) -> datetime:
        """Now, in UTC."""
        return self.now.astimezone(UTC)

    @cached_property
    def shown(self) -> datetime:
        """Now, as the litter's clocks show it."""
        return self.now.astimezone(self.tz)

    @cached_property
    def _birth(self) -> datetime | None:
        return self.born and self.born.astimezone(UTC).replace(second=0, microsecond=0)

    def birth_problem(self, moment: datetime) -> Problem | None:
        """`before birth` for a moment before the minute of the birth."""
        return "before birth" if self._birth is not None and moment < self._birth else None


def near_now(said: Clock, frame: Frame) -> list[Place]:
    """Every moment from yesterday to tomorrow, or on the said day, that a clock time can name."""
    shown = frame.shown
    if said.hour is None:
        hours = [shown.replace(tzinfo=None) + timedelta(hours=step) for step in (-2, -1, 0, 1, 2)]
        return [place for each in hours for place in places(each.date(), each.hour, said.minute, frame.tz)]
    return [
        place
        for day in dates(said.day, shown)
        for hour, later in _halves(said)
        for place in places(day + timedelta(days=later), hour, said.minute, frame.tz)
    ]


def near(said: Clock, moment: datetime, tz: ZoneInfo) -> list[Place]:
    """Every moment within a day of another at which a clock shows the said figures."""
    shown = moment.astimezone(tz).date()
    return [
        place
        for step in (-1, 0, 1)
        for hour, later in _halves(said._replace(day=None))
        for place in places(shown + timedelta(days=step + later), hour, said.minute, tz)
    ]


def choose(found: Iterable[Place], said: Clock, frame: Frame) -> tuple[datetime, Problem | None] | None:
    """The latest moment (in UTC) that is not in the future, and what leaves it open; None where there is none at all."""
    found = list(found)
    past = max((place for place in found if place.at <= frame.instant), key=lambda place: place.at, default=None)
    ahead = min((place for place in found if place.at > frame.instant), key=lambda place: place.at, default=None)
    if past is None:
        return (ahead.at, "future") if ahead else None
    if past.skipped:
        return past.at, "skipped"
    if ahead and not ahead.skipped and ahead.at - frame.instant <= _SOON and frame.instant - past.at > _FAR:
        return (past.at, "either half") if said.either else (ahead.at, "future")
    return past.at, "either half" if _open(said) else None


def next_after(said: Clock, now: datetime, tz: ZoneInfo) -> datetime:
    """The first moment after `now` at which a clock shows the said figures, on the said day unless that has gone by.

    In the night when clocks skip the figures, the moment at which a clock that nobody has put right shows them.
    """
    frame = Frame(now, tz)
    ahead = [place.at for place in near_now(said, frame) if place.at > frame.instant]
    if not ahead:
        ahead = [place.at for place in near(said, now, tz) if place.at > frame.instant]
    return local(min(ahead), tz)


def wall_after(said: Clock, hour: int, minute: int) -> tuple[int, int]:
    """The said figures in 24 hours, in the half of the day that comes first after `hour:minute`: `10 pm to 4` ends at 4:00, not 16:00."""
    start = hour * 60 + minute
    options = [each * 60 + said.minute for each, _ in _halves(said)]
    nearest = min(options, key=lambda option: (option - start - 1) % _MINUTES_A_DAY)
    return nearest // 60, nearest % 60


_MINUTES_A_DAY = 1440


def _halves(said: Clock) -> list[tuple[int, int]]:
    """The hours of the day that the figures can be, each with the days to add to the said date (the small hours of a night)."""
    hour, part = said.hour or 0, said.day.part if said.day else None
    late = int(part in ("night", "evening"))
    if said.how == "name" and hour == 0 and said.day and not part and said.day.of != "today":
        return [(0, 0), (0, 1)]  # `yesterday at midnight`: its first minute or its last
    if not 1 <= hour <= 12:
        return [(hour, late if hour < 12 else 0)]
    if said.half == "am" or (part == "morning" and said.half is None):
        return [(hour % 12, late)]
    if said.half == "pm" or part == "afternoon":
        return [(hour % 12 + 12, 0)]
    if part == "evening":
        return [(0, 1) if hour == 12 else (hour + 12, 0)]
    if part == "night":
        if hour == _NIGHT_OPEN:
            return [(hour, 1), (hour + 12, 0)]
        return [(hour % 12, 1)] if hour == 12 or hour < _NIGHT_OPEN else [(hour + 12, 0)]
    return [(hour % 12, 0), (hour % 12 + 12, 0)]


_NIGHT_OPEN = 5
"""`last night at 5` may be evening or morning; earlier figures are the small hours, later ones the evening (from memory of speech)."""


def _open(said: Clock) -> bool:
    """True where a named day leaves two moments: yesterday at midnight, last night at 5."""
    if said.day is None:
        return False
    return len(_halves(said)) == 2 and (said.how == "name" or said.day.part == "night")
