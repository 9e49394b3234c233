"""A pup or the dam was weighed."""

from typing import Literal

from parsers.events.base import Event, Number, Units, Who


class Weight(Event):
    """A weighing."""

    kind: Literal["weight"] = "weight"
    who: Who
    grams: Number

    def say(self, units: Units) -> str:
        return units.grams(self.grams) if self.who != "dam" else f"weighs {units.grams(self.grams)}"
