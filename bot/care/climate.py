"""The climate is the air where the pups lie: what the box should be at their age, and what was last read."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from bot.care.doing import Doing
from bot.care.figures import figures
from bot.care.nursery import Nursery
from parsers.events.climate import Climate

_FIGURES = figures("climate")


@dataclass(frozen=True, slots=True)
class Range:
    """What the box should be, in Celsius, both ends counted."""

    low_c: float
    high_c: float

    def off_by(self, celsius: float) -> float:
        """How far outside a reading is: below 0 too cold, above 0 too hot, 0 within."""
        return min(celsius - self.low_c, 0.0) + max(celsius - self.high_c, 0.0)


def box_range(day: int) -> Range:
    """What the box should be on a day of the pups' lives (day 0 for a box that waits for them)."""
    low, high = _FIGURES.on_day("box_low", day), _FIGURES.on_day("box_high", day)
    assert low is not None
    assert high is not None
    return Range(low, high)


def litter_day(nursery: Nursery, now: datetime) -> int:
    """The day of the litter's life that the box is for; 0 before the birth, and where it was not told: the warmest is the safest guess."""
    return 0 if nursery.born is None else max(0, (now - nursery.born).days)


def last_reading(nursery: Nursery, place: str) -> tuple[Climate, Doing] | None:
    """The last reading of the box, the incubator or the room."""
    done = nursery.around.get(f"climate {place}")
    return (done.event, done) if done is not None and isinstance(done.event, Climate) else None
