"""Words at the ends of curves: none covers another, and each stays as near to its curve as it can."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from bot.charts.spread import spread

heights = st.lists(st.floats(0, 200), min_size=1, max_size=12)


def test_words_that_are_far_enough_apart_stay_where_they_are() -> None:
    assert spread([10, 50, 30], 12, 0, 200) == [10, 50, 30]


def test_two_that_touch_are_moved_apart_by_the_same_amount() -> None:
    assert spread([50, 54], 12, 0, 200) == [46, 58]


def test_a_block_at_the_edge_is_kept_inside() -> None:
    assert spread([1, 2, 3], 12, 0, 200) == [0, 12, 24]
    assert spread([199, 200], 12, 0, 200) == [188, 200]


@given(heights)
def test_none_covers_another_and_their_order_stays(wanted: list[float]) -> None:
    placed = spread(wanted, 15, 0, 200)
    order = sorted(range(len(wanted)), key=lambda index: wanted[index])
    apart = [placed[after] - placed[before] for before, after in pairwise(order)]
    assert all(gap >= 15 - 1e-6 for gap in apart)
    assert min(placed) >= 0
    assert max(placed) <= 200 + 1e-6


@given(heights)
def test_no_word_is_moved_further_than_all_the_others_need(wanted: list[float]) -> None:
    placed = spread(wanted, 15, 0, 200)
    assert all(abs(place - want) <= 15 * (len(wanted) - 1) + 1e-6 for place, want in zip(placed, wanted, strict=True))
