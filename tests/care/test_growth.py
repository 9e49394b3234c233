"""Growth by the rules of the care contract and by published lines and curves."""

from __future__ import annotations

from datetime import timedelta
from math import exp

import pytest

from bot.care.growth import Growth, growth, litter_values
from bot.care.usual import expected_percent
from tests.care.written_log import Log, event, litter

BORN = "2026-03-01 09:40"


def weighed(*weights: tuple[str, float], birth: float | None = None) -> Log:
    """Pup 1 of a litter of one, weighed at these times; born at 9:40 on the first of March."""
    log = litter(1)
    if birth is not None:
        log.at("2026-03-01 10:31", event("born", 1, at=log.moment(BORN), grams=birth))
    for wall, grams in weights:
        log.at(wall, event("weight", 1, grams=grams))
    return log


def growth_of(log: Log) -> Growth:
    nursery = log.nursery()
    found = growth(nursery, nursery.pups[1])
    assert found is not None
    return found


def hours_after_birth(hours: float) -> str:
    log = litter(1)
    return f"{(log.moment(BORN) + timedelta(hours=hours)).astimezone(log.zone):%Y-%m-%d %H:%M}"


# What a weight is compared with


@pytest.mark.parametrize(
    ("earlier", "expected_hours"),
    [
        ([12, 20, 26, 36], 26),  # the one nearest to a day before
        ([12, 36], 12),  # both as near: the later
        ([12], 12),
        ([36], 36),
        ([11.9, 36.1], 11.9),  # none within 12 to 36 hours: the one before it
        ([2, 5], 2),
        ([2, 60], 2),
        ([2, 35], 35),
        ([400], 400),
    ],
)
def test_the_reference_is_the_weight_nearest_to_a_day_before_or_the_one_before_it(earlier: list[float], expected_hours: float) -> None:
    latest = 500.0
    times = sorted([latest - back for back in earlier])
    log = weighed(*[(hours_after_birth(at), 300 + at) for at in times], (hours_after_birth(latest), 1000))
    found = growth_of(log)
    assert found.hours == pytest.approx(expected_hours, abs=0.02)


def test_gain_percent_and_rate_are_worked_out_from_the_reference() -> None:
    found = growth_of(weighed(("2026-03-03 08:00", 250), ("2026-03-04 02:00", 262)))  # 18 hours
    assert found.gain_g == 12
    assert found.gain_percent == pytest.approx(4.8)
    assert found.hours == 18
    assert found.per_day_percent == pytest.approx(((262 / 250) ** (24 / 18) - 1) * 100)


def test_a_pup_with_one_weight_has_no_gain() -> None:
    assert growth_of(weighed(("2026-03-03 08:00", 250))).gain_g is None


def test_two_weights_at_one_moment_give_no_endless_rate() -> None:
    found = growth_of(weighed(("2026-03-03 08:00", 250), ("2026-03-03 08:00", 251)))
    assert (found.latest.grams, found.gain_g, found.per_day_percent) == (251, None, None)


def test_two_weights_a_second_apart_give_no_rate_that_bursts() -> None:
    found = growth_of(weighed(("2026-03-02 09:40:00", 205), ("2026-03-02 09:40:01", 260)))
    assert (found.gain_g, found.per_day_percent) == (55, None)


def test_hours_are_real_hours_over_the_night_on_which_the_clocks_go_forward() -> None:
    found = growth_of(weighed(("2026-03-07 20:00", 300), ("2026-03-08 20:00", 320)))
    assert found.hours == 23


# The birth weight


@pytest.mark.parametrize(
    ("log", "expected"),
    [
        (weighed(("2026-03-01 12:00", 205), ("2026-03-02 12:00", 210), birth=200), 5.0),
        (weighed(("2026-03-01 21:40", 200), ("2026-03-02 21:00", 210)), 5.0),  # twelve hours after birth
        (weighed(("2026-03-01 21:41", 200), ("2026-03-02 21:00", 210)), None),
    ],
)
def test_the_birth_weight_is_the_one_told_with_the_birth_or_the_first_within_twelve_hours(log: Log, expected: float | None) -> None:
    assert growth_of(log).since_birth_percent == (None if expected is None else pytest.approx(expected))


def test_a_birth_told_after_the_weights_still_gives_the_birth_weight() -> None:
    log = Log().at("2026-03-01 10:00", event("weight", 1, grams=200)).at("2026-03-02 10:00", event("weight", 1, grams=206))
    assert growth_of(log).since_birth_percent is None
    log.at("2026-03-02 10:05", litter={"pups": 1, "born": "2026-03-01T09:40:00-06:00"})
    assert growth_of(log).since_birth_percent == pytest.approx(3.0)


def test_doubling_lies_on_the_straight_line_between_weighings() -> None:
    log = weighed(("2026-03-08 09:40", 380), ("2026-03-09 09:40", 420), birth=200)
    assert growth_of(log).doubled_at == log.moment("2026-03-08 21:40")


def test_a_pup_that_falls_back_had_still_doubled_then() -> None:
    log = weighed(("2026-03-08 09:40", 400), ("2026-03-09 09:40", 390), ("2026-03-10 09:40", 410), birth=200)
    assert growth_of(log).doubled_at == log.moment("2026-03-08 09:40")


# Published lines


