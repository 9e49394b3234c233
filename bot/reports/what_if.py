"""What if: a value that is asked about (`is 210 ok for 3`), held against what is known, as if it were logged now."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import NamedTuple

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.growth import growth
from bot.care.notices import standing
from bot.care.nursery import Nursery
from bot.care.usual import expected_percent
from bot.care.wording import say_change, say_hours, say_percent, say_weight
from bot.reports.asked import Asked
from bot.reports.looks import say_look
from bot.reports.needs import say_worry
from parsers.events.temperature import Temperature
from parsers.events.weight import Weight
from parsers.measures import GRAMS_PER_OUNCE, fahrenheit_to_celsius, measures, tidy
from parsers.numbers import readings
from parsers.plausibility import Fit, body, weight
from parsers.words import cut

Value = Weight | Temperature


class Supposed(NamedTuple):
    """An entry that is only supposed."""

    told_at: datetime
    by: str
    event: Value
    message: int = 0
    replaces: int | None = None


def what_if(asked: Asked, dog: Dog) -> tuple[list[str], dict[str, JsonValue]]:
    """What to think of the value in the question: a line, and its figures; nothing, where it has none, or that was logged by it."""
    value = _value(asked, dog)
    latest = dog.weighings.latest()
    if value is None or (latest is not None and latest.at == asked.now):
        return [], {}
    supposed = asked.nursery.after([Supposed(asked.now, asked.by, value)])
    if isinstance(value, Weight):
        line, values = _weighed(asked, supposed, dog, value)
        return [f"{say_weight(value.grams, asked.nursery.units)}: {line}."], values
    said = value.say(asked.nursery.units)
    figures: dict[str, JsonValue] = {"asked_celsius": value.celsius}
    if body(asked.nursery.card(()), value.celsius).fit is Fit.IMPLAUSIBLE:
        return [f"{said}: hardly a body temperature, take it again."], figures
    worries = [one.about for one in standing(asked.nursery, asked.now) if dog.who in one.who]
    new = [say_worry(one) for one in standing(supposed, asked.now) if dog.who in one.who and one.about not in worries]
    return [f"{said}: {'; '.join(new) or 'no warning'}."], figures


def _weighed(asked: Asked, supposed: Nursery, dog: Dog, value: Weight) -> tuple[str, dict[str, JsonValue]]:
    values: dict[str, JsonValue] = {"asked_grams": value.grams}
    if weight(asked.nursery.card(()), dog.who, value.grams, asked.now).fit is Fit.IMPLAUSIBLE:
        return "far from the last weight, weigh again", values
    after = supposed.dog(dog.who)
    gain = None if after is None else growth(supposed, after)
    if gain is None or gain.gain_g is None or gain.gain_percent is None or gain.hours is None:
        return "nothing to compare it with yet", values
    values |= {"asked_gain_g": gain.gain_g, "asked_gain_percent": gain.gain_percent}
    said = f"{say_change(gain.gain_g, asked.nursery.units)} ({say_percent(gain.gain_percent)}) in {say_hours(gain.hours)}"
    usual = expected_percent(None if gain.age is None else gain.age.days)
    if dog.who == "dam":
        return said, values
    look = say_look(gain.look) or ("" if usual is None else f"usual is {usual[0]:g} to {usual[1]:g} % a day")
    return f"{said}, {look}" if look else said, values


def _value(asked: Asked, dog: Dog) -> Value | None:
    """The weight or temperature that the words hold: one with its unit before a bare number; the number of a pup is none."""
    words = cut(asked.words)
    for place in range(len(words)):
        for measure in measures(words, place):
            if measure.dimension == "mass":
                return Weight(who=dog.who, grams=tidy(measure.value))
            if measure.dimension == "warmth":
                return Temperature(who=dog.who, celsius=_celsius(measure.number, measure.unit))
    bare = [number.value for place in range(len(words)) for number in readings(words, place)[:1] if number.value not in asked.named]
    return next(iter(sorted(_bare(asked, dog, bare), key=lambda one: one[0])), (0, None))[1]


def _bare(asked: Asked, dog: Dog, numbers: list[float]) -> Iterator[tuple[int, Value]]:
    """What bare numbers may be, each with how ill it fits: a pup's weight rather than a temperature, of the dam the other way round."""
    card, unit = asked.nursery.card(()), asked.nursery.temperatures_in
    for number in numbers:
        grams = number * GRAMS_PER_OUNCE if asked.nursery.units.weights_in == "oz" else number
        celsius = _celsius(number, unit)
        if body(card, celsius).fit is Fit.PLAUSIBLE:
            yield (0 if dog.who == "dam" else 2), Temperature(who=dog.who, celsius=celsius)
        yield 1 + 2 * (weight(card, dog.who, grams, asked.now).fit is Fit.IMPLAUSIBLE), Weight(who=dog.who, grams=grams)


def _celsius(number: float, unit: str) -> float:
    return fahrenheit_to_celsius(number) if unit == "F" else number
