"""The clock on the wall: when a local day shows an hour, as a moment (UTC)."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo


@lru_cache
def at_hour(day: date, hour: float, zone: ZoneInfo) -> datetime:
    """The moment at which the clock shows that hour (9.5: half past nine) on that day."""
    return (datetime(day.year, day.month, day.day, tzinfo=zone) + timedelta(hours=hour)).astimezone(UTC)


def local_day(moment: datetime, zone: ZoneInfo) -> date:
    """The day that the calendar on the wall shows."""
    return moment.astimezone(zone).date()
