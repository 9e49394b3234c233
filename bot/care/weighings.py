"""The weighings of one dog: a series that knows the step of its scale, and when a weight was reached."""

from __future__ import annotations

from datetime import datetime
from operator import attrgetter
from typing import NamedTuple

from bot.care.figures import figures
from bot.care.series import Series
from parsers.measures import GRAMS_PER_OUNCE

_GROWTH = figures("growth")
_FIVE = _GROWTH.number("scale_step_fine")
_TEN = _GROWTH.number("scale_step_coarse")
_OUNCE_WITHIN = _GROWTH.number("whole_ounce_within")


class Weighing(NamedTuple):
    """One weight: when (UTC), and grams."""

    at: datetime
    grams: float


_at = attrgetter("at")


class Weighings(Series[Weighing]):
    """Weights in the order of their times."""

    __slots__ = ("_crossed", "_steps")

    def __init__(self) -> None:
        super().__init__(_at)
        self._steps = (True, True, True)
        """Whether every weight so far is a whole ounce, a multiple of five grams, of ten."""
        self._crossed: tuple[float, int, datetime | None] = (0.0, 0, None)
        """The last search of `first_at_or_above`: grams, how far it looked, what it found."""

    def plus(self, weighing: Weighing) -> Weighings:
        """These weighings and one more."""
        new = super().plus(weighing)
        ounces, fives, tens = self._steps
        grams = weighing.grams
        new._steps = (
            ounces and abs(grams - round(grams / GRAMS_PER_OUNCE) * GRAMS_PER_OUNCE) <= _OUNCE_WITHIN,
            fives and grams % _FIVE == 0,
            tens and grams % _TEN == 0,
        )
        new._crossed = self._crossed if self.ends_before(weighing) else (0.0, 0, None)
        return new

    def first_at_or_above(self, grams: float) -> datetime | None:
        """When the weight first came to so many grams, by a straight line between weighings; None: not yet."""
        sought, looked, found = self._crossed
        if sought != grams:
            looked, found = 0, None
        while found is None and looked < self._count:
            here = self._all[looked]
            if here.grams >= grams:
                found = here.at if looked == 0 else _on_the_line(self._all[looked - 1], here, grams)
            looked += 1
        self._crossed = (grams, looked, found)
        return found

    def step(self) -> float | None:
        """The step of the scale in grams, where every weight is a whole ounce, or a multiple of 5 or 10 g; None: a fine scale."""
        ounces, fives, tens = self._steps
        if not self._count:
            return None
        return GRAMS_PER_OUNCE if ounces else _TEN if tens else _FIVE if fives else None


def _on_the_line(below: Weighing, above: Weighing, grams: float) -> datetime:
    return below.at + (above.at - below.at) * ((grams - below.grams) / (above.grams - below.grams))
