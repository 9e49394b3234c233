"""A litter's standing log in memory, with the nursery folded from it; a correction folds again only from just before it."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from zoneinfo import ZoneInfo

from pydantic import BaseModel

from bot.care.choice import Choice
from bot.care.nursery import Nursery
from storage import Entry

STRIDE = 500
"""How many entries lie between two remembered nurseries: a correction of a late entry folds about as many again (under 10 ms)."""


class Log:
    """The standing entries in the order told, and the nursery after all of them."""

    def __init__(self, entries: Iterable[Entry[BaseModel]], zone: ZoneInfo) -> None:
        self.entries: list[Entry[BaseModel]] = list(entries)
        self.choices: list[Choice] = []
        """What was chosen in chat, in the order told."""
        self.holds_events = False
        """True once anything that is no choice and no mere note was ever logged."""
        self._notice(self.entries)
        self._marks: list[tuple[int, Nursery]] = [(0, Nursery.fold((), zone))]
        """Nurseries on the way: after so many entries. They share what did not change, so each is small."""
        self.nursery = self._fold()

    def with_new(self, new: Sequence[Entry[BaseModel]], gone: Iterable[int] = ()) -> Nursery:
        """The nursery as it would be with these new entries, and without those that are replaced or taken back; changes nothing."""
        lost = set(gone)
        if not lost:
            return self.nursery.after(new)
        first = self._first(lost)
        count, nursery = next(mark for mark in reversed(self._marks) if mark[0] <= first)
        kept = [entry for entry in self.entries[count:] if entry.id not in lost]
        return nursery.after([*kept, *new])

    def entries_with(self, new: Sequence[Entry[BaseModel]], gone: Iterable[int] = ()) -> Sequence[Entry[BaseModel]]:
        """The entries as they would be; the very list of them where nothing is new."""
        lost = set(gone)
        if not lost:
            return [*self.entries, *new] if new else self.entries
        return [*(entry for entry in self.entries if entry.id not in lost), *new]

    def then(self, message: int, gone_since: Sequence[Entry[BaseModel]]) -> tuple[Sequence[Entry[BaseModel]], Nursery]:
        """The standing entries and the nursery as they were after that message; `gone_since` stood then and were replaced later."""
        count = bisect_right(self.entries, message, key=lambda entry: entry.message)
        first = min([count, *(bisect_left(self.entries, gone.id, key=lambda entry: entry.id) for gone in gone_since)])
        start, nursery = next(mark for mark in reversed(self._marks) if mark[0] <= first)
        entries = sorted([*self.entries[:count], *gone_since], key=lambda entry: entry.id)
        return entries, nursery.after(entries[start:])

    def take(self, new: Sequence[Entry[BaseModel]], gone: Iterable[int] = (), nursery: Nursery | None = None) -> None:
        """Keep new entries, drop those replaced; `nursery` is what `with_new` gave for the same entries, where that is known."""
        lost = set(gone)
        self._notice(new)
        if lost:
            first = self._first(lost)
            self.entries[first:] = [entry for entry in self.entries[first:] if entry.id not in lost]
            self._marks = [mark for mark in self._marks if mark[0] <= first]
            self.entries += new
            self.nursery = self._fold()
            return
        self.entries += new
        self.nursery = nursery or self.nursery.after(new)
        if len(self.entries) - self._marks[-1][0] >= STRIDE:
            self._marks.append((len(self.entries), self.nursery))

    def _notice(self, new: Iterable[Entry[BaseModel]]) -> None:
        for entry in new:
            if isinstance(entry.event, Choice):
                self.choices.append(entry.event)
            elif not self.holds_events:
                self.holds_events = getattr(entry.event, "kind", "") != "note"

    def _first(self, lost: set[int]) -> int:
        """The place of the first entry that goes; they are nearly always among the last."""
        place, left = len(self.entries), len(lost)
        while place and left:
            place -= 1
            left -= self.entries[place].id in lost
        return place

    def _fold(self) -> Nursery:
        """The nursery after all entries, from the last mark on, with a mark at each stride."""
        while len(self.entries) - self._marks[-1][0] >= STRIDE:
            count, nursery = self._marks[-1]
            self._marks.append((count + STRIDE, nursery.after(self.entries[count : count + STRIDE])))
        count, nursery = self._marks[-1]
        return nursery.after(self.entries[count:])
