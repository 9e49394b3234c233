"""What the bot says unasked is kept before it is said, once, and is owed until it was delivered."""

from __future__ import annotations

from pathlib import Path

import pytest

from storage import AlreadyTold, Journal
from tests.storage.told import NIGHT, Fact, message, nudge, open_journal, reply


def test_a_cause_is_told_once(journal: Journal[Fact], litter: int) -> None:
    journal.say([nudge("Pups 3 and 4 are due.", litter, "nursing/3/1", "nursing/4/2")])
    with pytest.raises(AlreadyTold):
        journal.say([nudge("Pup 5 is due.", litter, "nursing/5/1"), nudge("Pup 4 is due.", litter, "nursing/4/2")])
    assert {"nursing/3/1", "nursing/4/2"} == journal.told(litter)
    assert [line.text for line in journal.history(litter)] == ["Pups 3 and 4 are due."]


def test_a_cause_stays_told_when_the_file_is_opened_again(path: Path) -> None:
    journal = open_journal(path)
    room = journal.register.add_litter("Juniper", NIGHT)
    journal.say([nudge("Pup 3 is due.", room, "nursing/3/1")])
    journal.close()

    journal = open_journal(path)
    assert {"nursing/3/1"} == journal.told(room)
    with pytest.raises(AlreadyTold):
        journal.say([nudge("Pup 3 is due.", room, "nursing/3/1")])
    journal.close()


def test_what_is_owed_is_listed_until_it_was_delivered(journal: Journal[Fact], litter: int) -> None:
    journal.write(message("hello", litter), said=[reply("Hello.", litter)])
    first, second = journal.say([nudge("Pup 3 is due.", litter, "a"), nudge("Pup 4 is due.", litter, "b")])
    assert [first, second] == [line.id for line in journal.undelivered()]
    journal.mark_delivered([first])
    assert [second] == [line.id for line in journal.undelivered()]
    journal.mark_delivered([first, second])
    assert journal.undelivered() == []
    assert [line.delivered for line in journal.history(litter)] == [None, None, True, True]


def test_marking_what_nobody_was_owed_changes_nothing(journal: Journal[Fact], litter: int) -> None:
    kept = journal.write(message("hello", litter), said=[reply("Hello.", litter)])
    journal.mark_delivered([kept.message, *kept.said, 999])
    assert [line.delivered for line in journal.history(litter)] == [None, None]


def test_a_cause_without_a_litter_is_refused_whole(journal: Journal[Fact]) -> None:
    from storage import NotKept

    with pytest.raises(NotKept):
        journal.say([nudge("Pup 3 is due.", None, "nursing/3/1")])
    assert journal.history(None) == []
