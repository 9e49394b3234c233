"""The register of calendar links: the hash of each link that a phone's calendar may read by, who made it, and when it ended."""

from __future__ import annotations

import sqlite3
from datetime import datetime

from sqlite_utils import Database

from storage.faults import FAILURES, not_kept
from storage.moments import written


class CalendarLinks:
    """Small plain verbs on the table of calendar links. What returns is kept, else it raises NotKept."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, token_hash: str, by: str, at: datetime) -> None:
        """A link that holds until it is ended; only its token's hash is kept."""
        self._write('insert into calendar_links (token_hash, "by", made_at) values (?, ?, ?)', (token_hash, by, written(at)))

    def holds(self, token_hash: str) -> bool:
        """Whether a link with this hash was made, and was not ended."""
        row = self._database.execute("select 1 from calendar_links where token_hash = ? and ended_at is null", (token_hash,)).fetchone()
        return row is not None

    def end_all(self, at: datetime) -> int:
        """No link made so far can be read by any more; gives how many held."""
        return self._write("update calendar_links set ended_at = ? where ended_at is null", (written(at),)).rowcount

    def _write(self, sql: str, values: tuple[object, ...]) -> sqlite3.Cursor:
        try:
            return self._database.execute(sql, values)
        except FAILURES as error:
            raise not_kept(error) from error
