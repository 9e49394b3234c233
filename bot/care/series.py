"""A series is what was measured of one dog, in the order of its times: a value that grows without being copied."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator
from datetime import datetime
from typing import Generic, Self, TypeVar

T = TypeVar("T")


class Series(Generic[T]):
    """Values in the order of their times; of two at one time, the one told later is the later.

    `plus` gives a new series and leaves the old one as it was. Both share one list, of which each knows how much is its own:
    so one more costs the same after ten as after ten thousand, unless it belongs before one that is there already.
    """

    __slots__ = ("_all", "_at", "_count")

    def __init__(self, at: Callable[[T], datetime]) -> None:
        """Empty; `at` gives the time of a value (UTC)."""
        self._all: list[T] = []
        self._count = 0
        self._at = at

    def plus(self, value: T) -> Self:
        """This series and one more."""
        new = type(self).__new__(type(self))
        new._at, new._count = self._at, self._count + 1
        if self.ends_before(value):
            new._all = self._all if len(self._all) == self._count else self._all[: self._count]
            new._all.append(value)
        else:
            new._all = self._all[: self._count]
            new._all.insert(bisect_right(new._all, self._at(value), key=self._at), value)
        return new

    def ends_before(self, value: T) -> bool:
        """Whether a value would be the latest."""
        return self._count == 0 or self._at(self._all[self._count - 1]) <= self._at(value)

    def __len__(self) -> int:
        return self._count

    def __iter__(self) -> Iterator[T]:
        return (self._all[place] for place in range(self._count))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, type(self)) and list(self) == list(other)

    def __repr__(self) -> str:
        return f"{type(self).__name__}({list(self)})"

    __hash__ = None  # type: ignore[assignment]

    def first(self) -> T | None:
        """The earliest."""
        return self._all[0] if self._count else None

    def latest(self, until: datetime | None = None) -> T | None:
        """The latest, or the latest at or before a moment."""
        place = self._count if until is None else bisect_right(self._all, until, hi=self._count, key=self._at)
        return self._all[place - 1] if place else None

    def from_on(self, moment: datetime) -> T | None:
        """The earliest at or after a moment; of two at one time the one told later."""
        place = bisect_left(self._all, moment, hi=self._count, key=self._at)
        return self.latest(self._at(self._all[place])) if place < self._count else None

    def before(self, moment: datetime) -> T | None:
        """The latest that is earlier than a moment."""
        place = bisect_left(self._all, moment, hi=self._count, key=self._at)
        return self._all[place - 1] if place else None

    def between(self, start: datetime, end: datetime) -> list[T]:
        """Those from one moment to another, both counted."""
        low = bisect_left(self._all, start, hi=self._count, key=self._at)
        return self._all[low : bisect_right(self._all, end, lo=low, hi=self._count, key=self._at)]
