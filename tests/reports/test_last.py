"""When something was last done."""

from __future__ import annotations

import pytest

from tests.care.written_log import Log, event, litter
from tests.reports.asking import ask


def a_night() -> Log:
    log = litter(3).at("2026-03-02 01:00", event("nursed", 3, minutes=15), event("cleared", 3), event("nursed", 1))
    log.at("2026-03-02 02:00", event("fed", 3, ml=4, food="formula"), by="Theo")
    log.at(
        "2026-03-02 02:10", event("dose", "dam", drug="calcium", amount=2, unit="click"), event("intake", "dam", what="food", amount="half")
    )
    return log.at("2026-03-02 02:20", event("climate", place="box", celsius=30), event("toilet", 1, stool=False))


def test_when_a_pup_last_nursed_is_counted_from_when_it_began() -> None:
    answer = ask(a_night(), "2026-03-02 03:00", "last", who=1, of="nursed")
    assert answer.text == "Pup 1: nursed, 1:00 am (2 h ago, told by Ines)."
    assert (answer.values, answer.who) == ({"last_at": "2026-03-02T01:00:00-06:00", "minutes_ago": 120.0}, (1,))


def test_a_feed_by_hand_since_the_last_nursing_is_told_with_it() -> None:
    answer = ask(a_night(), "2026-03-02 03:00", "last", who=3, of="nursed")
    assert answer.text == (
        "Pup 3: nursed 15 min, 12:45 am (2 h 15 min ago, told by Ines). "
        "By hand since then: fed 4 ml formula, 2:00 am (1 h ago, told by Theo)."
    )
    assert answer.values["last_at"] == "2026-03-02T00:45:00-06:00"


def test_the_whole_litter_is_told_pup_by_pup_with_who_is_missing() -> None:
    answer = ask(a_night(), "2026-03-02 03:00", "last", of="nursed")
    assert answer.text == "Last nursing:\nPup 1: nursed, 1:00 am.\nPup 3: nursed 15 min, 12:45 am.\nNo nursing in the log yet: Pup 2."
    assert answer.values.keys() == {"1", "3"}


def test_the_last_of_a_drug_is_found_whoever_got_it() -> None:
    answer = ask(a_night(), "2026-03-02 03:00", "last", of="Calcium")
    assert answer.text == "Juniper: calcium 2 clicks, 2:10 am (50 min ago, told by Ines)."
    assert (answer.values["last_at"], answer.who) == ("2026-03-02T02:10:00-06:00", ("dam",))
    assert ask(a_night(), "2026-03-02 03:00", "last", of="oxytocin").text == "No oxytocin is in the log yet."


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"of": "climate"}, "Box 86 F, 2:20 am (40 min ago, told by Ines)."),
        ({"of": "intake"}, "Juniper: ate half, 2:10 am"),
        ({"of": "dose", "who": "dam"}, "Juniper: calcium 2 clicks, 2:10 am"),
        ({"of": "cleared", "who": 1}, "No clearing of Pup 1 is in the log yet."),
        ({"of": "visitor"}, "No visit is in the log yet."),
        ({"of": "toilet", "who": 1}, "Pup 1: no poop, 2:20 am"),
        ({"of": "nursed", "who": 9}, "There is no pup 9 in this litter."),
        ({"who": 2}, "Nothing of Pup 2 is in the log yet."),
    ],
)
def test_it_tells_the_last_of_anything_or_that_there_is_none(asked: dict[str, object], words: str) -> None:
    assert ask(a_night(), "2026-03-02 03:00", "last", **asked).text.startswith(words)


def test_all_that_was_last_done_to_one_pup_comes_latest_first() -> None:
    answer = ask(a_night(), "2026-03-02 03:00", "last", who=3)
    assert answer.text.split("\n") == [
        "Pup 3, the last of each:",
        "fed 4 ml formula, 2:00 am.",
        "cleared, 1:00 am.",
        "nursed 15 min, 12:45 am.",
    ]
    assert answer.values["last_at"] == "2026-03-02T02:00:00-06:00"


def test_with_a_span_it_says_when_it_was_not_within_it() -> None:
    answer = ask(a_night(), "2026-03-03 09:00", "last", who=1, of="nursed", span="today")
    assert answer.text.startswith("Not today. Pup 1: nursed, yesterday 1:00 am")
