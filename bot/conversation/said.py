"""What goes in and out of a conversation: a Message that someone typed or spoke, and what was Said to it or unasked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, tzinfo
from types import MappingProxyType
from typing import Any, Literal, NamedTuple

from parsers.events import Who
from parsers.reading import Reading
from storage import KeptMessage

Says = Literal["reply", "answer", "nudge", "warning"]

EVERYONE = "all"
"""The receiver of what is for the whole household."""


@dataclass(frozen=True)
class Message:
    """What someone typed or said."""

    by: str
    text: str
    channel: str = "web"
    client_id: str | None = None
    """The sender's own name for the message: sent again under the same name, it is kept once."""
    mends: int | None = None
    """The id of the message that it corrects, where a line of the log was picked; else a correction is about the sender's last one."""


class Said(NamedTuple):
    """One thing that the bot said: a line of replay.md's JSON."""

    at: datetime
    to: str
    """The person it is for, or `all`."""
    says: Says
    text: str
    about: str | None = None
    """For an answer its topic, for a nudge or a warning its name; of a reply, what is asked back, where something is."""
    who: tuple[Who, ...] = ()
    urgency: str | None = None
    does: str | None = None
    """For a reply, what the message was read to do."""
    values: Mapping[str, Any] = MappingProxyType({})
    litter: int | None = None
    id: int | None = None
    """Its row in the journal."""

    def kept(self, id: int) -> Said:
        """The same, once it has its row in the journal."""
        return Said(self.at, self.to, self.says, self.text, self.about, self.who, self.urgency, self.does, self.values, self.litter, id)

    def as_json(self, zone: tzinfo | None = None) -> dict[str, Any]:
        """The contract's object, with `at` in the given zone."""
        return {
            "at": (self.at if zone is None else self.at.astimezone(zone)).isoformat(),
            "to": self.to,
            "says": self.says,
            "about": self.about,
            "who": list(self.who),
            "urgency": self.urgency,
            "text": self.text,
            "does": self.does,
            "values": dict(self.values),
        }


class Heard(NamedTuple):
    """What became of a message: whether it is kept, and what the bot says to it."""

    kept: bool
    said: tuple[Said, ...] = ()
    again: bool = False
    """True where the same message had come before: nothing was kept twice, and `said` is what was said then."""
    message_id: int | None = None
    reading: Reading | None = None
    lines: tuple[KeptMessage, ...] = ()
    """Of what was kept just now, the rows of the journal: the message, and what was said to it."""
