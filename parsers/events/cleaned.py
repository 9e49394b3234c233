"""A tool or the bedding was cleaned or changed."""

from typing import Literal

from parsers.events.base import Event, Units, Who


class Cleaned(Event):
    """What was cleaned; `who` only where the thing is one pup's own."""

    kind: Literal["cleaned"] = "cleaned"
    item: Literal["aspirator", "bulb", "bedding", "box", "bottle", "nipple", "scale", "tube"]
    who: Who | None = None

    def say(self, units: Units) -> str:
        return f"cleaned the {self.item}"
