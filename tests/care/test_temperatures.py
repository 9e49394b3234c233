"""Temperatures of pups and of the dam, and the box: each line of the care contract from just inside and just outside.

The lines are those of the Home Veterinary Handbook and Small Animal Pediatrics (34.4 C, 94 F), of two clinics (35.0 and 36.1 C),
of Small Animal Clinical Nutrition p. 292 (hot), of a surgeon's sheet, Casal and Root Kustritz (the dam); 39.0, 37.0 and 35 C of the
box are *derived*.
"""

from __future__ import annotations

import pytest

from bot.care.notices import standing
from tests.care.warned import stands, told_one_by_one, warned
from tests.care.written_log import Log, event, litter


def taken(celsius: float, who: int | str = 3, wall: str = "2026-03-03 03:14", log: Log | None = None) -> Log:
    return (log or litter()).at(wall, event("temperature", who, celsius=celsius))


@pytest.mark.parametrize(
    ("celsius", "lines"),
    [
        (34.39, ["cold pup 3 emergency"]),
        (34.4, ["cold pup 3 vet today"]),
        (34.99, ["cold pup 3 vet today"]),
        (35.0, ["cold pup 3 soon"]),
        (36.09, ["cold pup 3 soon"]),
        (36.1, []),
        (37.2, []),
        (37.21, ["hot pup 3 soon"]),
        (38.99, ["hot pup 3 soon"]),
        (39.0, ["hot pup 3 vet today"]),
    ],
)
def test_a_newborn(celsius: float, lines: list[str]) -> None:
    assert warned(taken(celsius), "2026-03-03 03:14") == lines


@pytest.mark.parametrize(
    ("wall", "celsius", "lines"),
    [
        ("2026-03-08 10:39", 37.21, ["hot pup 3 soon"]),  # day 6, its last minute (an hour of it lost to summer time)
        ("2026-03-08 10:40", 37.8, []),
        ("2026-03-08 10:40", 37.81, ["hot pup 3 soon"]),
        ("2026-03-29 10:39", 37.81, ["hot pup 3 soon"]),  # day 27
        ("2026-03-29 10:40", 38.3, []),
        ("2026-03-29 10:40", 38.31, ["hot pup 3 soon"]),
        ("2026-03-29 10:40", 39.0, ["hot pup 3 vet today"]),
        ("2026-03-29 10:40", 36.0, ["cold pup 3 soon"]),
    ],
)
def test_an_older_pup_is_warmer(wall: str, celsius: float, lines: list[str]) -> None:
    assert warned(taken(celsius, wall=wall), wall) == lines


def test_a_pup_whose_birth_was_not_told_counts_as_newborn() -> None:
    assert warned(taken(37.5, log=Log()), "2026-03-03 03:14") == ["hot pup 3 soon"]


def test_fahrenheit_lines_are_the_same() -> None:
    """94, 95 and 97 F, as thermometers of the US show them: 34.4, 35.0 and 36.1 C to the tenth."""
    for fahrenheit, lines in (
        (93.9, ["emergency"]),
        (94, ["vet today"]),
        (94.9, ["vet today"]),
        (95, ["soon"]),
        (96.9, ["soon"]),
        (97, []),
    ):
        celsius = (fahrenheit - 32) / 1.8
        assert warned(taken(celsius), "2026-03-03 03:14") == [f"cold pup 3 {urgency}" for urgency in lines]


def test_a_cold_pup_says_to_what_it_is_warmed_and_tells_the_temperature() -> None:
    log = taken(34.8)
    [notice] = standing(log.nursery(), log.moment("2026-03-03 03:14"))
    assert notice.text == (
        "Pup 3: warm to 97 F over 1 to 3 hours against your skin before any feed, and call your vet today. "
        "Seen: temperature 94.6 F. A cold gut cannot take milk. Source: a veterinary clinic's page."
    )
    assert notice.values == {"celsius": 34.8}


def test_a_temperature_stands_until_the_next_and_a_day_at_most() -> None:
    log = taken(35.5)
    assert stands(log, "2026-03-04 03:13") == ["cold pup 3 soon"]
    assert stands(log, "2026-03-04 03:14") == []
    assert stands(taken(36.5, wall="2026-03-03 05:00", log=log), "2026-03-03 05:00") == []


def test_a_pup_that_was_warm_in_between_is_said_again_though_it_is_soon_after() -> None:
    log = litter()
    for wall, celsius in (("03:00", 35.5), ("03:30", 35.6), ("04:00", 36.5), ("04:30", 35.5)):
        taken(celsius, wall=f"2026-03-03 {wall}", log=log)
    assert told_one_by_one(log) == ["03:00 cold pup 3 soon", "04:30 cold pup 3 soon"]


def test_a_pup_that_was_warmed_too_far_in_between_is_said_again_too() -> None:
    log = litter()
    for wall, celsius in (("03:00", 35.5), ("03:40", 37.5), ("04:20", 35.5)):
        taken(celsius, wall=f"2026-03-03 {wall}", log=log)
    assert told_one_by_one(log) == ["03:00 cold pup 3 soon", "03:40 hot pup 3 soon", "04:20 cold pup 3 soon"]


def test_a_pup_that_grows_colder_is_said_again_and_one_that_grows_warmer_is_not() -> None:
    log = litter()
    for wall, celsius in (("03:00", 35.5), ("03:30", 34.5), ("04:00", 34.0), ("04:30", 35.0), ("06:01", 35.2)):
        taken(celsius, wall=f"2026-03-03 {wall}", log=log)
    assert told_one_by_one(log) == [f"{wall} cold pup 3 {how}" for wall, how in COLDER]


