"""A correction is a row: what it replaces no longer stands, and is never gone."""

from __future__ import annotations

from pathlib import Path

import pytest

from storage import Journal, NotKept, Withdrawal
from tests.storage.told import NIGHT, Fact, Weighed, browse, message, minutes_later, open_journal, standing, weighed


def rows(journal: Journal[Fact]) -> list[tuple[object, ...]]:
    return [tuple(row.values()) for row in browse(journal, "select id, kind, replaces from events order by id")]


def test_a_corrected_event_vanishes_from_what_stands_and_stays_in_the_table(journal: Journal[Fact], litter: int) -> None:
    wrong = journal.write(message("pup 3 212", litter), [weighed(3, 212.0)]).entries[0]
    right = journal.write(message("no, 221", litter, at=minutes_later(2)), [weighed(3, 221.0, replaces=wrong.id)]).entries[0]
    assert [right] == journal.entries(litter)
    assert Weighed(who=3, grams=221.0) == right.event
    assert [(wrong.id, "weighed", None), (right.id, "weighed", wrong.id)] == rows(journal)


def test_a_withdrawn_event_vanishes_from_what_stands_and_stays_in_the_table(journal: Journal[Fact], litter: int) -> None:
    kept = journal.write(message("pup 3 212 pup 4 200", litter), [weighed(3, 212.0), weighed(4, 200.0)])
    undone = journal.write(message("undo", litter), [Withdrawal(kept.entries[0].id)])
    assert undone.entries == ()
    assert [kept.entries[1]] == journal.entries(litter)
    assert [None, None, kept.entries[0].id] == [replaces for _, _, replaces in rows(journal)]


def test_a_corrected_event_happened_when_it_was_first_told(journal: Journal[Fact], litter: int) -> None:
    first = journal.write(message("pup 3 212", litter), [weighed(3, 212.0)]).entries[0]
    second = journal.write(message("no, 221", litter, at=minutes_later(2)), [weighed(3, 221.0, replaces=first.id)]).entries[0]
    third = journal.write(message("no, 222", litter, at=minutes_later(4), by="theo"), [weighed(3, 222.0, replaces=second.id)]).entries[0]
    assert [third] == journal.entries(litter)
    assert (third.told_at, third.by) == (NIGHT, "theo")


def test_what_was_withdrawn_can_be_put_back(journal: Journal[Fact], litter: int) -> None:
    first = journal.write(message("pup 3 212", litter), [weighed(3, 212.0)]).entries[0]
    journal.write(message("undo", litter, at=minutes_later(1)), [Withdrawal(first.id)])
    (withdrawal,) = [number for number, kind, _ in rows(journal) if kind == "withdrawn"]
    assert isinstance(withdrawal, int)
    journal.write(message("undo that", litter, at=minutes_later(2)), [weighed(3, 212.0, replaces=withdrawal)])
    (back,) = journal.entries(litter)
    assert (Weighed(who=3, grams=212.0), NIGHT) == (back.event, back.told_at)


def test_one_event_may_be_replaced_by_two_in_one_message(journal: Journal[Fact], litter: int) -> None:
    first = journal.write(message("pup 3 212", litter), [weighed(3, 212.0)]).entries[0]
    journal.write(message("that was pups 4 and 5", litter), [weighed(4, 212.0, replaces=first.id), weighed(5, 212.0, replaces=first.id)])
    assert [event.who for event in standing(journal, litter)] == [4, 5]


def test_two_people_cannot_both_correct_the_same_event(journal: Journal[Fact], litter: int) -> None:
    first = journal.write(message("pup 3 212", litter), [weighed(3, 212.0)]).entries[0]
    journal.write(message("no, 221", litter), [weighed(3, 221.0, replaces=first.id)])
    for late in (weighed(3, 222.0, replaces=first.id), Withdrawal(first.id)):
        with pytest.raises(NotKept, match="corrected or undone in the meantime"):
            journal.write(message("no, 222", litter, by="theo"), [late])
    assert [Weighed(who=3, grams=221.0)] == standing(journal, litter)
    assert len(journal.history(litter)) == 2


def test_a_correction_of_nothing_is_refused(journal: Journal[Fact], litter: int) -> None:
    with pytest.raises(NotKept, match="no event 7"):
        journal.write(message("undo", litter), [Withdrawal(7)])
    assert journal.history(None) == []


def test_the_log_shows_what_was_told_and_what_still_stands(journal: Journal[Fact], litter: int) -> None:
    wrong = journal.write(message("pup 3 212 pup 4 200", litter), [weighed(3, 212.0), weighed(4, 200.0)])
    right = journal.write(message("no, 221", litter, at=minutes_later(2)), [weighed(3, 221.0, replaces=wrong.entries[0].id)])
    told, corrected = journal.log(litter)
    assert ("pup 3 212 pup 4 200", wrong.entries, frozenset({wrong.entries[1].id})) == (told.message.text, told.entries, told.standing)
    assert ("no, 221", right.entries, frozenset({right.entries[0].id})) == (corrected.message.text, corrected.entries, corrected.standing)


def test_corrections_hold_after_the_file_was_closed(path: Path) -> None:
    journal = open_journal(path)
    room = journal.register.add_litter("Juniper", NIGHT)
    kept = journal.write(message("pup 3 212 pup 4 200", room), [weighed(3, 212.0), weighed(4, 200.0)])
    right = journal.write(message("no, 221", room, at=minutes_later(2)), [weighed(3, 221.0, replaces=kept.entries[0].id)])
    journal.write(message("pup 4: undo", room), [Withdrawal(kept.entries[1].id)])
    journal.close()

    journal = open_journal(path)
    assert list(right.entries) == journal.entries(room)
    journal.close()
