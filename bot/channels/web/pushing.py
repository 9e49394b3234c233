"""The door by which a phone asks to be rung, ends that, and confirms what it showed."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from typing import Protocol

from aiohttp import web

from bot.channels.push import Push, Subscription
from bot.channels.web.gate import PERSON, session_of

KEY, SUBSCRIPTION, GOT = "/push/key", "/push/subscription", "/push/got"
LONGEST = 4_096
"""Bytes of a subscription or a confirmation."""


class Phones(Protocol):
    """What the door needs of the household."""

    def set_reach_of(self, session: str, reach: str | None) -> None:
        """Say how the device with this session is reached; None where it no longer is."""


class PushDoor:
    """Behind the gate: every request has its person and its device's session."""

    def __init__(self, push: Push | None, phones: Phones, got: Callable[[Sequence[int], str, str], None]) -> None:
        self._push = push
        self._phones = phones
        self._got = got

    def routes(self) -> list[web.RouteDef]:
        """What the page serves of this; all of it says 404 where phones cannot be rung."""
        return [web.get(KEY, self.key), web.put(SUBSCRIPTION, self.subscribe), web.delete(SUBSCRIPTION, self.end), web.post(GOT, self.got)]

    async def key(self, _: web.Request) -> web.Response:
        """The key by which the browser knows our pushes."""
        return web.json_response({"key": await self._possible().public_key()})

    async def subscribe(self, request: web.Request) -> web.Response:
        """Keep how this device is reached."""
        self._possible()
        text = await _short(request)
        if Subscription.read(text) is None:
            raise web.HTTPUnprocessableEntity
        self._phones.set_reach_of(session_of(request), text.decode())
        return web.Response(status=204)

    async def end(self, request: web.Request) -> web.Response:
        """Reach this device no more."""
        self._phones.set_reach_of(session_of(request), None)
        return web.Response(status=204)

    async def got(self, request: web.Request) -> web.Response:
        """The phone has shown it."""
        try:
            id = json.loads(await _short(request))["id"]
        except (ValueError, TypeError, KeyError, RecursionError):
            raise web.HTTPUnprocessableEntity from None
        if not isinstance(id, int):
            raise web.HTTPUnprocessableEntity
        self._got([id], request[PERSON], Push.way.name)
        return web.Response(status=204)

    def _possible(self) -> Push:
        if self._push is None or not self._push.is_possible():
            raise web.HTTPNotFound
        return self._push


async def _short(request: web.Request) -> bytes:
    if (request.content_length or 0) > LONGEST or len(data := await request.content.read(LONGEST + 1)) > LONGEST:
        raise web.HTTPRequestEntityTooLarge(LONGEST, LONGEST + 1)
    return data
