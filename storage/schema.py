"""The tables, and every change ever made to them: each change is a function below the last, and none is edited once released."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from storage.faults import NOT_OPENED, StorageError, not_opened
from storage.library import Database, Migrations

migrations = Migrations("lampwatch")

OLDEST_SQLITE = (3, 37, 0)
"""The first SQLite with STRICT tables, which refuse a value of the wrong type."""

WAIT_SECONDS = 5.0
"""How long a write waits for another program (a backup, a database browser) to let go of the file."""


def open_database(path: Path | None) -> Database:
    """Open the file (None: in memory), bring its tables up to date, and set it to lose nothing it has acknowledged.

    Raises StorageError in words for the user where the file is damaged, foreign, held, or written by a newer version.
    """
    if sqlite3.sqlite_version_info < OLDEST_SQLITE:
        raise StorageError(f"This Python has SQLite {sqlite3.sqlite_version}; the log needs 3.37 or newer. Install a newer Python.")
    try:
        if path is not None:
            path.touch(mode=0o600)  # the household's own: no other user of the machine may read it
        connection = sqlite3.connect(":memory:" if path is None else str(path), timeout=WAIT_SECONDS)
    except (OSError, sqlite3.Error) as error:
        raise StorageError(
            f"{path} cannot be opened ({error}). Check that its directory exists and that the bot may write there."
        ) from error
    database = Database(connection)
    try:
        database.execute("pragma foreign_keys = on")
        database.execute("pragma synchronous = full")
        refuse_foreign(database, path)
        database.enable_wal()
        migrations.apply(database)
    except sqlite3.Error as error:
        database.close()
        raise not_opened(path, error) from error
    except StorageError:
        database.close()
        raise
    return database


def refuse_foreign(database: Database, path: Path | None) -> None:
    """Raise StorageError where the file is another program's, or a newer version of the bot has changed its tables."""
    tables = database.table_names()
    if tables and Migrations.migrations_table not in tables:
        raise StorageError(f"{path} {NOT_OPENED['not a database']}")
    ours = {migration.name for migration in migrations.pending(Database(memory=True))}
    if any(migration.name not in ours for migration in migrations.applied(database)):
        raise StorageError(f"{path} was written by a newer version of the bot: nothing in it was changed. Install that version again.")


def run(database: Database, *statements: str) -> None:
    """Run each statement inside the migration's transaction (`executescript` would commit it)."""
    for statement in statements:
        database.execute(statement)


@migrations()
def the_log(database: Database) -> None:
    """Messages, the events they meant, and what was told unasked."""
    run(
        database,
        """
        create table litters (
            id integer primary key,
            name text not null,
            opened_at text not null,
            closed_at text
        ) strict
        """,
        """
        create table messages (
            id integer primary key,
            litter integer references litters (id),
            at text not null,
            "by" text not null,
            channel text not null,
            text text not null,
            client_id text,
            reply_to integer references messages (id),
            to_ text,
            says text,
            does text,
            about text,
            who text,
            urgency text,
            "values" text,
            delivered integer check (delivered in (0, 1))
        ) strict
        """,
        'create unique index one_message_a_client_id on messages ("by", client_id) where client_id is not null',
        "create index owed on messages (id) where delivered = 0",
        """
        create table events (
            id integer primary key,
            message integer not null references messages (id),
            litter integer not null references litters (id),
            kind text not null,
            at text,
            told_at text not null,
            who any,
            body text not null,
            replaces integer references events (id),
            check (kind <> 'withdrawn' or replaces is not null)
        ) strict
        """,
        "create index replaced on events (replaces) where replaces is not null",
        """
        create table told (
            litter integer not null references litters (id),
            cause text not null,
            message integer not null references messages (id),
            primary key (litter, cause)
        ) strict, without rowid
        """,
    )


@migrations()
def the_household(database: Database) -> None:
    """People, their devices, and the links to join by."""
    run(
        database,
        """
        create table people (
            name text primary key collate nocase,
            rights text not null,
            joined_at text not null
        ) strict, without rowid
        """,
        """
        create table devices (
            session_hash text primary key,
            person text not null collate nocase references people (name),
            label text not null,
            added_at text not null,
            seen_at text not null,
            reach text
        ) strict, without rowid
        """,
        """
        create table invites (
            token_hash text primary key,
            "by" text not null,
            name text,
            rights text not null,
            made_at text not null,
            expires_at text not null,
            used_at text,
            used_by text
        ) strict, without rowid
        """,
    )


@migrations()
def the_log_never_changes(database: Database) -> None:
    """The file itself refuses to update or delete a row of the log, to mix litters, or to correct an event twice."""
    run(
        database,
        """
        create trigger messages_are_not_changed before update of
            id, litter, at, "by", channel, text, client_id, reply_to, to_, says, does, about, who, urgency, "values" on messages
        begin select raise(abort, 'a message is never changed'); end
        """,
        "create trigger messages_are_not_deleted before delete on messages begin select raise(abort, 'a message is never deleted'); end",
        "create trigger events_are_not_changed before update on events begin select raise(abort, 'an event is never changed'); end",
        "create trigger events_are_not_deleted before delete on events begin select raise(abort, 'an event is never deleted'); end",
        "create trigger told_is_not_changed before update on told begin select raise(abort, 'what was told stays told'); end",
        "create trigger told_is_not_deleted before delete on told begin select raise(abort, 'what was told stays told'); end",
        """
        create trigger litters_are_not_mixed before insert on events when new.replaces is not null
        begin
            select raise(abort, 'the event to replace is of another litter')
            where (select litter from events where id = new.replaces) <> new.litter;
            select raise(abort, 'the event was already replaced')
            where exists (select 1 from events where replaces = new.replaces and message <> new.message);
        end
        """,
    )


@migrations()
def the_sensors(database: Database) -> None:
    """Sensors that tell the climate: what each said last, and when it was heard."""
    run(
        database,
        """
        create table sensors (
            token_hash text primary key,
            place text not null,
            "by" text not null,
            made_at text not null,
            heard_at text,
            kept_at text,
            celsius real,
            humidity real
        ) strict, without rowid
        """,
    )


@migrations()
def the_calendar_links(database: Database) -> None:
    """Links by which a phone's calendar reads what is coming."""
    run(
        database,
        """
        create table calendar_links (
            token_hash text primary key,
            "by" text not null,
            made_at text not null,
            ended_at text
        ) strict, without rowid
        """,
    )


@migrations()
def the_tries(database: Database) -> None:
    """By which way each thing said unasked was brought to whom, and what became of it; an empty person stands for the whole house."""
    run(
        database,
        """
        create table tries (
            message integer not null references messages (id),
            person text not null,
            way text not null,
            at text not null,
            times integer not null,
            came text not null,
            primary key (message, person, way)
        ) strict, without rowid
        """,
    )
