"""Sensors: which readings are written down, and when one is missed. The steps are derived (figures/sensor.toml), no source."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from bot.care.sensors import Heard, Sensed, known_place, next_silence, silent, worth_keeping

NOW = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


def kept(before: Sensed, new: Sensed, *, minutes: float = 5, day: int = 0) -> bool:
    return worth_keeping(before, NOW - timedelta(minutes=minutes), new, NOW, day=day, place="box")


def test_the_first_reading_is_written_down() -> None:
    assert worth_keeping(None, None, Sensed(30.0, 55), NOW, day=0, place="box")


@pytest.mark.parametrize(
    ("celsius", "humidity", "written"), [(30.2, 55, False), (30.3, 55, True), (29.7, 55, True), (30, 57, False), (30, 58, True)]
)
def test_what_changes_by_more_than_the_sensors_own_play_is_written_down(celsius: float, humidity: float, written: bool) -> None:
    assert kept(Sensed(30.0, 55), Sensed(celsius, humidity)) is written


def test_a_box_that_leaves_its_range_is_written_down_at_once() -> None:
    """Day 0: 29 to 32 C with one degree of play (care contract)."""
    assert not kept(Sensed(32.9), Sensed(33.0))
    assert kept(Sensed(32.9), Sensed(33.05))
    assert kept(Sensed(33.05), Sensed(32.95))
    assert not kept(Sensed(33.05), Sensed(33.1))


def test_an_unchanged_box_is_written_down_once_an_hour() -> None:
    assert not kept(Sensed(30.0), Sensed(30.0), minutes=59)
    assert kept(Sensed(30.0), Sensed(30.0), minutes=60)


def test_a_sensor_is_missed_after_half_an_hour_and_once_for_each_silence() -> None:
    sensor = Heard("box", NOW)
    told: set[str] = set()
    late = NOW + timedelta(minutes=30)
    assert next_silence([sensor], told) == late
    assert not list(silent([sensor], told, late - timedelta(seconds=1), to="Ines"))
    (warning,) = silent([sensor], told, late, to="Ines")
    assert (warning.about, warning.urgency, warning.to) == ("sensor silent", "soon", "Ines")
    assert "30 min" in warning.text
    told.update(warning.causes)
    assert not list(silent([sensor], told, late + timedelta(hours=5), to=None))
    assert next_silence([sensor], told) is None
    again = Heard("box", late + timedelta(hours=5))
    assert next_silence([again], told) == late + timedelta(hours=5, minutes=30)


def test_a_place_that_is_none_is_refused_with_a_sentence() -> None:
    assert known_place(" Box ") == "box"
    with pytest.raises(ValueError, match="not in 'kennel'"):
        known_place("kennel")
