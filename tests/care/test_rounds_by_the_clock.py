"""Care that is due by the clock on the wall: the weigh-ins of the pups, and the daily check of the dam."""

from __future__ import annotations

from zoneinfo import ZoneInfo

import pytest

from bot.care.rounds import due
from tests.care.written_log import Listening, Log, event, litter


def firsts(log: Log, care: str, until: str) -> list[str]:
    """The moments at which a care was said for the first time, though nobody did it: `03-02 08:00`, with whom it was of."""
    bot = Listening(log, only=care)
    bot.until(until)
    return [
        f"{notice.at.astimezone(log.zone):%m-%d %H:%M} {','.join(map(str, notice.who))}"
        for _, notice in bot.said
        if notice.urgency == "routine"
    ]


def next_due(log: Log, care: str, wall: str) -> list[str]:
    return [f"{one.at.astimezone(log.zone):%m-%d %H:%M} {one.who}" for one in due(log.nursery(), log.moment(wall)) if one.care == care]


def grams(log: Log, wall: str, *pups: int) -> Log:
    return log.at(wall, *(event("weight", pup, grams=210) for pup in pups))


# Weigh-ins


def test_twice_a_day_in_the_first_week_daily_in_the_second_then_every_third_day_to_a_month() -> None:
    log = litter(1)  # born on the 1st at 9:40: day n begins at 9:40, or at 10:40 once the clocks went forward on the 8th
    week_1 = ["03-01 20:00"] + [f"03-{day:02} {hour}" for day in range(2, 8) for hour in ("08:00", "20:00")] + ["03-08 08:00"]
    week_2 = [f"03-{day:02} 08:00" for day in range(9, 16)]
    later = [f"03-{day} 08:00" for day in (17, 20, 23, 26, 29)] + ["04-01 08:00"]  # 8 am of days 15, 18, 21, 24, 27 and 30
    assert firsts(log, "weighing", "2026-05-01 12:00") == [f"{moment} 1" for moment in week_1 + week_2 + later]


def test_a_pup_weighed_in_the_four_hours_before_is_not_due() -> None:
    log = grams(grams(litter(4), "2026-03-01 16:00", 1), "2026-03-01 15:59", 2)
    log.at("2026-03-01 19:00", event("born", 3, grams=200, at=log.moment("2026-03-01 17:00")))  # its birth weight counts
    assert firsts(log, "weighing", "2026-03-01 21:00") == ["03-01 20:00 2,4"]
    assert next_due(log, "weighing", "2026-03-01 19:30") == ["03-01 20:00 2", "03-01 20:00 4", "03-02 08:00 1", "03-02 08:00 3"]


def test_a_weight_ends_it_also_one_told_later_of_the_hours_before() -> None:
    log = litter(2)
    bot = Listening(log, only="weighing")
    assert bot.until("2026-03-01 20:10") == ["20:00 weighing 1,2 routine all"]
    grams(log, "2026-03-01 20:10", 1)
    assert bot.until("2026-03-01 20:40") == ["20:30 weighing 2 soon all"]
    log.at("2026-03-01 20:40", event("weight", 2, grams=200, at=log.moment("2026-03-01 16:00")))
    assert bot.until("2026-03-02 07:59") == []


def test_the_words_and_figures_of_a_weigh_in() -> None:
    log = grams(litter(2), "2026-03-01 12:00", 1)
    bot = Listening(log, only="weighing")
    bot.until("2026-03-01 20:30")
    assert [notice.text for _, notice in bot.said] == [
        "Pups 1 and 2 are due to be weighed.",
        "Pups 1 and 2 are 30 min overdue to be weighed.",
    ]
    assert bot.said[0][1].values == {
        "1": {"care": "weighing", "due_at": "2026-03-01T20:00:00-06:00", "last_at": "2026-03-01T12:00:00-06:00"},
        "2": {"care": "weighing", "due_at": "2026-03-01T20:00:00-06:00"},
    }


