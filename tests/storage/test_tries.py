"""How what was said unasked was brought to people is kept, one row for each message, person and way."""

from __future__ import annotations

from pathlib import Path

import pytest

from storage import NotKept, TriedWay
from tests.storage.told import minutes_later, nudge, open_journal


def test_a_try_is_kept_and_its_end_takes_the_place_of_its_beginning(tmp_path: Path) -> None:
    journal = open_journal(tmp_path / "log.db")
    first, second = journal.say([nudge("Pup 3 is due.", None), nudge("Pup 4 is due.", None)])
    handed = TriedWay(first, "ines", "push", minutes_later(0), 1, "handed over")
    journal.tries.keep([handed, TriedWay(second, "", "speaker", minutes_later(0), 2, "failed")])
    arrived = TriedWay(first, "ines", "push", minutes_later(1), 1, "arrived")
    journal.tries.keep([arrived])
    journal.close()
    again = open_journal(tmp_path / "log.db")
    assert again.tries.of([first]) == [arrived]
    assert again.tries.of([second, first])[0].person == ""


def test_the_last_success_of_each_way_is_known() -> None:
    journal = open_journal()
    first, second = journal.say([nudge("Pup 3 is due.", None), nudge("Pup 4 is due.", None)])
    tries = [
        TriedWay(first, "ines", "push", minutes_later(0), 1, "arrived"),
        TriedWay(second, "ines", "push", minutes_later(5), 1, "arrived"),
        TriedWay(second, "theo", "push", minutes_later(5), 1, "failed"),
    ]
    journal.tries.keep(tries)
    assert journal.tries.last("arrived") == [tries[1]]


def test_a_try_of_what_was_never_said_is_refused_and_nothing_of_it_kept() -> None:
    journal = open_journal()
    (first,) = journal.say([nudge("Pup 3 is due.", None)])
    with pytest.raises(NotKept):
        journal.tries.keep([TriedWay(n, "ines", "push", minutes_later(0), 1, "failed") for n in (first, 99)])
    assert journal.tries.of([first]) == []
