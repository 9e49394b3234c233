"""The ways to people besides the page, as the settings have them, in the order in which they are tried."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from bot.channels.speaker import Speaker
from bot.clock import Clock
from bot.delivery import Channel
from bot.household.household import Household
from bot.settings import Settings

Ways = Callable[[Household, Clock], Sequence[Channel]]
"""Makes the ways of a household."""


def ways_of(settings: Settings) -> Ways:
    """The ways that the settings name."""

    def made(household: Household, clock: Clock) -> list[Channel]:
        ways: list[Channel] = []
        if settings.speaker:
            ways.append(Speaker(clock, lambda: household.zone, volume=settings.speaker_volume, hours=settings.speaks))
        return ways

    return made
