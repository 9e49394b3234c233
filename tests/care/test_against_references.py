"""The arithmetic against general libraries: units against pint, growth and the dam's energy against numpy and scipy."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from math import exp

import numpy as np
import pint
import pytest
from scipy.optimize import brentq

from bot.care.dam import needs
from bot.care.feeding import feed_plan, ration
from bot.care.growth import growth, litter_values
from bot.care.usual import expected_course
from parsers.measures import GRAMS_PER_OUNCE, OUNCES_PER_POUND, celsius_to_fahrenheit, fahrenheit_to_celsius, measures
from parsers.words import cut
from tests.care.written_log import Log, event, litter

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
BORN = datetime(2026, 3, 1, 15, 40, tzinfo=UTC)


def in_unit(value: float, unit: str, into: str) -> float:
    return float(UNITS.Quantity(value, unit).to(into).magnitude)


# Units

PRINTED = [(94, 34.4), (95, 35.0), (96, 35.6), (97, 36.1), (99, 37.2), (100, 37.8), (102, 38.9), (102.5, 39.2), (103, 39.4), (104, 40.0)]
"""Fahrenheit and Celsius as the sources print them side by side."""


@pytest.mark.parametrize(("fahrenheit", "celsius"), PRINTED)
def test_degrees_are_pints_and_the_printed_ones(fahrenheit: float, celsius: float) -> None:
    assert fahrenheit_to_celsius(fahrenheit) == pytest.approx(in_unit(fahrenheit, "degF", "degC"), abs=1e-9)
    assert celsius_to_fahrenheit(celsius) == pytest.approx(in_unit(celsius, "degC", "degF"), abs=1e-9)
    assert round(fahrenheit_to_celsius(fahrenheit), 1) == celsius


def test_ounces_and_pounds_are_pints_and_the_printed_ones() -> None:
    assert pytest.approx(in_unit(1, "ounce", "gram"), rel=1e-12) == GRAMS_PER_OUNCE
    assert in_unit(1, "pound", "gram") == pytest.approx(GRAMS_PER_OUNCE * OUNCES_PER_POUND, rel=1e-12)
    assert (round(GRAMS_PER_OUNCE, 4), round(GRAMS_PER_OUNCE * OUNCES_PER_POUND, 2)) == (28.3495, 453.59)


@pytest.mark.parametrize(
    ("said", "value", "unit", "into"),
    [
        ("7.4 oz", 7.4, "ounce", "gram"),
        ("26 lb", 26, "pound", "gram"),
        ("11.8 kg", 11.8, "kilogram", "gram"),
        ("6 cc", 6, "centimeter ** 3", "milliliter"),
        ("2.5 hours", 2.5, "hour", "minute"),
    ],
)
def test_a_measure_that_is_typed_is_worth_what_pint_says(said: str, value: float, unit: str, into: str) -> None:
    assert measures(cut(said), 0)[0].value == pytest.approx(in_unit(value, unit, into), rel=1e-9)


@pytest.mark.parametrize(("per_pound", "per_100_g"), [(60, 13.2), (70, 15.4), (80, 17.6), (90, 19.8), (91, 20), (118, 26), (113, 25)])
def test_the_energy_tables_in_pounds_and_in_grams_are_the_same(per_pound: float, per_100_g: float) -> None:
    """Home Veterinary Handbook p. 499, Lawler 2008, NRC: as printed in kcal per lb and per 100 g."""
    exact = in_unit(per_pound, "kcal / pound", "kcal / gram") * 100
    assert exact == pytest.approx(per_100_g, abs=0.1)
    kcal, ml = ration(250, exact, 0.9)
    assert kcal == pytest.approx(in_unit(250, "gram", "pound") * per_pound)
    assert ml == pytest.approx(kcal / 0.9)


def test_the_plan_is_numpys_for_every_weight_and_milk() -> None:
    grams, milk = np.meshgrid(np.linspace(60, 1500, 40), np.linspace(0.5, 1.6, 23))
    for row, kcal_per_ml in zip(grams, milk, strict=True):
        plans = [feed_plan(float(weight), float(kcal_per_ml[0]), 30) for weight in row]
        low, high, most = row * 0.2, row * 0.25, row * 0.04
        np.testing.assert_allclose([plan.ml_per_day_low for plan in plans], low / kcal_per_ml)  # type: ignore[arg-type]
        np.testing.assert_allclose([plan.ml_per_day_high for plan in plans], high / kcal_per_ml)  # type: ignore[arg-type]
        np.testing.assert_allclose([plan.feeds_per_day_high for plan in plans], np.ceil((high / kcal_per_ml / most).round(9)))  # type: ignore[arg-type]


# Growth


def alves(days: float) -> float:
    """Alves 2020: the fastest growth, as a multiple of the birth weight."""
    return exp(0.13084 * days - 0.001616 * days**2)


MULTIPLES = [(1, 1.1379), (2, 1.2907), (3, 1.4593), (4, 1.6446), (5, 1.8474), (7, 2.3087), (10, 3.1481), (14, 4.5495), (21, 7.6521)]


def of_alves(every_hours: float, days: float = 21) -> Log:
    log = litter(1, born=BORN.isoformat())
    for hour in np.arange(0, days * 24 + 1, every_hours):
        at = BORN + timedelta(hours=float(hour))
        log.at(f"{at.astimezone(log.zone):%Y-%m-%d %H:%M}", event("weight", 1, grams=250 * alves(float(hour) / 24)))
    return log


@pytest.mark.parametrize(("day", "multiple"), MULTIPLES)
def test_a_pup_on_the_published_curve_has_the_published_multiple(day: int, multiple: float) -> None:
    assert alves(day) == pytest.approx(multiple, abs=0.00006)
    nursery = of_alves(12).nursery()
    gain = growth(nursery, nursery.pups[1], until=BORN + timedelta(days=day))
    assert gain is not None
    assert gain.since_birth_percent == pytest.approx((multiple - 1) * 100, abs=0.01)
    assert gain.per_day_percent == pytest.approx((alves(day) / alves(day - 1) - 1) * 100)


@pytest.mark.parametrize("every_hours", [1, 12, 24])
def test_doubling_is_where_scipy_finds_it(every_hours: float) -> None:
    """Published: 5.70 days. Between two weighings the straight line is numpy's."""
    nursery = of_alves(every_hours).nursery()
    gain = growth(nursery, nursery.pups[1])
    assert gain is not None
    assert gain.doubled_at is not None
    found = (gain.doubled_at - BORN) / timedelta(days=1)
    root = float(brentq(lambda days: alves(days) - 2, 0, 21))
    assert root == pytest.approx(5.70, abs=0.005)
    assert found == pytest.approx(root, abs=0.01)
    days = np.arange(0, 21 * 24 + 1, every_hours) / 24
    assert found == pytest.approx(float(np.interp(2, [alves(float(day)) for day in days], days)), abs=1e-6)


