"""Pushes against a push service of our own on loopback, which checks the signature and opens the seal as the phone would."""

from __future__ import annotations

import base64
import json
import os
import stat
from collections.abc import AsyncIterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import http_ece
import pytest
from aiohttp import web
from aiohttp.test_utils import TestClient, TestServer
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from py_vapid import Vapid02

from bot.app.running import Running
from bot.app.ways import KEY, Further
from bot.channels.push import LONGEST, NO_DETAILS, Push, Subscription, shown
from bot.conversation import Said
from tests.channels.house import START, HeldClock, House

CONTACT = "mailto:ines@example.org"


def b64(data: bytes) -> str:
    return base64.urlsafe_b64encode(data).rstrip(b"=").decode()


@dataclass
class PushService:
    """Takes pushes for phones, each under its own address."""

    server: TestServer
    status: int = 201
    phones: dict[str, tuple[ec.EllipticCurvePrivateKey, bytes]] = field(default_factory=dict)
    got: list[tuple[str, dict[str, Any], dict[str, str], int]] = field(default_factory=list)
    asked: int = 0

    def subscribe(self, phone: str, **more: object) -> dict[str, Any]:
        """What the browser of a phone would give its page."""
        key, secret = ec.generate_private_key(ec.SECP256R1()), os.urandom(16)
        self.phones[phone] = key, secret
        public = key.public_key().public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)
        return {"endpoint": str(self.server.make_url(f"/{phone}")), "keys": {"p256dh": b64(public), "auth": b64(secret)}, **more}

    async def take(self, request: web.Request) -> web.Response:
        self.asked += 1
        phone, body = request.match_info["phone"], await request.read()
        token, public = (part.partition("=")[2] for part in request.headers["Authorization"].removeprefix("vapid ").split(","))
        assert Vapid02.verify(f"vapid t={token},k={public}")
        claims = json.loads(base64.urlsafe_b64decode(token.split(".")[1] + "=="))
        assert claims["aud"] == str(self.server.make_url("")).rstrip("/")
        assert claims["sub"] == CONTACT
        assert START.timestamp() < claims["exp"] <= START.timestamp() + 2 * 86_400
        if self.status == 201:
            key, secret = self.phones[phone]
            assert request.headers["Content-Encoding"] == "aes128gcm"
            opened = json.loads(http_ece.decrypt(body, private_key=key, auth_secret=secret, version="aes128gcm"))
            self.got.append((phone, opened, dict(request.headers), len(body)))
        return web.Response(status=self.status)


@pytest.fixture
async def service() -> AsyncIterator[PushService]:
    app = web.Application()
    server = TestServer(app)
    service = PushService(server)
    app.router.add_post("/{phone}", service.take)
    await server.start_server()
    yield service
    await server.close()


@pytest.fixture
async def house(tmp_path: Path) -> AsyncIterator[House]:
    clock = HeldClock()
    running = Running(
        None, "America/Chicago", clock, ways=lambda household, clock: Further(Push(household, clock, tmp_path / KEY, CONTACT))
    )
    server = TestServer(running.web.application())
    await server.start_server()
    house = House(running, clock, server)
    yield house
    await running.web.close()
    for browser in house.browsers:
        await browser.close()
    await server.close()
    running.stop()


async def subscribed(browser: TestClient[Any, Any], subscription: object) -> None:
    assert (await browser.put("/push/subscription", json=subscription)).status == 204


async def due(house: House, keeper: TestClient[Any, Any]) -> None:
    """Pup 3 is due to nurse, and no page is open."""
    page = await house.open(keeper)
    await page.say("pup 3 nursed cleared stimulated", "n")
    await page.quiet()
    await page.line.close()
    house.clock.on(hours=2, minutes=1)
    await house.running.speak_up()
    await house.running.settled()


def mode(file: Path) -> int:
    return stat.S_IMODE(file.stat().st_mode)


def owed(house: House) -> list[str | None]:
    house.running._mark()
    return [said.about for said in house.running.household.owed()]


async def test_a_phone_is_pushed_what_is_due_and_its_confirmation_counts(
    house: House, keeper: TestClient[Any, Any], service: PushService
) -> None:
    await subscribed(keeper, service.subscribe("ines"))
    await due(house, keeper)
    (nudge,) = [opened for _, opened, _, _ in service.got if "nurse" in opened["body"]]
    assert nudge["body"].startswith("Pup 3 is due to nurse")
    _, _, headers, size = service.got[0]
    assert (headers["TTL"], headers["Urgency"]) == ("600", "high")
    assert size < 3_000
    assert "nursing" in owed(house), "the push service has it, and that is not the phone"
    assert (await keeper.post("/push/got", json={"id": nudge["id"]})).status == 204
    assert "nursing" not in owed(house)


