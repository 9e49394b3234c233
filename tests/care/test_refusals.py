"""Refusals: two feeds declined running, or nothing taken for two intervals; each cause said once."""

from __future__ import annotations

import pytest

from bot.care.notices import standing, warnings
from tests.care.warned import told_one_by_one, warned
from tests.care.written_log import Listening, Log, event, litter

TWO = "refusals 3 vet today"


def told(*entries: tuple[str, str] | tuple[str, str, dict[str, object]], log: Log | None = None) -> Log:
    """What was told of pup 3: (time, kind)."""
    log = log or litter()
    for wall, kind, *fields in entries:
        log.at(f"2026-03-03 {wall}", event(kind, 3, **(fields[0] if fields else {})))
    return log


def test_one_refusal_is_no_concern_and_two_running_are() -> None:
    log = told(("02:00", "nursed"), ("03:00", "refused"), ("03:30", "refused"))
    assert told_one_by_one(log) == [f"03:30 {TWO}"]


@pytest.mark.parametrize(
    ("between", "lines"),
    [
        (("nursed", {}), []),
        (("fed", {"ml": 3}), []),
        (("fed", {"ml": 3, "by": "bottle"}), []),
        (("fed", {"ml": 3, "by": "tube"}), [f"03:30 {TWO}"]),  # no pup can decline a tube: it still does not drink
        (("cleared", {}), [f"03:30 {TWO}"]),
    ],
)
def test_a_feed_in_between_breaks_the_run(between: tuple[str, dict[str, object]], lines: list[str]) -> None:
    assert told_one_by_one(told(("03:00", "refused"), ("03:15", *between), ("03:30", "refused"))) == lines


def test_a_third_refusal_is_the_same_cause() -> None:
    log = told(("02:00", "nursed"), ("03:00", "refused"), ("03:30", "refused"), ("05:00", "refused"), ("05:50", "refused"))
    assert told_one_by_one(log) == [f"03:30 {TWO}"]


def test_a_refusal_told_late_in_between_is_the_same_run() -> None:
    log = told(("02:00", "nursed"), ("03:00", "refused"), ("03:30", "refused"))
    log.at("2026-03-03 03:40", event("refused", 3, at=log.moment("2026-03-03 03:10")))
    assert told_one_by_one(log) == [f"03:30 {TWO}"]


@pytest.mark.parametrize("wrong", ["03:00", "03:30"])
def test_once_one_of_the_two_was_taken_back_the_next_makes_a_run_that_is_said(wrong: str) -> None:
    both = told(("02:00", "nursed"), ("03:00", "refused"), ("03:30", "refused"))
    said = {cause for notice in warnings(both.nursery(), set(), both.now) for cause in notice.causes}
    right = told(("02:00", "nursed"), *((wall, "refused") for wall in ("03:00", "03:30") if wall != wrong), ("04:30", "refused"))
    assert warned(right, "2026-03-03 04:30", said) == [TWO]


def test_a_pup_fed_by_tube_that_declines_for_days_is_named_again_every_second_day_at_most() -> None:
    log = litter()
    for hour in range(100):
        log.at(f"2026-03-{3 + hour // 24:02} {hour % 24:02}:00", event("refused", 3), event("fed", 3, ml=3, by="tube"))
    assert len(told_one_by_one(log, "refusals")) == 3


def test_the_run_begins_anew_after_a_feed() -> None:
    log = told(("03:00", "refused"), ("03:30", "refused"), ("03:40", "nursed"), ("04:00", "refused"), ("04:30", "refused"))
    assert told_one_by_one(log) == [f"03:30 {TWO}", f"04:30 {TWO}"]


def test_nothing_taken_for_two_intervals_is_said_at_that_minute_and_once() -> None:
    log = told(("02:14", "nursed", {"minutes": 14}))
    bot = Listening(log, says="warning")
    assert bot.until("2026-03-03 05:59") == []
    assert bot.until("2026-03-03 23:00") == ["06:00 refusals 3 vet today all"]


def test_the_two_causes_are_each_said_once() -> None:
    log = told(("02:00", "nursed"), ("04:00", "refused"), ("04:30", "refused"))
    assert Listening(log, says="warning").until("2026-03-03 23:00") == ["04:30 refusals 3 vet today all", "06:00 refusals 3 vet today all"]


def test_an_interval_of_the_households_own_counts() -> None:
    log = told(("02:00", "nursed"), log=litter().at("2026-03-02 20:00", every={"minutes": 90}))
    assert Listening(log, says="warning").until("2026-03-03 23:00") == ["05:00 refusals 3 vet today all"]


@pytest.mark.parametrize(
    ("wall", "lines"),
    [
        ("2026-03-10 02:00", ["08:00"]),  # 180 min in the second week
        ("2026-03-17 02:00", ["10:00"]),  # 240 min in the third
        ("2026-03-22 02:00", ["10:00"]),  # day 20
        ("2026-03-22 10:40", []),  # day 21: no longer by the clock
    ],
)
def test_the_interval_is_that_of_its_age_when_it_began(wall: str, lines: list[str]) -> None:
    log = litter().at(wall, event("nursed", 3))
    assert [said[:5] for said in Listening(log, says="warning").until(f"{wall[:11]}23:59")] == lines


@pytest.mark.parametrize(("wall", "lines"), [("2026-03-22 10:00", [TWO]), ("2026-03-22 10:40", [])])
def test_refusals_count_until_day_20(wall: str, lines: list[str]) -> None:
    log = litter().at("2026-03-22 09:00", event("refused", 3)).at(wall, event("refused", 3))
    assert warned(log, wall) == lines


def test_a_feed_ends_it_and_no_other_pup_is_meant() -> None:
    log = told(("02:00", "nursed"), ("04:00", "refused")).at("2026-03-03 04:10", event("refused", 4))
    assert warned(log, "2026-03-03 04:10") == []
    told(("04:20", "refused"), log=log)
    assert warned(log, "2026-03-03 04:20") == [TWO]
    assert warned(told(("04:30", "nursed"), log=log), "2026-03-03 04:30") == []


def test_after_an_outage_it_is_said_once_and_what_is_older_than_half_a_day_is_left() -> None:
    assert Listening(told(("02:00", "nursed")), says="warning").off_until("2026-03-03 17:59") == ["17:59 refusals 3 vet today all"]
    late = Listening(told(("02:00", "nursed")), says="warning", now=litter().moment("2026-03-03 18:00"))
    assert late.until("2026-03-03 23:00") == []


def test_pups_that_took_nothing_since_the_same_time_come_in_one_warning() -> None:
    log = litter().at("2026-03-03 02:00", *[event("nursed", pup, minutes=10) for pup in (1, 2, 4)])
    [notice] = standing(log.nursery(), log.moment("2026-03-03 05:50"))
    assert notice.who == (1, 2, 4)
    assert notice.text == (
        "Pups 1, 2 and 4: take the temperature, warm first if under 97 F, then put to the dam, and call your vet today. "
        "Nothing taken since 1:50 am, for 4 h and more. A newborn that does not drink cools and weakens within hours. "
        "Source: Veterinary Focus 32.1."
    )
    assert notice.values["4"] == {"minutes": 240, "last_at": "2026-03-03T01:50:00-06:00"}
