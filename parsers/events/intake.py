"""The dam ate or drank, or would not."""

from typing import Literal

from parsers.events.base import Event, Units


class Intake(Event):
    """What the dam took, and how much of it."""

    kind: Literal["intake"] = "intake"
    who: Literal["dam"] = "dam"
    what: Literal["food", "water"] | None = None
    amount: Literal["none", "little", "half", "most", "all"] | None = None

    def say(self, units: Units) -> str:
        verb = "drank" if self.what == "water" else "ate"
        words = {None: "", "none": " nothing", "little": " a little", "half": " half", "most": " most of it", "all": " all of it"}
        return verb + words[self.amount]
