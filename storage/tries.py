"""The register of tries: by which way each thing said unasked was brought to whom, when, and what is known to have become of it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence

from storage.faults import not_kept
from storage.library import Database
from storage.moments import read, written
from storage.records import TriedWay
from storage.transaction import Transaction


class Tries:
    """Small plain verbs on the table of tries. What returns is kept, else it raises NotKept."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def keep(self, tries: Iterable[TriedWay]) -> None:
        """Keep the state of each try; the same message by the same way to the same person is one row. All or nothing."""
        rows = [(one.message, one.person, one.way, written(one.at), one.times, one.came) for one in tries]
        with Transaction(self._database.conn):
            self._database.conn.executemany(
                "insert into tries (message, person, way, at, times, came) values (?, ?, ?, ?, ?, ?) on conflict (message, person, way) "
                "do update set at = excluded.at, times = excluded.times, came = excluded.came",
                rows,
            )

    def of(self, messages: Sequence[int]) -> list[TriedWay]:
        """All tries of these messages."""
        sql = "select message, person, way, at, times, came from tries where message = ? order by at"
        try:
            return [_tried(row) for message in messages for row in self._database.execute(sql, (message,))]
        except sqlite3.Error as error:
            raise not_kept(error) from error

    def last(self, came: str) -> list[TriedWay]:
        """The last try of each way to each person of which this became."""
        sql = "select message, person, way, max(at), times, came from tries where came = ? group by person, way order by person, way"
        return [_tried(row) for row in self._database.execute(sql, (came,))]


def _tried(row: tuple[int, str, str, str, int, str]) -> TriedWay:
    message, person, way, at, times, came = row
    return TriedWay(message, person, way, read(at), times, came)
