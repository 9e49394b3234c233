"""A pup was put somewhere."""

from typing import Literal

from parsers.events.base import Event, Units, Who


class Placed(Event):
    """Where a pup lies from now on."""

    kind: Literal["placed"] = "placed"
    who: Who
    place: Literal["incubator", "box", "dam"]

    def say(self, units: Units) -> str:
        return "put with the dam" if self.place == "dam" else f"put in the {self.place}"
