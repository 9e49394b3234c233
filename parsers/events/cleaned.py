"""A tool or the bedding was cleaned or changed."""

from typing import ClassVar, Literal

from parsers.events.base import Event, Units, Who


class Cleaned(Event):
    """What was cleaned; `who` only where the thing is one pup's own."""

    kind: Literal["cleaned"] = "cleaned"
    item: Literal["aspirator", "bulb", "bedding", "box", "bottle", "nipple", "scale", "tube"]
    who: Who | None = None

    reads_back_whole: ClassVar[bool] = True

    def say(self, units: Units) -> str:
        owner = "the" if self.who is None else "the dam's" if self.who == "dam" else f"pup {self.who}'s"
        return f"cleaned {owner} {self.item}"
