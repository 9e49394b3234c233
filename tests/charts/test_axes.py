"""What stands along the foot of a chart: ages, and hours of the litter's own wall clock, over a clock change too."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from bot.charts.axes import MOST_NUMBERS, MOST_WORDS, age_axis, clock_axis

CHICAGO = ZoneInfo("America/Chicago")


def at(wall: str) -> datetime:
    return datetime.fromisoformat(wall).replace(tzinfo=CHICAGO).astimezone(UTC)


def test_young_ages_are_counted_in_hours() -> None:
    axis = age_axis(0, 1.5, "birth")
    assert axis.label == "hours since birth"
    assert axis.ticks[:3] == ((0.0, "0"), (0.25, "6"), (0.5, "12"))


@pytest.mark.parametrize(("until", "days"), [(4, 1), (14, 2), (29, 7), (55, 7), (120, 28)])
def test_ages_stand_at_days_or_weeks_and_never_too_many(until: int, days: int) -> None:
    axis = age_axis(0, until, "birth")
    assert axis.label == "days since birth"
    assert [position for position, _ in axis.ticks[:2]] == [0, days]
    assert len(axis.ticks) <= MOST_NUMBERS + 1


def test_hours_of_the_night_stand_where_the_wall_clock_shows_them() -> None:
    axis = clock_axis(at("2026-03-01 20:00"), at("2026-03-02 03:14"), CHICAGO)
    assert [words for _, words in axis.ticks] == ["8 pm", "10 pm", "12 am", "2 am"]
    assert axis.ticks[1][0] == pytest.approx(2 / 24)


def test_in_the_night_in_which_the_clocks_go_forward_the_hour_that_is_missing_is_not_there() -> None:
    axis = clock_axis(at("2026-03-07 23:00"), at("2026-03-08 05:00"), CHICAGO)
    assert [words for _, words in axis.ticks] == ["11 pm", "12 am", "1 am", "3 am", "4 am", "5 am"]
    assert axis.ticks[3][0] - axis.ticks[2][0] == pytest.approx(1 / 24)


def test_a_week_stands_by_its_dates() -> None:
    axis = clock_axis(at("2026-03-04 15:00"), at("2026-03-11 15:00"), CHICAGO)
    assert [words for _, words in axis.ticks] == ["5 Mar", "7 Mar", "9 Mar", "11 Mar"]
    assert len(axis.ticks) <= MOST_WORDS