def test_the_next_weigh_in_takes_the_place_of_one_that_nobody_did() -> None:
    log = litter(1)
    assert next_due(log, "weighing", "2026-03-02 07:59") == ["03-01 20:00 1"]
    assert next_due(log, "weighing", "2026-03-02 08:00") == ["03-02 08:00 1"]
    assert Listening(log, only="weighing").off_until("2026-03-02 08:10") == ["08:10 weighing 1 routine all"]


def test_after_the_last_one_nothing_is_due_once_its_day_is_over() -> None:
    log = litter(1)
    assert next_due(log, "weighing", "2026-04-01 10:39") == ["04-01 08:00 1"]
    assert next_due(log, "weighing", "2026-04-01 10:40") == []


def test_a_weigh_in_before_the_litter_was_told_of_is_not_asked_for() -> None:
    log = Log().at("2026-03-01 21:00", litter={"pups": 2, "born": "2026-03-01T09:40:00-06:00"})
    assert firsts(log, "weighing", "2026-03-02 08:00") == ["03-02 08:00 1,2"]


def test_a_pup_whose_birth_was_not_told_counts_as_newborn_and_a_later_one_from_its_own_birth() -> None:
    assert firsts(Log().at("2026-06-01 12:00", event("note", 3, text="thin")), "weighing", "2026-06-02 20:00") == [
        "06-01 20:00 3", "06-02 08:00 3", "06-02 20:00 3",
    ]  # fmt: skip
    log = litter(1).at("2026-03-08 19:00", event("born", 2, at=litter().moment("2026-03-08 18:00")))
    assert firsts(log, "weighing", "2026-03-09 21:00") == ["03-08 20:00 2", "03-09 08:00 1,2", "03-09 20:00 2"]


def test_an_interval_takes_the_place_of_the_weigh_ins() -> None:
    log = litter(1).at("2026-03-01 18:00", every={"care": "weight", "minutes": 720})
    assert firsts(log, "weighing", "2026-03-05 21:00") == ["03-02 06:00 1"]
    grams(log, "2026-03-02 07:00", 1)
    assert firsts(log, "weighing", "2026-03-05 21:00") == ["03-02 19:00 1"]


def test_the_dead_are_not_weighed() -> None:
    assert firsts(litter(2).at("2026-03-01 19:00", event("died", 2)), "weighing", "2026-03-01 21:00") == ["03-01 20:00 1"]


# The dam's check


def test_the_dam_is_checked_at_nine_for_ten_days_from_twelve_hours_after_the_birth_on() -> None:
    log = litter()  # born at 9:40 in the morning
    assert firsts(log, "dam check", "2026-04-01 12:00") == [f"03-{day:02} 09:00 dam" for day in range(2, 12)]


@pytest.mark.parametrize(("born", "first"), [("2026-03-01T21:00", "03-02 09:00 dam"), ("2026-03-01T21:01", "03-03 09:00 dam")])
def test_twelve_hours_to_the_minute(born: str, first: str) -> None:
    log = Log().at("2026-03-01 22:00", litter={"pups": 2, "born": f"{born}:00-06:00"})
    assert firsts(log, "dam check", "2026-03-03 12:00")[0] == first


@pytest.mark.parametrize("measured", ["2026-03-02 00:00", "2026-03-02 08:30", "2026-03-02 09:20"])
def test_a_temperature_of_hers_on_the_local_day_is_the_check(measured: str) -> None:
    log = litter().at(measured, event("temperature", "dam", celsius=38.5))
    assert next_due(log, "dam check", "2026-03-02 09:20") == ["03-03 09:00 dam"]
    assert Listening(log, only="dam check").until("2026-03-02 23:00") == []


