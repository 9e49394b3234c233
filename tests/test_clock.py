"""The machine's clock, and the clock of a story that is told fast."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.clock import StoryClock, now, zone_guess

NIGHT = datetime(2026, 3, 2, 9, 14, tzinfo=UTC)


def test_the_machines_time_knows_its_zone() -> None:
    assert now().utcoffset() == timedelta(0)


def test_the_machines_zone_is_one_that_python_knows() -> None:
    assert ZoneInfo(zone_guess()).key == zone_guess()


def test_a_story_clock_stands_where_it_is_told_and_runs_on_from_there() -> None:
    clock = StoryClock(NIGHT)
    later = clock.tell(NIGHT + timedelta(hours=2))
    assert NIGHT + timedelta(hours=2) == later
    first, second = clock(), clock()
    assert later <= first <= second < later + timedelta(minutes=1)


def test_a_story_clock_never_goes_back() -> None:
    clock = StoryClock(NIGHT)
    clock.tell(NIGHT + timedelta(hours=2))
    assert clock.tell(NIGHT) >= NIGHT + timedelta(hours=2)
