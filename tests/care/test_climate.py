"""The air where the pups lie: the range by age, and the last reading of each place."""

from __future__ import annotations

import pytest

from bot.care.climate import box_range, last_reading, litter_day
from tests.care.written_log import Log, event, litter

RANGES = [  # day, low and high in C: UC Davis (28.9-31.7 after a c-section) and the clinics that say 29-32; then a step for each age
    (0, 29, 32),
    (6, 29, 32),
    (7, 27, 29),  # 27-29 C in week 2 (breeders' guide)
    (13, 27, 29),
    (14, 24, 27),  # 26.5 C in weeks 3 and 4 (Root Kustritz), 27 C (clinic), 23.9 C with the dam (clinic)
    (27, 24, 27),
    (28, 21, 24),  # 21-24 C from day 29 (Cecere), 21 C in week 5 (clinic)
    (55, 21, 24),
]


@pytest.mark.parametrize(("day", "low", "high"), RANGES)
def test_the_range_of_the_box_is_the_one_of_the_age(day: int, low: float, high: float) -> None:
    assert (box_range(day).low_c, box_range(day).high_c) == (low, high)


@pytest.mark.parametrize(("celsius", "off"), [(28.5, -0.5), (29, 0), (32, 0), (34, 2)])
def test_a_reading_is_outside_by_so_much(celsius: float, off: float) -> None:
    assert box_range(0).off_by(celsius) == off


def test_the_last_reading_of_each_place_is_known_also_where_another_was_told_later() -> None:
    log = litter().at("2026-03-02 01:00", event("climate", place="box", celsius=30.0))
    log.at("2026-03-02 02:00", event("climate", place="incubator", celsius=32.0, humidity=60))
    log.at("2026-03-02 02:10", event("climate", place="box", celsius=26.0, at="2026-03-02T00:30:00-06:00"))
    nursery = log.nursery()
    box, incubator = last_reading(nursery, "box"), last_reading(nursery, "incubator")
    assert box is not None
    assert incubator is not None
    assert (box[0].celsius, incubator[0].celsius) == (30.0, 32.0)
    assert last_reading(nursery, "room") is None


def test_before_the_birth_the_box_waits_for_newborns() -> None:
    assert litter_day(Log().nursery(), litter().moment("2026-03-02 01:00")) == 0
    assert litter_day(litter().nursery(), litter().moment("2026-03-09 01:00")) == 7
