"""The milestones of the first eight weeks: what comes, on which days, by the litter's own calendar. Pure."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache
from importlib.resources import files
from typing import Literal
from zoneinfo import ZoneInfo

from pydantic import BaseModel, ConfigDict

from bot.care.figures import figures

_FIGURES = figures("milestones")


class Milestone(BaseModel):
    """One thing to come, as milestones.toml has it."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    key: str
    days: tuple[str, ...]
    """The names of its figures: from and to; or first, every and last."""
    short: str
    what: str
    of: Literal["pups", "dam", "both"]
    note: str
    says: tuple[str, ...]
    only: Literal["c-section"] | None = None

    @property
    def times(self) -> tuple[tuple[int, int], ...]:
        """First and last day of life of each time that it comes."""
        numbers = [int(_FIGURES.number(name)) for name in self.days]
        if self.comes_again:
            first, every, last = numbers
            return tuple((day, day) for day in range(first, last + 1, every))
        first, last = numbers
        return ((first, last),)

    @property
    def comes_again(self) -> bool:
        """Whether it comes more than once."""
        return len(self.days) > 2


@dataclass(frozen=True, slots=True)
class Coming:
    """A milestone with its dates."""

    milestone: Milestone
    first: date
    last: date
    first_day: int
    last_day: int


@cache
def milestones() -> tuple[Milestone, ...]:
    """All of them."""
    text = files(__package__).joinpath("milestones.toml").read_text(encoding="utf-8")
    return tuple(Milestone.model_validate({"key": key} | entry) for key, entry in tomllib.loads(text).items())


def calendar(born: datetime, zone: ZoneInfo, delivery: str | None) -> list[Coming]:
    """Every milestone of a litter by date, the earliest first; the days count from the date of birth on the litter's own calendar.

    What holds after a c-section only is left out where the pups were born naturally; where that was not told it is in.
    """
    birth = born.astimezone(zone).date()
    found = [
        Coming(one, birth + timedelta(days=first), birth + timedelta(days=last), first, last)
        for one in milestones()
        if one.only is None or delivery in (None, one.only)
        for first, last in one.times
    ]
    return sorted(found, key=lambda coming: (coming.first, coming.last))


def asked_about(said: str) -> tuple[Milestone, ...]:
    """The milestones that a question speaks of, by its words; none where it asks for all that comes."""
    words = f" {' '.join(re.findall(_WORD, said.casefold()))} "
    return tuple(one for one in milestones() if any(f" {phrase} " in words for phrase in one.says))


_WORD = re.compile(r"[\w'’]+")
