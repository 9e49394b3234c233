"""Feeding by hand: the published examples, the plan's figures by weight, milk and age, and the pup that must not be fed."""

from __future__ import annotations

import pytest

from bot.care.feeding import by_hand_alone, caution, coldness, feed_plan, feeds_needed, last_temperature, plan_of, ration
from parsers.events.fed import Fed
from parsers.events.nursed import Nursed
from tests.care.written_log import Log, event, litter

OUNCE, POUND = 28.3495, 453.59  # g, as printed


def test_a_half_pound_pup_in_its_first_week() -> None:
    """Dog Owner's Home Veterinary Handbook p. 499: 60 kcal per lb a day, 1 kcal per ml, 6 feeds: 30 kcal, 5 ml in each."""
    kcal, ml = ration(POUND / 2, 60 / POUND * 100, 1)
    assert (kcal, ml / 6) == pytest.approx((30, 5))


def test_a_pound_pup_at_ten_days() -> None:
    """The same page: 60 ml a day in 4 feeds, 15 ml in each; by the book's own row for week 2 it would be 70 and 17.5."""
    assert ration(POUND, 60 / POUND * 100, 1)[1] / 4 == pytest.approx(15)
    assert ration(POUND, 70 / POUND * 100, 1)[1] / 4 == pytest.approx(17.5)


def test_an_eight_ounce_pup_on_a_home_mix() -> None:
    """Breeders' guide after Root Kustritz: 7 kcal per oz, 0.75 kcal per ml: 56 kcal, 74.7 ml a day, about 9 ml in 8 feeds; stomach 9."""
    kcal, ml = ration(8 * OUNCE, 7 / OUNCE * 100, 0.75)
    assert (kcal, ml) == pytest.approx((56, 74.67), abs=0.01)
    assert round(ml / 8) == 9
    assert feed_plan(8 * OUNCE, None, 0).ml_per_feed_max == pytest.approx(9, abs=0.1)


def test_seventy_five_ml_a_day_every_four_hours() -> None:
    """A general page (tier C): 12.5 ml in each of 6 feeds."""
    assert feeds_needed(75, 12.5) == 6


GRID = [  # g, kcal, ml, ml in one feed, feeds: the orphans' sheet that quotes Lawler 2008, 20 kcal per 100 g, 0.74 kcal per ml
    (50, 10, 13.5, 2, 7),
    (100, 20, 27, 4, 7),
    (200, 40, 54, 8, 7),
    (300, 60, 81, 12, 7),
    (400, 80, 108, 16, 7),
    (550, 110, 148.6, 22, 7),
]


@pytest.mark.parametrize(("grams", "kcal", "ml", "one_feed", "feeds"), GRID)
def test_the_printed_grid_for_orphans(grams: float, kcal: float, ml: float, one_feed: float, feeds: int) -> None:
    plan = feed_plan(grams, 0.74, 21)  # from day 21 on no interval holds, so that the sheet's own arithmetic shows
    assert plan.kcal_per_day_low == pytest.approx(kcal)
    assert plan.ml_per_day_low == pytest.approx(ml, abs=0.15)
    assert plan.ml_per_feed_max == pytest.approx(one_feed)
    assert plan.feeds_per_day_low == feeds


@pytest.mark.parametrize(("kcal_per_ml", "ml", "feeds"), [(1.0, 50, 7), (0.74, 67.6, 9)])
def test_two_hundred_grams_at_25_kcal(kcal_per_ml: float, ml: float, feeds: int) -> None:
    """Derived from NRC and Lawler: 50 kcal; 50 ml at 1.0 kcal per ml, 67.6 at 0.74; at most 8 ml, so at least 7 or 9 feeds."""
    plan = feed_plan(200, kcal_per_ml, 21)
    assert (plan.kcal_per_day_high, plan.ml_per_feed_max) == (50, 8)
    assert plan.ml_per_day_high == pytest.approx(ml, abs=0.05)
    assert plan.feeds_per_day_high == feeds


@pytest.mark.parametrize(("day", "least"), [(0, 12), (6, 12), (7, 8), (13, 8), (14, 7), (20, 7), (21, 7), (40, 7)])
def test_it_is_fed_no_less_often_than_a_pup_of_its_age_nurses(day: int, least: int) -> None:
    """Every 2, 3 and 4 h in weeks 1, 2 and 3 are 12, 8 and 6 feeds; at 0.9 kcal per ml the stomach alone asks for 7."""
    assert feed_plan(212, 0.9, day).feeds_per_day_high == least


def test_a_whole_number_of_feeds_is_not_made_one_more_by_arithmetic() -> None:
    """20 kcal per 100 g at 1 kcal per ml and 4 ml per 100 g are 5 feeds for a pup of any weight; at 1.25, 4 and 5."""
    for tenths in range(400, 6000, 7):
        assert feed_plan(tenths / 10, 1.0, 30).feeds_per_day_low == 5
        assert feed_plan(tenths / 10, 1.25, 30).feeds_per_day_low == 4
        assert feed_plan(tenths / 10, 1.25, 30).feeds_per_day_high == 5


