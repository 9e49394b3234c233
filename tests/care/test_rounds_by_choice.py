"""Intervals and reminders that the household chose: care goes by the interval set for it, and is quiet where it was stopped."""

from __future__ import annotations

from typing import Any

import pytest

from bot.care.rounds import due
from tests.care.written_log import Listening, Log, event, litter


def every(care: str, minutes: float | None, **more: Any) -> dict[str, Any]:
    return {"every": {"care": care, "minutes": minutes} | more}


def due_at(log: Log, care: str) -> list[str]:
    return [f"{one.at.astimezone(log.zone):%m-%d %H:%M} {one.who}" for one in due(log.nursery(), log.now) if one.care == care]


@pytest.mark.parametrize(("kind", "care"), [("cleared", "clearing"), ("toilet", "toilet")])
def test_a_chosen_interval_counts_from_the_last_time_and_not_from_the_feeds(kind: str, care: str) -> None:
    log = litter(1).at("2026-03-02 01:00", **every(kind, 180)).at("2026-03-02 03:00", event(kind, 1))
    log.at("2026-03-02 03:40", event("nursed", 1))
    assert due_at(log, care) == ["03-02 06:00 1"]


def test_what_was_never_done_counts_from_the_choice_and_for_a_later_pup_from_its_birth() -> None:
    log = litter(1).at("2026-03-02 01:00", **every("cleared", 180))
    log.at("2026-03-02 02:10", event("born", 2, at=log.moment("2026-03-02 02:00")))
    bot = Listening(log, only="clearing")
    assert bot.until("2026-03-02 05:10") == [
        "04:00 clearing 1 routine all",
        "04:30 clearing 1 soon all",
        "05:00 clearing 2 routine all",
        "05:00 clearing 1 soon all",
    ]
    assert bot.said[0][1].text == "Pup 1 is due to be cleared: not cleared yet."
    assert bot.said[0][1].values == {"care": "clearing", "due_at": "2026-03-02T04:00:00-06:00"}


def test_a_chosen_interval_holds_until_day_20_and_then_the_table_again() -> None:
    log = litter(1).at("2026-03-02 01:00", **every("cleared", 180)).at("2026-03-22 10:30", event("cleared", 1))
    assert due_at(log, "clearing") == ["03-22 13:30 1"]
    log.at("2026-03-22 12:00", event("cleared", 1)).at("2026-03-22 13:00", event("nursed", 1))
    assert due_at(log, "clearing") == ["03-22 13:15 1"]


def test_as_usual_brings_the_table_back() -> None:
    log = litter(1).at("2026-03-02 01:00", **every("toilet", 180)).at("2026-03-02 03:00", event("nursed", 1))
    assert due_at(log, "toilet") == ["03-02 04:00 1"]
    log.at("2026-03-02 03:10", **every("toilet", None))
    assert due_at(log, "toilet") == ["03-02 03:30 1"]


def test_a_chosen_interval_is_said_in_three_stages_and_once_for_each_time() -> None:
    log = litter(1).at("2026-03-02 01:00", **every("cleared", 60))
    bot = Listening(log, only="clearing")
    expected = ["02:00 clearing 1 routine all", "02:30 clearing 1 soon all", "03:00 clearing 1 soon all"]
    assert bot.until("2026-03-02 12:00") == expected


# Reminders stopped and started


def quiet(log: Log) -> set[str]:
    """The care that would be said, of a pup that nursed at three and a dam with two drugs."""
    log.at("2026-03-02 01:00", every=[{"care": "dose", "drug": drug, "minutes": 120} for drug in ("calcium", "iron")])
    log.at("2026-03-02 03:00", event("nursed", 1), event("dose", "dam", drug="calcium"), event("dose", "dam", drug="iron"))
    bot = Listening(log)
    bot.until("2026-03-02 05:00")
    return {
        f"{notice.about} {drug}".strip() for _, notice in bot.said for drug in ("calcium", "iron", "") if drug in notice.text
        if drug or notice.about != "dose"
    }  # fmt: skip


def test_each_care_and_each_drug_can_be_stopped_by_itself() -> None:
    heard = quiet(litter(1))
    assert heard >= {"nursing", "clearing", "toilet", "dose calcium", "dose iron"}
    for care in ("nursing", "clearing", "toilet"):
        assert heard - quiet(litter(1).at("2026-03-02 00:30", reminders={"care": care, "on": False})) == {care}
    assert heard - quiet(litter(1).at("2026-03-02 00:30", reminders={"care": "dose", "drug": "Calcium", "on": False})) == {"dose calcium"}


def test_all_can_be_stopped_and_one_or_all_started_again() -> None:
    log = litter(1).at("2026-03-02 00:30", reminders={"care": "all", "on": False})
    assert quiet(log) == set()
    assert quiet(litter(1).at("2026-03-02 00:30", reminders=[{"care": "all", "on": False}, {"care": "nursing", "on": True}])) == {"nursing"}
    on_again = [{"care": "dose", "drug": "iron", "on": False}, {"care": "all", "on": False}, {"care": "all", "on": True}]
    assert quiet(litter(1).at("2026-03-02 00:30", reminders=on_again)) == quiet(litter(1))


def test_stopping_one_drug_and_starting_it_leaves_the_other() -> None:
    log = litter(1).at("2026-03-02 00:30", reminders=[{"care": "dose", "drug": drug, "on": False} for drug in ("calcium", "iron")])
    log.at("2026-03-02 00:31", reminders={"care": "dose", "drug": "calcium", "on": True})
    assert {about for about in quiet(log) if about.startswith("dose")} == {"dose calcium"}
