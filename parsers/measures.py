"""Units of weight, volume, time, warmth and percent: what they are worth, and how a measure is said."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

from parsers.numbers import readings, starts_number
from parsers.vocabulary import Phrases, Tag, load
from parsers.words import Word

GRAMS_PER_OUNCE = 28.349523125
"""Grams in an avoirdupois ounce, exact by definition (international yard and pound agreement, 1959)."""
OUNCES_PER_POUND = 16
"""Ounces in a pound, by definition."""


def fahrenheit_to_celsius(degrees: float) -> float:
    """Degrees Fahrenheit as degrees Celsius (by definition of the scales)."""
    return (degrees - 32) / 1.8


def celsius_to_fahrenheit(degrees: float) -> float:
    """Degrees Celsius as degrees Fahrenheit (by definition of the scales)."""
    return degrees * 1.8 + 32


def tidy(value: float) -> float:
    """A computed value as it is stored: to a hundredth, far finer than any home scale or thermometer."""
    return round(value, 2)


def say_number(value: float) -> str:
    """A number without a needless `.0`: 15, 7.5."""
    return str(int(value)) if float(value).is_integer() else repr(round(float(value), 4))


def _shortest(value: float, stored: float, back: float, offset: float = 0.0) -> str:
    """The shortest decimal that comes back to `stored` when it is read again: (decimal + offset) * back, to a hundredth."""
    for places in range(5):
        said = f"{value:.{places}f}"
        if tidy((float(said) + offset) * back) == tidy(stored):
            return said
    return repr(value)


def say_grams(grams: float, unit: str) -> str:
    """A weight in the household's unit (`g` or `oz`)."""
    if unit == "oz":
        return f"{_shortest(grams / GRAMS_PER_OUNCE, grams, GRAMS_PER_OUNCE)} oz"
    return f"{say_number(grams)} g"


def say_celsius(celsius: float, unit: str) -> str:
    """A temperature in the household's unit (`F` or `C`)."""
    if unit == "F":
        return f"{_shortest(celsius_to_fahrenheit(celsius), celsius, 1 / 1.8, -32)} F"
    return f"{say_number(celsius)} C"


class Measure(NamedTuple):
    """A number with its unit: the value in what is stored (grams, ml, minutes, percent, degrees, a dose's own unit)."""

    dimension: str
    """mass, volume, duration, warmth, percent or dose."""
    value: float
    unit: str
    length: int
    number: float
    """The value as it was said, in `unit`."""
    alike: bool = False
    joined: bool = False


@cache
def _units() -> Phrases:
    phrases = Phrases()
    for unit in load("measures")["units"]:
        phrases.add(unit["says"], Tag("unit", unit["unit"], (("dimension", unit["dimension"]), ("worth", unit.get("worth")))))
    return phrases


@cache
def _lengths() -> Phrases:
    phrases = Phrases()
    for phrase, minutes in load("measures")["phrases"].items():
        phrases.add([phrase], Tag("length", "min", (("minutes", minutes),)))
    return phrases


def unit_at(words: Sequence[Word], at: int) -> tuple[str, str, float | None, int] | None:
    """The unit at this place: (dimension, unit, worth, words it takes); None where there is none."""
    if at >= len(words):
        return None
    found = _units().longest(words, at)
    if found is None:
        return None
    length, tags = found
    (_, dimension), (_, worth) = tags[0].sets
    return dimension, tags[0].name, worth, length


def measures(words: Sequence[Word], at: int, *, alike: bool = False) -> list[Measure]:
    """Every measure (a number with a unit) that begins at this place, the plainest reading first."""
    lengths = _lengths().longest(words, at) if words[at].text in _lengths().paths else None
    if lengths is not None:
        minutes = float(dict(lengths[1][0].sets)["minutes"])
        return [Measure("duration", minutes, "min", lengths[0], minutes)]
    found: list[Measure] = []
    for number in readings(words, at, alike=alike):
        place = at + number.length
        if place == len(words) or words[place].text not in _before_units():
            continue
        if words[place].text == "-" and not words[place].spaced:
            place += 1
        if number.value < 1 and place + 1 < len(words) and words[place].text in ("a", "an", "of"):
            place += 2 if words[place].text == "of" and words[place + 1].text in ("a", "an") else 1
        place, whole = _of_more(words, place)
        if place + 1 < len(words) and words[place].text in _BEFORE_UNIT and unit_at(words, place) is None:
            place += 1
        unit = unit_at(words, place)
        if unit is None or (words[place].text == "humidity" and place + 1 < len(words) and starts_number(words[place + 1])):
            continue
        dimension, name, worth, length = unit
        if number.tenths != (dimension == "warmth") and number.tenths:
            continue
        if _no_unit(words, place, name):
            continue
        end = place + length
        value = number.value * (worth or 1) * (whole if number.value < 1 else 1)
        value, end = _small_change(words, end, name, value)
        found.append(Measure(dimension, value, name, end - at, number.value, number.alike, number.joined))
    if not found and words[at].text in ("a", "an"):
        unit = unit_at(words, at + 1)
        if unit is not None and unit[1] in ("lb", "h", "kg"):
            value, end = _small_change(words, at + 1 + unit[3], unit[1], float(unit[2] or 1))
            found.append(Measure(unit[0], value, unit[1], end - at, 1))
    return sorted(found, key=_plain_first) if len(found) > 1 else found


