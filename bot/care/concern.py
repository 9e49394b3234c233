"""A concern is one fact that is worth a warning for as long as it holds; several that are said together make one notice."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import NamedTuple

from pydantic import JsonValue

from bot.care.figures import figures
from bot.care.notice import URGENCIES, Urgency
from parsers.events import Who

SAID_AGAIN_AFTER = timedelta(hours=figures("signs").number("said_again_after"))


class Words(NamedTuple):
    """What is said of a concern: what to do first, what was seen, why, and where that is read."""

    act: str
    """Goes on after the subject."""
    seen: str
    how: str = ""
    """`Seen`, `Read`, `Weighed`: goes before what was seen, with the time where it was not just now; none where no time is of interest."""
    why: str = ""
    source: str = ""
    """A key of figures/sources.toml; none where it rests on what the household told."""
    values: Mapping[str, JsonValue] = {}
    subject: str = ""
    """What is spoken of, where it is no dog: `The box`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Concern:
    """One fact. It may lie ahead: then it will hold, if nothing comes between."""

    about: str
    who: tuple[Who, ...]
    """Whom it speaks of; empty for the box."""
    kind: str = ""
    """Which of the things that share the name: the sign, the drug."""
    urgency: Urgency
    seen_at: datetime
    at: datetime
    """From when it is to be said (UTC); until `until` it holds."""
    until: datetime
    cause: str
    """Its name in time: once told with an urgency, it is not told again with that one or a lesser."""
    near: tuple[str, ...] = ()
    """The same thing seen at nearly the same time: where one of these was told with this urgency, this one is not told."""
    also: tuple[str, ...] = ()
    """Causes that are told with this one, and need no telling of their own."""
    alone: bool = False
    """Said of each pup by itself, for each has its own figures."""
    words: Callable[[], Words]
    """Worked out only when it is said."""

    def holds(self, now: datetime) -> bool:
        """Whether the fact is so now."""
        return self.at <= now < self.until

    def is_told(self, told: Collection[str]) -> bool:
        """Whether it was said, or stands too near to one that was."""
        return any(f"{_named(cause, told)}/{self.urgency}" in told for cause in (self.cause, *self.near))

    def causes(self, told: Collection[str]) -> tuple[str, ...]:
        """All that is told once this is told."""
        upto = URGENCIES[: URGENCIES.index(self.urgency) + 1]
        return tuple([f"{_named(cause, told)}/{urgency}" for cause in (self.cause, *self.also) for urgency in upto])

    def withdrawal(self, told: Collection[str]) -> tuple[str, ...]:
        """What is told with a correction that withdraws it: if its facts come back, they are said again."""
        return tuple([f"{_named(cause, told)}/withdrawn" for cause in (self.cause, *self.also)])


def _named(cause: str, told: Collection[str]) -> str:
    """A cause's name since it was last withdrawn."""
    name, times = cause, 0
    while f"{name}/withdrawn" in told:
        times += 1
        name = f"{cause}/again {times}"
    return name
