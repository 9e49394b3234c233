"""The axes of charts: ages in hours or days, and hours of the clock on the litter's own wall."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.charts.chart import Axis

MOST_NUMBERS, MOST_WORDS = 8, 6
"""How many ages, and how many hours or dates, stand along the foot of a chart on a phone; more would touch."""
_HOURS_UNTIL = 2.0
"""Up to this age in days an axis counts hours."""
_STEPS_OF_AGE = (1, 2, 7, 14)
_STEPS_OF_AGE_IN_HOURS = (2, 3, 6, 12)
_STEPS_OF_CLOCK = (1, 2, 3, 6, 12)
_STEPS_OF_DATE = (1, 2, 7, 14)


def days(span: timedelta) -> float:
    """A span as a number of days."""
    return span / timedelta(days=1)


def age_axis(low: float, high: float, since: str) -> Axis:
    """From one age to another, in days; young ages are counted in hours. `since` is what they count from."""
    if high <= _HOURS_UNTIL:
        step = _step(24 * (high - low), _STEPS_OF_AGE_IN_HOURS, MOST_NUMBERS)
        hours = range(math.ceil(24 * low / step) * step, math.floor(24 * high) + 1, step)
        return Axis(low=low, high=high, label=f"hours since {since}", ticks=tuple([(hour / 24, str(hour)) for hour in hours]))
    step = _step(high - low, _STEPS_OF_AGE, MOST_NUMBERS)
    whole = range(math.ceil(low / step) * step, math.floor(high) + 1, step)
    return Axis(low=low, high=high, label=f"days since {since}", ticks=tuple([(float(day), str(day)) for day in whole]))


def clock_axis(start: datetime, end: datetime, zone: ZoneInfo) -> Axis:
    """From one moment to another, in days since the first; words at round hours of the wall clock, or at midnights where it is long."""
    span = end - start
    ticks: list[tuple[float, str]] = []
    if span <= timedelta(days=2):
        step = _step(span / timedelta(hours=1), _STEPS_OF_CLOCK, MOST_WORDS)
        moment = start.astimezone(UTC).replace(minute=0, second=0, microsecond=0)
        while moment <= end:
            wall = moment.astimezone(zone)
            if moment >= start and wall.hour % step == 0 and wall.minute == 0:
                ticks.append((days(moment - start), f"{wall.hour % 12 or 12} {'am' if wall.hour < 12 else 'pm'}"))
            moment += timedelta(hours=1)
        return Axis(low=0, high=days(span), label="", ticks=tuple(ticks))
    step = _step(days(span), _STEPS_OF_DATE, MOST_WORDS)
    day = start.astimezone(zone).date() + timedelta(days=1)
    while (midnight := datetime(day.year, day.month, day.day, tzinfo=zone)) <= end:
        ticks.append((days(midnight.astimezone(UTC) - start), f"{day.day} {day:%b}"))
        day += timedelta(days=step)
    return Axis(low=0, high=days(span), label="", ticks=tuple(ticks))


def _step(length: float, steps: tuple[int, ...], most: int) -> int:
    """The finest step that puts no more on an axis than it has room for."""
    return next((step for step in steps if length / step <= most), steps[-1] * math.ceil(length / steps[-1] / most))