def unit_words() -> frozenset[str]:
    """The words that a unit begins with."""
    return _units().firsts


@cache
def _before_units() -> frozenset[str]:
    """The words that a unit begins with, and those that may stand between a number and its unit."""
    return unit_words() | _BEFORE_UNIT | {"-", "a", "an", "of", "out"}


def _plain_first(measure: Measure) -> tuple[bool, bool]:
    return measure.alike, measure.joined


def _of_more(words: Sequence[Word], at: int) -> tuple[int, float]:
    """Past `of the 4` in `2 of the 4 ml`, where the first number is what was taken, and the whole; else the same place and 1."""
    at += at + 3 < len(words) and words[at].text == "out" and words[at + 1].text == "of"  # `3 out of 4 ml`
    if at + 2 >= len(words) or words[at].text != "of":
        return at, 1
    start = at + 1 + (words[at + 1].text in ("the", "his", "her", "its", "their", "a"))
    if start >= len(words):
        return at, 1
    for number in readings(words, start)[:1]:
        unit = unit_at(words, start + number.length)
        if unit is not None and unit[0] == "volume":
            return start + number.length, number.value
    return at, 1


def _no_unit(words: Sequence[Word], at: int, unit: str) -> bool:
    """True where a single letter after a number is no unit: `3 m` of a list, `2 c-section`, `5 f 198 g` (a sex)."""
    return unit in ("F", "C") and words[at].text in ("f", "c") and at + 1 < len(words) and words[at + 1].text == "section"


def _small_change(words: Sequence[Word], end: int, unit: str, value: float) -> tuple[float, int]:
    """What goes on after whole pounds, kilos or hours: `1 lb 2 oz`, `a pound seven`, `1 h 20`, `an hour and a half`."""
    if (
        unit == "oz"
        and end + 2 < len(words)
        and words[end].text == "and"
        and words[end + 1].text == "a"
        and words[end + 2].text in ("half", "quarter")
    ):
        return value + (0.5 if words[end + 2].text == "half" else 0.25) * GRAMS_PER_OUNCE, end + 3
    if unit not in ("lb", "h", "kg"):
        return value, end
    place = end
    if place < len(words) and words[place].text in ("and", ",", "&"):
        place += 1
    if place >= len(words):
        return value, end
    if place > end and words[place].text == "a" and place + 1 < len(words) and words[place + 1].text in ("half", "quarter"):
        part = 0.5 if words[place + 1].text == "half" else 0.25
        return value + part * _WHOLE[unit], place + 2
    smaller = {"lb": "oz", "h": "min", "kg": "g"}[unit]
    one = unit_at(words, place + 1) if words[place].text in ("a", "an") and place > end else None
    if one is not None and one[1] == smaller:  # `a pound and an ounce`
        return value + (one[2] or 1), place + 1 + one[3]
    for number in readings(words, place):
        if number.tenths or number.joined:
            continue
        following = unit_at(words, place + number.length)
        if following is not None and following[1] == smaller:
            return value + number.value * (following[2] or 1), place + number.length + following[3]
        if following is None and place == end and unit == "lb" and number.value < OUNCES_PER_POUND:
            return value + number.value * GRAMS_PER_OUNCE, place + number.length
        if following is None and place == end and unit == "h" and number.digits and number.value < 60 and not words[place].spaced:
            return value + number.value, place + number.length
    return value, end


_BEFORE_UNIT = frozenset(("more", "full", "whole", "good", "solid", "extra", "long", "big", "small", "little", "fluid"))
"""What may stand between a number and its unit: `5 more minutes`."""
_WHOLE = {"lb": GRAMS_PER_OUNCE * OUNCES_PER_POUND, "h": 60.0, "kg": 1000.0}
