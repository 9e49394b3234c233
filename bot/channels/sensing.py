"""What a sensor sends, by the page's address or by a broker: one small JSON object, read with the same care as a person's words."""

from __future__ import annotations

import json
import math

from bot.care.sensors import COLDEST, HOTTEST, Sensed
from parsers.measures import fahrenheit_to_celsius

LONGEST = 2_000
"""Bytes of one reading."""

_FIELDS = {"celsius", "fahrenheit", "humidity"}


def read_sensed(data: bytes | str) -> Sensed | str:
    """A reading: `{"celsius": 30.4, "humidity": 57}`, or with `fahrenheit`; else a sentence that says what is wrong with it."""
    try:
        given = json.loads(data)
    except (ValueError, RecursionError):
        return 'Not JSON: a reading looks like {"celsius": 30.4, "humidity": 57}.'
    if not isinstance(given, dict) or not _FIELDS & given.keys():
        return 'A reading is an object with celsius or fahrenheit, or humidity: {"celsius": 30.4, "humidity": 57}.'
    numbers = {name: given[name] for name in _FIELDS if given.get(name) is not None}
    for name, value in numbers.items():
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            return f"{name} must be a number."
    celsius = numbers.get("celsius")
    if celsius is None and "fahrenheit" in numbers:
        celsius = round(fahrenheit_to_celsius(numbers["fahrenheit"]), 2)
    if celsius is not None and not COLDEST <= celsius <= HOTTEST:
        return f"{celsius:g} C cannot be: the sensor is broken or has just been switched on. Nothing was kept of it."
    humidity = numbers.get("humidity")
    if humidity is not None and not 0 <= humidity <= 100:
        return f"{humidity:g} % cannot be: humidity is from 0 to 100. Nothing was kept of it."
    if celsius is None and humidity is None:
        return "The reading holds no value."
    return Sensed(celsius, humidity)
