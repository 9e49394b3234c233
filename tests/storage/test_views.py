"""Each kind has a view that any SQLite browser can read."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from storage import Journal, NewEvent, Withdrawal
from tests.storage.told import KINDS, NIGHT, Chosen, Cleared, Fact, Weighed, browse, message, minutes_later, open_journal, weighed


def shown(journal: Journal[Fact], view: str) -> list[dict[str, object]]:
    return browse(journal, f'select * from "{view}"')  # noqa: S608 (names from these tests)


def test_a_kind_is_shown_with_its_fields_as_columns(journal: Journal[Fact], litter: int) -> None:
    kept = journal.write(message("pup 3 212.5", litter), [weighed(3, 212.5)])
    journal.write(message("4 at 3:15", litter), [weighed(4, 200.0, at=minutes_later(1))])
    first, second = shown(journal, "weighed")
    assert {
        "id": kept.entries[0].id, "litter": litter, "at": "2026-03-02T03:14:00+00:00", "who": 3, "grams": 212.5,
        "told_at": "2026-03-02T03:14:00+00:00", "told_by": "ines", "message": kept.message,
    } == first  # fmt: skip
    assert (second["at"], second["who"]) == ("2026-03-02T03:15:00+00:00", 4)


def test_fields_with_awkward_names_are_shown(journal: Journal[Fact], litter: int) -> None:
    journal.write(
        message("cleared", litter), [NewEvent(Cleared(who="dam", with_="bulb", by="theo")), NewEvent(Chosen(sets={"dam": "Juniper"}))]
    )
    (cleared,) = shown(journal, "cleared")
    assert (cleared["who"], cleared["with"], cleared["by"], cleared["told_by"]) == ("dam", "bulb", "theo", "ines")
    (chosen,) = shown(journal, "chosen")
    assert chosen["sets"] == '{"dam":"Juniper"}'


def test_a_field_that_has_the_name_of_a_common_column_keeps_both(journal: Journal[Fact]) -> None:
    class Ordered(Fact):
        kind: str = "ordered"
        message: str

    ordered: Journal[Fact] = Journal(None, {"ordered": Ordered})
    room = ordered.register.add_litter("Juniper", NIGHT)
    kept = ordered.write(message("milk powder", room), [NewEvent(Ordered(message="two tins"))])
    (row,) = shown(ordered, "ordered")
    assert (kept.message, "two tins") == (row["message"], row["ordered_message"])
    ordered.close()


def test_what_no_longer_stands_is_in_no_view(journal: Journal[Fact], litter: int) -> None:
    first, second = journal.write(message("3 212 4 200", litter), [weighed(3, 212.0), weighed(4, 200.0)]).entries
    journal.write(message("no, 221", litter), [weighed(3, 221.0, replaces=first.id), Withdrawal(second.id)])
    assert [row["grams"] for row in shown(journal, "weighed")] == [221.0]
    assert [row["kind"] for row in shown(journal, "standing_events")] == ["weighed"]


def test_the_views_follow_the_kinds_of_the_program(path: Path) -> None:
    journal: Journal[Fact] = Journal(path, {"weighed": Weighed})
    room = journal.register.add_litter("Juniper", NIGHT)
    journal.write(message("pup 3 212", room), [weighed(3, 212.0)])
    with pytest.raises(sqlite3.OperationalError, match="no such table"):
        shown(journal, "cleared")
    journal.close()

    journal = open_journal(path)
    assert shown(journal, "cleared") == []
    assert [row["grams"] for row in shown(journal, "weighed")] == [212.0]
    journal.close()


def test_views_that_fit_are_not_made_again(path: Path) -> None:
    open_journal(path).close()
    before = path.read_bytes()
    open_journal(path).close()
    assert before == path.read_bytes()


def test_a_kind_may_not_hide_a_table(path: Path) -> None:
    with pytest.raises(ValueError, match="name of a table: messages"):
        Journal(path, KINDS | {"messages": Weighed})
