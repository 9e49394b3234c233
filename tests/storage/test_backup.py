"""A copy can be made while the bot runs, and put back without losing what was there."""

from __future__ import annotations

import sqlite3
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from storage import Journal, StorageError
from storage.backup import back_up, problems, restore
from tests.storage.test_power_loss import HOME
from tests.storage.told import NIGHT, Fact, message, open_journal, standing, weighed


def log_of(path: Path, *grams: float) -> Journal[Fact]:
    journal = open_journal(path)
    room = journal.register.add_litter("Juniper", NIGHT)
    for weight in grams:
        journal.write(message(f"pup 3 {weight}", room), [weighed(3, weight)])
    return journal


def test_a_copy_of_an_open_log_holds_all_that_was_kept(path: Path, tmp_path: Path) -> None:
    journal = log_of(path, 200.0, 210.0)
    copy = tmp_path / "copy.db"
    back_up(path, copy)
    journal.write(message("pup 3 220", 1), [weighed(3, 220.0)])

    assert {"copy.db"} == {file.name for file in tmp_path.glob("copy*")}
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    assert problems(copy) == []
    copied = open_journal(copy)
    assert journal.entries(1)[:2] == copied.entries(1)
    copied.write(message("pup 3 225", 1), [weighed(3, 225.0)])
    assert 3 == len(copied.entries(1)) == len(journal.entries(1))
    copied.close()
    journal.close()


def test_a_copy_can_be_made_in_the_middle_of_a_writers_stream(path: Path, tmp_path: Path) -> None:
    writer = subprocess.Popen([sys.executable, "-m", "tests.storage.steady_writer", str(path)], cwd=HOME, stdout=subprocess.PIPE, text=True)
    assert writer.stdout is not None
    with writer, writer.stdout as said:
        for _ in range(50):
            before = int(said.readline())
        back_up(path, tmp_path / "copy.db")
        writer.kill()
        after = [int(line) for line in said.read().splitlines() if line][-1]

    copied = open_journal(tmp_path / "copy.db")
    kept = len(copied.history(None, limit=10**6)) // 2
    assert before <= kept <= after + 1
    assert 2 * kept == len(copied.entries(1))
    copied.close()


def test_no_copy_is_ever_overwritten(path: Path, tmp_path: Path) -> None:
    log_of(path, 200.0).close()
    copy = tmp_path / "copy.db"
    copy.write_text("an older copy")
    with pytest.raises(StorageError, match="exists already"):
        back_up(path, copy)
    assert copy.read_text() == "an older copy"


def test_what_a_broken_off_copy_left_is_no_hindrance(path: Path, tmp_path: Path) -> None:
    log_of(path, 200.0).close()
    (tmp_path / "copy.db.part").write_text("half a copy")
    back_up(path, tmp_path / "copy.db")
    assert problems(tmp_path / "copy.db") == []
    assert not (tmp_path / "copy.db.part").exists()


@pytest.mark.parametrize("place", ["nowhere/copy.db", "copy.db"])
def test_a_copy_that_cannot_be_made_is_told_in_words_and_leaves_no_file(path: Path, tmp_path: Path, place: str) -> None:
    source = path
    if place == "copy.db":
        source = tmp_path / "missing.db"
    else:
        log_of(path, 200.0).close()
    with pytest.raises(StorageError):
        back_up(source, tmp_path / place)
    assert not (tmp_path / place).exists()
    assert not (tmp_path / "missing.db").exists()


def test_a_damaged_log_is_not_passed_off_as_a_copy(path: Path, tmp_path: Path) -> None:
    damaged(path)
    with pytest.raises(StorageError):
        back_up(path, tmp_path / "copy.db")
    assert [path.name] == [file.name for file in tmp_path.iterdir() if "-" not in file.name]


def test_a_restore_puts_the_log_that_was_there_aside(path: Path, tmp_path: Path) -> None:
    log_of(path, 200.0).close()
    copy = tmp_path / "copy.db"
    back_up(path, copy)
    journal = open_journal(path)
    journal.write(message("pup 3 999", 1), [weighed(3, 999.0)])
    journal.close()

    aside = restore(copy, path)
    assert tmp_path / "log.db.before-restore-1" == aside
    assert len(reopened(path)) == 1
    assert len(reopened(aside)) == 2
    assert tmp_path / "log.db.before-restore-2" == restore(copy, path)
    assert copy.exists()


def test_a_restore_where_there_is_no_log_makes_one(path: Path, tmp_path: Path) -> None:
    log_of(path, 200.0).close()
    copy = tmp_path / "copy.db"
    back_up(path, copy)
    assert restore(copy, tmp_path / "new.db") is None
    assert len(reopened(tmp_path / "new.db")) == 1


def test_a_log_in_use_is_not_restored_over(path: Path, tmp_path: Path) -> None:
    journal = log_of(path, 200.0)
    copy = tmp_path / "copy.db"
    back_up(path, copy)
    with pytest.raises(StorageError, match="Stop the bot"):
        restore(copy, path)
    journal.write(message("pup 3 210", 1), [weighed(3, 210.0)])
    assert len(standing(journal, 1)) == 2
    journal.close()
    assert {"log.db", "copy.db"} == {file.name for file in tmp_path.iterdir()}


def test_a_damaged_log_is_restored_over_and_kept_aside(path: Path, tmp_path: Path) -> None:
    log_of(path, 200.0).close()
    copy = tmp_path / "copy.db"
    back_up(path, copy)
    path.write_bytes(b"no database at all" * 500)
    aside = restore(copy, path)
    assert aside is not None
    assert aside.read_bytes() == b"no database at all" * 500
    assert len(reopened(path)) == 1


def test_a_copy_that_is_not_sound_is_not_restored(path: Path, tmp_path: Path) -> None:
    log_of(path, 200.0).close()
    copy = tmp_path / "copy.db"
    damaged(copy)
    with pytest.raises(StorageError, match="was not restored, and nothing was changed"):
        restore(copy, path)
    assert len(reopened(path)) == 1


def test_problems_are_told_in_sentences(path: Path, tmp_path: Path) -> None:
    assert [f"{path} does not exist."] == problems(path)
    log_of(path, 200.0).close()
    assert problems(path) == []
    (tmp_path / "empty.db").touch()
    assert [f"{tmp_path / 'empty.db'} holds no log."] == problems(tmp_path / "empty.db")
    damaged(tmp_path / "damaged.db")
    assert "restore the latest backup" in problems(tmp_path / "damaged.db")[-1]

    loose = sqlite3.connect(path)
    loose.execute("insert into messages (litter, at, \"by\", channel, text) values (99, '2026', 'ines', 'web', 'hello')")
    loose.commit()
    loose.close()
    assert "points to a row that is not there" in problems(path)[0]


def damaged(path: Path) -> None:
    """A log of some pages, with the middle ones overwritten."""
    log_of(path, *range(200, 400)).close()
    whole = path.read_bytes()
    path.write_bytes(whole[:8192] + b"\xa5" * (len(whole) - 12288) + whole[-4096:])


def reopened(path: Path) -> list[Fact]:
    journal = open_journal(path)
    try:
        return standing(journal, 1)
    finally:
        journal.close()
