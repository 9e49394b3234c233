"""What the dam needs, against the published table of the lactation formula."""

from __future__ import annotations

import pytest

from bot.care.dam import needs

TABLE = [  # kg, pups, kcal a day in weeks 1 to 4 (the formula of SACN5 table 15-7 and NRC, worked out and published beside it)
    (3, 2, [438.5, 467.3, 488.9, 503.3]),
    (5, 3, [754.8, 826.8, 880.8, 916.8]),
    (10, 4, [1535.4, 1727.4, 1871.4, 1967.4]),
    (11, 5, [1766.8, 2004.4, 2182.6, 2301.4]),
    (12, 6, [2014.9, 2302.9, 2518.9, 2662.9]),
    (22, 8, [3848.9, 4482.5, 4957.7, 5274.5]),
]


@pytest.mark.parametrize(("kg", "pups", "kcal"), TABLE)
def test_the_energy_of_a_nursing_dam_is_the_published_one(kg: float, pups: int, kcal: list[float]) -> None:
    found = [needs(kg * 1000, pups, day) for day in (3, 7, 20, 27)]
    assert [need.kcal_per_day for need in found if need] == pytest.approx(kcal, abs=0.06)
    assert [need.water_ml_per_day for need in found if need] == pytest.approx(kcal, abs=0.06)


def test_more_than_eight_pups_count_as_eight() -> None:
    eleven, eight = needs(22000, 11, 3), needs(22000, 8, 3)
    assert eleven is not None
    assert eleven == eight
    assert eleven.pups_counted == 8


def test_after_four_weeks_there_is_no_published_figure() -> None:
    assert needs(12000, 6, 28) is None