COLDER = [("03:00", "soon"), ("03:30", "vet today"), ("04:00", "emergency"), ("06:01", "soon")]


def test_a_sign_of_cold_and_a_temperature_are_one_thing() -> None:
    log = litter().at("2026-03-03 03:00", event("sign", 3, sign="cold"))
    taken(35.5, wall="2026-03-03 03:10", log=log)
    assert told_one_by_one(log) == ["03:00 cold pup 3 soon"]
    assert stands(taken(36.5, wall="2026-03-03 04:00", log=log), "2026-03-03 04:00") == []


# The dam


@pytest.mark.parametrize(
    ("wall", "celsius", "lines"),
    [
        ("2026-03-02 09:40", 39.49, []),  # the first day
        ("2026-03-02 09:40", 39.5, ["dam temperature dam vet today"]),
        ("2026-03-02 09:41", 39.29, []),
        ("2026-03-02 09:41", 39.3, ["dam temperature dam vet today"]),
        ("2026-03-02 09:40", 40.0, ["dam temperature dam vet today"]),
        ("2026-03-02 09:40", 40.01, ["dam temperature dam emergency"]),
        ("2026-03-02 09:41", 37.0, []),
        ("2026-03-02 09:41", 36.99, ["dam temperature dam vet today"]),
        ("2026-03-02 09:41", 38.4, []),
    ],
)
def test_the_dam(wall: str, celsius: float, lines: list[str]) -> None:
    assert warned(taken(celsius, "dam", wall), wall) == lines


def test_the_dams_fever_stands_until_the_next_time() -> None:
    log = taken(39.6, "dam", "2026-03-03 09:00")
    assert stands(log, "2026-03-04 08:59") == ["dam temperature dam vet today"]
    assert stands(taken(38.6, "dam", "2026-03-03 12:00", log), "2026-03-03 12:00") == []


# The box


def read(celsius: float, wall: str = "2026-03-03 03:14", place: str = "box", log: Log | None = None) -> Log:
    return (log or litter()).at(wall, event("climate", place=place, celsius=celsius))


@pytest.mark.parametrize(
    ("wall", "celsius", "lines"),
    [
        ("2026-03-03 03:14", 28.0, []),  # 29 to 32 C, and one degree of play
        ("2026-03-03 03:14", 27.9, ["box too cold soon"]),
        ("2026-03-03 03:14", 33.0, []),
        ("2026-03-03 03:14", 33.1, ["box too hot soon"]),
        ("2026-03-03 03:14", 35.0, ["box too hot soon"]),
        ("2026-03-03 03:14", 35.1, ["box too hot emergency"]),
        ("2026-03-09 03:14", 25.9, ["box too cold soon"]),  # 27 to 29 C in the second week
        ("2026-03-09 03:14", 26.0, []),
        ("2026-03-09 03:14", 30.1, ["box too hot soon"]),
        ("2026-03-20 03:14", 22.9, ["box too cold soon"]),  # 24 to 27 C
        ("2026-03-20 03:14", 28.1, ["box too hot soon"]),
        ("2026-03-30 03:14", 19.9, ["box too cold soon"]),  # 21 to 24 C
        ("2026-03-30 03:14", 25.1, ["box too hot soon"]),
    ],
)
def test_the_box_by_age(wall: str, celsius: float, lines: list[str]) -> None:
    assert warned(read(celsius, wall), wall) == lines


def test_the_box_is_said_once_in_two_hours_and_when_it_becomes_dangerous() -> None:
    log = litter()
    for wall, celsius in (("03:00", 34.0), ("04:00", 34.5), ("04:30", 36.0), ("05:00", 34.0), ("06:31", 34.0), ("06:40", 27.0)):
        read(celsius, f"2026-03-03 {wall}", log=log)
    assert told_one_by_one(log) == [
        "03:00 box too hot soon",
        "04:30 box too hot emergency",
        "06:31 box too hot soon",
        "06:40 box too cold soon",
    ]


def test_a_reading_stands_until_the_next_of_the_same_place() -> None:
    log = read(34.0)
    assert stands(read(21.0, "2026-03-03 03:20", "room", log), "2026-03-03 03:20") == ["box too hot soon"]
    assert stands(log, "2026-03-03 15:14") == []
    assert stands(read(31.0, "2026-03-03 03:30", log=log), "2026-03-03 03:30") == []


def test_an_incubator_is_only_watched_for_danger_and_an_empty_box_and_the_room_not_at_all() -> None:
    assert warned(read(27.0, place="incubator"), "2026-03-03 03:14") == []
    assert warned(read(35.1, place="incubator"), "2026-03-03 03:14") == ["box too hot emergency"]
    assert warned(read(21.0, place="room"), "2026-03-03 03:14") == []
    assert warned(read(21.0, log=Log()), "2026-03-03 03:14") == []


def test_the_box_says_its_range() -> None:
    log = read(34.0).at("2026-03-03 03:14", temperatures_in="C")
    [notice] = standing(log.nursery(), log.moment("2026-03-03 03:14"))
    assert (notice.who, notice.to) == ((), "all")
    assert notice.text == (
        "The box: cool it, leave the pups a cool side to move to, feel whether they are hot or spread out. "
        "Read: 34 C, for their age it is 29 to 32 C. The pups' own behavior overrides the number. Source: UC Davis."
    )
    assert notice.values == {"celsius": 34.0, "box_low_c": 29, "box_high_c": 32}
