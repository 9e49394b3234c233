"""Doses of the vet's plan: when the next one is due, and the warning for one given too soon."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from bot.care.due import Due
from bot.care.notice import Notice
from bot.care.notices import notices, standing
from bot.care.rounds import due
from tests.care.written_log import Listening, Log, event, litter, tended

PLAN: dict[str, Any] = {"every": {"care": "dose", "drug": "calcium", "minutes": 150}}


def listening(log: Log) -> Listening:
    """The bot's side, of which only doses are listened for."""
    return Listening(log, only="dose")


def doses(log: Log) -> list[Due]:
    return [one for one in due(log.nursery(), log.now) if one.care == "dose"]


def calcium(log: Log, wall: str, **fields: Any) -> Log:
    return log.at(wall, event("dose", "dam", drug="calcium", amount=2, unit="click", **fields))


def test_the_next_dose_is_due_its_interval_after_the_last_and_said_three_times() -> None:
    log = calcium(litter().at("2026-03-02 00:30", **PLAN), "2026-03-02 01:00")
    bot = listening(log)
    assert bot.until("2026-03-02 12:00") == ["03:30 dose dam routine all", "04:00 dose dam soon all", "04:30 dose dam soon all"]
    assert bot.said[0][1].text == "The next calcium for Juniper is due: last given 1:00 am."
    assert bot.said[1][1].text == "The next calcium for Juniper is 30 min overdue: last given 1:00 am."


def test_without_a_plan_there_is_no_nudge() -> None:
    assert doses(calcium(litter(), "2026-03-02 01:00")) == []


def test_without_a_dose_there_is_no_nudge() -> None:
    assert doses(litter().at("2026-03-02 00:30", **PLAN)) == []


def test_a_plan_told_after_the_dose_counts_from_the_dose() -> None:
    log = calcium(litter(), "2026-03-02 01:00").at("2026-03-02 01:05", **PLAN)
    assert listening(log).until("2026-03-02 03:45") == ["03:30 dose dam routine all"]


def test_the_plan_is_of_the_drug_however_it_is_written() -> None:
    log = litter().at("2026-03-02 00:30", every={"care": "dose", "drug": "Calcium", "minutes": 150})
    log.at("2026-03-02 01:00", event("dose", "dam", drug="CALCIUM")).at("2026-03-02 01:10", event("dose", "dam", drug="oxytocin"))
    assert [(one.who, one.drug) for one in doses(log)] == [("dam", "CALCIUM")]


def test_no_nudge_names_an_amount() -> None:
    bot = listening(calcium(litter().at("2026-03-02 00:30", **PLAN), "2026-03-02 01:00"))
    bot.until("2026-03-02 05:00")
    assert not any("2" in notice.text.replace("last given 1:00 am", "") or "click" in notice.text for _, notice in bot.said)


def test_doses_and_nursings_come_in_messages_of_their_own() -> None:
    log = calcium(litter().at("2026-03-02 00:30", every={"care": "dose", "drug": "calcium", "minutes": 120}), "2026-03-02 01:00")
    log.at("2026-03-02 01:00", event("nursed", 3), *tended(3))
    said = Listening(log).until("2026-03-02 03:10")
    assert {"03:00 nursing 3 routine all", "03:00 dose dam routine all"} <= set(said)


def test_two_drugs_due_within_ten_minutes_come_in_one_message() -> None:
    log = litter().at("2026-03-02 00:30", every=[{"care": "dose", "drug": drug, "minutes": 120} for drug in ("calcium", "iron")])
    log.at("2026-03-02 01:00", event("dose", "dam", drug="calcium")).at("2026-03-02 01:05", event("dose", "dam", drug="iron"))
    bot = listening(log)
    assert bot.until("2026-03-02 03:10") == ["03:00 dose dam routine all"]
    assert bot.said[0][1].text == "Due: calcium for Juniper (last given 1:00 am) and iron for Juniper (last given 1:05 am)."


def test_a_pups_own_drug_is_due_for_that_pup() -> None:
    log = (
        litter()
        .at("2026-03-02 00:30", every={"care": "dose", "drug": "drops", "minutes": 480})
        .at("2026-03-02 01:00", event("dose", 3, drug="drops"))
    )
    assert listening(log).until("2026-03-02 09:10") == ["09:00 dose 3 routine all"]


