"""Supervision: pups that are with the dam while nobody has written for 45 minutes, on days 0 to 13 (care contract)."""

from __future__ import annotations

import pytest

from bot.care.rounds import due
from tests.care.written_log import Listening, Log, event, litter


def listen(log: Log, heard: str | None = None) -> Listening:
    """The bot's side; the last message was the last entry, or came at that time."""
    return Listening(log, only="supervision", heard=log.now if heard is None else log.moment(heard))


def heard(log: Log, until: str) -> list[str]:
    return listen(log).until(until)


def test_pups_put_with_the_dam_are_looked_after_when_nobody_wrote_for_45_minutes() -> None:
    log = (
        litter(4)
        .at("2026-03-01 23:00", on_duty="Theo")
        .at("2026-03-02 03:00", event("placed", 1, place="dam"), event("placed", 3, place="dam"))
    )
    bot = listen(log)
    assert bot.until("2026-03-02 12:00") == [
        "03:45 supervision 1,3 routine Theo", "04:15 supervision 1,3 soon Theo", "04:45 supervision 1,3 soon all",
    ]  # fmt: skip
    assert [notice.text for _, notice in bot.said] == [
        "Pups 1 and 3 are with Juniper, and nobody has written for 45 min: look in on them.",
        "Pups 1 and 3 are with Juniper, and nobody has written for 1 h 15 min: look in on them.",
        "Pups 1 and 3 are with Juniper, and nobody has written for 1 h 45 min: look in on them.",
    ]
    each = {"care": "supervision", "due_at": "2026-03-02T03:45:00-06:00", "last_at": "2026-03-02T03:00:00-06:00"}
    assert bot.said[0][1].values == {"1": each, "3": each}


@pytest.mark.parametrize(
    ("told", "with_her"),
    [
        ([event("nursed", 1, minutes=10)], True),
        ([event("nursed", 1, minutes=10), event("placed", 1, place="box")], False),
        ([event("nursed", 1), event("placed", 1, place="incubator")], False),
        ([event("placed", 1, place="box"), event("placed", 1, place="dam")], True),
        ([event("placed", 1, place="dam"), event("placed", 1, place="box")], False),
        ([event("placed", 1, place="box")], False),
        ([event("fed", 1, ml=4)], False),
        ([event("placed", 1, place="dam"), event("fed", 1, ml=4)], True),
        ([event("placed", 1, place="dam"), event("died", 1)], False),
    ],
)
def test_who_is_with_her(told: list[object], with_her: bool) -> None:
    log = litter(1).at("2026-03-02 03:00", *told)  # type: ignore[arg-type]
    assert bool(heard(log, "2026-03-02 03:50")) is with_her


def test_a_nursing_after_the_box_is_with_her_and_one_that_began_before_it_is_not() -> None:
    log = litter(1).at("2026-03-02 02:00", event("placed", 1, place="box")).at("2026-03-02 03:00", event("nursed", 1, minutes=20))
    assert heard(log, "2026-03-02 03:50") == ["03:45 supervision 1 routine all"]
    log = litter(1).at("2026-03-02 02:50", event("placed", 1, place="box")).at("2026-03-02 03:00", event("nursed", 1, minutes=20))
    assert heard(log, "2026-03-02 03:50") == []


def test_any_message_counts_also_one_that_logged_nothing() -> None:
    log = litter(1).at("2026-03-02 03:00", event("placed", 1, place="dam"))
    bot = listen(log)
    assert bot.until("2026-03-02 03:46") == ["03:45 supervision 1 routine all"]
    bot.heard = log.moment("2026-03-02 03:50")  # a question, say
    assert bot.until("2026-03-02 05:10") == ["04:35 supervision 1 routine all", "05:05 supervision 1 soon all"]


@pytest.mark.parametrize(("placed", "said"), [("2026-03-15 09:54", True), ("2026-03-15 09:55", False)])
def test_it_is_over_with_day_13(placed: str, said: bool) -> None:
    log = litter(1).at(placed, event("placed", 1, place="dam"))  # day 14 begins at 10:40, an hour of it lost to summer time
    assert bool(heard(log, "2026-03-15 12:00")) is said


def test_each_pup_goes_by_its_own_age_and_one_of_unknown_age_is_looked_after() -> None:
    log = litter(1).at("2026-03-15 22:00", event("born", 2), event("placed", 1, place="dam"), event("placed", 2, place="dam"))
    assert heard(log, "2026-03-15 22:50") == ["22:45 supervision 2 routine all"]
    log = Log().at("2026-06-01 12:00", event("placed", 3, place="dam"))
    assert heard(log, "2026-06-01 12:50") == ["12:45 supervision 3 routine all"]


def test_an_outage_is_made_up_for_once_and_a_stopped_reminder_is_not_said() -> None:
    log = litter(1).at("2026-03-02 03:00", event("placed", 1, place="dam"))
    assert listen(log).off_until("2026-03-02 06:00") == ["06:00 supervision 1 soon all"]
    log.at("2026-03-02 03:00", reminders={"care": "supervision", "on": False})
    assert heard(log, "2026-03-02 12:00") == []


def test_where_nobody_ever_wrote_and_in_the_answers_there_is_none() -> None:
    log = litter(1).at("2026-03-02 03:00", event("placed", 1, place="dam"))
    assert Listening(log, only="supervision").until("2026-03-02 12:00") == []
    assert "supervision" not in [one.care for one in due(log.nursery(), log.now)]
