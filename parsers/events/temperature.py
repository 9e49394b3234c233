"""A body temperature was taken."""

from typing import Literal

from parsers.events.base import Event, Number, Units, Who


class Temperature(Event):
    """A body temperature, in Celsius."""

    kind: Literal["temperature"] = "temperature"
    who: Who
    celsius: Number

    def say(self, units: Units) -> str:
        return f"temp {units.celsius(self.celsius)}"
