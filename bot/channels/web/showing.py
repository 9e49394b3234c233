"""The door to what is shown beside answers: a chart as a picture, for joined devices only (the gate sees to that)."""

from __future__ import annotations

from typing import Protocol

from aiohttp import web

from bot.drawing.artist import NotDrawn

CHART = r"/chart/{answer:\d{1,18}}/{variant:\w+}.png"
SHEET = r"/sheet/{answer:\d{1,18}}.pdf"


class Shows(Protocol):
    """What is shown beside an answer (bot.app.showing has it)."""

    async def chart(self, answer: int, variant: str) -> bytes | None:
        """The chart of an answer as a PNG; None where it has none. Raises NotDrawn with a sentence for the person."""

    async def sheet(self, answer: int) -> tuple[str, bytes] | None:
        """The sheet of an answer, by its name and as a PDF; None where it has none. Raises NotDrawn likewise."""


class ShowingDoor:
    """Gives what is shown beside an answer, by the answer's id."""

    def __init__(self, shows: Shows) -> None:
        self._shows = shows

    async def chart(self, request: web.Request) -> web.Response:
        """A chart: 404 where the answer has none, 503 with a sentence where it cannot be drawn."""
        try:
            drawn = await self._shows.chart(int(request.match_info["answer"]), request.match_info["variant"])
        except NotDrawn as fault:
            return web.Response(status=503, text=str(fault))
        if drawn is None:
            return web.Response(status=404, text="There is no chart of that.")
        return web.Response(body=drawn, content_type="image/png")

    async def sheet(self, request: web.Request) -> web.Response:
        """A sheet: 404 where the answer has none, 503 with a sentence where it cannot be printed."""
        try:
            printed = await self._shows.sheet(int(request.match_info["answer"]))
        except NotDrawn as fault:
            return web.Response(status=503, text=str(fault))
        if printed is None:
            return web.Response(status=404, text="There is no sheet of that.")
        name, pdf = printed
        return web.Response(body=pdf, content_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}"'})
