"""The chart beside an answer, as a page gets it: marked on its line, given to joined devices only, never an exception."""

from __future__ import annotations

from typing import Any

import pytest
from aiohttp import web
from aiohttp.test_utils import TestClient, TestServer

from bot.channels.web.showing import CHART, SHEET, ShowingDoor
from bot.drawing.artist import NotDrawn
from tests.channels.house import House

PNG = b"\x89PNG\r\n\x1a\n"


async def asked(house: House, keeper: TestClient[Any, Any], words: str) -> dict[str, Any]:
    """The line of the answer to a question."""
    page = await house.open(keeper)
    await page.say("weights 205 188 212 199 220", "weights")
    await page.until(lambda frame: frame.get("lines"))
    await page.say(words, words)
    frame = await page.until(lambda frame: any(line.get("says") == "answer" for line in frame.get("lines", [])))
    again = await house.open(await house.joined("Theo"))
    (line,) = (line for line in frame["lines"] if line.get("says") == "answer")
    assert line in again.welcome["lines"]  # a page that is opened later shows it too
    await page.line.close()
    await again.line.close()
    return dict(line)


async def test_the_line_says_that_there_is_a_chart_and_it_is_drawn_in_the_dark_and_by_day(
    house: House, keeper: TestClient[Any, Any]
) -> None:
    line = await asked(house, keeper, "chart")
    assert line["shows"] == "chart"
    pictures = []
    for variant in ("dark", "light"):
        answer = await keeper.get(f"/chart/{line['id']}/{variant}.png")
        assert (answer.status, answer.content_type) == (200, "image/png")
        pictures.append(await answer.read())
        assert answer.headers["Cache-Control"] == "no-store"
    assert all(picture.startswith(PNG) for picture in pictures)
    assert pictures[0] != pictures[1]


async def test_an_answer_in_words_shows_nothing_else(house: House, keeper: TestClient[Any, Any]) -> None:
    line = await asked(house, keeper, "today's gains")
    assert "shows" not in line
    assert (await keeper.get(f"/chart/{line['id']}/dark.png")).status == 404


@pytest.mark.parametrize(
    "path", ["/chart/1/dark.png", "/chart/99999999/dark.png", "/chart/0/dark.png", "/chart/x/dark.png", "/chart/1/pink.png"]
)
async def test_what_is_no_chart_is_not_found(keeper: TestClient[Any, Any], path: str) -> None:
    assert (await keeper.get(path)).status == 404


async def test_a_device_that_has_not_joined_sees_no_chart(house: House, keeper: TestClient[Any, Any]) -> None:
    line = await asked(house, keeper, "chart")
    stranger = house.browser()
    answer = await stranger.get(f"/chart/{line['id']}/dark.png")
    assert answer.status == 401
    assert not (await answer.read()).startswith(PNG)


class Broken:
    """Whatever is to be drawn cannot be."""

    async def chart(self, answer: int, variant: str) -> bytes | None:
        raise NotDrawn(f"Answer {answer} could not be drawn for the {variant}.")

    async def sheet(self, answer: int) -> tuple[str, bytes] | None:
        raise NotDrawn(f"Answer {answer} could not be printed.")


async def test_where_nothing_can_be_drawn_there_is_a_sentence() -> None:
    page = web.Application()
    door = ShowingDoor(Broken())
    page.router.add_get(CHART, door.chart)
    page.router.add_get(SHEET, door.sheet)
    async with TestClient(TestServer(page)) as browser:
        answer = await browser.get("/chart/7/dark.png")
        assert answer.status == 503
        assert await answer.text() == "Answer 7 could not be drawn for the dark."
        answer = await browser.get("/sheet/7.pdf")
        assert (answer.status, await answer.text()) == (503, "Answer 7 could not be printed.")


async def test_the_sheet_is_given_as_a_pdf_to_joined_devices_only(house: House, keeper: TestClient[Any, Any]) -> None:
    line = await asked(house, keeper, "sheet for the vet")
    assert line["shows"] == "sheet"
    answer = await keeper.get(f"/sheet/{line['id']}.pdf")
    assert (answer.status, answer.content_type) == (200, "application/pdf")
    assert answer.headers["Content-Disposition"] == 'inline; filename="juniper-litter-2026-03-02.pdf"'
    assert (await answer.read()).startswith(b"%PDF-")
    assert (await keeper.get(f"/chart/{line['id']}/dark.png")).status == 404
    assert (await keeper.get("/sheet/1.pdf")).status == 404
    assert (await house.browser().get(f"/sheet/{line['id']}.pdf")).status == 401
