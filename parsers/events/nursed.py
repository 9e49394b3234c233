"""A pup drank from the dam."""

from typing import Literal

from parsers.events.base import Event, Number, Units, Who


class Nursed(Event):
    """A nursing; `minutes` is how long, where it was said."""

    kind: Literal["nursed"] = "nursed"
    who: Who
    minutes: Number | None = None

    def say(self, units: Units) -> str:
        return "nursed" if self.minutes is None else f"nursed {units.number(self.minutes)} min"