@pytest.mark.parametrize(
    ("birth", "hours", "grams", "expected"),
    [
        (300, 48, 288, "early loss"),  # -4.0 % on day 2 (Mila 2015)
        (300, 48, 289, ""),  # -3.67 %
        (300, 36, 288, "early loss"),
        (300, 60, 288, "early loss"),
        (300, 35.9, 288, ""),
        (300, 60.1, 288, ""),
        (400, 48, 364, "early loss"),  # -9 %: under a tenth (owner's handbook p493)
        (400, 30, 361, ""),
        (400, 30, 360, "great loss"),  # -10 %
        (400, 72, 358, "great loss"),
        (400, 72.1, 399, "below birth weight"),
        (400, 72.1, 401, ""),
        (400, 20, 391, "first dip"),
        (400, 20, 360, "great loss"),
    ],
)
def test_a_loss_since_birth_needs_a_look_by_the_published_lines(birth: float, hours: float, grams: float, expected: str) -> None:
    log = weighed((hours_after_birth(hours), grams), birth=birth)
    nursery = log.nursery()
    only_loss = growth(nursery, nursery.pups[1])
    assert only_loss is not None
    assert (only_loss.look if only_loss.look not in ("no gain", "no gain yet") else "") == expected


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        ((30, 300), (48, 299), "no gain yet"),
        ((30, 300), (49, 300), "no gain"),
        ((30, 300), (49, 301), ""),
        ((100, 333), (120, 330), "no gain"),
    ],
)
def test_no_gain_over_a_day_needs_a_look_after_the_first_two_days(
    first: tuple[float, float], second: tuple[float, float], expected: str
) -> None:
    log = weighed((hours_after_birth(first[0]), first[1]), (hours_after_birth(second[0]), second[1]), birth=281)
    assert growth_of(log).look == expected


def test_the_published_curve_of_the_fastest_growth_gives_its_published_rates_and_doubling() -> None:
    """Alves 2020: weight = birth weight x exp(0.13084 d - 0.001616 d^2); doubles at 5.70 d; 13.8 % on day 0-1 and 6.7 % on day 20-21."""
    log, start = Log(), litter(1).moment(BORN)
    log.at(BORN, event("born", 1, grams=250))
    for hour in range(1, 21 * 24 + 1):
        days = hour / 24
        at = start + timedelta(hours=hour)
        wall = f"{at.astimezone(log.zone):%Y-%m-%d %H:%M}"
        log.at(wall, event("weight", 1, at=at, grams=250 * exp(0.13084 * days - 0.001616 * days**2)))
    nursery = log.nursery()
    pup = nursery.pups[1]
    on_day = {day: growth(nursery, pup, until=start + timedelta(days=day)) for day in (1, 7, 14, 21)}
    assert [round(found.per_day_percent or 0, 1) for found in on_day.values() if found][::3] == [13.8, 6.7]
    assert [round(found.latest.grams, 1) for found in on_day.values() if found][1:] == [577.2, 1137.4, 1913.0]
    doubled_at = growth_of(log).doubled_at
    assert doubled_at is not None
    assert (doubled_at - start) / timedelta(days=1) == pytest.approx(5.70, abs=0.005)


@pytest.mark.parametrize(("day", "expected"), [(0, (5, 10)), (6, (5, 10)), (7, (3.5, 6)), (27, (3.5, 6)), (28, None), (None, None)])
def test_the_usual_gain_a_day_is_the_published_one(day: int | None, expected: tuple[float, float] | None) -> None:
    assert expected_percent(day) == expected


# A coarse scale


@pytest.mark.parametrize(
    ("weights", "step"),
    [
        ([200, 205, 215], 5),
        ([200, 210, 230], 10),
        ([200, 205, 216], None),
        ([212.6, 205.0], None),
        ([481.94, 453.59, 510.29], 28.349523125),  # 17, 16 and 18 oz
        ([481.94, 460.0], None),
    ],
)
def test_the_step_of_a_scale_is_known_by_all_weights_of_the_pup(weights: list[float], step: float | None) -> None:
    log = weighed(*[(f"2026-03-{5 + day:02} 09:00", grams) for day, grams in enumerate(weights)])
    assert growth_of(log).step == (None if step is None else pytest.approx(step))


@pytest.mark.parametrize(
    ("weights", "expected"),
    [
        ([200, 205, 210], "unclear"),  # one step
        ([200, 205, 215], ""),  # two
        ([215, 210, 205], "no gain"),  # two days without a step up
        ([200, 210, 205], "unclear"),
        ([200, 215, 205], "no gain"),  # two steps down
    ],
)
def test_a_change_of_one_step_of_a_coarse_scale_is_no_change(weights: list[float], expected: str) -> None:
    log = weighed(*[(f"2026-03-{5 + day:02} 09:00", grams) for day, grams in enumerate(weights)])
    found = growth_of(log)
    assert found.look == expected
    assert found.gain_g == weights[-1] - weights[-2]  # the figure stands as it is


def test_one_step_below_birth_weight_on_a_coarse_scale_is_no_loss() -> None:
    assert growth_of(weighed((hours_after_birth(48), 240), birth=250)).look == "unclear"
    assert growth_of(weighed((hours_after_birth(48), 230), birth=250)).look == "early loss"


# The litter


def test_the_litters_mean_and_range_leave_out_who_has_no_gain() -> None:
    log = litter(3)
    log.at("2026-03-05 08:00", event("weight", 1, grams=301), event("weight", 2, grams=402))
    log.at("2026-03-06 08:00", event("weight", 1, grams=316), event("weight", 2, grams=398), event("weight", 3, grams=222))
    nursery = log.nursery()
    gains = [found for pup in nursery.living if (found := growth(nursery, pup)) is not None]
    assert litter_values(gains, [9]) == {
        "mean_gain_g": 5.5,
        "mean_gain_percent": pytest.approx((15 / 301 - 4 / 402) / 2 * 100),
        "min_gain_g": -4,
        "max_gain_g": 15,
        "not_weighed": [9],
    }
