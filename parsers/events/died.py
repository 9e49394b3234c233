"""A pup died."""

from typing import Literal

from parsers.events.base import Event, Units, Who


class Died(Event):
    """A death; `stillborn` only where that was said."""

    kind: Literal["died"] = "died"
    who: Who
    stillborn: bool | None = None

    def say(self, units: Units) -> str:
        return "stillborn" if self.stillborn else "died"
