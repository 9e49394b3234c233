"""Asked is one question with all that an answer may look at: the litter, the log, what was said lately, who asks, and when."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import NamedTuple, Protocol

from bot.care.dog import Dog
from bot.care.nursery import Entry, Nursery
from bot.care.wording import say_list
from parsers.events import Who
from parsers.reading import Question


class Span(NamedTuple):
    """A stretch of time (UTC, both ends counted), and how it is said."""

    start: datetime
    end: datetime
    said: str


class Spoken(Protocol):
    """One thing that the bot said, as the journal keeps it."""

    @property
    def at(self) -> datetime: ...
    @property
    def to(self) -> str | None: ...
    @property
    def says(self) -> str | None: ...
    @property
    def about(self) -> str | None: ...
    @property
    def who(self) -> tuple[Who, ...]: ...
    @property
    def urgency(self) -> str | None: ...
    @property
    def text(self) -> str: ...
    @property
    def values(self) -> Mapping[str, object]: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A question, and what its answer may look at. It holds what is there already and copies nothing, so it costs nothing to make.

    Who keeps the watch is `nursery.on_duty(now)`; a dog's own past is on the dog. Walk `entries` from the end, and only as far back
    as the answer goes: an answer grows with the litter, never with the log.
    """

    nursery: Nursery
    """All that is known, what this very message told included."""
    question: Question
    now: datetime
    by: str
    """Who asks."""
    words: str = ""
    """The message in which it was asked, for what a question says beside its topic (`is 210 ok for 3`)."""
    entries: Sequence[Entry] = ()
    """The standing entries, this message's included, in the order told. A correction stands where it was told, with the `told_at`
    of what it corrects: so `told_at` rises but for entries with `replaces`."""
    told: Collection[str] = field(default=(), repr=False)
    """The causes of all notices that were said."""
    lately: Sequence[Spoken] = field(default=(), repr=False)
    """What the bot said lately to anyone, oldest first: replies, answers, nudges, warnings, with their figures. It goes back some
    hundred messages, also after a restart."""
    people: Sequence[str] = ()
    """Who is of the household."""
    wrote: Sequence[datetime] = ()
    """When the one who asks last wrote, oldest first, without this message; the last dozen times at most."""

    @property
    def span(self) -> Span:
        """The time asked about: today where nothing was said. A day runs from midnight to midnight on the litter's own clock."""
        now = self.now
        midnight = start_of_day(self.nursery, now)
        match self.question.span:
            case "yesterday":
                return Span(start_of_day(self.nursery, now, days_back=1), midnight - timedelta(microseconds=1), "yesterday")
            case "24h":
                return Span(now - timedelta(hours=24), now, "in the last 24 h")
            case "week":
                return Span(start_of_day(self.nursery, now, days_back=6), now, "this week")
            case "all":
                return Span(datetime.min.replace(tzinfo=UTC), now, "so far")
            case _:
                return Span(midnight, now, "today")

    @property
    def named(self) -> tuple[Who, ...]:
        """The dogs that the question names; none for a question about the litter."""
        who = self.question.who
        return () if who is None else who if isinstance(who, tuple) else (who,)

    @property
    def names_one(self) -> bool:
        """Whether the question names exactly one dog: its figures then stand flat."""
        return len(self.named) == 1

    @property
    def pups(self) -> tuple[Dog, ...]:
        """The pups that the question names, the dead ones too; every living one where it names none. None for a question about the dam."""
        if self.question.who is None:
            return self.nursery.living
        return tuple(pup for who in self.named if who != "dam" and (pup := self.nursery.pups.get(who)) is not None)

    @property
    def no_such_pup(self) -> str:
        """What is said where none of the pups asked about is there."""
        if self.question.who is None:
            return "There is no pup in this litter yet."
        return f"There is no {say_list([f'pup {who}' for who in self.named])} in this litter."


def start_of_day(nursery: Nursery, moment: datetime, *, days_back: int = 0) -> datetime:
    """The midnight (UTC) at which the local day of a moment began, or one of the days before it."""
    local = moment.astimezone(nursery.zone)
    day = local.date() - timedelta(days=days_back)
    return datetime(day.year, day.month, day.day, tzinfo=nursery.zone).astimezone(UTC)
