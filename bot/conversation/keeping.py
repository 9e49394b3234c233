"""What one message comes to before it is kept: its events, the words of the reply, and what is remembered beside it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

from pydantic import BaseModel

from bot.care.nursery import Nursery
from parsers.events import Event, Who
from parsers.events.note import Note
from parsers.reading import Question, Reading
from storage import Entry, NewEvent, Withdrawal


@dataclass(frozen=True)
class Draft:
    """All that a message comes to."""

    does: str
    reply: str | None
    """The words of the reply; None where the answer to a question is all."""
    who: tuple[Who, ...] = ()
    events: tuple[NewEvent[BaseModel] | Withdrawal, ...] = ()
    question: Question | None = None
    notes: Mapping[str, Any] = field(default_factory=dict)
    """What memory.Recalled.notes says."""
    reading: Reading | None = None
    after: Nursery | None = None
    """The nursery as it will be once the events are kept, where it was worked out."""

    @property
    def gone(self) -> tuple[int, ...]:
        """The rows that no longer stand."""
        return tuple([new.replaces for new in self.events if new.replaces is not None])


def expected(
    events: Sequence[NewEvent[BaseModel] | Withdrawal], *, message: int, at: datetime, by: str, log: Sequence[Entry[BaseModel]]
) -> list[Entry[BaseModel]]:
    """The entries that these events will be once they are kept under that message; their own ids are not known yet."""
    told = {entry.id: entry.told_at for entry in log} if any(new.replaces for new in events) else {}
    return [
        Entry(0, message, at if new.replaces is None else told.get(new.replaces, at), by, new.event, new.replaces)
        for new in events
        if isinstance(new, NewEvent)
    ]


def with_note(reading: Reading) -> tuple[Event, ...]:
    """The events of a reading, and its unread words as a note on the same pup: no word is dropped."""
    if not reading.unread.strip() or any(isinstance(event, Note) and event.text == reading.unread for event in reading.events):
        return reading.events
    return (*reading.events, Note(text=reading.unread, who=reading.unread_who))


def happened_at(event: Event, told: datetime) -> Event:
    """An event that was told at one moment and is kept at a later one: it happened when it was told."""
    if event.at is not None:
        return event
    return event.model_copy(update={"at": told - timedelta(minutes=getattr(event, "minutes", None) or 0)})


def named_last(events: Sequence[Event], question: Question | None) -> Who | None:
    """The pup or dam that a message named last; None where it named several at once, or none."""
    if question is not None and question.who is not None:
        return question.who if not isinstance(question.who, tuple) else None
    for last in reversed(events):
        who: Who | None = getattr(last, "who", None)
        if who is not None:
            same = [event for event in events if event.kind == last.kind and event is not last]
            return None if same and any(event.model_copy(update={"who": who}) == last for event in same) else who
    return None


def whos(events: Sequence[Event]) -> tuple[Who, ...]:
    """Everyone that the events speak of, each once, in order."""
    return tuple(dict.fromkeys([who for event in events if (who := getattr(event, "who", None)) is not None]))
