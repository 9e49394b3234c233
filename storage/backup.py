"""Copies of the log: made while the bot runs, checked before they count, and put back when they are needed."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

from storage.faults import StorageError, not_opened
from storage.library import Database
from storage.schema import refuse_foreign

PROBLEMS_SHOWN = 5
"""How many of a damaged file's faults are told: the first ones say enough."""


def back_up(source: Path, copy: Path) -> None:
    """Copy the log to a new file while the bot goes on reading and writing it.

    The copy is one file without companions, holds all that was kept when the copying began, is readable by its owner alone, and
    gets its name only once it is whole, checked and on the disk. Raises StorageError where `copy` exists (no copy is ever
    overwritten), the log is missing or damaged, or the disk is full; then there is no file of that name.
    """
    if copy.exists():
        raise StorageError(f"{copy} exists already: it was not touched, and no copy was made. Choose another name.")
    part = copy.with_name(copy.name + ".part")
    try:
        part.unlink(missing_ok=True)  # left by a copy that was broken off
        part.touch(mode=0o600)
        with _opened(source) as database:
            database.execute("vacuum into ?", (str(part),))
        if found := problems(part):
            raise StorageError(f"The copy of {source} is not sound, so it was thrown away: {' '.join(found)}")
        _to_disk(part)
        part.rename(copy)
        _to_disk(copy.parent)
    except OSError as error:
        raise StorageError(
            f"{copy} could not be written ({error}). No copy was made. Check that its directory exists and has room."
        ) from error
    except sqlite3.Error as error:
        raise StorageError(f"{source} could not be copied ({error}). No copy was made. Check that the disk has room.") from error
    finally:
        part.unlink(missing_ok=True)


def restore(copy: Path, target: Path) -> Path | None:
    """Put a copy in the place of the log, and give the name under which the log that was there now lies (None: there was none).

    Nothing is deleted: what was there is put aside beside it. Raises StorageError, and changes nothing, where the copy is missing,
    damaged or of a newer version, or the bot is running.
    """
    if found := problems(copy):
        raise StorageError(f"{copy} was not restored, and nothing was changed: {' '.join(found)}")
    aside = None
    if target.exists():
        _let_go(target)
        aside = _free_name(target)
    new = target.with_name(target.name + ".restored")
    new.unlink(missing_ok=True)
    back_up(copy, new)
    if aside is not None:
        for ending in ("", "-wal", "-shm"):  # a sound file has no companions now; a damaged one keeps what may yet be saved of it
            companion = target.with_name(target.name + ending)
            if companion.exists():
                companion.rename(aside.with_name(aside.name + ending))
    new.rename(target)
    _to_disk(target.parent)
    return aside


def problems(path: Path) -> list[str]:
    """What is wrong with a log's file, a sentence each; none where it is sound. Reads the whole file, and changes nothing in it."""
    try:
        with _opened(path) as database:
            refuse_foreign(database, path)
            if not {"messages", "events"} <= set(database.table_names()):
                return [f"{path} holds no log."]
            faults = [str(fault) for (fault,) in database.execute(f"pragma integrity_check({PROBLEMS_SHOWN})").fetchall()]
            faults = [] if faults == ["ok"] else faults
            faults += [f"a row of {table} points to a row that is not there" for table, *_ in database.execute("pragma foreign_key_check")]
    except StorageError as error:
        return [str(error)]
    except sqlite3.Error as error:
        return [str(not_opened(path, error))]
    told = [f"{path} is damaged: {fault}." for fault in faults[:PROBLEMS_SHOWN]]
    return [*told, "Keep a copy of it and restore the latest backup."] if told else []


@contextmanager
def _opened(path: Path) -> Iterator[Database]:
    """A connection of our own to a file that must exist; it waits for, and does not hinder, the one that writes."""
    if not path.is_file():
        raise StorageError(f"{path} does not exist.")
    connection = sqlite3.connect(f"file:{quote(str(path))}?mode=rw", uri=True, timeout=5.0)
    try:
        yield Database(connection)
    finally:
        connection.close()


def _let_go(target: Path) -> None:
    """Fold the log's companion files into it, which SQLite allows only when nobody else has it open."""
    try:
        with _opened(target) as database:
            database.execute("pragma journal_mode = delete").fetchall()
    except sqlite3.OperationalError as error:
        if "locked" in str(error) or "busy" in str(error):
            raise StorageError(f"{target} is in use: nothing was changed. Stop the bot, then restore.") from error
    except sqlite3.DatabaseError:
        pass  # damaged, or no log at all: a good reason to restore, and it is put aside as it is


def _free_name(target: Path) -> Path:
    names = (target.with_name(f"{target.name}.before-restore-{number}") for number in range(1, 1_000_000))
    return next(name for name in names if not name.exists())


def _to_disk(path: Path) -> None:
    """Return when the file or directory is on the disk, and would survive a power cut."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
