"""What can go wrong with the file, each in a sentence that a tired person understands: what happened, what was kept, what to do."""

from __future__ import annotations

import sqlite3

from pydantic_core import PydanticSerializationError


class StorageError(Exception):
    """The file cannot be used as asked. Its text may be shown to the user as it stands."""


class NotKept(StorageError):
    """A write failed and left nothing behind: no message, no event, no reply. Its text may be shown to the sender as it stands."""


class ClientIdReused(NotKept):
    """The sender's client id was already used for a message with other words, so this one is no resend."""


class AlreadyTold(NotKept):
    """A cause for speaking unasked was already told to this litter, so it must not be said again."""


TOLD_TWICE = "told.litter, told.cause"

NOT_KEPT = {
    TOLD_TWICE: "This was already said once: nothing was kept and nothing is said again.",
    "already replaced": "Nothing was kept: that entry was corrected or undone in the meantime. Look at it, then say the correction again.",
    "of another litter": "Nothing was kept: the entry to correct belongs to another litter.",
    "disk is full": "Nothing was kept: the disk is full. Make room on it, then send the message again.",
    "readonly": "Nothing was kept: the log's file may only be read. Give the bot the right to write it, then send the message again.",
    "locked": "Nothing was kept: another program holds the log's file. Close that program, then send the message again.",
}
"""What SQLite says about a failed write, and what the sender is told."""

NOT_OPENED = {
    "not a database": "is not a log of this bot: nothing in it was changed. Choose another data directory, or restore a backup.",
    "malformed": "is damaged: nothing in it was changed. Keep a copy of it and restore the latest backup.",
    "unable to open": "cannot be opened. Check that its directory exists and that the bot may read and write there.",
    "readonly": "may only be read. Give the bot the right to write it and the directory it is in.",
    "locked": "is held by another program. Is the bot already running? Close that program, then start again.",
}
"""What SQLite says about a file that it cannot open, and what the user is told after the file's name."""


FAILURES = (sqlite3.Error, UnicodeEncodeError, PydanticSerializationError, OverflowError)
"""What SQLite raises on a write, and what Python and pydantic raise for a text or a number that SQLite cannot hold."""


def not_kept(error: Exception) -> NotKept:
    """Turn what SQLite or Python said about a failed write into our own words."""
    said = str(error)
    for sign, words in NOT_KEPT.items():
        if sign in said:
            return AlreadyTold(words) if sign == TOLD_TWICE else NotKept(words)
    if isinstance(error, UnicodeEncodeError | PydanticSerializationError):
        return NotKept(
            "Nothing was kept: the message holds a broken character that no file can hold. Leave it out and send the rest again."
        )
    return NotKept(f"Nothing was kept: the log could not be written ({said}). Try again; if it fails again, run `lampwatch doctor`.")


def not_opened(path: object, error: sqlite3.Error) -> StorageError:
    """Turn what SQLite said about a file that will not open into our own words."""
    said = str(error)
    for sign, words in NOT_OPENED.items():
        if sign in said:
            return StorageError(f"{path} {words}")
    return StorageError(f"{path} cannot be used ({said}). Run `lampwatch doctor`.")
