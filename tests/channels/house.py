"""A bot that runs in memory, its page behind the gate, and a clock that the test holds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from aiohttp import ClientWebSocketResponse
from aiohttp.test_utils import TestClient, TestServer
from yarl import URL

from bot.app.running import Running

START = datetime(2026, 3, 2, 9, 14, tzinfo=UTC)
SECONDS = 5.0


@dataclass
class HeldClock:
    """Stands where the test puts it."""

    at: datetime = START

    def __call__(self) -> datetime:
        return self.at

    def on(self, **by: float) -> None:
        self.at += timedelta(**by)


@dataclass
class Page:
    """One open page, as line.js holds one."""

    line: ClientWebSocketResponse
    welcome: dict[str, Any]
    frames: list[dict[str, Any]] = field(default_factory=list)

    @property
    def lines(self) -> list[dict[str, Any]]:
        return [line for frame in [self.welcome, *self.frames] for line in frame.get("lines", [])]

    async def say(self, text: str, client_id: str, **more: object) -> None:
        await self.line.send_json({"say": text, "id": client_id, **more})

    async def next(self) -> dict[str, Any]:
        frame: dict[str, Any] = await self.line.receive_json(timeout=SECONDS)
        self.frames.append(frame)
        return frame

    async def until(self, wanted: Callable[[dict[str, Any]], object]) -> dict[str, Any]:
        while not wanted(frame := await self.next()):
            pass
        return frame

    async def confirm(self) -> None:
        """Confirm what was said unasked, as got.js does."""
        await self.line.send_json({"got": [line["id"] for line in self.lines if line.get("says") in ("nudge", "warning")]})
        await self.quiet()

    async def quiet(self) -> None:
        """Take what is on its way; the answer to a sign of life comes after it."""
        await self.line.send_str('{"ping":1}')
        await self.until(lambda frame: "pong" in frame)


class House:
    """The bot and its page, and a browser for each device that comes."""

    def __init__(self, running: Running, clock: HeldClock, server: TestServer) -> None:
        self.running = running
        self.clock = clock
        self.server = server
        self.browsers: list[TestClient[Any, Any]] = []

    def browser(self) -> TestClient[Any, Any]:
        browser: TestClient[Any, Any] = TestClient(self.server)
        self.browsers.append(browser)
        return browser

    def token(self, name: str | None = None) -> str:
        return self.running.household.invite("lampwatch", name, self.clock())

    async def joined(self, name: str) -> TestClient[Any, Any]:
        browser = self.browser()
        answer = await browser.post(f"/join/{self.token(name)}", data={"name": name}, allow_redirects=False)
        assert answer.status == 303
        return browser

    async def open(self, browser: TestClient[Any, Any], query: str = "") -> Page:
        line = await browser.ws_connect(f"/socket{query}", max_msg_size=0)
        return Page(line, await line.receive_json(timeout=SECONDS))


def cookie_of(browser: TestClient[Any, Any], server: TestServer) -> str:
    """The session that a browser holds."""
    return browser.session.cookie_jar.filter_cookies(URL(str(server.make_url("/"))))["lampwatch"].value
