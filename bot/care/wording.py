"""How care and reports say moments, spans and changes; moments, spans and lists as the reader says them."""

from __future__ import annotations

from datetime import datetime, tzinfo
from zoneinfo import ZoneInfo

from parsers.events import Units
from parsers.measures import GRAMS_PER_OUNCE, celsius_to_fahrenheit, say_number
from parsers.saying import say_list, say_span, say_time

__all__ = [
    "at_time",
    "iso",
    "say_change",
    "say_hours",
    "say_list",
    "say_percent",
    "say_range",
    "say_reading",
    "say_span",
    "say_temperature",
    "say_time",
    "say_weight",
]

_FINE_HOURS = 10
"""Up to here the minutes of a span between weighings are said too."""


def iso(moment: datetime, zone: tzinfo) -> str:
    """A moment for programs: ISO 8601 with the offset that the wall clock has then."""
    return moment.astimezone(zone).isoformat()


def at_time(moment: datetime, now: datetime, zone: ZoneInfo) -> str:
    """A moment with its preposition: `at 3:14 am`, `tomorrow at 1:15 am`."""
    said = say_time(moment, now, zone)
    day, _, clock = said.partition(" ")
    if day in ("yesterday", "tomorrow"):
        return f"{day} at {clock}"
    return f"at {said}" if moment.astimezone(zone).date() == now.astimezone(zone).date() else f"on {said}"


def say_hours(hours: float) -> str:
    """A length of time between weighings, no finer than it matters: `45 min`, `2 h 10 min`, `24 h`, `4 days`."""
    return say_span(round(hours) * 60 if hours >= _FINE_HOURS else hours * 60)


def say_weight(grams: float, units: Units) -> str:
    """A weight in the household's unit; ounces to the hundredth, finer than any home scale."""
    if units.weights_in == "oz":
        return f"{say_number(round(grams / GRAMS_PER_OUNCE, 2))} oz"
    return f"{say_number(grams)} g"


def say_change(grams: float, units: Units) -> str:
    """A change of weight in the household's unit, with its sign: `+6 g`, `-0.2 oz`."""
    value = grams / GRAMS_PER_OUNCE if units.weights_in == "oz" else grams
    return f"{_signed(value)} {units.weights_in}"


def say_percent(percent: float) -> str:
    """A change in percent, with its sign: `+2.9 %`."""
    return f"{_signed(percent)} %"


def say_temperature(celsius: float, unit: str) -> str:
    """A temperature of ours, to the whole Fahrenheit or the tenth of a Celsius that its source has: `36.1 C`, `97 F`."""
    return f"{celsius_to_fahrenheit(celsius):.0f} F" if unit == "F" else f"{celsius:.1f} C"


def say_range(low: float, high: float, unit: str) -> str:
    """`29 to 32 C`, `84 to 90 F`: whole degrees, as the sources print them."""
    if unit == "F":
        low, high = celsius_to_fahrenheit(low), celsius_to_fahrenheit(high)
    return f"{low:.0f} to {high:.0f} {unit}"


def say_reading(celsius: float, unit: str) -> str:
    """A temperature that was read, in the household's unit, to the tenth that thermometers show: `31.1 C`, `88 F`, `95.4 F`."""
    return f"{celsius_to_fahrenheit(celsius) if unit == 'F' else celsius:.1f}".removesuffix(".0") + f" {unit}"


def _signed(value: float) -> str:
    tenths = round(value, 1)
    return "0" if tenths == 0 else f"{tenths:+.1f}".removesuffix(".0")
