"""What goes into the journal and what comes out of it: messages, events, litters, people, devices and invites as plain frozen records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from types import MappingProxyType
from typing import Generic, NamedTuple, TypeVar

from pydantic import BaseModel

E_co = TypeVar("E_co", bound=BaseModel, covariant=True)
"""The model of all kinds of event that a journal was given."""


class NewMessage(NamedTuple):
    """Something said, in or out, that is to be kept. A person's message has no `says`; the bot's has one."""

    at: datetime
    """When it was said; must know its zone, is kept in UTC."""
    by: str
    """The sender's name, or the name by which the bot speaks."""
    text: str
    litter: int | None = None
    """The litter it is about; None for the household's own talk. A message that means events needs one."""
    channel: str = "web"
    client_id: str | None = None
    """The sender's own mark for this message: the same mark by the same sender is a resend, not a second message."""
    to: str | None = None
    """Whom it is for: a person or "all"; None for a message to the bot."""
    says: str | None = None
    """For the bot's: reply, answer, nudge or warning."""
    does: str | None = None
    """What the message was read as, or what it replies to was."""
    about: str | None = None
    who: tuple[int | str, ...] = ()
    urgency: str | None = None
    values: Mapping[str, object] = MappingProxyType({})
    """The computed figures that the text shows, as plain JSON."""
    owed: bool = False
    """True where it must be brought to someone until `mark_delivered`; `undelivered` lists these."""
    causes: tuple[str, ...] = ()
    """What made the bot say this unasked. A cause is told once a litter; telling it again is refused whole (AlreadyTold)."""

    def kept(self, id: int, reply_to: int | None = None) -> KeptMessage:
        """How it stands in the journal once it is kept under this id, as reading it from there would give it."""
        return KeptMessage(
            id=id,
            at=self.at.astimezone(UTC),
            by=self.by,
            text=self.text,
            litter=self.litter,
            channel=self.channel,
            client_id=self.client_id,
            reply_to=reply_to,
            to=self.to,
            says=self.says,
            does=self.does,
            about=self.about,
            who=self.who,
            urgency=self.urgency,
            values=self.values,
            delivered=False if self.owed else None,
        )


class KeptMessage(NamedTuple):
    """A message as it stands in the journal. Times are in UTC; `delivered` is None where nobody was owed it."""

    id: int
    at: datetime
    by: str
    text: str
    litter: int | None
    channel: str
    client_id: str | None
    reply_to: int | None
    to: str | None
    says: str | None
    does: str | None
    about: str | None
    who: tuple[int | str, ...]
    urgency: str | None
    values: Mapping[str, object]
    delivered: bool | None


class NewEvent(NamedTuple, Generic[E_co]):
    """An event to be kept; with `replaces`, it takes the place of an earlier one of the same litter."""

    event: E_co
    replaces: int | None = None


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """An undo: the event of this id no longer stands, and nothing takes its place."""

    replaces: int


class Entry(NamedTuple, Generic[E_co]):
    """An event as it stands in the journal."""

    id: int
    message: int
    """The message that meant it."""
    told_at: datetime
    """When we were told, in UTC. For a correction: when the corrected event was first told, since that is when it happened
    unless the event has an `at` of its own."""
    by: str
    """Who told it, or who corrected it."""
    event: E_co
    replaces: int | None = None


class Kept(NamedTuple, Generic[E_co]):
    """What one `write` kept: the ids of the message and of the replies, and the entries of its events in the order given."""

    message: int
    entries: tuple[Entry[E_co], ...] = ()
    said: tuple[int, ...] = ()
    again: bool = False
    """True where this was a resend: nothing was written, and all here is what was kept the first time."""


@dataclass(frozen=True, slots=True)
class LogLine(Generic[E_co]):
    """A message with every event it meant, also those that were corrected since: `standing` are the ids that still count."""

    message: KeptMessage
    entries: tuple[Entry[E_co], ...]
    standing: frozenset[int]


@dataclass(frozen=True, slots=True)
class Litter:
    """A litter of the household; all else that is known of it is in its events."""

    id: int
    name: str
    opened_at: datetime
    closed_at: datetime | None


@dataclass(frozen=True, slots=True)
class Person:
    """Someone of the household and their rights; a name is unique, whatever its capitals."""

    name: str
    rights: str
    joined_at: datetime


@dataclass(frozen=True, slots=True)
class Device:
    """A device by which a person reaches the bot. Of its session only the hash is kept."""

    session_hash: str
    person: str
    label: str
    added_at: datetime
    seen_at: datetime
    reach: str | None
    """How to push to it, as its channel wrote it; None where it cannot be reached unasked."""


@dataclass(frozen=True, slots=True)
class Invite:
    """A link for one person to join with. Of its token only the hash is kept."""

    token_hash: str
    by: str
    name: str | None
    """For whom it is, where that was said."""
    rights: str
    made_at: datetime
    expires_at: datetime
    used_at: datetime | None
    used_by: str | None


@dataclass(frozen=True, slots=True)
class Sensor:
    """A sensor of the household. Of its token only the hash is kept; one that comes by the broker has the broker's name for it there."""

    token_hash: str
    place: str
    by: str
    """Who let it in."""
    made_at: datetime
    heard_at: datetime | None = None
    """When it was last heard from."""
    kept_at: datetime | None = None
    """When a reading of it was last written into the log, and which one: Celsius and percent."""
    celsius: float | None = None
    humidity: float | None = None


@dataclass(frozen=True, slots=True)
class TriedWay:
    """How something that was said unasked was brought to a person by one way: when last, how often, and what became of it."""

    message: int
    person: str
    """Empty for a way that serves the whole house."""
    way: str
    at: datetime
    times: int
    came: str
