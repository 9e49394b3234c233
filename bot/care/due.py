"""Due is one care of one dog that is due at a moment, and what it is counted from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from parsers.events import Who

STAGES = ("due", "+30", "+60")
"""A care that is due is said three times at most; the names of the stages stand in the causes that the journal keeps."""


@dataclass(frozen=True, slots=True)
class Due:
    """Care of one dog that is due at a moment, past or ahead."""

    care: str
    """As care is named in the nudges: `nursing`, `clearing`, `dose`."""
    who: Who
    at: datetime
    causes: tuple[str, ...]
    """What made it due, a name for each stage. It is the time of that event, so that a changed interval says nothing twice."""
    done: str = ""
    """What was done last, that it is counted from, in a word: `nursed`, `given`."""
    last_at: datetime | None = None
    """When that began; None: never."""
    drug: str | None = None
    """For a dose: as the keeper last wrote it."""
    once: bool = False
    """Due once after what was done (cleared after a feed), not again and again."""
    by_the_clock: bool = False
    """Due at an hour of the wall clock; the next such hour takes its place."""
    until: datetime | None = None
    """When it is due no more, done or not; None: it is due until it is done."""
    moments: tuple[datetime, ...] = ()
    """When each stage is said, where that is not every half hour."""
    nudged_until: datetime | None = None
    """When it is spoken of unasked no more, for a warning takes its place; None: as long as it is due."""
