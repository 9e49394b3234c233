"""The page confirms what was said unasked once it stands before someone's eyes, and not before."""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, WebSocket, expect

from tests.app.served import Served
from tests.browser.test_browser import Device, bot, browser, phone, pytestmark

__all__ = ["bot", "browser", "pytestmark"]

LOOKED_AT = """is => {
    Object.defineProperty(document, "visibilityState", {value: is ? "visible" : "hidden", configurable: true});
    document.dispatchEvent(new Event("visibilitychange"));
}"""


@pytest.fixture
def theo(browser: Browser, bot: Served) -> Iterator[Device]:
    device = Device(phone(browser))
    yield device
    assert device.complaints == []
    device.context.close()


def test_a_nudge_is_confirmed_once_the_page_is_looked_at(theo: Device, bot: Served) -> None:
    lines: list[WebSocket] = []
    sent: list[str | bytes] = []
    theo.page.on("websocket", lambda line: lines.append(line))
    theo.join(bot.invite("Theo"), "Theo")
    lines[-1].on("framesent", lambda frame: sent.append(frame))
    theo.page.evaluate(LOOKED_AT, False)
    bot.say("pup 2 nursed at 3 hours ago")
    nudge = theo.page.locator(".unasked", has_text="Pup 2").last
    expect(nudge).to_be_visible()
    assert not [frame for frame in sent if "got" in json.loads(frame)]
    with lines[-1].expect_event("framesent", lambda frame: "got" in json.loads(frame)) as confirmed:
        theo.page.evaluate(LOOKED_AT, True)
    assert int(nudge.get_attribute("data-id") or 0) in json.loads(confirmed.value)["got"]
