"""A pup or the dam passed urine or stool, or was stimulated to."""

from typing import Literal

from parsers.events.base import Event, Units, Who

Look = Literal["normal", "yellow", "mustard", "brown", "dark", "green", "white", "gray", "loose", "watery", "hard", "mucus", "bloody"]


class Toilet(Event):
    """What came and what did not; a part that was not said is left out."""

    kind: Literal["toilet"] = "toilet"
    who: Who
    urine: bool | None = None
    stool: bool | None = None
    look: Look | None = None

    def say(self, units: Units) -> str:
        parts = []
        if self.urine is not None:
            parts.append("peed" if self.urine else "no pee")
        if self.stool is not None:
            parts.append("pooped" if self.stool else "no poop")
        if self.look is not None:
            parts.append(f"{self.look} {'stool' if self.stool else 'urine'}")
        return ", ".join(parts) or "stimulated"
