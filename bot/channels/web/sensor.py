"""The door for sensors: POST /api/climate, with a token of its own in place of a person's session."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from aiohttp import web

from bot.care.sensors import Sensed
from bot.channels.sensing import LONGEST, read_sensed
from bot.channels.talk import Answer

CLIMATE = "/api/climate"

Sense = Callable[[str, Sensed], Awaitable[Answer]]
"""Gives the bot a reading under a token, and gives what became of it."""


class SensorDoor:
    """Takes the readings of sensors."""

    def __init__(self, knows: Callable[[str], bool], sense: Sense) -> None:
        self._knows = knows
        self._sense = sense

    async def take(self, request: web.Request) -> web.Response:
        """One reading: 200 where it was taken, 401 where the token is none of ours, 422 where it says nothing that can be,
        503 where it could not be kept."""
        scheme, _, token = request.headers.get("Authorization", "").partition(" ")
        token = token.strip()
        if scheme.casefold() != "bearer" or not self._knows(token):
            why = "No sensor of this household shows such a token. Make one with: lampwatch invite --sensor box"
            return web.json_response({"kept": False, "why": why}, status=401, headers={"WWW-Authenticate": "Bearer"})
        if (request.content_length or 0) > LONGEST or len(data := await request.content.read(LONGEST + 1)) > LONGEST:
            return web.json_response({"kept": False, "why": f"A reading has at most {LONGEST} bytes."}, status=413)
        sensed = read_sensed(data)
        if isinstance(sensed, str):
            return web.json_response({"kept": False, "why": sensed}, status=422)
        answer = await self._sense(token, sensed)
        return web.json_response(answer, status=200 if answer["kept"] else 503)
