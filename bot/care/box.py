"""The box: a reading that is out of range for the litter's age. Of an incubator, which each keeper sets, only what is dangerous."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta
from functools import partial

from bot.care.climate import box_range, litter_day
from bot.care.concern import SAID_AGAIN_AFTER, Concern, Words
from bot.care.doing import Doing
from bot.care.figures import figures
from bot.care.notice import Urgency
from bot.care.nursery import Nursery
from bot.care.wording import say_range, say_reading
from parsers.events.climate import Climate

_FIGURES = figures("climate")
_MARGIN, _DANGEROUS = _FIGURES.number("box_margin"), _FIGURES.number("box_dangerous_above")
_STANDS = timedelta(hours=_FIGURES.number("box_reading_stands"))

_ACTS = {
    "box too cold": "warm it slowly, feel whether the pups are warm and lie in a pile",
    "box too hot": "cool it, leave the pups a cool side to move to, feel whether they are hot or spread out",
}
_WHY = "The pups' own behavior overrides the number"


def concerns_of(nursery: Nursery) -> Iterator[Concern]:
    """The readings that were out of range while pups lay there, each until the next one of the same place."""
    places: dict[str, list[Doing]] = {}
    for done in nursery.box if nursery.living else ():
        places.setdefault(_reading(done).place, []).append(done)
    for place, readings in places.items():
        yield from _of_place(nursery, place, readings)


def _of_place(nursery: Nursery, place: str, readings: Sequence[Doing]) -> Iterator[Concern]:
    for number, done in enumerate(readings):
        found = _judge(nursery, done)
        if found is None:
            continue
        about, urgency, low_c, high_c = found
        until = min([done.began + _STANDS, *(other.began for other in readings if other.began > done.began)])
        near = (other for other in readings[:number] if abs(other.began - done.began) <= SAID_AGAIN_AFTER)
        yield Concern(
            about=about,
            who=(),
            urgency=urgency,
            seen_at=done.began,
            at=max(done.told_at, done.began),
            until=until,
            kind=place,
            cause=_cause(about, done),
            near=tuple(_cause(about, other) for other in near),
            words=partial(_words, about, place, _celsius(done), low_c, high_c, nursery.temperatures_in),
        )


def _words(about: str, place: str, celsius: float, low_c: float, high_c: float, unit: str) -> Words:
    seen = f"{say_reading(celsius, unit)}, for their age it is {say_range(low_c, high_c, unit)}"
    values = {"celsius": celsius, "box_low_c": low_c, "box_high_c": high_c}
    return Words(_ACTS[about], seen, "Read", _WHY, "ucd", values, subject=f"The {place}")


def _judge(nursery: Nursery, done: Doing) -> tuple[str, Urgency, float, float] | None:
    right = box_range(litter_day(nursery, done.began))
    celsius = _celsius(done)
    if celsius > _DANGEROUS:
        return "box too hot", "emergency", right.low_c, right.high_c
    off = right.off_by(celsius)
    if abs(off) <= _MARGIN or _reading(done).place != "box":
        return None
    return "box too cold" if off < 0 else "box too hot", "soon", right.low_c, right.high_c


def _reading(done: Doing) -> Climate:
    assert isinstance(done.event, Climate)
    return done.event


def _celsius(done: Doing) -> float:
    celsius = _reading(done).celsius
    assert celsius is not None
    return celsius


def _cause(about: str, done: Doing) -> str:
    return f"{about}/{_reading(done).place}/{done.told_at.isoformat(timespec='seconds')}"
