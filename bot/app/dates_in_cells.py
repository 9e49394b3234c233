"""Dates and times of day as spreadsheets have them: read where they can mean one thing only."""

from __future__ import annotations

import re
from datetime import date, datetime, time
from typing import Literal

Order = Literal["dmy", "mdy"]

_MONTHS = "jan feb mar apr may jun jul aug sep oct nov dec".split()
_CLOCK = re.compile(r"(\d{1,2})[:.h](\d{2})(?:[:.]\d{2})?\s*([ap]m?)?\.?", re.I)
_NUMBERS = re.compile(r"(\d{1,2})\s*[/\-.]\s*(\d{1,2})\s*[/\-.]\s*(\d{2}|\d{4})\.?")


class NotRead(ValueError):
    """The file cannot be read as weights; the message says where and why."""


def split(when: str, clock: str) -> tuple[str, str]:
    """A date with its time of day, where they stand in one cell: `2026-03-01 08:30`."""
    found = re.fullmatch(r"(.*\d)[T ,]+(\d{1,2}[:h]\d{2}\S*\s*(?:[ap]\.?m?\.?)?)", when.strip(), re.I)
    return (found[1], clock or found[2]) if found else (when.strip(), clock.strip())


def clock_of(line: int, text: str) -> time | None:
    """The time of day in a cell; None for an empty one. Raises NotRead."""
    if not text:
        return None
    found = _CLOCK.match(text.strip())
    if found is None:
        raise NotRead(f"line {line}: “{text}” is no time of day")
    hour, minute, half = int(found[1]), int(found[2]), (found[3] or "").casefold()[:1]
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    if hour > 23 or minute > 59:
        raise NotRead(f"line {line}: “{text}” is no time of day")
    return time(hour, minute)


def slashed(text: str) -> re.Match[str] | None:
    """A date of three numbers whose order is not told by its signs; with dots the day comes first wherever dates have dots."""
    found = _NUMBERS.fullmatch(text)
    return found if found is not None and "." not in text else None


def day_of(line: int, text: str, order: Order | None, birth: date | None) -> date:
    """The day in a cell. `order` says what 3/4/2026 is, `birth` what plain numbers of days count from. Raises NotRead."""
    found = _named_day(text)
    try:
        if found is not None:
            return found
        if dotted := _NUMBERS.fullmatch(text):
            first, second, year = int(dotted[1]), int(dotted[2]), int(dotted[3])
            month, day = (first, second) if order == "mdy" and "." not in text else (second, first)
            return date(year + 2000 if year < 100 else year, month, day)
        if text.isdigit() and len(text) <= 3:
            if birth is None:
                raise NotRead(f"line {line}: “{text}” is a day of their lives, but when they were born is not known: add --born 2026-03-01")
            return date.fromordinal(birth.toordinal() + int(text))
    except (ValueError, OverflowError) as fault:
        if isinstance(fault, NotRead):
            raise
    raise NotRead(f"line {line}: “{text}” is no date that is sure: write it as 2026-03-24")


def _named_day(text: str) -> date | None:
    """`2026-03-24`, `24 Mar 2026`, `March 24, 2026`; None where it is none of these."""
    try:
        return datetime.fromisoformat(text).date() if re.match(r"\d{4}-\d", text) else _with_month(text)
    except ValueError:
        return None


def _with_month(text: str) -> date | None:
    words = re.findall(r"[a-z]+|\d+", re.sub(r"(?<=\d)(st|nd|rd|th)\b", "", text.casefold()))
    month = next((place + 1 for word in words if word.isalpha() for place, name in enumerate(_MONTHS) if word.startswith(name)), None)
    numbers = [int(word) for word in words if word.isdigit()]
    if month is None or len(numbers) != 2:
        return None
    day, year = (numbers[1], numbers[0]) if numbers[0] > 31 else (numbers[0], numbers[1])
    return date(year + 2000 if year < 100 else year, month, day)
