"""What the bot says reaches people by channels; a channel has one verb, `say`, and what reached nobody is said again."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable, Sequence
from typing import Protocol

from bot.conversation import Said

_log = logging.getLogger(__name__)


class Channel(Protocol):
    """A way to people."""

    name: str
    """How it is called in the log."""

    async def say(self, said: Said) -> bool:
        """Bring it to the person it is for, or to everyone; True where it reached at least one of them."""


class Delivery:
    """Tells every channel, and reports what reached someone."""

    def __init__(self, channels: Sequence[Channel], delivered: Callable[[Sequence[int]], None]) -> None:
        """`delivered` marks rows of the journal as having reached someone."""
        self.channels = list(channels)
        self._delivered = delivered

    async def tell(self, many: Iterable[Said]) -> None:
        """Bring each to every channel. One that fails hinders no other; what reached nobody stays owed and is told again later."""
        reached: list[int] = []
        for said in many:
            took = [await self._by(channel, said) for channel in self.channels]
            if any(took) and said.id is not None:
                reached.append(said.id)
        if reached:
            self._delivered(reached)

    async def _by(self, channel: Channel, said: Said) -> bool:
        try:
            return await channel.say(said)
        except Exception:  # noqa: BLE001 (a channel is the outside world: whatever breaks there, the others are still told)
            _log.exception("The channel %s could not bring message %s: it stays owed and is told again.", channel.name, said.id)
            return False
