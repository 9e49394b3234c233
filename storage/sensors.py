"""The register of sensors: who let one in, where it is, when it was heard, and which of its readings was written down last."""

from __future__ import annotations

import sqlite3
from datetime import datetime

from sqlite_utils import Database

from storage.faults import FAILURES, not_kept
from storage.moments import read, read_or_none, written
from storage.records import Sensor


class SensorRegister:
    """Small plain verbs on the table of sensors. What returns is kept, else it raises NotKept."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, token_hash: str, place: str, by: str, at: datetime) -> None:
        """Let a sensor in, under the hash of its token; one that is known already stays as it is."""
        self._write(
            'insert into sensors (token_hash, place, "by", made_at) values (?, ?, ?, ?) on conflict do nothing',
            (token_hash, place, by, written(at)),
        )

    def all(self) -> list[Sensor]:
        """Every sensor, in the order they were let in."""
        rows = self._database.execute(
            'select token_hash, place, "by", made_at, heard_at, kept_at, celsius, humidity from sensors order by made_at, token_hash'
        ).fetchall()
        return [_sensor(row) for row in rows]

    def heard(self, token_hash: str, at: datetime) -> None:
        """The sensor was heard from."""
        self._write("update sensors set heard_at = ? where token_hash = ?", (written(at), token_hash))

    def kept(self, token_hash: str, at: datetime, celsius: float | None, humidity: float | None) -> None:
        """A reading of the sensor was written into the log."""
        self._write(
            "update sensors set heard_at = ?1, kept_at = ?1, celsius = ?2, humidity = ?3 where token_hash = ?4",
            (written(at), celsius, humidity, token_hash),
        )

    def remove(self, token_hash: str) -> None:
        """The sensor may tell nothing more."""
        self._write("delete from sensors where token_hash = ?", (token_hash,))

    def _write(self, sql: str, values: tuple[object, ...]) -> sqlite3.Cursor:
        try:
            return self._database.execute(sql, values)
        except FAILURES as error:
            raise not_kept(error) from error


def _sensor(row: tuple[str, str, str, str, str | None, str | None, float | None, float | None]) -> Sensor:
    token_hash, place, by, made, heard, kept, celsius, humidity = row
    return Sensor(token_hash, place, by, read(made), read_or_none(heard), read_or_none(kept), celsius, humidity)
