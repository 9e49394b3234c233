"""Today's gains: each pup, the litter's mean and range, who was not weighed, and who needs a look."""

from __future__ import annotations

from zoneinfo import ZoneInfo

import pytest

from tests.care.shepherds import on_day, shepherds
from tests.care.written_log import Log, event, litter
from tests.reports.asking import ask, of


def a_week() -> Log:
    """Four pups weighed on two mornings of their second week; pup 3 loses, pup 4 is not weighed on the second."""
    log = litter(4).at("2026-03-09 10:40", name={"pup": 2, "as": "Olive"})
    for wall, grams in (("2026-03-09 08:00", (351, 402, 377, 340)), ("2026-03-10 08:00", (367, 421, 375, None))):
        for number, weight in enumerate(grams, start=1):
            if weight is not None:
                log.at(wall, event("weight", number, grams=weight))
    return log


def test_todays_gains_tell_each_pup_the_mean_the_range_and_who_is_missing() -> None:
    answer = ask(a_week(), "2026-03-10 09:00", "gains", span="today")
    assert answer.text == "\n".join(
        [
            "Gains today: mean +11 g (+2.9 %), from -2 g to +19 g.",
            "Pup 1:       367 g, +16 g (+4.6 %) in 24 h.",
            "Pup 2 Olive: 421 g, +19 g (+4.7 %) in 24 h.",
            "Pup 3:       375 g,  -2 g (-0.5 %) in 24 h, needs a look: no gain.",
            "Not weighed today: Pup 4.",
            "Call your vet today about Pup 3.",
        ]
    )
    assert answer.values == {
        "1": {
            "gain_g": 16,
            "gain_percent": pytest.approx(4.5584, 1e-3),
            "hours": 24,
            "per_day_percent": pytest.approx(4.5584, 1e-3),
        },
        "2": {
            "gain_g": 19,
            "gain_percent": pytest.approx(4.7264, 1e-3),
            "hours": 24,
            "per_day_percent": pytest.approx(4.7264, 1e-3),
        },
        "3": {
            "gain_g": -2,
            "gain_percent": pytest.approx(-0.5305, 1e-3),
            "hours": 24,
            "per_day_percent": pytest.approx(-0.5305, 1e-3),
        },
        "mean_gain_g": 11,
        "mean_gain_percent": pytest.approx(2.9181, abs=1e-3),
        "min_gain_g": -2,
        "max_gain_g": 19,
        "not_weighed": [4],
    }
    assert answer.who == ()


def test_a_day_runs_from_midnight_to_midnight_on_the_litters_clock() -> None:
    log = litter(1).at("2026-03-09 22:00", event("weight", 1, grams=351)).at("2026-03-10 23:59", event("weight", 1, grams=367))
    assert ask(log, "2026-03-10 23:59", "gains").values["mean_gain_g"] == 16
    assert ask(log, "2026-03-11 00:00", "gains").values == {"not_weighed": [1]}
    assert ask(log, "2026-03-11 00:00", "gains").text == "No pup was weighed today."
    assert ask(log, "2026-03-11 00:00", "gains", span="yesterday").values["mean_gain_g"] == 16


@pytest.mark.parametrize(
    ("zone", "first", "last"),
    [
        ("America/Chicago", "2026-03-08 00:00", "2026-03-08 23:59"),  # 23 hours
        ("America/Chicago", "2026-11-01 00:00", "2026-11-01 23:59"),  # 25 hours
        ("America/Havana", "2026-03-08 01:00", "2026-03-08 23:59"),  # a day that has no midnight
    ],
)
def test_the_local_day_holds_on_the_days_when_the_clocks_change(zone: str, first: str, last: str) -> None:
    log = Log(ZoneInfo(zone)).at("2026-01-01 10:00", litter={"pups": 2})
    log.at(first, event("weight", 1, grams=351)).at(last, event("weight", 2, grams=367))
    assert ask(log, last, "gains").values["not_weighed"] == []
    before = f"{first[:8]}{int(first[8:10]) - 1:02} 23:59" if first[8:10] != "01" else "2026-10-31 23:59"
    assert of(ask(log.at(before, event("weight", 1, grams=340)), last, "gains"), 1)["gain_g"] == 11


def test_a_pup_with_one_weight_only_says_so() -> None:
    log = a_week().at("2026-03-10 08:05", event("born", 5, grams=201, at=litter().moment("2026-03-10 07:00")))
    answer = ask(log, "2026-03-10 09:00", "gains")
    assert "Pup 5:       201 g, the first weight: no gain to work out yet." in answer.text.split("\n")
    assert "gain_g" not in of(answer, 5)
    assert answer.values["not_weighed"] == [4]


def test_a_dead_pup_is_not_missed() -> None:
    log = a_week().at("2026-03-10 08:30", event("died", 4), event("died", 1))
    answer = ask(log, "2026-03-10 09:00", "gains")
    assert answer.values["not_weighed"] == []
    assert "1" not in answer.values
    assert answer.values["mean_gain_g"] == 8.5


