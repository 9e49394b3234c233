"""A keeper cleared a pup's nose and mouth."""

from typing import Literal

from pydantic import Field

from parsers.events.base import Event, Units, Who


class Cleared(Event):
    """Nose and mouth cleared of milk; `with_` (in JSON `with`) only where the tool was named."""

    kind: Literal["cleared"] = "cleared"
    who: Who
    with_: Literal["bulb", "aspirator"] | None = Field(default=None, alias="with")

    def say(self, units: Units) -> str:
        return "cleared" if self.with_ is None else f"cleared with the {self.with_}"
