"""Whether the machine's time can be believed: it is held against the log, which never was ahead of a clock that was right.

A board without a battery starts in 1970, and a clock may be set back by hand. Until it is right again nothing is due that could be told,
and what people say is kept at the last time that was right, and they are told so.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta, tzinfo

from bot.care.wording import say_span

BUILT = datetime(2026, 1, 1, tzinfo=UTC)
"""No clock that is right shows a time before this."""
AHEAD = timedelta(minutes=2)
"""How far the log may be ahead of the clock: one that is set by the network is moved by seconds."""
CLOCK = "clock"
"""The name of the warning (replay contract)."""


class Timekeeper:
    """Knows the newest time of the log."""

    def __init__(self, moments: Iterable[datetime] = ()) -> None:
        self._newest = max(moments, default=BUILT)

    def saw(self, moment: datetime) -> None:
        """Something was kept at that time."""
        self._newest = max(self._newest, moment)

    def trust(self, now: datetime) -> None:
        """The time is right, whatever the log says: what stands ahead of it was kept while the clock was wrong."""
        self._newest = min(self._newest, max(now, BUILT))

    def right(self, now: datetime) -> datetime | None:
        """The last time that was right, where the clock is behind it; None where the clock can be believed."""
        return self._newest if self._newest - now > AHEAD else None

    def cause(self) -> str:
        """The name of a clock that is behind this newest entry, so that it is told of once."""
        return f"{CLOCK}/{self._newest.isoformat(timespec='seconds')}"


def say_behind(now: datetime, right: datetime, zone: tzinfo) -> str:
    """The warning, for everyone."""
    return (
        f"The machine's clock is wrong: it says {_say(now, zone)}, but it was {_say(right, zone)} already. Set it right, or let the "
        "network set it. Until then I cannot tell who is due, so look after the rounds yourselves; what you tell me is kept."
    )


def say_aside(right: datetime, zone: tzinfo) -> str:
    """What each reply says while the clock is behind."""
    return f"The machine's clock is wrong, so this is kept at {_say(right, zone)}: once it is right, correct the time (“that was at 3:10”)."


def say_forward(by: timedelta, now: datetime, zone: tzinfo) -> str:
    """The warning that the clock was set forward while the bot ran."""
    span = say_span(by.total_seconds() / 60)
    return (
        f"The machine's clock was just set forward by {span} and says {_say(now, zone)}. If that is right, all is well. If not, "
        "set it right: until then my reminders come too early, and what you log gets a wrong time."
    )


def _say(moment: datetime, zone: tzinfo) -> str:
    local = moment.astimezone(zone)
    return f"{local:%H:%M} on {local.day} {local:%b %Y}"
