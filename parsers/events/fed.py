"""A pup was fed by hand."""

from typing import Literal

from pydantic import Field

from parsers.events.base import Event, Number, Units, Who

Food = Literal["formula", "goat milk", "colostrum", "dam's milk", "sugar water", "water", "gruel"]
Way = Literal["nipple", "bottle", "tube", "syringe", "dropper", "pan"]


class Fed(Event):
    """A feed by hand: how much, of what, by what tool, as far as it was said."""

    kind: Literal["fed"] = "fed"
    who: Who
    ml: Number | None = None
    food: Food | None = None
    by: Way | None = Field(default=None)

    def say(self, units: Units) -> str:
        words = ["fed"]
        if self.ml is not None:
            words.append(f"{units.number(self.ml)} ml")
        if self.food:
            words.append(self.food)
        if self.by:
            words.append(f"by {self.by}")
        return " ".join(words)
