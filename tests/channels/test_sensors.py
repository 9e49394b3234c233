"""Sensors at the door and by a broker: their own token, thinned readings, a warning on every page, and their silence."""

from __future__ import annotations

import asyncio
import shutil
import socket
import subprocess
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager, suppress
from pathlib import Path
from typing import Any

import aiomqtt
import pytest
from aiohttp.test_utils import TestClient

from bot.care.sensors import Place, Sensed
from bot.channels.broker import listen
from bot.channels.sensing import read_sensed
from tests.channels.house import House

TOO_LONG = "A reading has at most 2000 bytes."
MOSQUITTO = shutil.which("mosquitto", path="/usr/sbin:/usr/bin:/usr/local/sbin:/usr/local/bin")


async def post(house: House, reading: object, token: str) -> tuple[int, dict[str, Any]]:
    answer = await house.browser().post("/api/climate", json=reading, headers={"Authorization": f"Bearer {token}"})
    return answer.status, await answer.json()


@pytest.fixture
def token(house: House, keeper: TestClient[Any, Any]) -> str:
    return house.running.household.add_sensor("box", "Ines", house.clock())


async def test_a_reading_comes_into_the_log_and_onto_every_page(house: House, keeper: TestClient[Any, Any], token: str) -> None:
    page = await house.open(keeper)
    assert await post(house, {"celsius": 30.4, "humidity": 57}, token) == (200, {"kept": True, "written": True, "said": []})
    frame = await page.until(lambda frame: frame.get("lines"))
    assert [(line["by"], line["text"]) for line in frame["lines"]] == [("box sensor", "box 86.72 F 57 percent")]
    house.clock.on(minutes=1)
    assert await post(house, {"fahrenheit": 86.8, "humidity": 57}, token) == (200, {"kept": True, "written": False, "said": []})
    await page.quiet()
    assert len(page.lines) == len(page.welcome["lines"]) + 1


@pytest.mark.parametrize(("header", "status"), [("Bearer wrong", 401), ("", 401), ("Basic eA==", 401)])
async def test_without_a_token_of_ours_nothing_is_taken(house: House, keeper: TestClient[Any, Any], header: str, status: int) -> None:
    before = len(house.running.household.history())
    answer = await house.browser().post("/api/climate", json={"celsius": 30}, headers={"Authorization": header} if header else {})
    assert answer.status == status
    assert len(house.running.household.history()) == before


async def test_a_sensors_token_opens_nothing_else(house: House, token: str) -> None:
    stranger = house.browser()
    for path in ("/", "/socket", "/page.js"):
        answer = await stranger.get(path, headers={"Authorization": f"Bearer {token}", "Cookie": f"lampwatch={token}"})
        assert answer.status == 401, path


