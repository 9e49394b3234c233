"""`lampwatch serve --demo`: an invented night is told before the newcomer's eyes, faster than it was; then the page is theirs."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from datetime import datetime, timedelta
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from bot.app.running import Running
from bot.clock import StoryClock
from bot.conversation import Message
from bot.settings import SetupError
from bot.transcript import Day, Line, Off, Transcript, parse
from bot.transcript.written import BOT

NIGHT = "demo_night.txt"
"""The transcript that is told."""
SECONDS_A_MINUTE = 0.5
"""How long a minute of the night takes, as it is told."""
SHORTEST_PAUSE, LONGEST_PAUSE = 1.2, 3.0
"""Seconds between two lines: time enough to read one, and never so long that nothing seems to happen."""

STORY = "A made-up night, told fast, by a clock of its own. Type along at any time: nothing here is kept."
"""What the page says over a demo."""


def night() -> Transcript:
    """The invented night, from the installed package or from the source beside it."""
    inside: Traversable = files("bot") / "demo_transcripts" / NIGHT
    if not inside.is_file():
        inside = Path(__file__).parents[2] / "demo_transcripts" / NIGHT
    try:
        return parse(inside.read_text(encoding="utf-8"), name=NIGHT)
    except OSError:
        raise SetupError(f"The demo's night ({NIGHT}) is missing from this installation: install lampwatch again.") from None


def first_zone(told: Transcript) -> str:
    """The zone that the night is set in."""
    return next(step.zone.key for step in told.steps if isinstance(step, Day))


def pause(gap: timedelta) -> float:
    """How many seconds a gap of the night lasts when it is told."""
    return min(max(gap.total_seconds() / 60 * SECONDS_A_MINUTE, SHORTEST_PAUSE), LONGEST_PAUSE)


class Telling:
    """A night that is told: people's lines are said at their moments, and the bot speaks whenever it has something to say.

    What stands before the last day is told at once. The rest waits until someone has the page open, and then goes line by line.
    """

    def __init__(
        self, told: Transcript, clock: StoryClock, bot: Running, wait: Callable[[float], Awaitable[object]] = asyncio.sleep
    ) -> None:
        self._steps = told.steps
        self._clock = clock
        self._bot = bot
        self._wait = wait
        self._live = False

    async def tell(self) -> None:
        """Tell it to the end."""
        last_day = max(place for place, step in enumerate(self._steps) if isinstance(step, Day))
        for place, step in enumerate(self._steps):
            if place == last_day:
                await self._bot.opened.wait()
                self._live = True
            if isinstance(step, Line) and step.by == BOT:
                continue
            while not isinstance(step, Off) and (moment := self._bot.next_notice()) is not None and self._clock() < moment <= step.at:
                await self._on_to(moment)
                await self._bot.speak_up()
            await self._on_to(step.at)
            if isinstance(step, Line):
                name = self._bot.household.take_in(step.by, self._clock())
                await self._bot.hear(Message(name, step.text, channel="demo"))

    async def _on_to(self, moment: datetime) -> None:
        if self._live:
            await self._wait(pause(moment - self._clock()))
        self._clock.tell(moment)
