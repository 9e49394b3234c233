"""The German Shepherd litter that was published day by day: what we work out against what its table says."""

from __future__ import annotations

import pytest

from bot.care.growth import Growth, growth, litter_values
from bot.care.nursery import Nursery
from parsers.measures import GRAMS_PER_OUNCE, tidy
from tests.care.shepherds import NAMES, ZONE, on_day, shepherds, table
from tests.care.written_log import Log

LOG = shepherds()
NURSERY = LOG.nursery()
DAYS = list(table())

FACTS = {  # published beside the table: lowest change from day 1 (day), change from day 1 to day 3, first day at twice and at three times
    "pink": (-11.8, 4, -5.9, 19, 27),
    "emerald": (-5.9, 3, -5.9, 21, 29),
    "orange": (-5.3, 2, -5.3, 16, 24),
    "purple": (-6.2, 4, 0.0, 16, 25),
    "yellow": (-5.9, 2, -5.9, 17, 24),
    "blue": (-5.9, 2, -5.9, 14, 24),
}


def of(name: str, day: int, nursery: Nursery = NURSERY) -> Growth:
    pup = nursery.pups[NAMES.index(name) + 1]
    found = growth(nursery, pup, until=LOG.moment(on_day(day)))
    assert found is not None
    return found


@pytest.mark.parametrize("name", NAMES)
def test_the_day_on_which_a_pup_had_doubled_is_the_published_one(name: str) -> None:
    doubled_at, day = of(name, 55).doubled_at, FACTS[name][3]
    assert doubled_at is not None
    day_before = DAYS[DAYS.index(day) - 1]
    assert LOG.moment(on_day(day_before)) < doubled_at <= LOG.moment(on_day(day))
    assert of(name, day_before).doubled_at is None


@pytest.mark.parametrize("name", NAMES)
def test_the_day_on_which_a_pup_had_tripled_is_the_published_one(name: str) -> None:
    pup, day = NURSERY.pups[NAMES.index(name) + 1], FACTS[name][4]
    first = pup.weighings.first()
    assert first is not None
    tripled_at = pup.weighings.first_at_or_above(3 * first.grams)
    assert tripled_at is not None
    assert LOG.moment(on_day(DAYS[DAYS.index(day) - 1])) < tripled_at <= LOG.moment(on_day(day))


@pytest.mark.parametrize("name", NAMES)
def test_the_loss_from_the_first_weight_is_the_published_one(name: str) -> None:
    lowest, lowest_day, by_day_3, *_ = FACTS[name]
    assert of(name, lowest_day).since_birth_percent == pytest.approx(lowest, abs=0.06)
    assert of(name, 3).since_birth_percent == pytest.approx(by_day_3, abs=0.06)
    assert min(of(name, day).since_birth_percent or 0 for day in DAYS) == pytest.approx(lowest, abs=0.06)


@pytest.mark.parametrize(("day", "day_before"), [(39, 38), (50, 49)])
def test_five_of_six_pups_lose_on_the_days_on_which_the_scale_was_at_fault(day: int, day_before: int) -> None:
    gains = [of(name, day) for name in NAMES]
    assert {gain.reference.at for gain in gains if gain.reference is not None} == {LOG.moment(on_day(day_before))}
    assert sum(gain.gain_g is not None and gain.gain_g < 0 for gain in gains) == 5


def test_the_mean_gain_of_a_day_is_the_difference_of_the_published_means() -> None:
    rows = table()
    for day in range(2, 30):
        values = litter_values([of(name, day) for name in NAMES], [])
        published = (rows[day]["mean_g"] or 0) - (rows[day - 1]["mean_g"] or 0)
        assert values["mean_gain_g"] == pytest.approx(published, abs=1.01)  # both means were rounded to the gram


def test_a_scale_that_reads_whole_ounces_is_known_by_its_weights() -> None:
    assert {pup.weighings.step() for pup in NURSERY.living} == {GRAMS_PER_OUNCE}


def test_one_step_of_that_scale_is_called_neither_a_gain_nor_a_loss() -> None:
    assert of("pink", 2).gain_g == pytest.approx(-GRAMS_PER_OUNCE, abs=0.01)
    assert of("pink", 2).look == "unclear"
    assert of("blue", 4).look == ""  # two ounces up
    assert of("pink", 3).since_birth_percent == pytest.approx(-5.9, abs=0.06)
    assert of("emerald", 2).look == "unclear"
    assert of("pink", 4).look == "below birth weight"  # two ounces below, on day 4


def test_two_days_without_a_step_are_no_gain_on_that_scale() -> None:
    assert [of("yellow", day).look for day in (2, 3, 4, 5, 6)] == ["unclear", "no gain", "no gain", "no gain", "no gain"]


def test_a_log_in_another_order_gives_the_same_growth() -> None:
    shuffled = Log(ZONE, sorted(LOG.entries, key=lambda entry: (entry.id * 7919) % 101 if entry.id > 2 else -1))
    again = shuffled.nursery()
    for name in NAMES:
        assert of(name, 55, again).values(ZONE) == of(name, 55).values(ZONE)


def test_the_table_holds_what_it_should() -> None:
    assert len(DAYS) == 45
    for row in table().values():
        grams = [tidy(ounces * GRAMS_PER_OUNCE) for name in NAMES if (ounces := row[name]) is not None]
        assert sum(grams) / len(grams) == pytest.approx(row["mean_g"], abs=0.6)