@pytest.mark.parametrize(
    ("sent", "why"),
    [
        (b"warm", "Not JSON"),
        (b"[30]", "object"),
        (b'{"celsius": "warm"}', "must be a number"),
        (b'{"celsius": NaN}', "must be a number"),
        (b'{"celsius": true}', "must be a number"),
        (b'{"celsius": 85}', "just been switched on"),
        (b'{"celsius": -127}', "broken"),
        (b'{"humidity": 140}', "from 0 to 100"),
        (b'{"celsius": null}', "no value"),
        (b"[" * 1000, "Not JSON"),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence(sent: bytes, why: str) -> None:
    answer = read_sensed(sent)
    assert isinstance(answer, str)
    assert why in answer


async def test_a_reading_that_cannot_be_is_answered_and_not_kept(house: House, token: str) -> None:
    status, answer = await post(house, {"celsius": 85}, token)
    assert (status, answer["kept"]) == (422, False)
    assert await post(house, {"celsius": 30, "more": "x" * 3000}, token) == (
        413,
        {"kept": False, "why": "A reading has at most 2000 bytes."},
    )


async def test_a_sensor_that_falls_silent_is_missed_once(house: House, keeper: TestClient[Any, Any], token: str) -> None:
    household = house.running.household
    household.speak_up(house.clock())
    await post(house, {"celsius": 30.4}, token)
    house.clock.on(minutes=20)
    await post(house, {"celsius": 30.4}, token)
    heard = house.clock()
    house.clock.on(minutes=29)
    assert not [said for said in household.speak_up(house.clock()) if said.about == "sensor silent"]
    house.clock.on(minutes=1)
    (missed,) = [said for said in household.speak_up(house.clock()) if said.about == "sensor silent"]
    assert (missed.says, missed.urgency, (missed.at - heard).total_seconds()) == ("warning", "soon", 1800)
    house.clock.on(minutes=90)
    assert not [said for said in household.speak_up(house.clock()) if said.about == "sensor silent"]


@pytest.fixture
def broker(tmp_path: Path) -> Iterator[int]:
    if MOSQUITTO is None:
        pytest.fail("mosquitto is missing: bash tests/run installs it on Debian")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = int(free.getsockname()[1])
    settings = tmp_path / "mosquitto.conf"
    settings.write_text(f"listener {port} 127.0.0.1\nallow_anonymous true\npersistence false\n")
    process = subprocess.Popen([MOSQUITTO, "-c", str(settings)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        yield port
    finally:
        process.kill()
        process.wait()


@pytest.fixture
async def heard(broker: int) -> AsyncIterator[asyncio.Queue[tuple[Place, Sensed]]]:
    """What comes by the broker, as `listen` takes it."""
    queue: asyncio.Queue[tuple[Place, Sensed]] = asyncio.Queue()

    async def sense(place: Place, sensed: Sensed) -> None:
        await queue.put((place, sensed))

    listening = asyncio.create_task(listen(f"mqtt://127.0.0.1:{broker}/kennel", sense, again_after=0.05))
    yield queue
    listening.cancel()


@asynccontextmanager
async def _client(port: int) -> AsyncIterator[aiomqtt.Client]:
    """A client of the broker, once it is there."""
    for _ in range(200):
        with suppress(aiomqtt.MqttError):
            async with aiomqtt.Client("127.0.0.1", port) as client:
                yield client
                return
        await asyncio.sleep(0.02)
    raise AssertionError("the broker did not start")


async def published(port: int, topic: str, payload: str, queue: asyncio.Queue[tuple[Place, Sensed]]) -> tuple[Place, Sensed]:
    """Publish until it is heard: the listener may still be on its way to the broker."""
    for _ in range(200):
        try:
            async with _client(port) as client:
                await client.publish(topic, payload, qos=1)
            return await asyncio.wait_for(queue.get(), 0.1)
        except (TimeoutError, aiomqtt.MqttError):
            continue
    raise AssertionError("nothing came by the broker")


async def test_a_broker_brings_readings(broker: int, heard: asyncio.Queue[tuple[Place, Sensed]], caplog: pytest.LogCaptureFixture) -> None:
    assert await published(broker, "kennel/box", '{"celsius": 30.4, "humidity": 57}', heard) == ("box", Sensed(30.4, 57))
    async with _client(broker) as client:
        await client.publish("kennel/box", "warm", qos=1)
        await client.publish("kennel/garden", '{"celsius": 5}', qos=1)
        await client.publish("kennel/room", '{"celsius": 22}', qos=1)
    place, sensed = await asyncio.wait_for(heard.get(), 5)
    while place == "box":  # the first one may have been sent twice before it was heard
        place, sensed = await asyncio.wait_for(heard.get(), 5)
    assert (place, sensed) == ("room", Sensed(22))
    assert "Not JSON" in caplog.text
    assert "not in 'garden'" in caplog.text


async def test_what_was_published_while_nobody_listened_is_passed_over(broker: int) -> None:
    async with _client(broker) as client:
        await client.publish("kennel/incubator", '{"celsius": 12}', qos=1, retain=True)
    late: asyncio.Queue[tuple[Place, Sensed]] = asyncio.Queue()

    async def sense(place: Place, sensed: Sensed) -> None:
        await late.put((place, sensed))

    listening = asyncio.create_task(listen(f"mqtt://127.0.0.1:{broker}/kennel/", sense, again_after=0.05))
    first = await published(broker, "kennel/box", '{"celsius": 30}', late)
    listening.cancel()
    assert first == ("box", Sensed(30))


async def test_readings_by_the_broker_come_into_the_log(house: House, keeper: TestClient[Any, Any]) -> None:
    assert await house.running.sense_by_broker("box", Sensed(30.4)) == {"kept": True, "written": True, "said": []}
    assert house.running.household.history(limit=1)[0].by == "box sensor"
    assert (await house.running.sense_by_broker("box", Sensed(30.5)))["written"] is False
