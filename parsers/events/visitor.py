"""Someone came to the litter."""

from typing import ClassVar, Literal

from parsers.events.base import Event, Units


class Visitor(Event):
    """A visit, by name."""

    kind: Literal["visitor"] = "visitor"
    name: str

    reads_back_whole: ClassVar[bool] = True

    def say(self, units: Units) -> str:
        return f"{self.name} came by"
