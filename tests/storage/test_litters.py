"""A household may have several litters at once, and their pup 3s are never mixed."""

from __future__ import annotations

import pytest

from storage import Journal, NotKept, Withdrawal
from tests.storage.told import NIGHT, Fact, Weighed, message, nudge, reply, standing, weighed


@pytest.fixture
def other(journal: Journal[Fact], litter: int) -> int:
    assert litter
    return journal.register.add_litter("Hazel", NIGHT)


def test_two_litters_never_mix(journal: Journal[Fact], litter: int, other: int) -> None:
    for grams in (200.0, 210.0, 220.0):
        journal.write(message(f"pup 3 {grams}", litter), [weighed(3, grams)], [reply("Kept.", litter)])
        journal.write(message(f"pup 3 {grams + 100}", other), [weighed(3, grams + 100)], [reply("Kept.", other)])
    assert [event.grams for event in standing(journal, litter) if isinstance(event, Weighed)] == [200.0, 210.0, 220.0]
    assert [event.grams for event in standing(journal, other) if isinstance(event, Weighed)] == [300.0, 310.0, 320.0]
    assert {litter} == {line.litter for line in journal.history(litter)}
    assert {other} == {line.message.litter for line in journal.log(other)}
    assert len(journal.history(None)) == 12


def test_no_litter_can_correct_another(journal: Journal[Fact], litter: int, other: int) -> None:
    mine = journal.write(message("pup 3 212", litter), [weighed(3, 212.0)]).entries[0]
    for foreign in (weighed(3, 221.0, replaces=mine.id), Withdrawal(mine.id)):
        with pytest.raises(NotKept, match="another litter"):
            journal.write(message("no, 221", other), [foreign])
    assert [mine] == journal.entries(litter)
    assert journal.entries(other) == []
    assert journal.history(other) == []


def test_what_was_told_of_one_litter_was_not_told_of_the_other(journal: Journal[Fact], litter: int, other: int) -> None:
    journal.say([nudge("Pup 3 is due.", litter, "nursing/3/1")])
    assert set() == journal.told(other)
    journal.say([nudge("Pup 3 is due.", other, "nursing/3/1")])
    assert {"nursing/3/1"} == journal.told(litter) == journal.told(other)


def test_a_litter_that_does_not_exist_is_refused(journal: Journal[Fact]) -> None:
    with pytest.raises(NotKept):
        journal.write(message("pup 3 212", 7), [weighed(3, 212.0)])
    assert journal.history(None) == []
