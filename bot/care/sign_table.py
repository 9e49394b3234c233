"""The table of signs.toml: what is seen of a pup or the dam, how urgent it is, and what to do first."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from datetime import timedelta
from functools import cache
from importlib.resources import files

from pydantic import BaseModel, ConfigDict, Field

from bot.care.figures import figures
from bot.care.notice import URGENCIES, Urgency
from parsers.events import Event


class Row(BaseModel):
    """A row of the table."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    seen: list[str]
    with_: list[str] = Field(default=[], alias="with")
    within: str = ""
    """A figure: hours from one to the other."""
    takes_in: bool = False
    about: str = "sign"
    urgency: Urgency
    act: str
    why: str = ""
    source: str
    status: str = ""

    @property
    def span(self) -> timedelta:
        """How far apart the two may be."""
        return timedelta(hours=figures("signs").number(self.within))


@cache
def table(whose: str) -> tuple[Row, ...]:
    """The rows for a `pup` or the `dam`, as they are written; raises ValidationError where one is malformed."""
    data = tomllib.loads(files(__package__).joinpath("signs.toml").read_text(encoding="utf-8"))
    return tuple(Row.model_validate(row) for row in data[whose])


@cache
def rows_for(whose: str) -> Mapping[str, tuple[Row, ...]]:
    """The rows by what they are for, the most urgent first."""
    rows = sorted(table(whose), key=lambda row: -URGENCIES.index(row.urgency))
    return {name: tuple(row for row in rows if name in row.seen) for row in rows for name in row.seen}


def look_of(event: Event) -> str | None:
    """What was passed and how it looked: `yellow urine`, `gray stool`; a look is the stool's where both came. None: nothing was told."""
    look = getattr(event, "look", None)
    if look is None:
        return None
    return f"{look} stool" if getattr(event, "stool", None) or not getattr(event, "urine", None) else f"{look} urine"


_ALWAYS = frozenset({"sign", "temperature", "refused", "intake"})


def is_watched(event: Event) -> bool:
    """Whether more than the last event of this kind counts for a warning."""
    return event.kind in _ALWAYS or (event.kind == "toilet" and look_of(event) in rows_for("pup"))
