"""The service worker in a real browser: what is pushed is shown, and confirmed to the bot."""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import Browser, expect

from tests.app.served import Served
from tests.browser.test_browser import Device, bot, browser, phone, pytestmark

__all__ = ["bot", "browser", "pytestmark"]

SHOWN = "async () => (await (await navigator.serviceWorker.ready).getNotifications()).map(one => `${one.title} ${one.body}`).join()"


def test_what_is_pushed_is_shown_and_confirmed(browser: Browser, bot: Served) -> None:
    bot.say("pup 4 nursed 3 hours ago")
    device = Device(phone(browser))
    device.context.grant_permissions(["notifications"])
    registered: list[dict[str, Any]] = []
    devtools = device.context.new_cdp_session(device.page)
    devtools.on("ServiceWorker.workerRegistrationUpdated", lambda event: registered.extend(event["registrations"]))
    devtools.send("ServiceWorker.enable")
    device.join(bot.invite("Theo"), "Theo")
    expect(device.page.locator("#ring")).to_have_text("ring when locked")
    device.page.evaluate("async () => { await navigator.serviceWorker.ready; }")
    push = json.dumps({"id": 1, "title": "lampwatch: due", "body": "Pup 4 is due to nurse."})
    origin = f"http://127.0.0.1:{bot.port}"
    with device.context.expect_event("request", lambda request: request.url.endswith("/push/got")) as confirmed:
        devtools.send(
            "ServiceWorker.deliverPushMessage",
            {"origin": origin, "registrationId": registered[-1]["registrationId"], "data": push},
        )
    assert confirmed.value.post_data_json == {"id": 1}
    assert device.page.evaluate(SHOWN) == "lampwatch: due Pup 4 is due to nurse."
    assert device.complaints == []
    device.context.close()
