"""Small at birth: beside the litter, and by the classes of the breed where one is published."""

from __future__ import annotations

import pytest

from bot.care.birth_weights import breeds
from bot.care.notices import standing
from parsers import read
from parsers.litter_card import LitterCard
from tests.care.warned import stands, told_one_by_one, warned
from tests.care.written_log import Log, event, litter

BIRTH = "2026-03-01 10:40"

MUGNIER_TABLE_2 = """
Australian Shepherd | 375 (3.4) | 213-375 (4.1) | 213 (45.5)
Bichon Frise | 181 (15.2) | 163.5-181 (16.7) | 163.5 (42.4)
Cocker Spaniel | 280 (3.5) | 142.5-280 (6.1) | 142.5 (68.4)
German Shepherd | 480 (3.3) | 338-480 (12.2) | 338 (71.4)
Golden Retriever | 417 (4.5) | 177.5-417 (8.1) | 177.5 (66.7)
Labrador Retriever | 406 (2.8) | 248-406 (8.7) | 248 (57.7)
Maltese | 163 (8.2) | 115.5-163 (11.7) | 115.5 (57.1)
Rottweiler | 410 (10.7) | 345-410 (17.5) | 345 (53.3)
Shih Tzu | 176 (9.0) | 128.5-176 (20.0) | 128.5 (75.0)
West Highland White Terrier | 190 (5.6) | 129-190 (13.1) | 129 (53.8)
"""
"""As printed: breed, normal from (deaths in %), low from-to (%), very low under (%)."""


def printed() -> list[tuple[str, list[float]]]:
    rows = [line.split(" | ") for line in MUGNIER_TABLE_2.strip().splitlines()]
    return [
        (name, [float(number) for cell in cells for number in cell.replace("(", "").replace(")", "").replace("-", " ").split()])
        for name, *cells in rows
    ]


@pytest.mark.parametrize(("breed", "numbers"), printed())
def test_the_table_of_mugnier_2020_whole(breed: str, numbers: list[float]) -> None:
    normal, died, low_from, low_to, died_low, very_low, died_very_low = numbers
    row = breeds()[breed.casefold()]
    assert (row.normal, row.very_low, dict(row.died_percent)) == (
        normal,
        very_low,
        {"normal": died, "low": died_low, "very_low": died_very_low},
    )
    assert [row.classed(grams) for grams in (low_to, low_to - 0.1, low_from, low_from - 0.1)] == ["normal", "low", "low", "very_low"]


def test_the_table_has_these_breeds_and_no_other() -> None:
    assert {id(row) for row in breeds().values()} == {id(breeds()[name.casefold()]) for name, _ in printed()}


@pytest.mark.parametrize("breed", [name for name, _ in printed()])
def test_each_breed_is_found_by_the_name_that_the_reader_gives_it(breed: str) -> None:
    now = litter().moment(BIRTH)
    reading = read(f"the breed is {breed}", LitterCard(zone="America/Chicago"), now=now, by="Ines")
    assert reading.setup is not None
    assert str(reading.setup.sets["breed"]).casefold() in breeds()


@pytest.mark.parametrize(
    ("breed", "grams", "found"),
    [
        ("Maltese", 170, "normal"),  # W12 of our figures
        ("Maltese", 150, "low"),
        ("Maltese", 110, "very_low"),
        ("Shih Tzu", 176, "normal"),  # W13
        ("Shih Tzu", 175, "low"),
        ("Shih Tzu", 128, "very_low"),
        ("Labrador Retriever", 406, "normal"),
        ("Labrador Retriever", 300, "low"),
        ("Labrador Retriever", 247, "very_low"),
    ],
)
def test_worked_examples_of_the_classes(breed: str, grams: float, found: str) -> None:
    log = born(grams, breed=breed)
    assert breeds()[breed.casefold()].classed(grams) == found
    expected = {"normal": [], "low": ["small at birth 1 soon"], "very_low": ["small at birth 1 vet today"]}
    assert warned(log, BIRTH) == expected[found]


def born(*weights: float, breed: str | None = None) -> Log:
    log = litter(len(weights))
    if breed is not None:
        log.at(BIRTH, breed=breed)
    return log.at(
        BIRTH, *[event("born", pup, grams=grams, at=log.moment("2026-03-01 09:40")) for pup, grams in enumerate(weights, start=1)]
    )


@pytest.mark.parametrize(
    ("weights", "lines"),
    [
        ((150, 225, 225), ["small at birth 1 soon"]),  # 75 % of a mean of 200: Home Veterinary Handbook p. 493
        ((150.1, 225, 225), []),
        ((140, 210), []),  # two have no mean to speak of
        ((100, 100, 225, 225, 225), ["small at birth 1 soon", "small at birth 2 soon"]),
    ],
)
def test_a_quarter_under_the_litters_mean(weights: tuple[float, ...], lines: list[str]) -> None:
    assert warned(born(*weights), BIRTH) == lines


def test_the_first_weight_within_half_a_day_counts_as_the_birth_weight() -> None:
    for hour, lines in (("21:39", ["small at birth 3 soon"]), ("21:41", [])):
        log = litter(3)
        for pup, grams in ((1, 225), (2, 225), (3, 150)):
            log.at(f"2026-03-01 {hour}", event("weight", pup, grams=grams))
        assert told_one_by_one(log, "small at birth") == [f"{hour} {line}" for line in lines]


def test_a_pup_that_died_counts_for_the_mean_and_is_not_warned_of() -> None:
    log = born(150, 225, 225).at("2026-03-01 11:00", event("died", 2))
    assert stands(log, "2026-03-01 11:00") == ["small at birth 1 soon"]
    assert stands(log.at("2026-03-01 11:10", event("died", 1)), "2026-03-01 11:10") == []


def test_a_breed_that_is_told_later_or_has_no_table() -> None:
    log = born(300, 310, 320)
    assert warned(log, BIRTH) == []
    assert warned(log.at("2026-03-01 12:00", breed="French Bulldog"), "2026-03-01 12:00") == []
    log.at("2026-03-01 12:05", breed="Rottweiler")
    assert warned(log, "2026-03-01 12:05") == [f"small at birth {pup} vet today" for pup in (1, 2, 3)]


def test_it_says_the_class_the_deaths_and_the_source() -> None:
    [notice] = standing(born(110, 225, 225, breed="Maltese").nursery(), litter().moment(BIRTH))
    assert notice.text == (
        "Pup 1: keep warm, put to the fullest teat first, weigh twice a day, and call your vet today. "
        "110 g at birth, 59 % of the litter's mean, in the very low class of its breed. "
        "Of such pups 57.1 % died in their first three weeks. Source: Mugnier 2020."
    )
    assert notice.values == {
        "birth_grams": 110,
        "mean_birth_grams": 560 / 3,
        "percent_of_mean": 110 / (560 / 3) * 100,
        "birth_weight_class": "very low",
        "died_percent": 57.1,
    }


def test_it_is_said_once_and_stands_for_three_weeks() -> None:
    log = born(150, 225, 225).at("2026-03-01 20:00", event("weight", 1, grams=155))
    assert told_one_by_one(log, "small at birth") == ["10:40 small at birth 1 soon"]
    assert stands(log, "2026-03-22 09:39") == ["small at birth 1 soon"]
    assert stands(log, "2026-03-22 10:41") == []
