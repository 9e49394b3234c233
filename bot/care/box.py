"""The box: a reading that is out of range for the litter's age."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from functools import partial

from bot.care.climate import box_range, litter_day
from bot.care.concern import SAID_AGAIN_AFTER, Concern, Words
from bot.care.doing import Doing
from bot.care.figures import figures
from bot.care.notice import Urgency
from bot.care.nursery import Nursery
from parsers.events import Units
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
    """The readings of the box that were out of range, each until the next one."""
    readings = nursery.box
    for place, done in enumerate(readings):
        found = _judge(nursery, done)
        if found is None:
            continue
        about, urgency, low_c, high_c = found
        until = min([done.began + _STANDS, *(other.began for other in readings if other.began > done.began)])
        near = (other for other in readings[:place] if abs(other.began - done.began) <= SAID_AGAIN_AFTER)
        yield Concern(
            about=about,
            who=(),
            urgency=urgency,
            seen_at=done.began,
            at=max(done.told_at, done.began),
            until=until,
            cause=_cause(about, done),
            near=tuple(_cause(about, other) for other in near),
            words=partial(_words, about, _celsius(done), low_c, high_c, nursery.units),
        )


def _words(about: str, celsius: float, low_c: float, high_c: float, units: Units) -> Words:
    seen = f"{units.celsius(celsius)}, for their age it is {units.celsius(low_c)} to {units.celsius(high_c)}"
    return Words(_ACTS[about], seen, "Read", _WHY, "ucd", {"celsius": celsius, "box_low_c": low_c, "box_high_c": high_c})


def _judge(nursery: Nursery, done: Doing) -> tuple[str, Urgency, float, float] | None:
    right = box_range(litter_day(nursery, done.began))
    celsius = _celsius(done)
    if celsius > _DANGEROUS:
        return "box too hot", "emergency", right.low_c, right.high_c
    off = right.off_by(celsius)
    if abs(off) <= _MARGIN:
        return None
    return "box too cold" if off < 0 else "box too hot", "soon", right.low_c, right.high_c


def _celsius(done: Doing) -> float:
    assert isinstance(done.event, Climate)
    assert done.event.celsius is not None
    return done.event.celsius


def _cause(about: str, done: Doing) -> str:
    return f"{about}/{done.told_at.isoformat(timespec='seconds')}"
