"""A file is opened, made, brought up to date, or refused in words; what was in it is in it afterwards."""

from __future__ import annotations

import sqlite3
import stat
from pathlib import Path

import pytest
from sqlite_utils import Database

from storage import Journal, NotKept, StorageError
from storage.schema import migrations, open_database
from tests.storage.told import KINDS, NIGHT, Fact, Weighed, browse, message, minutes_later, open_journal, reply, standing, weighed

STEPS = [migration.name for migration in migrations.pending(Database(memory=True))]


def test_all_is_there_when_the_file_is_opened_again(path: Path) -> None:
    journal = open_journal(path)
    room = journal.register.add_litter("Juniper", NIGHT)
    for n in range(10):
        journal.write(message(f"pup {n} 212", room, at=minutes_later(n)), [weighed(n, 212.0 + n)], [reply("Kept.", room)])
    kept = (journal.entries(room), journal.history(None), journal.register.litters(), list(journal.log()))
    journal.close()

    journal = open_journal(path)
    assert kept == (journal.entries(room), journal.history(None), journal.register.litters(), list(journal.log()))
    journal.close()


def test_all_is_there_without_a_goodbye(path: Path) -> None:
    journal = open_journal(path)
    room = journal.register.add_litter("Juniper", NIGHT)
    journal.write(message("pup 3 212", room), [weighed(3, 212.0)])
    second = open_journal(path)
    assert [Weighed(who=3, grams=212.0)] == standing(second, room)
    second.close()
    journal.close()


def test_nothing_acknowledged_may_be_lost_at_a_power_cut(path: Path) -> None:
    journal = open_journal(path)
    pragmas = {name: browse(journal, f"pragma {name}")[0][name] for name in ("journal_mode", "synchronous", "foreign_keys")}
    assert pragmas == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1}
    journal.close()


def test_a_file_that_another_program_holds_is_told_in_words_and_works_again_after(path: Path) -> None:
    journal = open_journal(path)
    room = journal.register.add_litter("Juniper", NIGHT)
    browse(journal, "pragma busy_timeout = 0")
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("begin immediate")
    with pytest.raises(NotKept, match="another program holds"):
        journal.write(message("pup 3 212", room), [weighed(3, 212.0)])
    with pytest.raises(NotKept, match="another program holds"):
        journal.register.add_litter("Hazel", NIGHT)
    other.execute("rollback")
    other.close()
    assert journal.history(None) == []
    journal.write(message("pup 3 212", room), [weighed(3, 212.0)])
    assert standing(journal, room) == [Weighed(who=3, grams=212.0)]
    journal.close()


def test_the_file_is_its_owners_alone(path: Path) -> None:
    journal = open_journal(path)
    room = journal.register.add_litter("Juniper", NIGHT)
    journal.write(message("pup 3 212", room), [weighed(3, 212.0)])
    assert {0o600} == {stat.S_IMODE(file.stat().st_mode) for file in path.parent.glob("log.db*")}
    journal.close()


@pytest.mark.parametrize("step", STEPS)
def test_a_file_of_an_older_version_is_brought_up_to_date_with_all_its_rows(path: Path, step: str) -> None:
    old = Database(path)
    migrations.apply(old, stop_before=step)
    if "messages" in old.table_names():
        moment = NIGHT.isoformat()
        old.table("litters").insert({"id": 1, "name": "Juniper", "opened_at": moment})
        old.table("messages").insert({"id": 1, "litter": 1, "at": moment, "by": "ines", "channel": "web", "text": "pup 3 212"})
        event = {"id": 1, "message": 1, "litter": 1, "kind": "weighed", "told_at": moment, "who": 3}
        old.table("events").insert(event | {"body": '{"who":3,"grams":212.0}'})
    rows = {table: list(old.table(table).rows) for table in old.table_names() if table != migrations.migrations_table}
    assert STEPS.index(step) == len(migrations.applied(old))
    old.close()

    journal = open_journal(path)
    assert rows == {table: list(journal._database.table(table).rows) for table in rows}
    assert migrations.pending(journal._database) == []
    if rows:
        assert [Weighed(who=3, grams=212.0)] == standing(journal, 1)
    room = journal.register.add_litter("Hazel", NIGHT)
    first = journal.write(message("pup 3 212", room), [weighed(3, 212.0)]).entries[0]
    journal.write(message("no, 221", room), [weighed(3, 221.0, replaces=first.id)])
    assert [Weighed(who=3, grams=221.0)] == standing(journal, room)
    with pytest.raises(sqlite3.IntegrityError):
        browse(journal, "delete from events")
    journal.close()


def test_a_step_that_was_broken_off_is_done_at_the_next_start(path: Path) -> None:
    old = Database(path)
    migrations.apply(old, stop_before=STEPS[1])
    old.execute("create table devices (id integer)")  # in the way of a later step
    with pytest.raises(sqlite3.OperationalError):
        migrations.apply(old)
    assert [migration.name for migration in migrations.applied(old)] == STEPS[:1]
    old.execute("drop table devices")
    old.close()
    journal = open_journal(path)
    assert migrations.pending(journal._database) == []
    journal.close()


def test_a_file_of_a_newer_version_is_refused_and_left_alone(path: Path) -> None:
    open_journal(path).close()
    newer = Database(path)
    newer.table(migrations.migrations_table).insert({"migration_set": migrations.name, "name": "of_next_year", "applied_at": "2027"})
    newer.close()
    before = path.read_bytes()
    with pytest.raises(StorageError, match="newer version"):
        open_journal(path)
    assert before == path.read_bytes()


def test_another_programs_database_is_refused_and_left_alone(path: Path) -> None:
    other = sqlite3.connect(path)
    other.execute("create table recipes (name text)")
    other.close()
    before = path.read_bytes()
    with pytest.raises(StorageError, match="not a log of this bot"):
        open_journal(path)
    assert before == path.read_bytes()


def test_a_file_that_is_no_database_is_refused_and_left_alone(path: Path) -> None:
    path.write_bytes(b"Dear diary, " * 1000)
    with pytest.raises(StorageError, match="not a log of this bot"):
        open_journal(path)
    assert path.read_bytes() == b"Dear diary, " * 1000


def test_a_directory_that_is_not_there_is_told_in_words(path: Path) -> None:
    with pytest.raises(StorageError, match="Check that its directory exists"):
        open_journal(path.parent / "nowhere" / "log.db")


def test_an_event_of_a_kind_we_do_not_know_is_told_and_not_left_out(path: Path) -> None:
    journal = open_journal(path)
    room = journal.register.add_litter("Juniper", NIGHT)
    journal.write(message("pup 3 212", room), [weighed(3, 212.0)])
    journal.close()
    fewer: Journal[Fact] = Journal(path, {kind: model for kind, model in KINDS.items() if kind != "weighed"})
    with pytest.raises(StorageError, match=r"Event 1 is of the kind 'weighed'"):
        fewer.entries(room)
    fewer.close()


def test_an_event_that_can_no_longer_be_read_is_told_with_its_content(path: Path) -> None:
    class Weighed(Fact):
        kind: str = "weighed"
        ounces: float

    journal = open_journal(path)
    room = journal.register.add_litter("Juniper", NIGHT)
    journal.write(message("pup 3 212", room), [weighed(3, 212.0)])
    journal.close()
    changed: Journal[Fact] = Journal(path, {"weighed": Weighed})
    with pytest.raises(StorageError, match=r"Event 1 \(weighed\) cannot be read.*212"):
        changed.entries(room)
    changed.close()


def test_a_journal_in_memory_touches_no_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    database = open_database(None)
    database.close()
    assert list(tmp_path.iterdir()) == []
