"""The ways to people besides the page, as the settings have them, in the order in which they are tried."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from bot.channels.notify import Notify
from bot.channels.push import Push
from bot.channels.speaker import Speaker
from bot.channels.webhook import Webhook
from bot.clock import Clock
from bot.delivery import Channel
from bot.household.household import Household
from bot.settings import Settings

KEY = "push.pem"
"""The household's own key for pushes, in the data directory: with another one every phone would have to ask anew."""


@dataclass(frozen=True)
class Further:
    """The ways besides the page; pushes have a door on the page too."""

    push: Push | None = None
    house: Sequence[Channel] = ()

    @property
    def in_order(self) -> list[Channel]:
        """As they are tried."""
        return [*([] if self.push is None else [self.push]), *self.house]


Ways = Callable[[Household, Clock], Further]
"""Makes the ways of a household."""


def no_further_ways(_household: Household, _clock: Clock) -> Further:
    """The page alone."""
    return Further()


def ways_of(settings: Settings) -> Ways:
    """The ways that the settings name."""

    def made(household: Household, clock: Clock) -> Further:
        ways: list[Channel] = []
        if settings.speaker:
            ways.append(Speaker(clock, lambda: household.zone, volume=settings.speaker_volume, hours=settings.speaks))
        if settings.webhook:
            ways.append(Webhook(settings.webhook, lambda: household.zone, token=settings.webhook_token))
        if settings.notify:
            ways.append(Notify(settings.notify))
        push = Push(household, clock, settings.directory / KEY, settings.push_contact) if Push.is_possible() else None
        return Further(push, ways)

    return made
