"""The weighings of one dog, in the order of their times: a value that grows without being copied."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from datetime import datetime
from operator import attrgetter
from typing import NamedTuple

from bot.care.figures import figures
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


class Weighings:
    """Weights in the order of their times; of two at one time, the one told later is the later.

    `plus` gives a new value and leaves the old one as it was. Both share one list, of which each knows how much is its own:
    so a weight costs the same after ten as after ten thousand, unless it belongs before one that is there already.
    """

    __slots__ = ("_all", "_count", "_crossed", "_steps")

    def __init__(self) -> None:
        self._all: list[Weighing] = []
        self._count = 0
        self._steps = (True, True, True)
        """Whether every weight so far is a whole ounce, a multiple of five grams, of ten."""
        self._crossed: tuple[float, int, datetime | None] = (0.0, 0, None)
        """The last search of `first_at_or_above`: grams, how far it looked, what it found."""

    def plus(self, weighing: Weighing) -> Weighings:
        """These weighings and one more."""
        new = Weighings.__new__(Weighings)
        ounces, fives, tens = self._steps
        grams = weighing.grams
        new._steps = (
            ounces and abs(grams - round(grams / GRAMS_PER_OUNCE) * GRAMS_PER_OUNCE) <= _OUNCE_WITHIN,
            fives and grams % _FIVE == 0,
            tens and grams % _TEN == 0,
        )
        new._count = self._count + 1
        if self._count == 0 or self._all[self._count - 1].at <= weighing.at:
            new._all = self._all if len(self._all) == self._count else self._all[: self._count]
            new._all.append(weighing)
            new._crossed = self._crossed
        else:
            new._all = self._all[: self._count]
            new._all.insert(bisect_right(new._all, weighing.at, key=_at), weighing)
            new._crossed = (0.0, 0, None)
        return new

    def __len__(self) -> int:
        return self._count

    def __iter__(self) -> Iterator[Weighing]:
        return (self._all[place] for place in range(self._count))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Weighings) and list(self) == list(other)

    def __repr__(self) -> str:
        return f"Weighings({list(self)})"

    __hash__ = None  # type: ignore[assignment]

    def first(self) -> Weighing | None:
        """The earliest weighing."""
        return self._all[0] if self._count else None

    def latest(self, until: datetime | None = None) -> Weighing | None:
        """The latest weighing, or the latest at or before a moment."""
        place = self._count if until is None else bisect_right(self._all, until, hi=self._count, key=_at)
        return self._all[place - 1] if place else None

    def from_on(self, moment: datetime) -> Weighing | None:
        """The earliest weighing at or after a moment; of two at one time the one told later."""
        place = bisect_left(self._all, moment, hi=self._count, key=_at)
        return self.latest(self._all[place].at) if place < self._count else None

    def before(self, moment: datetime) -> Weighing | None:
        """The latest weighing earlier than a moment."""
        place = bisect_left(self._all, moment, hi=self._count, key=_at)
        return self._all[place - 1] if place else None

    def between(self, start: datetime, end: datetime) -> list[Weighing]:
        """The weighings from one moment to another, both counted."""
        low = bisect_left(self._all, start, hi=self._count, key=_at)
        return self._all[low : bisect_right(self._all, end, lo=low, hi=self._count, key=_at)]

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
