"""The dam's daily check: at nine, for ten days after the birth."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.care.figures import figures
from bot.care.wall import at_hour, local_day

_FIGURES = figures("rounds")
_AT = _FIGURES.number("dam_check_at")
_FIRST_AFTER = timedelta(hours=_FIGURES.number("dam_check_first_after"))
_DAYS = int(_FIGURES.number("dam_check_days"))


def checks(birth: datetime, zone: ZoneInfo) -> list[tuple[date, datetime]]:
    """The local days of the checks, and the moments at which they are due. A temperature of the dam on that day is a check done."""
    first = local_day(birth + _FIRST_AFTER, zone)
    if at_hour(first, _AT, zone) < birth + _FIRST_AFTER:
        first += timedelta(days=1)
    days = [first + timedelta(days=count) for count in range(_DAYS)]
    return [(day, at_hour(day, _AT, zone)) for day in days]
