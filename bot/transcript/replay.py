"""A transcript is run: people's lines are heard at their moments, and the clock stops wherever the bot has something to say."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol
from zoneinfo import ZoneInfo

from bot.conversation import Heard, Message, Said
from bot.transcript.written import BOT, Day, Line, Off, Step, Transcript


class Bot(Protocol):
    """What a replay needs of a household (bot.household has it)."""

    def take_in(self, name: str, now: datetime) -> str:
        """Join a person to the household, if they are not yet in it, and give the name as it is kept."""

    def hear(self, message: Message, now: datetime) -> Heard:
        """Take a message and say what there is to say to it."""

    def speak_up(self, now: datetime) -> list[Said]:
        """Say what is due."""

    def next_notice(self, now: datetime) -> datetime | None:
        """When there will be something to say unasked."""

    def close(self) -> None:
        """Leave the store."""


OpenBot = Callable[[ZoneInfo], Bot]
"""Opens the household on its store, with nothing in memory, in a zone."""


@dataclass(frozen=True)
class Spoken:
    """One thing that the bot said in a replay: after which of the transcript's steps, and in which zone."""

    said: Said
    after: int
    """The index of the step (a day, an `off`, a person's line) that it follows."""
    zone: ZoneInfo


class StuckClock(RuntimeError):
    """The bot named a moment to speak at, and then said nothing and named the same again."""


def run(transcript: Transcript, open_bot: OpenBot, *, until: datetime | None = None, bot_lines_too: bool = False) -> list[Spoken]:
    """Everything that the bot says over the transcript, in order. Every person's line is a restart.

    `until` runs the clock on after the last line; `bot_lines_too` runs it on to the last written line of the bot.
    """
    spoken: list[Spoken] = []
    steps = [(index, step) for index, step in enumerate(transcript.steps) if not _of_the_bot(step)]
    if not steps:
        return spoken
    zone = next(step.zone for _, step in steps if isinstance(step, Day))
    bot = open_bot(zone)
    clock, after = steps[0][1].at, steps[0][0]
    try:
        for index, step in steps:
            if not isinstance(step, Off):
                spoken += (Spoken(said, after, zone) for said in _on(bot, clock, step.at))
            clock, after = step.at, index
            if isinstance(step, Day) and step.zone == zone:
                continue
            bot.close()
            zone = step.zone if isinstance(step, Day) else zone
            bot = open_bot(zone)
            if isinstance(step, Line):
                bot.take_in(step.by, clock)
                heard = bot.hear(Message(step.by, step.text, channel="voice" if step.spoken else "transcript"), clock)
                spoken += (Spoken(said, after, zone) for said in heard.said)
            spoken += (Spoken(said, after, zone) for said in _on(bot, clock, clock))
        end = max([clock, *([until] if until else []), *([transcript.steps[-1].at] if bot_lines_too else [])])
        spoken += (Spoken(said, after, zone) for said in _on(bot, clock, end))
    finally:
        bot.close()
    return spoken


def _of_the_bot(step: Step) -> bool:
    return isinstance(step, Line) and step.by == BOT


def _on(bot: Bot, clock: datetime, to: datetime) -> list[Said]:
    """Let the clock run on to `to`, stopping at every moment at which the bot has something to say."""
    said: list[Said] = []
    while (at := bot.next_notice(clock)) is not None and at <= to:
        stuck = at <= clock
        clock = max(at, clock)
        news = bot.speak_up(clock)
        if stuck and not news:
            raise StuckClock(f"The bot wants to speak at {at.isoformat()} and says nothing.")
        said += news
    return said
