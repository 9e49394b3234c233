"""Links to the calendar: kept by their hash, until they are ended."""

from __future__ import annotations

from pathlib import Path

import pytest

from storage import Journal, NotKept
from tests.storage.told import NIGHT, Fact, minutes_later, open_journal


def test_a_link_holds_until_all_are_ended(journal: Journal[Fact]) -> None:
    links = journal.calendar_links
    links.add("f00d", "Ines", NIGHT)
    links.add("beef", "Ines", minutes_later(1))
    assert [links.holds(one) for one in ("f00d", "beef", "cafe")] == [True, True, False]
    assert links.end_all(minutes_later(2)) == 2
    assert [links.holds(one) for one in ("f00d", "beef")] == [False, False]
    assert links.end_all(minutes_later(3)) == 0
    links.add("cafe", "Ines", minutes_later(4))
    assert links.holds("cafe")


def test_a_link_outlives_a_restart(tmp_path: Path) -> None:
    journal = open_journal(tmp_path / "log.db")
    journal.calendar_links.add("f00d", "Ines", NIGHT)
    journal.close()
    again = open_journal(tmp_path / "log.db")
    assert again.calendar_links.holds("f00d")
    again.close()


def test_the_same_secret_twice_is_refused(journal: Journal[Fact]) -> None:
    journal.calendar_links.add("f00d", "Ines", NIGHT)
    with pytest.raises(NotKept):
        journal.calendar_links.add("f00d", "Ines", minutes_later(1))
