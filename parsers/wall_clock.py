"""A wall clock's figures are placed as moments here: once, twice when clocks go back, or moved where clocks skip them."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone
from functools import cache, lru_cache
from typing import NamedTuple
from zoneinfo import ZoneInfo


class Place(NamedTuple):
    """A moment (in UTC) at which a wall clock shows the figures asked for."""

    at: datetime
    turn: int | None = None
    """0 or 1 where the figures come twice that night: the first or the second time."""
    skipped: bool = False
    """True where the clocks skip the figures that night: 0:00 on a clock that nobody has put right yet, or one put right too soon."""


@lru_cache(maxsize=2_000)
def places(day: date, hour: int, minute: int, tz: ZoneInfo) -> tuple[Place, ...]:
    """Every moment at which the zone's clocks show `hour:minute` on `day`; two, marked, where they show it twice or skip it."""
    wall = datetime(day.year, day.month, day.day, hour, minute, tzinfo=tz)
    again = wall.replace(fold=1)
    first, second = wall.astimezone(UTC), again.astimezone(UTC)
    if first == second:
        return (Place(first),)
    if first < second:
        return Place(first, 0), Place(second, 1)
    return Place(second, skipped=True), Place(first, skipped=True)


def local(moment: datetime, tz: ZoneInfo) -> datetime:
    """The moment in the zone, with that night's offset fixed, so that comparing and subtracting count real time."""
    shown = moment.astimezone(tz)
    offset = shown.utcoffset() or timedelta(0)
    return moment.astimezone(timezone(offset))


@cache
def zone_names(tz: ZoneInfo, year: int) -> frozenset[str]:
    """The short names that the zone goes by in a year, in small letters."""
    return frozenset(name_of_zone(datetime(year, month, 1, tzinfo=UTC), tz).lower() for month in range(1, 13))


def name_of_zone(moment: datetime, tz: ZoneInfo) -> str:
    """The short name that the zone goes by at a moment: EST, EDT."""
    return moment.astimezone(tz).tzname() or ""
