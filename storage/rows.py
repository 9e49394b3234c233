"""The log's rows: the SQL that writes and reads them, and how they become records."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, datetime
from typing import TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import to_json

from storage.faults import StorageError
from storage.moments import read, written
from storage.records import Entry, KeptMessage, NewMessage

E = TypeVar("E", bound=BaseModel)

INSERT_MESSAGE = """
insert into messages (litter, at, "by", channel, text, client_id, reply_to, to_, says, does, about, who, urgency, "values", delivered)
values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) on conflict ("by", client_id) where client_id is not null do nothing
"""
INSERT_TOLD = "insert into told (litter, cause, message) values (?, ?, ?)"
INSERT_EVENT = "insert into events (message, litter, kind, at, told_at, who, body, replaces) values (?, ?, ?, ?, ?, ?, ?, ?)"

MESSAGES = """
select id, litter, at, "by", channel, text, client_id, reply_to, to_, says, does, about, who, urgency, "values", delivered from messages
"""
LAST_HEARD = "select at from messages where litter = ? and says is null"
LAST_FEW = 50
"""More than a phone keeps while it cannot reach the bot."""
STANDING = "select id, message, told_at, told_by, kind, body, replaces from standing_events where litter = ? order by id"
EVENTS = """
select event.id, event.message, event.told_at, message."by", event.kind, event.body, event.replaces
from events as event join messages as message on message.id = event.message
where event.kind <> 'withdrawn'
"""
MEANT_BY = """
with recursive meant (id) as (
    select id from events where message = ? union select event.id from events as event join meant on event.replaces = meant.id
)
select id, message, told_at, told_by, kind, body, replaces from standing_events where id in (select id from meant) order by id
"""
REPLACED_SINCE = f"""{EVENTS} and event.litter = ?1 and event.message <= ?2
and event.id in (select replaces from events where replaces is not null and litter = ?1 and message > ?2) order by event.id
"""  # noqa: S608 (both halves are written here)
EVENTS_OF_MESSAGE = f"""{EVENTS} and event.message = ?1
and event.id > coalesce((select id from events where message < ?1 order by id desc limit 1), 0) order by event.id
"""  # noqa: S608 (both halves are written here)
"""Ids rise with their message's, so this walks back from the latest event. It is for a resend, seldom older than seconds: no index."""

MessageRow = tuple[
    int, int | None, str, str, str, str, str | None, int | None,
    str | None, str | None, str | None, str | None, str | None, str | None, str | None, int | None,
]  # fmt: skip
EntryRow = tuple[int, int, str, str, str, str, int | None]


def _as_json(value: object) -> str:
    return to_json(value).decode()


def message_row(message: NewMessage, reply_to: int | None) -> tuple[object, ...]:
    """The values of INSERT_MESSAGE."""
    return (
        message.litter,
        written(message.at),
        message.by,
        message.channel,
        message.text,
        message.client_id,
        reply_to,
        message.to,
        message.says,
        message.does,
        message.about,
        _as_json(message.who) if message.who else None,
        message.urgency,
        _as_json(message.values) if message.values else None,
        0 if message.owed else None,
    )


def message_of(row: MessageRow) -> KeptMessage:
    """The message of one row of MESSAGES."""
    number, litter, at, by, channel, text, client_id, reply_to, to, says, does, about, who, urgency, values, delivered = row
    return KeptMessage(
        id=number,
        at=read(at),
        by=by,
        text=text,
        litter=litter,
        channel=channel,
        client_id=client_id,
        reply_to=reply_to,
        to=to,
        says=says,
        does=does,
        about=about,
        who=tuple(json.loads(who)) if who else (),
        urgency=urgency,
        values=json.loads(values) if values else {},
        delivered=None if delivered is None else bool(delivered),
    )


def entries_of(rows: Iterable[EntryRow], kinds: Mapping[str, type[E]]) -> Iterator[Entry[E]]:
    """The entries of rows of STANDING or EVENTS. Raises StorageError at one that this version cannot read.

    What many rows have in common (a body, a moment, a name) is read once and shared, since all of it is frozen:
    that saves a third of the memory of a long log, and much of its reading where pups are tended alike.
    """
    events: dict[tuple[str, str], E] = {}
    names: dict[str, str] = {}
    last, told_at = "", datetime.min.replace(tzinfo=UTC)
    for number, message, told, by, kind, body, replaces in rows:
        event = events.get((kind, body))
        if event is None:
            event = events[kind, body] = _event(number, kind, body, kinds)
        if told != last:
            last, told_at = told, read(told)
        yield Entry(number, message, told_at, names.setdefault(by, by), event, replaces)


def _event(number: int, kind: str, body: str, kinds: Mapping[str, type[E]]) -> E:
    model = kinds.get(kind)
    if model is None:
        raise StorageError(
            f"Event {number} is of the kind {kind!r}, which this version of the bot does not know. Nothing was changed. "
            "Install the version that wrote it."
        )
    try:
        return model.model_validate_json(body)
    except ValidationError as error:
        raise StorageError(
            f"Event {number} ({kind}) cannot be read by this version of the bot. Nothing was changed. "
            f"Install the version that wrote it. The event: {body}"
        ) from error
