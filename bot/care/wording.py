"""How the bot says moments, spans and changes: short, the same everywhere."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, tzinfo

from parsers.events import Units
from parsers.measures import GRAMS_PER_OUNCE, celsius_to_fahrenheit


def say_time(moment: datetime, now: datetime, zone: tzinfo) -> str:
    """A moment on the wall clock: `3:14 am`, `yesterday 11:05 pm`, `Mon 2 Mar 9:00 am`."""
    local, today = moment.astimezone(zone), now.astimezone(zone).date()
    clock = f"{local.hour % 12 or 12}:{local.minute:02} {'am' if local.hour < 12 else 'pm'}"
    days = (today - local.date()).days
    if days == 0:
        return clock
    if days in (1, -1):
        return f"{'yesterday' if days == 1 else 'tomorrow'} {clock}"
    return f"{local:%a} {local.day} {local:%b} {clock}"


def iso(moment: datetime, zone: tzinfo) -> str:
    """A moment for programs: ISO 8601 with the offset that the wall clock has then."""
    return moment.astimezone(zone).isoformat()


def say_span(minutes: float) -> str:
    """A length of time: `45 min`, `2 h`, `2 h 10 min`, `3 days`."""
    whole = round(minutes)
    hours, rest = divmod(whole, 60)
    if hours >= 72:
        return f"{round(hours / 24)} days"
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def say_hours(hours: float) -> str:
    """A length of time between weighings, no finer than it matters: `45 min`, `2 h 10 min`, `24 h`, `4 days`."""
    return say_span(round(hours) * 60 if hours >= 10 else hours * 60)


def say_list(parts: Sequence[str]) -> str:
    """`A`, `A and B`, `A, B and C`."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def say_change(grams: float, units: Units) -> str:
    """A change of weight in the household's unit, with its sign: `+6 g`, `-0.2 oz`."""
    value = grams / GRAMS_PER_OUNCE if units.weights_in == "oz" else grams
    return f"{_signed(value)} {units.weights_in}"


def say_percent(percent: float) -> str:
    """A change in percent, with its sign: `+2.9 %`."""
    return f"{_signed(percent)} %"


def _signed(value: float) -> str:
    tenths = round(value, 1)
    return "0" if tenths == 0 else f"{tenths:+.1f}".removesuffix(".0")


def say_temperature(celsius: float, unit: str) -> str:
    """A temperature of ours, to the whole Fahrenheit or the tenth of a Celsius that its source has: `36.1 C`, `97 F`."""
    return f"{celsius_to_fahrenheit(celsius):.0f} F" if unit == "F" else f"{celsius:.1f} C"