def test_tripling_of_the_curve_is_the_published_one() -> None:
    assert float(brentq(lambda days: alves(days) - 3, 0, 21)) == pytest.approx(9.51, abs=0.005)


def test_the_litters_mean_and_range_are_numpys() -> None:
    random = np.random.default_rng(7)
    first, then = random.uniform(150, 400, 9), random.uniform(0.9, 1.15, 9)
    log = litter(9)
    log.at("2026-03-04 08:00", *[event("weight", pup + 1, grams=float(first[pup])) for pup in range(9)])
    log.at("2026-03-05 08:00", *[event("weight", pup + 1, grams=float(first[pup] * then[pup])) for pup in range(9)])
    nursery = log.nursery()
    gains = [gain for pup in nursery.living if (gain := growth(nursery, pup)) is not None]
    values = litter_values(gains, [])
    grams = first * then - first
    assert values["mean_gain_g"] == pytest.approx(float(np.mean(grams)))
    assert values["mean_gain_percent"] == pytest.approx(float(np.mean((then - 1) * 100)))
    assert (values["min_gain_g"], values["max_gain_g"]) == pytest.approx((float(grams.min()), float(grams.max())))


def test_the_usual_course_is_the_product_of_its_days() -> None:
    """5 to 10 % a day in week 1, 3.5 to 6 % in weeks 2 to 4 (Small Animal Clinical Nutrition p. 292)."""
    days = np.array([0.05] * 7 + [0.035] * 21), np.array([0.10] * 7 + [0.06] * 21)
    low, high = (np.cumprod(np.concatenate(([1.0], 1 + each))) for each in days)
    course = np.array(expected_course())
    np.testing.assert_allclose(course[:, 1], low)
    np.testing.assert_allclose(course[:, 2], high)


# The dam


def test_the_dams_energy_is_numpys_for_every_weight_and_week() -> None:
    """145 W^0.75 + W (24 n + 12 m) L (Small Animal Clinical Nutrition table 15-7, NRC); water 1 ml per kcal (p. 279)."""
    kg = np.linspace(2, 60, 59)
    for day, share in zip(range(28), np.repeat([0.75, 0.95, 1.1, 1.2], 7), strict=True):
        for pups in range(1, 13):
            counted = min(pups, 8)
            expected = 145 * kg**0.75 + kg * (24 * min(counted, 4) + 12 * max(counted - 4, 0)) * share
            found = [need for weight in kg if (need := needs(float(weight) * 1000, pups, day)) is not None]
            np.testing.assert_allclose([need.kcal_per_day for need in found], expected)
            np.testing.assert_allclose([need.water_ml_per_day for need in found], expected)
