"""A reading is what one message means, as data: to log, to check, to ask, to fix, to set up, or to keep as a note."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict

from parsers.events import Event, Who

Does = Literal["log", "check", "ask", "fix", "setup", "note"]
Topic = Literal[
    "gains", "weights", "due", "last", "status", "feed plan", "chart", "handover", "sheet", "climate", "board", "why", "calendar",
    "getting ready", "worry", "help",
]  # fmt: skip
Span = Literal["today", "24h", "yesterday", "week", "all"]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Question(_Part):
    """What is asked about the log: the topic and, where they were said, the subject, the thing and the span."""

    topic: Topic
    who: Who | tuple[int, ...] | None = None
    of: str | None = None
    """The kind of event, or the drug, that the question is about; of a chart, also `night`, which shows all the care of it."""
    span: Span | None = None


class Fix(_Part):
    """A correction of something already logged; `fields` are the event's fields that change."""

    change: Literal["undo", "value", "who", "time"]
    who: Who | tuple[int, ...] | None = None
    at: AwareDatetime | None = None
    fields: dict[str, Any] = {}
    """For `value`: the changed fields by the event's own names, in its units."""

    def as_json(self) -> dict[str, Any]:
        """The contract's flat object."""
        plain = self.model_dump(mode="json", exclude_none=True, exclude={"fields"})
        return plain | self.fields


class Setup(_Part):
    """What is told about the litter or the household, as the contract's `sets` object."""

    sets: dict[str, Any]


class Reading(_Part):
    """The whole meaning of one message. No word of it is missing: it is in an event, in another part, or in `unread`."""

    text: str
    does: Does
    events: tuple[Event, ...] = ()
    options: tuple[tuple[Event, ...], ...] = ()
    """With `check`: every reading that the words allow, likeliest first; `events` equals the first."""
    why: str | None = None
    """With `check`: one sentence, what to confirm."""
    about: Question | None = None
    fix: Fix | None = None
    setup: Setup | None = None
    assumed: tuple[str, ...] = ()
    """One sentence for each thing that was read from the litter's state and not from the words."""
    spelled: tuple[tuple[str, str], ...] = ()
    """Slips of spelling that were read as another word: (as typed, as read)."""
    unread: str = ""
    """The words that no clause accounts for, in order."""
    unread_who: Who | None = None
    """The pup or dam that the unread words stand beside, if one: they are kept as a note on it."""

    def as_json(self) -> dict[str, Any]:
        """The contract's object for one line of `lampwatch read --json`."""
        plain: dict[str, Any] = {"text": self.text, "does": self.does, "events": [event.as_json() for event in self.events]}
        if self.options:
            plain["options"] = [[event.as_json() for event in option] for option in self.options]
        if self.why:
            plain["why"] = self.why
        if self.about:
            plain["about"] = self.about.model_dump(mode="json", exclude_none=True)
        if self.fix:
            plain["fix"] = self.fix.as_json()
        if self.setup:
            plain["setup"] = self.setup.model_dump(mode="json")
        if self.spelled:
            plain["spelled"] = [list(pair) for pair in self.spelled]
        return plain | {"assumed": list(self.assumed), "unread": self.unread}


def first_of(*, fix: object, check: bool, events: object, setup: object, about: object) -> Does:
    """Name what a message does: the first of fix, check, log, setup, ask that is in it, else note."""
    if fix:
        return "fix"
    if check:
        return "check"
    if events:
        return "log"
    return "setup" if setup else "ask" if about else "note"


def moment(text: str) -> datetime:
    """An ISO 8601 time with its offset; raises ValueError where the offset is missing."""
    when = datetime.fromisoformat(text)
    if when.tzinfo is None:
        raise ValueError(f"{text!r} has no offset: write it as 2026-03-02T03:14:00-06:00")
    return when