def test_without_the_labels_energy_only_the_need_and_the_most_are_known() -> None:
    assert feed_plan(212, None, 1).values() == pytest.approx(
        {"grams": 212, "kcal_per_day_low": 42.4, "kcal_per_day_high": 53.0, "ml_per_feed_max": 8.48}
    )


def test_an_interval_of_the_households_own_makes_no_feed_more() -> None:
    log = litter().at("2026-03-01 11:00", every={"care": "nursed", "minutes": 60}).at("2026-03-01 11:00", formula={"kcal_per_ml": 0.9})
    nursery = log.at("2026-03-02 03:14", event("weight", 2, grams=212)).nursery()
    plan = plan_of(nursery, nursery.pups[2], log.moment("2026-03-02 04:00"))
    assert plan is not None
    assert plan.feeds_per_day_low == 12
    assert plan_of(nursery, nursery.pups[1], log.moment("2026-03-02 04:00")) is None


@pytest.mark.parametrize(("celsius", "cold"), [(34.3, "coldest"), (34.4, "cold"), (36.0, "cold"), (36.1, None), (37.0, None)])
def test_below_97_f_it_is_warmed_first_and_below_94_f_nothing_goes_by_mouth(celsius: float, cold: str | None) -> None:
    """97 F: UC Davis, Highland Pet Hospital. 94 F: Small Animal Pediatrics ch. 6, Home Veterinary Handbook."""
    assert coldness(celsius) == cold


@pytest.mark.parametrize(("wall", "known"), [("2026-03-02 05:14", 35.5), ("2026-03-02 05:15", None)])
def test_a_temperature_says_something_for_two_hours(wall: str, known: float | None) -> None:
    log = litter().at("2026-03-02 03:14", event("temperature", 2, celsius=35.5))
    assert last_temperature(log.nursery().pups[2], log.moment(wall)) == known


def feed_told(ml: float | None, *before: object, wall: str = "2026-03-02 04:00") -> str | None:
    log = litter().at("2026-03-02 03:00", event("weight", 2, grams=200))
    for one in before:
        log.at("2026-03-02 03:10", one)  # type: ignore[arg-type]
    fed = event("fed", 2, ml=ml) if ml is not None else event("fed", 2)
    log.at(wall, fed)
    assert isinstance(fed, Fed)
    return caution(log.nursery(), fed, log.moment(wall))


def test_more_than_five_ml_per_100_g_is_said_to_be_too_much_for_the_stomach() -> None:
    """PetFeeding p. 35: the stomach holds 4 to 5 ml per 100 g."""
    assert feed_told(10) is None
    assert feed_told(None) is None
    said = feed_told(10.5)
    assert said is not None
    assert said.startswith("10.5 ml is more than the stomach of Pup 2 holds in comfort (5 ml per 100 g)")


def test_a_feed_of_a_cold_pup_is_answered_with_the_warmth_that_it_needs() -> None:
    assert feed_told(5, event("temperature", 2, celsius=36.5)) is None
    cold, coldest = feed_told(5, event("temperature", 2, celsius=35.5)), feed_told(5, event("temperature", 2, celsius=34.0))
    assert cold == "Pup 2 was 95.9 F: a cold gut cannot take milk. Warm it to 97 F first."
    assert coldest is not None
    assert "Nothing more by mouth" in coldest
    assert "call your vet now" in coldest
    felt = feed_told(5, event("sign", 2, sign="cold"))
    assert felt == "Pup 2 was cold: a cold gut cannot take milk. Warm it to 97 F first."
    assert feed_told(5, event("sign", 2, sign="cold"), event("temperature", 2, celsius=36.5)) is None


@pytest.mark.parametrize(
    ("celsius", "wall", "warned"),
    [(36.09, "03:10", True), (36.1, "03:10", False), (35.0, "05:10", True), (35.0, "05:11", False)],
)
def test_a_nursing_of_a_cold_pup_is_answered_likewise(celsius: float, wall: str, warned: bool) -> None:
    """Highland Pet Hospital: warm to 97 F first; a temperature of more than two hours ago says nothing (derived)."""
    log = litter().at("2026-03-02 03:10", event("temperature", 2, celsius=celsius))
    nursed = event("nursed", 2)
    assert isinstance(nursed, Nursed)
    said = caution(log.at(f"2026-03-02 {wall}", nursed).nursery(), nursed, log.moment(f"2026-03-02 {wall}"))
    assert (said is not None and said.endswith("Warm it to 97 F first.")) is warned


def test_a_pup_lives_by_hand_alone_once_it_has_not_nursed_for_a_day() -> None:
    def alone(log: Log) -> bool:
        return by_hand_alone(log.nursery().pups[2], log.moment("2026-03-04 04:00"))

    assert not alone(litter())
    assert alone(litter().at("2026-03-04 02:00", event("fed", 2, ml=5)))
    assert not alone(litter().at("2026-03-04 02:00", event("fed", 2, ml=5), event("nursed", 2)))
    assert alone(litter().at("2026-03-03 03:59", event("nursed", 2)).at("2026-03-04 02:00", event("fed", 2, ml=5)))
    assert not alone(litter().at("2026-03-02 02:00", event("fed", 2, ml=5)))
