"""A sensor tells how warm and how moist it is where the pups lie: of its readings what changes is kept, and its silence is noticed."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from bot.care.climate import box_range
from bot.care.figures import figures
from bot.care.notice import EVERYONE, Notice
from bot.care.wording import say_span

Place = Literal["box", "incubator", "room"]
PLACES: tuple[Place, ...] = ("box", "incubator", "room")

_FIGURES = figures("sensor")
_CHANGE = _FIGURES.number("kept_from_a_change_of")
_CHANGE_OF_HUMIDITY = _FIGURES.number("kept_from_a_change_of_humidity")
_AT_LEAST_EVERY = timedelta(minutes=_FIGURES.number("kept_at_least_every"))
_MISSED_AFTER = timedelta(minutes=_FIGURES.number("missed_after"))
COLDEST, HOTTEST = _FIGURES.number("coldest"), _FIGURES.number("hottest")
"""Between these (C) a reading is believed."""
_MARGIN = figures("climate").number("box_margin")
_ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Sensed:
    """One reading of a sensor: Celsius and percent; what it does not measure is None."""

    celsius: float | None = None
    humidity: float | None = None


@dataclass(frozen=True, slots=True)
class Heard:
    """A sensor that was heard from: where it is, and when last (UTC)."""

    place: Place
    at: datetime


def known_place(word: str) -> Place:
    """The place of that name. Raises ValueError with a sentence for anything else."""
    found = next((place for place in PLACES if place == word.strip().casefold()), None)
    if found is None:
        raise ValueError(f"A sensor is in the box, the incubator or the room, not in {word.strip()!r}.")
    return found


def worth_keeping(kept: Sensed | None, kept_at: datetime | None, new: Sensed, now: datetime, *, day: int, place: Place) -> bool:
    """Whether a reading is to be written down, after the one that was kept last.

    It is where it changed by more than the sensor's own play, where the box came out of its range (or back into it) on that day of
    the pups' lives, or where nothing was written for an hour.
    """
    if kept is None or kept_at is None or now - kept_at >= _AT_LEAST_EVERY:
        return True
    if _changed(kept.celsius, new.celsius, _CHANGE) or _changed(kept.humidity, new.humidity, _CHANGE_OF_HUMIDITY):
        return True
    return place == "box" and _outside(kept, day) != _outside(new, day)


def silent(heard: Sequence[Heard], told: Collection[str], now: datetime, *, to: str | None) -> Iterator[Notice]:
    """A warning for each sensor that has not been heard for half an hour, once for each silence, until it speaks again."""
    for sensor in heard:
        at, cause = _missed_at(sensor), _cause(sensor)
        if at <= now and cause not in told:
            yield Notice(
                says="warning",
                about="sensor silent",
                who=(),
                at=at,
                urgency="soon",
                text=f"The sensor {_where(sensor.place)} has said nothing for {say_span((now - sensor.at).total_seconds() / 60)}: "
                "feel how warm it is there, then look at the sensor's plug, battery and network.",
                to=to or EVERYONE,
                causes=(cause,),
                values={"minutes_silent": (now - sensor.at).total_seconds() / 60},
            )


def next_silence(heard: Sequence[Heard], told: Collection[str]) -> datetime | None:
    """When a sensor would be missed, if it said nothing more; None: none that was not told of already."""
    return min((_missed_at(sensor) for sensor in heard if _cause(sensor) not in told), default=None)


def _missed_at(sensor: Heard) -> datetime:
    return sensor.at + _MISSED_AFTER


def _cause(sensor: Heard) -> str:
    return f"sensor silent/{sensor.place}/{sensor.at.isoformat(timespec='seconds')}"


def _where(place: Place) -> str:
    return {"box": "at the box", "incubator": "in the incubator", "room": "in the room"}[place]


def _changed(before: float | None, after: float | None, by: float) -> bool:
    if before is None or after is None:
        return before is not after
    return abs(after - before) >= by - _ROUNDING


def _outside(sensed: Sensed, day: int) -> int:
    """-1 too cold, 1 too hot, 0 within what the box may be (or not measured)."""
    if sensed.celsius is None:
        return 0
    off = box_range(day).off_by(sensed.celsius)
    return 0 if abs(off) <= _MARGIN + _ROUNDING else 1 if off > 0 else -1
