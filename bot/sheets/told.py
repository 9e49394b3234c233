"""What was told in the span of a sheet, in the order in which it happened, and how it is said on paper."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bot.care.dog import Dog
from bot.care.doing import Doing, doing
from bot.care.nursery import Entry, Nursery
from bot.sheets.sheet import Block, Table
from parsers.events import Event, Who

MOST_ROWS = 200
"""Rows of one list: four pages. Of a longer one the latest are printed, and that is said."""


@dataclass(frozen=True)
class Told:
    """The litter, and the doings of a span of time (UTC)."""

    nursery: Nursery
    start: datetime
    end: datetime
    doings: tuple[Doing, ...]

    @classmethod
    def between(cls, nursery: Nursery, entries: Iterable[Entry], start: datetime, end: datetime) -> Told:
        """What began between two moments."""
        placed = (doing(entry.event, entry.told_at, entry.by) for entry in entries if isinstance(entry.event, Event))
        return cls(nursery, start, end, tuple(sorted((done for done in placed if start <= done.began <= end), key=lambda done: done.began)))

    def of(self, *kinds: str, who: Iterable[Who] | None = None) -> list[Doing]:
        """Those of some kinds, of some dogs where any are named."""
        whose = None if who is None else set(who)
        return [done for done in self.doings if done.event.kind in kinds and (whose is None or getattr(done.event, "who", None) in whose)]

    def day(self, moment: datetime) -> date:
        """The day of a moment on the litter's own wall."""
        return moment.astimezone(self.nursery.zone).date()

    def stamp(self, moment: datetime) -> str:
        """A moment on paper, which is read later: `2 Mar, 3:14 am`; the year stands at the head of the page."""
        wall = moment.astimezone(self.nursery.zone)
        return f"{say_day(wall.date())}, {wall.hour % 12 or 12}:{wall.minute:02} {'am' if wall.hour < 12 else 'pm'}"

    def by_day(self, title: str, words: str, dogs: Sequence[Dog], cell: Callable[[Dog, Sequence[Doing]], str], *kinds: str) -> Block | None:
        """A table with a row a day and a column a dog; a day on which nothing is to be said has none."""
        of_day: dict[date, dict[Who, list[Doing]]] = {}
        for done in self.of(*kinds, who=[dog.who for dog in dogs]):
            of_day.setdefault(self.day(done.began), {}).setdefault(getattr(done.event, "who", "dam"), []).append(done)
        rows = []
        for day in sorted(of_day):
            cells = [cell(dog, of_day[day].get(dog.who, ())) for dog in dogs]
            if any(cells):
                rows.append((say_day(day), *cells))
        if not rows:
            return None
        header = ("Day", *(dog.labelled for dog in dogs))
        return Block(title=title, words=words, table=Table(header=header, rows=tuple(rows), wide=(1.1, *(1.0 for _ in dogs))))

    def listed(self, title: str, what: str, doings: Sequence[Doing], say: Callable[[Doing], str]) -> Block | None:
        """A list with when, who, what, and who told it; None where there is nothing to list."""
        if not doings:
            return None
        header = ("When", "Who", what, "Told by")
        rows = tuple([(self.stamp(done.began), self._whose(done), say(done), done.by) for done in doings[-MOST_ROWS:]])
        left_out = "" if len(doings) <= MOST_ROWS else f"The latest {MOST_ROWS} of {len(doings)}; all of them are in the exported table."
        return Block(title=title, words=left_out, table=Table(header=header, rows=rows, wide=(1.5, 1.1, 3.2, 0.9)))

    def _whose(self, done: Doing) -> str:
        dog = self.nursery.dog(getattr(done.event, "who", None) or 0)
        return "" if dog is None else dog.labelled


def say_day(day: date) -> str:
    """`2 Mar`."""
    return f"{day.day} {day:%b}"


def say_age(born: datetime, moment: datetime) -> str:
    """`3 days`, `5 weeks 2 days`."""
    days = max(0, (moment - born) // timedelta(days=1))
    weeks, rest = divmod(days, 7)
    said = [f"{weeks} week{'' if weeks == 1 else 's'}"] if weeks else []
    if rest or not weeks:
        said.append(f"{rest} day{'' if rest == 1 else 's'}")
    return " ".join(said)