def test_a_dip_of_the_first_day_is_said_calmly_and_a_tenth_is_not() -> None:
    log = litter(2).at("2026-03-01 10:40", event("born", 1, grams=212, at=litter().moment("2026-03-01 09:40")))
    log.at("2026-03-01 10:40", event("born", 2, grams=231, at=log.moment("2026-03-01 09:40")))
    log.at("2026-03-02 06:00", event("weight", 1, grams=204), event("weight", 2, grams=207))
    lines = ask(log, "2026-03-02 06:01", "gains").text.split("\n")
    assert lines[1] == "Pup 1: 204 g,  -8 g  (-3.8 %) in 20 h, a small dip on the first day is usual."
    assert lines[2] == "Pup 2: 207 g, -24 g (-10.4 %) in 20 h, needs a look: 10 % or more below birth weight."
    assert lines[3] == "Call your vet today about Pup 2."


def test_one_pups_gain_is_told_of_its_latest_weight_with_what_is_usual() -> None:
    log = a_week()
    answer = ask(log, "2026-03-11 09:00", "gains", who=2)
    assert answer.text == ("Pup 2 Olive: 421 g, +19 g (+4.7 %) in 24 h, weighed yesterday 8:00 am. Usual at this age: 3.5 to 6 % a day.")
    assert (answer.who, answer.values["gain_g"], answer.values["hours"]) == ((2,), 19, 24)


def test_the_gains_of_some_pups_are_told_of_those_only() -> None:
    answer = ask(a_week(), "2026-03-10 09:00", "gains", who=[1, 4])
    assert (answer.who, answer.values["not_weighed"], answer.values["mean_gain_g"]) == ((1, 4), [4], 16)


def test_gains_are_told_in_ounces_where_the_household_thinks_in_them() -> None:
    log = a_week().at("2026-03-10 08:30", weights_in="oz")
    assert "Pup 1:       12.95 oz, +0.6 oz (+4.6 %) in 24 h." in ask(log, "2026-03-10 09:00", "gains").text


def test_a_scale_in_steps_is_said_to_be_too_coarse_for_the_line_of_day_2() -> None:
    log = shepherds(until_day=2)
    answer = ask(log, on_day(2, "08:00"), "gains")
    assert answer.text.split("\n")[-1] == "The weights come in steps: too coarse a scale for the 4 % line of day 2."
    assert answer.text.count("too small a change for this scale to show") == 6
    assert of(answer, 1)["gain_percent"] == pytest.approx(-100 / 17, abs=0.01)


def test_where_the_whole_litter_dropped_at_once_the_scale_is_doubted_before_a_vet_is_called() -> None:
    log = a_week()
    for pup, grams in ((1, 340), (2, 390), (3, 352), (4, 319)):
        log.at("2026-03-11 08:00", event("weight", pup, grams=grams))
    lines = ask(log, "2026-03-11 08:05", "gains").text.split("\n")
    assert [line.rpartition(", ")[2] for line in lines[1:4]] == ["needs a look: weigh again."] * 3
    assert "zero the scale" in lines[-1]
    assert not any("vet" in line for line in lines)


def test_one_weight_alone_shows_no_steps() -> None:
    log = litter(2).at("2026-03-01 10:40", event("weight", 1, grams=205), event("weight", 2, grams=211))
    assert "steps" not in ask(log, "2026-03-01 10:41", "gains").text
    log.at("2026-03-02 08:00", event("weight", 1, grams=210), event("weight", 2, grams=218))
    assert ask(log, "2026-03-02 08:01", "gains").text.split("\n")[-1].startswith("The weights of Pup 1 come in steps")


def test_the_published_litters_gains_of_one_day() -> None:
    answer = ask(shepherds(until_day=16), on_day(16, "09:00"), "gains")
    grams = [round(of(answer, number)["gain_g"] / 28.349523125) for number in range(1, 7)]
    assert grams == [0, 2, 4, 2, 3, 2]  # ounces from day 15 to day 16
    assert of(answer, 3)["doubled_at"] < on_day(16, "07:00").replace(" ", "T")
    assert "doubled_at" not in of(answer, 1)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"who": 9}, "There is no pup 9 in this litter."),
        ({"who": "dam"}, "I work out gains for the pups only"),
        ({"who": 4}, "has not been weighed"),
    ],
)
def test_what_cannot_be_told_is_said_plainly(asked: dict[str, object], words: str) -> None:
    log = litter(4).at("2026-03-10 08:00", event("weight", 1, grams=340))
    assert words in ask(log, "2026-03-10 09:00", "gains", **asked).text


def test_an_empty_house_has_no_gains() -> None:
    assert ask(Log().at("2026-03-01 10:00", weights_in="g"), "2026-03-01 10:01", "gains").text == "There is no pup in this litter yet."
