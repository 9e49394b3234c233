"""The journal: the append-only record of what was said and what it meant, kept together or not at all."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Generic, TypeVar

from pydantic import BaseModel

from storage.calendar_links import CalendarLinks
from storage.faults import ClientIdReused, NotKept, not_opened
from storage.moments import read, written
from storage.records import Entry, Kept, KeptMessage, LogLine, NewEvent, NewMessage, Withdrawal
from storage.register import Register
from storage.rows import (
    EVENTS,
    EVENTS_OF_MESSAGE,
    INSERT_EVENT,
    INSERT_MESSAGE,
    INSERT_TOLD,
    LAST_FEW,
    LAST_HEARD,
    MEANT_BY,
    MESSAGES,
    REPLACED_SINCE,
    STANDING,
    entries_of,
    message_of,
    message_row,
)
from storage.schema import open_database
from storage.sensors import SensorRegister
from storage.transaction import Transaction
from storage.tries import Tries
from storage.views import make_views

E = TypeVar("E", bound=BaseModel)

PAGES_WRITTEN_AHEAD = 100
"""So many pages (two dozen messages) are let grow in the write-ahead file; it is written over from its beginning then."""
MOST_PAGES_WRITTEN_AHEAD = 1_000
"""So many in a burst that leaves no quiet moment."""


class Journal(Generic[E]):
    """One SQLite file, one connection, used from one thread. What a verb has returned from is on the disk.

    It is blind to kinds: it keeps any model of `kinds` as JSON, and knows only that an event may have an `at` and a `who`.
    A new kind needs no change here. A kind may gain a field with a default; no field is ever renamed, removed or given another default.
    """

    def __init__(self, path: Path | None, kinds: Mapping[str, type[E]]) -> None:
        """Open the file, or make it; None keeps all in memory. Raises StorageError, in words for the user."""
        self.path = path
        self._kinds = dict(kinds)
        if thawed := sorted(kind for kind, model in kinds.items() if not model.model_config.get("frozen")):
            raise ValueError(f"the log never changes, so its models must be frozen: {', '.join(thawed)}")
        self._database = open_database(path)
        try:
            make_views(self._database, self._kinds)
        except sqlite3.Error as error:
            self._database.close()
            raise not_opened(path, error) from error
        self._execute = self._database.conn.execute
        """The hot path goes by the connection itself."""
        self.register = Register(self._database)
        """The household's litters, people, devices and invites."""
        self.sensors = SensorRegister(self._database)
        self.calendar_links = CalendarLinks(self._database)
        self.tries = Tries(self._database)

    def write(self, message: NewMessage, events: Sequence[NewEvent[E] | Withdrawal] = (), said: Sequence[NewMessage] = ()) -> Kept[E]:
        """Keep a message, the events it meant and the bot's replies to it, all or nothing, and give their ids.

        A `client_id` that this sender has used before makes it a resend: nothing is written and what was kept the first
        time comes back, with `again` (its replies: `messages(kept.said)`).
        Raises NotKept, in words for the sender, when nothing could be kept; ClientIdReused where a resend has other words.
        """
        with self.together():
            message_id = self._insert_message(message, None)
            if message_id is None:
                return self._kept_before(message)
            entries = self._insert_events(message_id, message, events) if events else ()
            replies = tuple([self._insert_new(reply, message_id) for reply in said])
            return Kept(message_id, entries, replies)

    def say(self, said: Sequence[NewMessage]) -> tuple[int, ...]:
        """Keep what the bot says unasked, all or nothing, and give the ids. Raises AlreadyTold or NotKept."""
        with self.together():
            return tuple([self._insert_new(message, None) for message in said])

    def entries(self, litter: int) -> list[Entry[E]]:
        """The litter's standing events, in the order they were told. Raises StorageError for one it cannot read."""
        return list(entries_of(self._database.execute(STANDING, (litter,)), self._kinds))

    def replaced_since(self, litter: int, message: int) -> list[Entry[E]]:
        """The litter's events that stood once that message was kept, and were replaced or taken back by a later one; oldest first."""
        return list(entries_of(self._database.execute(REPLACED_SINCE, (litter, message)), self._kinds))

    def meant_by(self, message: int) -> list[Entry[E]]:
        """What stands of the events that a message meant, corrected since or not."""
        return list(entries_of(self._database.execute(MEANT_BY, (message,)), self._kinds))

    def told(self, litter: int) -> set[str]:
        """Every cause that was already told to this litter's keepers."""
        return {cause for (cause,) in self._database.execute("select cause from told where litter = ?", (litter,))}

    def causes(self, message: int) -> frozenset[str]:
        """What made the bot say this unasked."""
        return frozenset(cause for (cause,) in self._database.execute("select cause from told where message = ?", (message,)))

    def history(self, litter: int | None, *, after: int = 0, before: int | None = None, limit: int = 200) -> list[KeptMessage]:
        """Messages of a litter (None: of the whole household), oldest first.

        With `after`, the first ones after that id; else the latest ones, or the latest before the id `before`.
        """
        where = "(?1 is null or litter = ?1) and id > ?2 and (?3 is null or id < ?3)"
        order = "asc" if after else "desc"
        rows = self._database.execute(f"{MESSAGES} where {where} order by id {order} limit ?4", (litter, after, before, limit)).fetchall()
        return [message_of(row) for row in (rows if after else reversed(rows))]

    def last_heard(self, litter: int, *, besides: Collection[str] = ()) -> datetime | None:
        """When someone last said anything to the bot about a litter, but for the channels `besides`; None: nobody ever did.

        A message that waited on its phone is kept after others that were said later, so it is the latest of the last few.
        """
        holes = ", ".join("?" * len(besides))
        last = f"{LAST_HEARD} and channel not in ({holes}) order by id desc limit {LAST_FEW}"
        times = [read(at) for (at,) in self._execute(last, (litter, *besides))]
        return max(times, default=None)

    def messages(self, ids: Sequence[int]) -> list[KeptMessage]:
        """The messages of these ids, in the order of the ids; one that does not exist is left out."""
        rows = (self._database.execute(f"{MESSAGES} where id = ?", (number,)).fetchone() for number in ids)
        return [message_of(row) for row in rows if row is not None]

    def log(self, litter: int | None = None) -> Iterator[LogLine[E]]:
        """Every message with the events it meant, oldest first, of one litter or of the whole household."""
        standing = {number for (number,) in self._database.execute("select id from standing_events")}
        entries: dict[int, list[Entry[E]]] = {}
        for entry in entries_of(self._database.execute(EVENTS + " order by event.id"), self._kinds):
            entries.setdefault(entry.message, []).append(entry)
        for row in self._database.execute(f"{MESSAGES} where ?1 is null or litter = ?1 order by id", (litter,)).fetchall():
            mine = tuple(entries.get(row[0], ()))
            yield LogLine(message_of(row), mine, frozenset(entry.id for entry in mine if entry.id in standing))

    def withdrawals(self) -> list[tuple[int, int, int]]:
        """Every undo, oldest first: its own id, the message that asked for it, and the event that it took back."""
        return list(self._database.execute("select id, message, replaces from events where kind = 'withdrawn' order by id"))

    def undelivered(self) -> list[KeptMessage]:
        """What is owed to someone and was not marked as delivered, oldest first."""
        return [message_of(row) for row in self._database.execute(f"{MESSAGES} where delivered = 0 order by id").fetchall()]

    def mark_delivered(self, ids: Sequence[int]) -> None:
        """Mark messages as delivered: the only change ever made to the log.

        Nobody waits for it, so what was written ahead goes over into the database here, and not behind the message that filled it up.
        """
        self._database.execute(f"pragma wal_autocheckpoint = {PAGES_WRITTEN_AHEAD}")
        try:
            with self.together():
                for number in ids:
                    self._database.execute("update messages set delivered = 1 where id = ? and delivered = 0", (number,))
        finally:
            self._database.execute(f"pragma wal_autocheckpoint = {MOST_PAGES_WRITTEN_AHEAD}")

    def together(self) -> Transaction:
        """`with journal.together():` makes several verbs, the register's too, one: all are kept at its end, or none where it raises.

        A `write` inside it is on the disk only at the end of the block, which may then raise NotKept.
        """
        return Transaction(self._database.conn)

    def close(self) -> None:
        """Let go of the file."""
        self._database.close()

    # Private: rows in

    def _insert_message(self, message: NewMessage, reply_to: int | None) -> int | None:
        """Insert a row and give its id, or None where the sender's client id stands already."""
        cursor = self._execute(INSERT_MESSAGE, message_row(message, reply_to))
        if cursor.rowcount == 0:
            return None
        message_id = cursor.lastrowid
        for cause in message.causes:
            self._execute(INSERT_TOLD, (message.litter, cause, message_id))
        return message_id

    def _insert_new(self, message: NewMessage, reply_to: int | None) -> int:
        message_id = self._insert_message(message, reply_to)
        if message_id is None:
            raise ClientIdReused(f"Nothing was kept: the client id {message.client_id!r} was used before.")
        return message_id

    def _insert_events(self, message_id: int, message: NewMessage, events: Sequence[NewEvent[E] | Withdrawal]) -> tuple[Entry[E], ...]:
        if message.litter is None:
            raise ValueError("a message that means events must say of which litter")
        entries: list[Entry[E]] = []
        now = written(message.at), message.at.astimezone(UTC)
        for new in events:
            first_told, moment = now if new.replaces is None else self._first_told(new.replaces)
            if isinstance(new, Withdrawal):
                row = (message_id, message.litter, "withdrawn", None, first_told, None, "{}", new.replaces)
                self._execute(INSERT_EVENT, row)
                continue
            event = new.event
            kind = getattr(event, "kind", None)
            if not isinstance(event, self._kinds.get(kind, ())):  # type: ignore[arg-type]
                raise ValueError(f"the journal was not given the kind {kind!r}, so it could not read this event again")
            at = getattr(event, "at", None)
            cursor = self._execute(
                INSERT_EVENT,
                (
                    message_id,
                    message.litter,
                    kind,
                    None if at is None else written(at),
                    first_told,
                    getattr(event, "who", None),
                    event.model_dump_json(exclude_unset=True, by_alias=True),  # what was said, and no word more
                    new.replaces,
                ),
            )
            assert cursor.lastrowid is not None
            entries.append(Entry(cursor.lastrowid, message_id, moment, message.by, event, new.replaces))
        return tuple(entries)

    def _first_told(self, event_id: int) -> tuple[str, datetime]:
        row = self._database.execute("select told_at from events where id = ?", (event_id,)).fetchone()
        if row is None:
            raise NotKept(f"Nothing was kept: there is no event {event_id} in the log to correct.")
        return str(row[0]), read(row[0])

    def _kept_before(self, message: NewMessage) -> Kept[E]:
        number, text = self._database.execute(
            'select id, text from messages where "by" = ? and client_id = ?', (message.by, message.client_id)
        ).fetchone()
        if text != message.text:
            raise ClientIdReused(
                f"Nothing was kept: the client id {message.client_id!r} already marks another message. Send this one under a new id."
            )
        entries = tuple(entries_of(self._database.execute(EVENTS_OF_MESSAGE, (number,)), self._kinds))
        replies = self._database.execute("select id from messages where id > ?1 and reply_to = ?1 order by id", (number,))
        said = tuple([reply for (reply,) in replies])
        return Kept(number, entries, said, again=True)
