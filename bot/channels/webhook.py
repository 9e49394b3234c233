"""The webhook: what is said unasked goes as JSON to an address of the household's own. It and its token are secrets, and never logged."""

from __future__ import annotations

import logging
from collections.abc import Callable
from zoneinfo import ZoneInfo

from aiohttp import ClientError, ClientSession, ClientTimeout

from bot.conversation import Said
from bot.delivery import Came, Way

_log = logging.getLogger(__name__)

SECONDS = 10.0
"""How long the other end is given to answer."""


class Webhook:
    """A way of the whole house: POST of one JSON object; any answer of 2xx means that it arrived. It is sent again in the next round."""

    way = Way("webhook", shared=True)

    def __init__(self, address: str, zone: Callable[[], ZoneInfo], *, token: str = "", seconds: float = SECONDS) -> None:
        self._address = address
        self._zone = zone
        self._headers = {"Authorization": f"Bearer {token}"} if token else {}
        self._timeout = ClientTimeout(total=seconds)

    async def say(self, said: Said, to: str) -> Came:
        """Post it, under a mark by which the other end knows a second sending."""
        headers = {**self._headers, "Idempotency-Key": f"lampwatch-{said.id}"}
        try:
            async with (
                ClientSession(timeout=self._timeout) as session,
                session.post(self._address, json=said.as_json(self._zone()), headers=headers, allow_redirects=False) as answer,
            ):
                status = answer.status
        except (ClientError, TimeoutError, OSError, ValueError) as problem:
            _log.warning("The webhook could not be reached (%s): the next way is gone, and it is tried again.", type(problem).__name__)
            return Came.FAILED
        if 200 <= status < 300:
            return Came.ARRIVED
        _log.warning("The webhook answered %s: the next way is gone, and it is tried again.", status)
        return Came.FAILED
