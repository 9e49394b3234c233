"""`test my alarm`: lists the ways to a person, each with its last success, and sends a nudge of nothing by each at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from bot.care.wording import say_time

PHRASE = "test my alarm"
"""The household's own words: whatever else is said goes to the reader."""
ALARM_TEST = "alarm test"
"""What such a nudge is about."""
NUDGE = "A test of your alarm: nothing is due."


def is_asked(text: str) -> bool:
    """Whether these words ask for it."""
    return " ".join(text.casefold().split()).strip(" .!?") == PHRASE


def listing(ways: Sequence[str], last: Mapping[str, datetime], missing: Mapping[str, str], now: datetime, zone: ZoneInfo) -> list[str]:
    """A line for each way: when it last was known to have brought something, and what it lacks."""
    return [
        f"{place}. {way}: {f'last arrived {say_time(last[way], now, zone)}' if way in last else 'nothing has arrived by it yet'}"
        f"{f'; {missing[way]}' if way in missing else ''}."
        for place, way in enumerate(ways, 1)
    ]
