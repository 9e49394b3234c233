"""Weigh-ins are the times for the scale: by the clock on the wall, and the fewer the older a pup is."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.care.figures import figures
from bot.care.wall import at_hour, local_day

_FIGURES = figures("rounds")
_MORNING, _EVENING = _FIGURES.number("weigh_in_morning"), _FIGURES.number("weigh_in_evening")
_LAST_DAY = int(_FIGURES["weigh_in_days"][-1].to_day or 0)
_WIDEST = int(max(row.value for row in _FIGURES["weigh_in_days"]))
"""Days from one weigh-in to the next, at most."""


def last_and_next(birth: datetime | None, now: datetime, zone: ZoneInfo) -> tuple[datetime | None, Iterator[datetime]]:
    """The latest weigh-in of a pup that is past, and those that lie ahead. A pup whose birth was not told counts as newborn."""
    today = local_day(now, zone)
    past = (moment for back in range(_WIDEST + 1) for moment in reversed(list(_on(today - timedelta(days=back), birth, zone))))
    return next((moment for moment in past if moment <= now), None), _ahead(birth, now, zone, today)


def end(birth: datetime | None) -> datetime | None:
    """When a pup is too old for the last weigh-in to be still due; None: its birth was not told."""
    return None if birth is None else birth + timedelta(days=_LAST_DAY + 1)


def _ahead(birth: datetime | None, now: datetime, zone: ZoneInfo, day: date) -> Iterator[datetime]:
    last = end(birth)
    while last is None or at_hour(day, 0, zone) < last:
        yield from (moment for moment in _on(day, birth, zone) if moment > now)
        day += timedelta(days=1)


def _on(day: date, birth: datetime | None, zone: ZoneInfo) -> Iterator[datetime]:
    """The weigh-ins of one local day."""
    morning, evening = at_hour(day, _MORNING, zone), at_hour(day, _EVENING, zone)
    of_life = _day_of_life(birth, morning)
    every = None if of_life is None else _FIGURES.on_day("weigh_in_days", of_life)
    if of_life is not None and every is not None and of_life % every == 0:
        yield morning
    of_life = _day_of_life(birth, evening)
    if of_life is not None and _FIGURES.on_day("weigh_in_evening_days", of_life) is not None:
        yield evening


def _day_of_life(birth: datetime | None, moment: datetime) -> int | None:
    """The day of a pup's life; None: it was not born yet."""
    if birth is None:
        return 0
    return (moment - birth).days if moment >= birth else None
