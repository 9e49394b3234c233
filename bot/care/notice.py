"""A notice is something to say unasked, a nudge or a warning: what about, of whom, when, how urgent, and in which words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal, get_args

from pydantic import JsonValue

from parsers.events import Who

Urgency = Literal["routine", "soon", "vet today", "emergency"]
URGENCIES: tuple[Urgency, ...] = get_args(Urgency)
"""From the least to the worst."""

EVERYONE = "all"
"""The receiver of what is for the whole household."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """Something to say unasked; it may lie ahead."""

    says: Literal["nudge", "warning"]
    about: str
    who: tuple[Who, ...]
    at: datetime
    """The moment from which it is to be said, in UTC."""
    urgency: Urgency
    text: str
    to: str
    """A person, or `all`."""
    causes: tuple[str, ...]
    """What made it due, one name for each pup or drug. A cause that was told is never told again."""
    values: Mapping[str, JsonValue] = field(default_factory=dict)
    seen: str = ""
    """For a warning, what was seen, in few words: `gasping`."""
