"""The calendar that a phone subscribes to: only by its secret link, until the links are ended."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from aiohttp.test_utils import TestClient
from icalendar import Calendar
from yarl import URL

from tests.channels.house import House

_IDS = itertools.count()


async def said(house: House, browser: TestClient[Any, Any], text: str) -> str:
    """What the bot replies to words typed on a page."""
    page = await house.open(browser)
    await page.say(text, f"message {next(_IDS)}")
    frame = await page.until(lambda frame: frame.get("lines"))
    await page.line.close()
    return "\n".join(str(line["text"]) for line in frame["lines"] if "says" in line)


async def link(house: House, keeper: TestClient[Any, Any]) -> str:
    """The path of a new link, taken out of the reply that gives it."""
    return URL((await said(house, keeper, "calendar link")).splitlines()[-1]).path


async def test_a_phone_without_a_session_reads_the_calendar_by_the_link(house: House, keeper: TestClient[Any, Any]) -> None:
    house.running.web.address = "http://192.168.1.5:8080"
    reply = await said(house, keeper, "calendar link")
    assert "Subscribe to this address" in reply
    assert reply.splitlines()[-1].startswith("http://192.168.1.5:8080/calendar/")
    answer = await house.browser().get(URL(reply.splitlines()[-1]).path)
    assert answer.status == 200
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert "Set-Cookie" not in answer.headers
    read = Calendar.from_ical(await answer.read())
    assert isinstance(read, Calendar)
    assert any("Deworm" in str(one["SUMMARY"]) for one in read.events)


@pytest.mark.parametrize("method", ["GET", "HEAD"])
@pytest.mark.parametrize(
    "path", ["x.ics", ".ics", "", "%00.ics", "'%20or%201=1%20--.ics", "0000000000000000000000.ics", "%ff%fe.ics", "a/b.ics"]
)
async def test_without_the_right_link_there_is_nothing_there(house: House, keeper: TestClient[Any, Any], method: str, path: str) -> None:
    await link(house, keeper)
    answer = await house.browser().request(method, URL(f"/calendar/{path}", encoded=True))
    assert answer.status == 404
    assert "Juniper" not in await answer.text()


async def test_the_link_gives_the_calendar_and_nothing_else(house: House, keeper: TestClient[Any, Any]) -> None:
    token = (await link(house, keeper)).removeprefix("/calendar/").removesuffix(".ics")
    stranger = house.browser()
    assert (await stranger.get("/", headers={"Cookie": f"lampwatch={token}"})).status == 401
    assert (await stranger.get(f"/join/{token}")).status == 410
    assert (await stranger.post(f"/calendar/{token}.ics")).status == 405
    assert (await stranger.get(f"/calendar/{token}.ics", headers={"Origin": "http://elsewhere.example"})).status == 403


async def test_every_phone_may_have_its_own_link_and_all_end_together(house: House, keeper: TestClient[Any, Any]) -> None:
    one, two = await link(house, keeper), await link(house, keeper)
    assert one != two
    assert [(await house.browser().get(path)).status for path in (one, two)] == [200, 200]
    assert "the 2 calendar links read nothing any more" in await said(house, keeper, "end the calendar links")
    assert [(await house.browser().get(path)).status for path in (one, two)] == [404, 404]
    assert "no calendar link" in await said(house, keeper, "stop the calendar link")


async def test_only_a_keeper_makes_a_link_or_ends_it(house: House, keeper: TestClient[Any, Any]) -> None:
    theo = await house.joined("Theo")
    path = await link(house, keeper)
    for words in ("calendar link", "end the calendar links"):
        assert "Only a keeper can change that (Ines)" in await said(house, theo, words)
    assert (await house.browser().get(path)).status == 200


async def test_what_was_just_logged_is_in_the_next_reading(house: House, keeper: TestClient[Any, Any]) -> None:
    path = await link(house, keeper)
    before = await (await house.browser().get(path)).read()
    assert before == await (await house.browser().get(path)).read()
    await said(house, keeper, "1 nursed 10")
    after = await (await house.browser().get(path)).text()
    assert "SUMMARY:Nurse: Pup 1" in after
