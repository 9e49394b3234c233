"""Words kept as they were said."""

from typing import Literal

from parsers.events.base import Event, Units, Who


class Note(Event):
    """Anything that is none of the other kinds, word for word."""

    kind: Literal["note"] = "note"
    text: str
    who: Who | None = None

    def say(self, units: Units) -> str:
        return f"note: {self.text}"
