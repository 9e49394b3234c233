"""Joining: a link joins one device, once, under a name; who has not joined sees nothing at all."""

from __future__ import annotations

from typing import Any

import pytest
from aiohttp import WSServerHandshakeError
from aiohttp.test_utils import TestClient

from bot.channels.web.channel import FILES
from tests.channels.house import House, cookie_of

EVERY_PATH = [
    "/",
    "/style.css",
    "/page.js",
    "/night.js",
    "/favicon.ico",
    "/socket",
    "/push/key",
    "/push/subscription",
    "/push/got",
    "/bedside",
    "/sw.js",
    "/page.html",
    "/robots.txt",
    "/..%2f..%2fetc/passwd",
    "/join",
    "/api",
]


@pytest.mark.parametrize("path", EVERY_PATH)
@pytest.mark.parametrize("method", ["GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS", "TRACE"])
async def test_a_device_without_a_session_sees_nothing_by_any_path(
    house: House, keeper: TestClient[Any, Any], path: str, method: str
) -> None:
    answer = await house.browser().request(method, path)
    assert answer.status == 401
    body = await answer.text()
    assert "Ines" not in body
    assert "Juniper" not in body
    assert "socket" not in body


async def test_every_path_of_the_page_is_behind_the_gate(house: House) -> None:
    paths = {resource.canonical for resource in house.running.web.application().router.resources()}
    assert paths == {
        *FILES,
        "/socket",
        "/join/{token}",
        "/api/climate",
        "/chart/{answer}/{variant}.png",
        "/sheet/{answer}.pdf",
        "/push/key",
        "/push/subscription",
        "/push/got",
        "/calendar/{token}.ics",
    }


@pytest.mark.parametrize("session", ["", "x", "0" * 22, "' or 1=1 --", "\u00e9"])
async def test_a_made_up_session_opens_nothing(house: House, keeper: TestClient[Any, Any], session: str) -> None:
    browser = house.browser()
    for path in ("/", "/page.js"):
        assert (await browser.get(path, headers={"Cookie": f"lampwatch={session}"})).status == 401
    with pytest.raises(WSServerHandshakeError) as refused:
        await browser.ws_connect("/socket", headers={"Cookie": f"lampwatch={session}"})
    assert refused.value.status == 401


async def test_the_link_shows_a_form_and_being_looked_at_uses_nothing_up(house: House) -> None:
    link = f"/join/{house.token('Theo')}"
    for _ in range(3):
        answer = await house.browser().get(link)
        assert answer.status == 200
        assert 'value="Theo"' in await answer.text()
    answer = await house.browser().post(link, data={"name": "Theo"}, allow_redirects=False)
    assert (answer.status, answer.headers["Location"]) == (303, "/")


async def test_the_form_runs_no_script_and_fetches_nothing(house: House) -> None:
    answer = await house.browser().get(f"/join/{house.token()}")
    policy = answer.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "script-src" not in policy
    body = await answer.text()
    assert "<script" not in body
    assert "src=" not in body


async def test_the_session_is_out_of_reach_of_scripts_and_other_sites(house: House) -> None:
    answer = await house.browser().post(f"/join/{house.token()}", data={"name": "Ines"}, allow_redirects=False)
    cookie = answer.headers["Set-Cookie"]
    assert cookie.startswith("lampwatch=")
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert "Path=/" in cookie


async def test_only_the_hash_of_a_session_is_kept(house: House, keeper: TestClient[Any, Any]) -> None:
    session = cookie_of(keeper, house.server)
    database = house.running.household._journal._database
    kept = [str(row) for table in database.table_names() for row in database[table].rows]
    assert kept
    assert not [row for row in kept if session in row]


async def test_a_link_joins_one_device_only(house: House) -> None:
    link = f"/join/{house.token()}"
    assert (await house.browser().post(link, data={"name": "Ines"}, allow_redirects=False)).status == 303
    for answer in (await house.browser().get(link), await house.browser().post(link, data={"name": "Theo"})):
        assert answer.status == 410
        assert "once" in await answer.text()
    assert house.running.household.people() == ["Ines"]


async def test_a_link_that_is_too_old_joins_nobody(house: House) -> None:
    link = f"/join/{house.token()}"
    house.clock.on(hours=25)
    assert (await house.browser().get(link)).status == 410
    assert (await house.browser().post(link, data={"name": "Ines"})).status == 410


async def test_a_link_that_nobody_made_joins_nobody(house: House) -> None:
    assert (await house.browser().get("/join/abcdefghijklmnopqrstuv")).status == 410
    assert (await house.browser().post("/join/abcdefghijklmnopqrstuv", data={"name": "Ines"})).status == 410


@pytest.mark.parametrize("name", ["", "   ", "bot", "all", "<b>Ines</b>", "a" * 41, "pup 3\x00", "dam", "'\"><script>alert(1)</script>"])
async def test_a_name_that_cannot_be_one_is_said_on_the_form_and_the_link_stays_good(house: House, name: str) -> None:
    link = f"/join/{house.token()}"
    browser = house.browser()
    answer = await browser.post(link, data={"name": name}, allow_redirects=False)
    assert answer.status == 400
    body = await answer.text()
    assert 'role="alert"' in body
    assert "<script" not in body
    assert "<b>" not in body
    assert (await browser.post(link, data={"name": "Ines"}, allow_redirects=False)).status == 303


@pytest.mark.parametrize("body", [b"", b"name", b"name=" + b"a" * 100_000, b"\xff\xfe", b"name=%ff%fe"])
async def test_a_broken_form_joins_nobody(house: House, body: bytes) -> None:
    headers = {"Content-Type": "application/x-www-form-urlencoded"}
    answer = await house.browser().post(f"/join/{house.token()}", data=body, headers=headers, allow_redirects=False)
    assert answer.status == 400
    assert house.running.household.people() == []


async def test_a_file_in_place_of_a_name_joins_nobody(house: House) -> None:
    form = '--x\r\nContent-Disposition: form-data; name="name"; filename="a.txt"\r\n\r\nInes\r\n--x--\r\n'
    headers = {"Content-Type": "multipart/form-data; boundary=x"}
    answer = await house.browser().post(f"/join/{house.token()}", data=form.encode(), headers=headers, allow_redirects=False)
    assert answer.status == 400
    assert house.running.household.people() == []


async def test_a_device_that_is_in_already_uses_up_no_link(house: House, keeper: TestClient[Any, Any]) -> None:
    link = f"/join/{house.token()}"
    answer = await keeper.get(link, allow_redirects=False)
    assert (answer.status, answer.headers["Location"]) == (303, "/")
    assert (await house.browser().get(link)).status == 200


async def test_the_first_who_joins_is_asked_about_the_litter(house: House) -> None:
    page = await house.open(await house.joined("Ines"))
    assert [line["says"] for line in page.lines] == ["reply"]
    assert "How many pups?" in page.lines[0]["text"]


async def test_a_foreign_page_may_not_join_anyone(house: House) -> None:
    link = f"/join/{house.token()}"
    for origin in ("http://elsewhere.test", "null", "", "http://lamp.test.elsewhere.test"):
        answer = await house.browser().post(link, data={"name": "Ines"}, headers={"Origin": origin}, allow_redirects=False)
        assert answer.status == 403
    assert house.running.household.people() == []


async def test_everyone_sees_at_once_who_has_come(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    assert page.welcome["people"] == ["Ines"]
    await house.joined("Theo")
    assert (await page.next())["people"] == ["Ines", "Theo"]
