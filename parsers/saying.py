"""How times, spans, pups and lists are said; what is said of a past time reads back to the same minute."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from parsers.wall_clock import name_of_zone, places

_MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()
_YEAR_SAID_FROM = timedelta(days=300)
_TODAY_SAID_FROM = timedelta(hours=22)
"""Shortly before midnight, `12:10 am` alone may be the one to come."""


def say_time(moment: datetime, now: datetime, tz: ZoneInfo) -> str:
    """A moment by the litter's clock: `3:14 am`, `yesterday 11:05 pm`, `24 Nov 2:40 am`.

    In the hour that comes twice it says which: `1:30 am EDT`. Seconds are left out.
    """
    shown, today = moment.astimezone(tz), now.astimezone(tz).date()
    said = f"{shown.hour % 12 or 12}:{shown.minute:02d} {'am' if shown.hour < 12 else 'pm'}{_turn(moment, shown, tz)}"
    days = (shown.date() - today).days
    if days == 0 and now.astimezone(UTC) - moment.astimezone(UTC) >= _TODAY_SAID_FROM:
        return f"today {said}"
    if days in _NEAR:
        return f"{_NEAR[days]}{said}"
    year = f" {shown.year}" if abs(moment.astimezone(UTC) - now.astimezone(UTC)) > _YEAR_SAID_FROM else ""
    return f"{shown.day} {_MONTHS[shown.month - 1]}{year} {said}"


def say_at(moment: datetime, now: datetime, tz: ZoneInfo) -> str:
    """The same as part of a sentence: `at 3:14 am`, `yesterday at 11:05 pm`, `on 24 Nov at 2:40 am`; reads back likewise."""
    said = say_time(moment, now, tz).split(" ")
    clock = next(place for place, part in enumerate(said) if ":" in part)
    day, figures = " ".join(said[:clock]), " ".join(said[clock:])
    return f"at {figures}" if not day else f"{'on ' if day[0].isdigit() else ''}{day} at {figures}"


_NEAR = {-1: "yesterday ", 0: "", 1: "tomorrow "}


def _turn(moment: datetime, shown: datetime, tz: ZoneInfo) -> str:
    """Which of the two, where clocks show these figures twice that night."""
    twice = [place for place in places(shown.date(), shown.hour, shown.minute, tz) if place.turn is not None]
    if not twice:
        return ""
    names = [name_of_zone(place.at, tz) for place in twice]
    if names[0] != names[1] and all(name.isalpha() for name in names):
        return f" {name_of_zone(moment, tz)}"
    return f" {('before', 'after')[shown.fold]} the clocks changed"


def say_span(minutes: float) -> str:
    """A length of time: `45 min`, `2 h`, `2 h 10 min`, `3 days`, `1 day 4 h`."""
    whole = round(minutes)
    if whole < 60:
        return f"{whole} min"
    hours, rest = divmod(whole, 60)
    if hours < _HOURS_SAID_UNTIL:
        return f"{hours} h {rest} min" if rest else f"{hours} h"
    days, left = divmod(round(minutes / 60), 24)
    said = f"{days} day{'s' if days > 1 else ''}"
    return f"{said} {left} h" if left else said


_HOURS_SAID_UNTIL = 48


def say_list(parts: Sequence[str], last: str = "and") -> str:
    """`a`, `a and b`, `a, b and c`."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def say_pups(pups: Sequence[int]) -> str:
    """`pup 3`, `pups 1, 2 and 5`, in the order given; empty for none."""
    if not pups:
        return ""
    return f"pup{'s' if len(pups) > 1 else ''} {say_list([str(pup) for pup in pups])}"
