"""A household in memory, before and after the first has joined."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import suppress
from typing import Any

import pytest
from aiohttp.test_utils import TestClient, TestServer

from bot.app.running import Running
from tests.channels.house import HeldClock, House


@pytest.fixture
async def house() -> AsyncIterator[House]:
    """A household in memory, with nobody in it yet."""
    clock = HeldClock()
    running = Running(None, "America/Chicago", clock)
    server = TestServer(running.web.application())
    await server.start_server()
    house = House(running, clock, server)
    yield house
    await running.web.close()
    for browser in house.browsers:
        with suppress(ConnectionError):
            await browser.close()
    await server.close()
    running.stop()


@pytest.fixture
async def keeper(house: House) -> TestClient[Any, Any]:
    """Ines has joined, and the litter is known."""
    browser = await house.joined("Ines")
    page = await house.open(browser)
    for words in ("new litter of 5 from Juniper, c-section at 2:00 am", "skip all"):
        await page.say(words, words[:3])
        await page.until(lambda frame: frame.get("lines"))
    await page.line.close()
    return browser
