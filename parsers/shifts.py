"""A roster is who has the watch by the clock on the wall: Theo 10 pm to 4, Ines 4 to 10."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from parsers.times import Clock, wall_after

_DAY = 24 * 60
_EVENING = 18 * 60
"""From when on a night's watch begins (own choice)."""


_MORNING, _LATE = 6 * 60, 20 * 60
_FORENOON = range(7 * 60, 12 * 60)
_WATCH = 6 * 60
"""Who tells the watches at night (before 6, from 20 on) shares out nights: `10 to 2` of at most 6 hours begins at 22 (own choice)."""


def shift(fills: Mapping[str, Any], earlier: list[dict[str, str]], now: datetime, tz: ZoneInfo, *,
          night: bool = False) -> dict[str, str] | None:  # fmt: skip
    """One watch as the contract has it; None where it would last no time.

    `earlier` are the watches told before it; with `night` the first begins in the evening where its half of the day was not said.
    """
    who = fills.get("person") or fills.get("me") or fills.get("person's")
    last = _minutes(earlier[-1]["to"]) if earlier else _EVENING if night else None
    start, end = _ends(fills["start"], fills["end"], last, now, tz)
    return None if start == end else {"who": str(who), "from": _wall(start), "to": _wall(end)}


def _ends(start: Clock, end: Clock, last: int | None, now: datetime, tz: ZoneInfo) -> tuple[int, int]:
    """From and to, in minutes of the day. A start of either half goes by the watch before, by its own end, or by the clock now."""
    if start.either and end.half is not None and last is None:
        to = _after(end, 0)
        begins = min((_after(start, 0), (_after(start, 0) + _DAY // 2) % _DAY), key=lambda each: (to - each - 1) % _DAY)
        return begins, to
    shown = now.astimezone(tz)
    told = shown.hour * 60 + shown.minute
    begins = _after(start, last if last is not None else told)
    ends = _after(end, begins + 1)
    if (
        last is None
        and start.either
        and end.half is None
        and not _MORNING <= told < _LATE
        and begins in _FORENOON
        and ends - begins <= _WATCH
    ):
        return begins + _DAY // 2, (ends + _DAY // 2) % _DAY
    return begins, ends


def _after(said: Clock, minutes: int) -> int:
    """The said figures, at or after these minutes of the day."""
    before = (minutes - 1) % _DAY
    hour, minute = wall_after(said, before // 60, before % 60)
    return hour * 60 + minute


def _minutes(wall: str) -> int:
    hour, minute = wall.split(":")
    return int(hour) * 60 + int(minute)


def _wall(minutes: int) -> str:
    return f"{minutes // 60:02}:{minutes % 60:02}"