def test_a_snooze_of_a_pup_leaves_the_dams_dose_and_one_of_all_holds_it() -> None:
    log = calcium(litter().at("2026-03-02 00:30", **PLAN), "2026-03-02 01:00").at("2026-03-02 03:00", snooze={"minutes": 60, "who": 3})
    assert listening(log).until("2026-03-02 03:40") == ["03:30 dose dam routine all"]
    log.at("2026-03-02 03:10", snooze={"minutes": 60})
    assert listening(log).until("2026-03-02 04:20") == ["04:10 dose dam routine all"]


# Too soon


def warned(log: Log, wall: str) -> list[Notice]:
    return [notice for notice in notices(log.nursery(), set(), log.moment(wall)) if notice.about == "dose too soon"]


@pytest.mark.parametrize(("second", "too_soon"), [("02:15", True), ("02:16", False), ("01:00", True), ("03:30", False)])
def test_a_dose_within_half_of_the_plans_interval_is_warned_of(second: str, too_soon: bool) -> None:
    log = calcium(calcium(litter().at("2026-03-02 00:30", **PLAN), "2026-03-02 01:00"), f"2026-03-02 {second}")
    assert [notice.about for notice in warned(log, f"2026-03-02 {second}")] == (["dose too soon"] if too_soon else [])


def test_the_warning_says_what_was_seen_and_names_no_amount() -> None:
    log = calcium(calcium(litter().at("2026-03-02 00:30", **PLAN), "2026-03-02 01:00"), "2026-03-02 01:40").at(
        "2026-03-02 01:40", on_duty="Theo"
    )
    [notice] = warned(log, "2026-03-02 01:40")
    assert (notice.urgency, notice.who, notice.to, notice.at) == ("soon", ("dam",), "Theo", log.moment("2026-03-02 01:40"))
    assert notice.values == {"minutes_apart": 40.0, "every_minutes": 150}
    assert notice.text == (
        "Juniper: give no more before you have called your vet. "
        "This calcium came 40 min from another, and your vet's plan is every 2 h 30 min; it is logged."
    )


def test_a_dose_told_late_beside_another_is_warned_of_too() -> None:
    log = calcium(litter().at("2026-03-02 00:30", **PLAN), "2026-03-02 03:00")
    calcium(log, "2026-03-02 03:10", at=log.moment("2026-03-02 02:20"))
    [notice] = warned(log, "2026-03-02 03:10")
    assert notice.values["minutes_apart"] == 40
    assert [f"{one.at.astimezone(log.zone):%H:%M}" for one in doses(log)] == ["05:30"]


def test_the_warning_is_told_once_and_a_snooze_does_not_silence_it() -> None:
    log = calcium(litter().at("2026-03-02 00:30", **PLAN), "2026-03-02 01:00").at("2026-03-02 01:30", snooze={"minutes": 600})
    bot = Listening(calcium(log, "2026-03-02 01:40"), says="warning", only="dose too soon")
    assert bot.until("2026-03-02 03:00") == ["01:40 dose too soon dam soon all"]


def test_a_plan_told_after_both_doses_warns_of_nothing_past() -> None:
    log = calcium(calcium(litter(), "2026-03-02 01:00"), "2026-03-02 01:40").at("2026-03-02 01:45", **PLAN)
    assert warned(log, "2026-03-02 01:45") == []


def test_two_drugs_do_not_count_for_each_other() -> None:
    log = calcium(litter().at("2026-03-02 00:30", **PLAN), "2026-03-02 01:00").at("2026-03-02 01:10", event("dose", "dam", drug="oxytocin"))
    assert warned(log, "2026-03-02 01:10") == []


def test_a_dose_too_soon_stands_for_half_a_day_told_or_not() -> None:
    log = calcium(calcium(litter().at("2026-03-02 00:30", **PLAN), "2026-03-02 01:00"), "2026-03-02 01:40")
    nursery = log.nursery()
    assert [notice.about for notice in standing(nursery, log.moment("2026-03-02 13:39"))] == ["dose too soon"]
    assert standing(nursery, log.moment("2026-03-02 13:40") + timedelta(seconds=1)) == ()
