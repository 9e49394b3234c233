"""Numbers are the figures of something said, in words again: their names tell the unit, so that any of them can be said back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime

from bot.care.nursery import Nursery
from bot.care.wording import say_change, say_hours, say_percent, say_span, say_temperature, say_time, say_weight
from parsers.measures import say_celsius


def say_numbers(values: Mapping[str, object], nursery: Nursery, now: datetime) -> list[str]:
    """`gain -2 g`, `last 2:59 am`: each figure that stands flat, in the order given; lists and the figures of single pups are left out."""
    said = (_said(name, value, nursery, now) for name, value in values.items() if name not in _NAMES)
    return [words for words in said if words is not None]


def _said(name: str, value: object, nursery: Nursery, now: datetime) -> str | None:
    *label, unit = name.split("_")
    if isinstance(value, str):
        return f"{' '.join(label)} {say_time(datetime.fromisoformat(value), now, nursery.zone)}" if unit == "at" else value
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    if unit in _UNITS:
        return f"{' '.join(label)} {_UNITS[unit](float(value), nursery)}".strip()
    if "minutes" in (*label, unit):
        return name.replace("minutes", say_span(float(value))).replace("_", " ")
    return f"{name.replace('_', ' ')} {value:.4g}"


_NAMES = ("care", "sign")
"""Figures that are no number but a name; it is said already."""

_UNITS: Mapping[str, Callable[[float, Nursery], str]] = {
    "g": lambda value, nursery: say_change(value, nursery.units),
    "grams": lambda value, nursery: say_weight(value, nursery.units),
    "percent": lambda value, _: say_percent(value),
    "hours": lambda value, _: f"in {say_hours(value)}",
    "c": lambda value, nursery: say_temperature(value, nursery.temperatures_in),
    "celsius": lambda value, nursery: say_celsius(value, nursery.temperatures_in),
}
"""By the last word of a figure's name."""
