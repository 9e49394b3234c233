"""The first eight weeks: on which days things come, by the litter's own calendar."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from bot.care.figures import figures
from bot.care.milestones import asked_about, calendar, milestones

BORN = datetime(2026, 3, 1, 9, 40, tzinfo=ZoneInfo("America/Chicago"))
DAYS = [  # the ages as published, and the days of life that stand for them
    ("eyes", [(10, 16)]),  # 10-14 clinics, 10-16 a club's table, about 13 SACN5 p. 291
    ("ears", [(14, 18)]),  # 14-18 animal page (tier C)
    ("shiver", [(6, 8)]),  # 6-8 days, a club's table
    ("teeth", [(14, 20)]),  # in the third week, SACN5 p. 291
    ("toilet", [(16, 21)]),  # until the third week, SACN5 p. 291; 2-3 weeks, Root Kustritz
    ("gruel", [(21, 28)]),  # 3-4 weeks, SACN5 p. 299
    ("weaned", [(42, 49)]),  # 6-7 weeks, SACN5 p. 299
    ("deworm", [(14, 14), (28, 28), (42, 42), (56, 56)]),  # 2, 4, 6 and 8 weeks, CAPC
    ("vaccine", [(42, 56)]),  # 6-8 weeks, WSAVA 2024
    ("chip", [(42, 56)]),  # by 8 weeks in the UK (Vet Times), 6-8 usual
    ("nails", [(day, day) for day in range(14, 57, 7)]),  # weekly from 2-3 weeks, Home Veterinary Handbook p. 485
    ("glands", [(6, 10)]),  # mastitis commonest on days 6-10
    ("incision", [(0, 9)]),  # daily for ten days, a clinic's sheet
    ("never_alone", [(0, 1)]),  # 24-36 h, UC Davis
    ("warmth", [(28, 28)]),  # about four weeks, UC Davis
]


@pytest.mark.parametrize(("key", "days"), DAYS)
def test_a_thing_comes_on_the_days_that_its_source_says(key: str, days: list[tuple[int, int]]) -> None:
    (one,) = [one for one in milestones() if one.key == key]
    assert list(one.times) == days


def test_the_dates_count_from_the_day_of_birth_on_the_litters_own_calendar() -> None:
    dates = {(one.milestone.key, one.first): one.last for one in calendar(BORN, ZoneInfo("America/Chicago"), None)}
    assert dates["eyes", date(2026, 3, 11)] == date(2026, 3, 17)
    assert ("deworm", date(2026, 4, 26)) in dates


def test_a_birth_shortly_before_midnight_counts_on_its_own_day_where_the_litter_is() -> None:
    late = datetime(2026, 3, 2, 5, 50, tzinfo=UTC)  # 11:50 pm in Chicago; the clocks go forward before the 15th
    chicago, berlin = ({one.milestone.key: one.first for one in calendar(late, ZoneInfo(zone), None)} for zone in (
        "America/Chicago", "Europe/Berlin"))  # fmt: skip
    assert (chicago["eyes"], berlin["eyes"]) == (date(2026, 3, 11), date(2026, 3, 12))


def test_a_natural_birth_has_no_incision() -> None:
    def keys(delivery: str | None) -> set[str]:
        return {one.milestone.key for one in calendar(BORN, ZoneInfo("UTC"), delivery)}

    assert keys("c-section") - keys("natural") == {"incision", "stitches"}
    assert keys(None) == keys("c-section")


def test_the_earliest_comes_first() -> None:
    dates = [one.first for one in calendar(BORN, ZoneInfo("UTC"), None)]
    assert dates == sorted(dates)


@pytest.mark.parametrize(
    ("said", "keys"),
    [
        ("when do i deworm", ["deworm"]),
        ("when do eyes open", ["eyes"]),
        ("when do the stitches come out", ["stitches"]),
        ("when do i start weaning", ["gruel", "weaned"]),
        ("what coming up", []),
        ("when do i bathe them", []),
    ],
)
def test_a_question_names_its_thing_by_its_words(said: str, keys: list[str]) -> None:
    assert [one.key for one in asked_about(said)] == keys


def test_every_figure_of_the_calendar_is_an_items() -> None:
    assert sorted(figures("milestones")) == sorted(name for one in milestones() for name in one.days)
    assert all(one.what and one.note and one.short and one.says for one in milestones())
