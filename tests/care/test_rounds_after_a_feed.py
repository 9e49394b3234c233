"""Clearing and stimulating after each nursing or feed: when they are due, what ends them, and what is said of them."""

from __future__ import annotations

import pytest

from bot.care.rounds import due
from tests.care.written_log import Listening, Log, event, litter


def clearing(log: Log, care: str = "clearing") -> list[str]:
    """`03:15 3`: when on the wall, and which pup."""
    return [f"{one.at.astimezone(log.zone):%H:%M} {one.who}" for one in due(log.nursery(), log.now) if one.care == care]


def toilet(log: Log) -> list[str]:
    return clearing(log, "toilet")


def said(log: Log, until: str) -> list[str]:
    return Listening(log, only="clearing").until(until)


def test_a_pup_is_to_be_cleared_a_quarter_of_an_hour_after_its_nursing_ended() -> None:
    assert clearing(litter().at("2026-03-02 03:14", event("nursed", 3, minutes=15))) == ["03:29 3"]


def test_a_nursing_with_a_time_and_a_length_ended_that_much_later() -> None:
    log = litter()
    log.at("2026-03-02 03:14", event("nursed", 3, minutes=15, at=log.moment("2026-03-02 02:40")))
    assert clearing(log) == ["03:10 3"]


def test_it_is_said_three_times_and_then_no_more() -> None:
    log = litter().at("2026-03-02 03:00", on_duty="Theo").at("2026-03-02 03:14", event("fed", 3, ml=4))
    bot = Listening(log, only="clearing")
    assert bot.until("2026-03-02 12:00") == ["03:29 clearing 3 routine Theo", "03:59 clearing 3 soon Theo", "04:29 clearing 3 soon all"]
    assert [notice.text for _, notice in bot.said][:2] == [
        "Pup 3 is due to be cleared: fed 3:14 am.",
        "Pup 3 is 30 min overdue to be cleared: fed 3:14 am.",
    ]
    assert bot.said[0][1].values == {
        "care": "clearing",
        "due_at": "2026-03-02T03:29:00-06:00",
        "last_at": "2026-03-02T03:14:00-06:00",
    }


def test_clearing_since_it_began_ends_it_also_in_the_same_message() -> None:
    log = litter().at("2026-03-02 03:14", event("nursed", 3, minutes=15), event("cleared", 3), event("nursed", 4, minutes=15))
    log.at("2026-03-02 03:20", event("cleared", 4, at=log.moment("2026-03-02 02:59")))  # in the minute at which it began
    assert clearing(log) == []


def test_clearing_before_it_began_counts_for_nothing() -> None:
    log = litter().at("2026-03-02 03:20", event("nursed", 4))
    log.at("2026-03-02 03:25", event("cleared", 4, at=log.moment("2026-03-02 03:19")))
    assert clearing(log) == ["03:35 4"]


def test_the_last_nursing_or_feed_counts() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 03:08", event("fed", 3, ml=2))
    assert said(log, "2026-03-02 03:40") == ["03:23 clearing 3 routine all"]


def test_pups_within_ten_minutes_come_in_one_message() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 1), event("nursed", 2)).at("2026-03-02 03:10", event("nursed", 3))
    log.at("2026-03-02 03:11", event("nursed", 4))
    assert said(log, "2026-03-02 03:40") == ["03:15 clearing 1,2,3 routine all", "03:26 clearing 4 routine all"]


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ("03:15", ["03:15 clearing 3 routine all", "03:45 clearing 3 soon all", "04:15 clearing 3 soon all"]),
        ("03:50", ["03:50 clearing 3 soon all", "04:15 clearing 3 soon all"]),
        ("04:15", ["04:15 clearing 3 soon all"]),  # an hour late to the minute
        ("04:16", []),
    ],
)
def test_told_more_than_an_hour_after_it_was_due_it_is_not_said(told: str, expected: list[str]) -> None:
    log = litter()
    log.at(f"2026-03-02 {told}", event("nursed", 3, at=log.moment("2026-03-02 03:00")))
    assert said(log, "2026-03-02 09:00") == expected


def test_what_an_outage_held_back_is_said_however_late() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))
    assert Listening(log, only="clearing").off_until("2026-03-02 06:00") == ["06:00 clearing 3 soon all"]


def test_it_has_no_last_day() -> None:
    assert clearing(litter().at("2026-03-25 12:00", event("nursed", 3))) == ["12:15 3"]


def test_an_undo_brings_it_back() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 03:05", event("cleared", 3))
    bot = Listening(log, only="clearing")
    assert bot.until("2026-03-02 03:50") == []
    log.entries.pop()
    bot.now = log.moment("2026-03-02 03:50")
    assert bot.until("2026-03-02 04:20") == ["03:50 clearing 3 soon all", "04:15 clearing 3 soon all"]


def test_the_dead_are_not_cleared() -> None:
    assert clearing(litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 03:05", event("died", 3))) == []


# The toilet


def test_a_pup_is_to_be_stimulated_half_an_hour_after_its_nursing_ended() -> None:
    log = litter().at("2026-03-02 03:14", event("nursed", 3, minutes=15)).at("2026-03-02 03:15", event("cleared", 3))
    assert toilet(log) == ["03:44 3"]
    bot = Listening(log, only="toilet")
    assert bot.until("2026-03-02 12:00") == ["03:44 toilet 3 routine all", "04:14 toilet 3 soon all", "04:44 toilet 3 soon all"]
    assert bot.said[0][1].text == "Pup 3 is due to be stimulated: nursed 2:59 am."


@pytest.mark.parametrize("passed", [{}, {"urine": True}, {"urine": False}, {"stool": False}, {"stool": True, "look": "yellow"}])
def test_any_toilet_event_ends_it_also_one_in_which_nothing_came(passed: dict[str, object]) -> None:
    log = litter().at("2026-03-02 03:14", event("nursed", 3, minutes=15)).at("2026-03-02 03:30", event("toilet", 3, **passed))
    assert toilet(log) == []


def test_a_toilet_before_the_nursing_began_counts_for_nothing() -> None:
    log = litter().at("2026-03-02 02:58", event("toilet", 3)).at("2026-03-02 03:14", event("nursed", 3, minutes=15))
    assert toilet(log) == ["03:44 3"]


@pytest.mark.parametrize(("began", "expected"), [("2026-03-22 10:39", ["11:09 3"]), ("2026-03-22 10:40", [])])
def test_it_is_due_until_day_20(began: str, expected: list[str]) -> None:
    assert toilet(litter().at(began, event("nursed", 3))) == expected


def test_a_nursing_told_more_than_an_hour_after_it_asks_for_no_stimulating() -> None:
    log = litter()
    log.at("2026-03-02 04:30", event("nursed", 3, at=log.moment("2026-03-02 03:00")))
    log.at("2026-03-02 04:31", event("nursed", 4, at=log.moment("2026-03-02 03:00")))
    assert toilet(log) == ["03:30 3"]
