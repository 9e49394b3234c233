"""The register of the household: its litters, its people, their devices, and the links by which they join."""

from __future__ import annotations

import sqlite3
from datetime import datetime

from storage.faults import FAILURES, not_kept
from storage.library import Database
from storage.moments import read, read_or_none, written
from storage.records import Device, Invite, Litter, Person


class Register:
    """Small plain verbs on the household's tables. What returns is kept, else it raises NotKept; `Journal.together` makes several one."""

    def __init__(self, database: Database) -> None:
        self._database = database
        self._known_devices: dict[str, Device] = {}
        """By hash: every message asks whose device it came from. Forgotten whenever anything of the register is written."""

    # Litters

    def add_litter(self, name: str, at: datetime) -> int:
        """Open a litter and give its id."""
        cursor = self._write("insert into litters (name, opened_at) values (?, ?)", (name, written(at)))
        assert cursor.lastrowid is not None
        return cursor.lastrowid

    def rename_litter(self, litter: int, name: str) -> None:
        """Call a litter by another name."""
        self._write("update litters set name = ? where id = ?", (name, litter))

    def close_litter(self, litter: int, at: datetime) -> None:
        """The litter is no longer watched; its log stays."""
        self._write("update litters set closed_at = ? where id = ?", (written(at), litter))

    def litters(self) -> list[Litter]:
        """Every litter, the oldest first, closed ones too."""
        rows = self._database.execute("select id, name, opened_at, closed_at from litters order by id").fetchall()
        return [Litter(number, name, read(opened), read_or_none(closed)) for number, name, opened, closed in rows]

    # People

    def add_person(self, name: str, rights: str, at: datetime) -> bool:
        """Someone joins the household; False, and nothing changes, where someone of that name has joined already."""
        cursor = self._write(
            "insert into people (name, rights, joined_at) values (?, ?, ?) on conflict do nothing", (name, rights, written(at))
        )
        return cursor.rowcount == 1

    def set_rights(self, name: str, rights: str) -> None:
        """Give someone other rights."""
        self._write("update people set rights = ? where name = ?", (rights, name))

    def person(self, name: str) -> Person | None:
        """The person of this name, whatever its capitals."""
        row = self._database.execute("select name, rights, joined_at from people where name = ?", (name,)).fetchone()
        return None if row is None else Person(row[0], row[1], read(row[2]))

    def people(self) -> list[Person]:
        """Everyone, in the order they joined."""
        rows = self._database.execute("select name, rights, joined_at from people order by joined_at, name").fetchall()
        return [Person(name, rights, read(joined)) for name, rights, joined in rows]

    # Devices

    def add_device(self, session_hash: str, person: str, label: str, at: datetime) -> None:
        """A device joins under a person of the household; only its session's hash is kept."""
        self._write(
            "insert into devices (session_hash, person, label, added_at, seen_at) values (?, ?, ?, ?, ?)",
            (session_hash, person, label, written(at), written(at)),
        )

    def device(self, session_hash: str) -> Device | None:
        """The device whose session has this hash."""
        known = self._known_devices.get(session_hash)
        if known is None:
            row = self._database.execute(_DEVICES + " where session_hash = ?", (session_hash,)).fetchone()
            known = None if row is None else _device(row)
            if known is not None and not self._database.conn.in_transaction:  # what is not yet kept may still be undone
                self._known_devices[session_hash] = known
        return known

    def devices(self, person: str | None = None) -> list[Device]:
        """A person's devices, or everyone's, in the order they joined."""
        rows = self._database.execute(_DEVICES + " where ?1 is null or person = ?1 order by added_at, session_hash", (person,)).fetchall()
        return [_device(row) for row in rows]

    def device_seen(self, session_hash: str, at: datetime) -> None:
        """The device was heard from."""
        self._write("update devices set seen_at = ? where session_hash = ?", (written(at), session_hash))

    def set_reach(self, session_hash: str, reach: str | None) -> None:
        """Say how the device can be reached unasked; None where it no longer can."""
        self._write("update devices set reach = ? where session_hash = ?", (reach, session_hash))

    def remove_device(self, session_hash: str) -> None:
        """The device may see nothing more."""
        self._write("delete from devices where session_hash = ?", (session_hash,))

    # Invites

    def add_invite(self, token_hash: str, by: str, name: str | None, rights: str, at: datetime, expires_at: datetime) -> None:
        """A link to join by, good once, until it expires; only its token's hash is kept."""
        self._write(
            'insert into invites (token_hash, "by", name, rights, made_at, expires_at) values (?, ?, ?, ?, ?, ?)',
            (token_hash, by, name, rights, written(at), written(expires_at)),
        )

    def invite(self, token_hash: str) -> Invite | None:
        """The invite whose token has this hash, used or not."""
        row = self._database.execute(_INVITES + " where token_hash = ?", (token_hash,)).fetchone()
        return None if row is None else _invite(row)

    def invites(self) -> list[Invite]:
        """Every invite, used ones too, in the order they were made."""
        return [_invite(row) for row in self._database.execute(_INVITES + " order by made_at, token_hash").fetchall()]

    def use_invite(self, token_hash: str, person: str, at: datetime) -> bool:
        """Use up an invite; False where there is none, it was used before, or it has expired."""
        moment = written(at)
        cursor = self._write(
            "update invites set used_at = ?1, used_by = ?2 where token_hash = ?3 and used_at is null and expires_at > ?1",
            (moment, person, token_hash),
        )
        return cursor.rowcount == 1

    def _write(self, sql: str, values: tuple[object, ...]) -> sqlite3.Cursor:
        self._known_devices.clear()
        try:
            return self._database.execute(sql, values)
        except FAILURES as error:
            raise not_kept(error) from error


_DEVICES = "select session_hash, person, label, added_at, seen_at, reach from devices"
_INVITES = 'select token_hash, "by", name, rights, made_at, expires_at, used_at, used_by from invites'


def _device(row: tuple[str, str, str, str, str, str | None]) -> Device:
    session_hash, person, label, added, seen, reach = row
    return Device(session_hash, person, label, read(added), read(seen), reach)


def _invite(row: tuple[str, str, str | None, str, str, str, str | None, str | None]) -> Invite:
    token_hash, by, name, rights, made, expires, used, used_by = row
    return Invite(token_hash, by, name, rights, read(made), read(expires), read_or_none(used), used_by)