def test_a_temperature_of_the_day_before_or_of_a_pup_is_not() -> None:
    log = (
        litter()
        .at("2026-03-01 23:59", event("temperature", "dam", celsius=38.5))
        .at("2026-03-02 08:00", event("temperature", 1, celsius=36))
    )
    assert Listening(log, only="dam check").until("2026-03-02 23:00") == [
        "09:00 dam check dam routine all", "09:30 dam check dam soon all", "10:00 dam check dam soon all",
    ]  # fmt: skip


def test_the_words_name_what_to_look_at_and_no_incision_where_there_is_none() -> None:
    log = litter()
    bot = Listening(log, only="dam check")
    bot.until("2026-03-02 09:40")
    assert [notice.text for _, notice in bot.said] == [
        "Juniper is due for her daily check: temperature, appetite, discharge, glands and incision.",
        "Juniper is 30 min overdue for her daily check: temperature, appetite, discharge, glands and incision.",
    ]
    assert bot.said[0][1].values == {"care": "dam check", "due_at": "2026-03-02T09:00:00-06:00"}
    log.at("2026-03-02 10:00", litter={"delivery": "natural"})
    bot.until("2026-03-03 09:00")
    assert bot.said[-1][1].text == "Juniper is due for her daily check: temperature, appetite, discharge and glands."


def test_a_check_ends_with_its_day() -> None:
    log = litter().at("2026-03-02 08:55", snooze={"minutes": 700})  # until 20:35
    assert next_due(log, "dam check", "2026-03-02 23:59") == ["03-02 09:00 dam"]
    assert next_due(log, "dam check", "2026-03-03 00:00") == ["03-03 09:00 dam"]
    assert Listening(log, only="dam check").off_until("2026-03-03 00:01") == []


def test_without_a_birth_there_is_no_check_and_one_before_the_litter_was_told_of_is_not_asked_for() -> None:
    assert firsts(Log().at("2026-03-01 10:00", litter={"pups": 3}), "dam check", "2026-03-05 12:00") == []
    log = Log().at("2026-03-03 10:00", litter={"pups": 3, "born": "2026-03-01T09:40:00-06:00"})
    assert firsts(log, "dam check", "2026-03-04 12:00") == ["03-04 09:00 dam"]


# Temperatures where the household wants them


def test_an_interval_for_the_temperatures_is_of_every_pup_and_takes_the_place_of_the_dams_hour() -> None:
    log = litter(2).at("2026-03-01 12:00", every={"care": "temperature", "minutes": 240})
    log.at("2026-03-01 14:00", event("temperature", 1, celsius=36.5), event("temperature", "dam", celsius=38.5))
    assert next_due(log, "temperature", "2026-03-01 14:00") == ["03-01 16:00 2", "03-01 18:00 1"]
    assert next_due(log, "dam check", "2026-03-01 14:00") == ["03-01 18:00 dam"]
    bot = Listening(log, only="temperature")
    assert bot.until("2026-03-01 16:00") == ["16:00 temperature 2 routine all"]
    assert bot.said[0][1].text == "Pup 2 is due to be measured: not measured yet."


# The clock on the wall


@pytest.mark.parametrize(
    ("zone", "eve", "day", "hours"),
    [
        ("America/Chicago", "2026-03-07", "2026-03-08", 23),
        ("America/Chicago", "2026-10-31", "2026-11-01", 25),
        ("Europe/London", "2026-03-28", "2026-03-29", 23),
    ],
)
def test_eight_is_eight_on_the_wall_also_when_the_clocks_change(zone: str, eve: str, day: str, hours: int) -> None:
    log = Log(ZoneInfo(zone))
    log.at(f"{eve} 19:00", litter={"pups": 1, "born": log.moment(f"{eve} 18:00").isoformat()})
    bot = Listening(log, only="weighing")
    bot.until(f"{day} 23:00")
    said = [notice.at for _, notice in bot.said if notice.urgency == "routine"]
    assert [f"{at.astimezone(log.zone):%H:%M}" for at in said] == ["20:00", "08:00", "20:00"]
    assert (said[2] - said[0]).total_seconds() / 3600 == hours
