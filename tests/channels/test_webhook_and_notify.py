"""A webhook, and a service by the library of many, against a server of our own on loopback."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from dataclasses import dataclass, field
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from aiohttp import web
from aiohttp.test_utils import TestServer

from bot.channels.notify import Notify
from bot.channels.webhook import Webhook
from bot.conversation import Said
from bot.delivery import Came
from tests.channels.house import START

SECRET = "s3cret"
SAID = Said(START, "Ines", "nudge", "Pup 3 is due to nurse: “now”.", "nursing", (3,), "routine", id=7)


@dataclass
class Service:
    """Takes what is posted to it."""

    server: TestServer
    status: int = 200
    hangs: bool = False
    got: list[tuple[dict[str, Any], dict[str, str]]] = field(default_factory=list)

    @property
    def address(self) -> str:
        return f"127.0.0.1:{self.server.port}/{SECRET}"

    async def take(self, request: web.Request) -> web.Response:
        self.got.append((await request.json(), dict(request.headers)))
        if self.hangs:
            await asyncio.Event().wait()
        return web.Response(status=self.status, headers={"Location": "/elsewhere"})


@pytest.fixture
async def service() -> AsyncIterator[Service]:
    app = web.Application()
    server = TestServer(app)
    service = Service(server)
    app.router.add_post(f"/{SECRET}", service.take)
    await server.start_server()
    yield service
    await server.close()


def webhook(service: Service, **more: Any) -> Webhook:
    return Webhook(f"http://{service.address}", lambda: ZoneInfo("America/Chicago"), token=SECRET, **more)


async def test_a_webhook_is_told_what_was_said_under_a_mark_of_its_own(service: Service) -> None:
    assert await webhook(service).say(SAID, "Ines") is Came.ARRIVED
    ((body, headers),) = service.got
    assert body == SAID.as_json(ZoneInfo("America/Chicago"))
    assert (headers["Authorization"], headers["Idempotency-Key"]) == (f"Bearer {SECRET}", "lampwatch-7")


@pytest.mark.parametrize("status", [302, 404, 500])
async def test_any_other_answer_means_that_it_has_not_arrived(service: Service, status: int, caplog: pytest.LogCaptureFixture) -> None:
    service.status = status
    assert await webhook(service).say(SAID, "Ines") is Came.FAILED
    assert str(status) in caplog.text
    assert SECRET not in caplog.text


async def test_a_webhook_that_hangs_or_is_gone_holds_up_nobody(service: Service, caplog: pytest.LogCaptureFixture) -> None:
    service.hangs = True
    assert await webhook(service, seconds=0.2).say(SAID, "Ines") is Came.FAILED
    await service.server.close()
    assert await webhook(service).say(SAID, "Ines") is Came.FAILED
    assert len(caplog.records) == 2
    assert SECRET not in caplog.text


async def test_a_service_is_notified_though_another_fails(service: Service) -> None:
    assert await Notify(["json://127.0.0.1:1/x", f"json://{service.address}"]).say(SAID, "Ines") is Came.ARRIVED
    ((body, _),) = service.got
    assert (body["title"], body["message"]) == ("lampwatch: routine", SAID.text)


@pytest.mark.parametrize("address", ["json://127.0.0.1:1/s3cret", "no-such-service://s3cret"])
async def test_where_no_service_took_it_it_has_not_arrived(address: str, caplog: pytest.LogCaptureFixture) -> None:
    assert await Notify([address]).say(SAID, "Ines") is Came.FAILED
    assert SECRET not in caplog.text


async def test_services_that_do_not_answer_in_time_are_left(service: Service, caplog: pytest.LogCaptureFixture) -> None:
    assert await Notify([f"json://{service.address}"], seconds=0.05).say(SAID, "Ines") is Came.FAILED
    assert "in time" in caplog.text