async def test_without_details_nothing_of_it_is_sent(house: House, keeper: TestClient[Any, Any], service: PushService) -> None:
    await subscribed(keeper, service.subscribe("ines", private=True))
    await due(house, keeper)
    assert {opened["body"] for _, opened, _, _ in service.got} == {NO_DETAILS}


@pytest.mark.parametrize(("status", "kept"), [(404, 0), (410, 0), (400, 1), (429, 1), (500, 1), (302, 1)])
async def test_a_subscription_ends_where_the_phone_is_gone_and_not_for_less(
    house: House, keeper: TestClient[Any, Any], service: PushService, status: int, kept: int
) -> None:
    await subscribed(keeper, service.subscribe("ines"))
    service.status = status
    await due(house, keeper)
    assert len(house.running.household.reaches("Ines")) == kept
    before = service.asked
    service.status = 201
    house.clock.on(minutes=3)
    await house.running.speak_up()
    await house.running.settled()
    assert (service.asked > before) == bool(kept), "it is tried again"


async def test_all_phones_of_a_person_ring_and_those_of_others_do_not(
    house: House, keeper: TestClient[Any, Any], service: PushService
) -> None:
    second, theo = await house.joined("Ines"), await house.joined("Theo")
    for browser, phone in ((keeper, "one"), (second, "two"), (theo, "theo")):
        await subscribed(browser, service.subscribe(phone))
    page = await house.open(keeper)
    await page.say("Ines has the watch", "w")
    await page.quiet()
    await page.line.close()
    await due(house, keeper)
    assert {phone for phone, opened, _, _ in service.got if "nurse" in opened["body"]} == {"one", "two"}


async def test_a_phone_that_no_longer_asks_is_not_rung(house: House, keeper: TestClient[Any, Any], service: PushService) -> None:
    await subscribed(keeper, service.subscribe("ines"))
    assert (await keeper.delete("/push/subscription")).status == 204
    await due(house, keeper)
    assert service.got == []


async def test_a_service_that_cannot_be_reached_names_no_address_in_the_log(
    house: House, keeper: TestClient[Any, Any], service: PushService, caplog: pytest.LogCaptureFixture
) -> None:
    await subscribed(keeper, service.subscribe("secret-of-the-phone"))
    await service.server.close()
    await due(house, keeper)
    assert "could not be reached" in caplog.text
    assert "secret-of-the-phone" not in caplog.text


async def test_the_key_is_made_once_for_its_owner_alone(house: House, keeper: TestClient[Any, Any], tmp_path: Path) -> None:
    first, second = [(await (await keeper.get("/push/key")).json())["key"] for _ in range(2)]
    assert first == second
    assert len(base64.urlsafe_b64decode(first + "=")) == 65
    assert mode(tmp_path / KEY) == 0o600


@pytest.mark.parametrize(
    "body",
    [
        "",
        "[]",
        '{"endpoint": "http://10.0.0.1/x", "keys": {"p256dh": "a", "auth": "b"}}',
        '{"endpoint": "https://x/y", "keys": {}}',
        '{"endpoint": "file:///etc/passwd", "keys": {"p256dh": "a", "auth": "b"}}',
    ],
)
async def test_what_is_no_subscription_is_refused(house: House, keeper: TestClient[Any, Any], body: str) -> None:
    assert (await keeper.put("/push/subscription", data=body)).status == 422
    assert (await keeper.post("/push/got", data=body)).status == 422
    assert house.running.household.reaches("Ines") == []


async def test_who_has_not_joined_can_ask_for_nothing(house: House) -> None:
    stranger = house.browser()
    for answer in (await stranger.get("/push/key"), await stranger.put("/push/subscription", json={}), await stranger.post("/push/got")):
        assert answer.status == 401


def test_a_long_text_stays_small() -> None:
    said = Said(START, "all", "warning", "é" * 5_000, urgency="emergency", id=1)
    assert len(str(shown(said, private=False)["body"]).encode()) <= LONGEST
    assert shown(said, private=False)["title"] == "lampwatch: emergency"
    assert Subscription.read("{") is None
