"""From the bell to a person's eyes: what the page confirms has arrived, and what nobody got is a warning there and in the log."""

from __future__ import annotations

from typing import Any

import pytest
from aiohttp.test_utils import TestClient

from tests.channels.house import House


@pytest.fixture
async def due(house: House, keeper: TestClient[Any, Any]) -> House:
    """Pup 3 is due to nurse, and no page is open."""
    page = await house.open(keeper)
    await page.say("pup 3 nursed", "n")
    await page.quiet()
    await page.confirm()
    await page.line.close()
    house.clock.on(hours=2, minutes=1)
    return house


def owed(house: House) -> list[str | None]:
    house.running._mark()
    return [said.about for said in house.running.household.owed()]


async def test_what_an_open_page_confirms_is_no_longer_owed(due: House, keeper: TestClient[Any, Any]) -> None:
    page = await due.open(keeper)
    await due.running.speak_up()
    await page.until(lambda frame: frame.get("lines"))
    assert "nursing" in owed(due)
    await page.confirm()
    assert owed(due) == []


async def test_a_confirmation_of_what_is_for_another_counts_for_nothing(due: House, keeper: TestClient[Any, Any]) -> None:
    page = await due.open(keeper)
    await due.joined("Theo")
    await page.say("Theo has the watch", "w")
    await page.quiet()
    await due.running.speak_up()
    await page.confirm()
    assert "nursing" in owed(due)


async def test_what_nobody_got_is_a_warning_on_the_page_and_in_the_log_once(due: House, keeper: TestClient[Any, Any]) -> None:
    await due.running.speak_up()
    await due.running.settled()
    due.clock.on(minutes=10)
    await due.running.speak_up()
    await due.running.settled()
    due.clock.on(minutes=10)
    await due.running.speak_up()
    await due.running.settled()
    page = await due.open(keeper)
    (warning,) = [line for line in page.lines if line.get("says") == "warning"]
    assert "This reached nobody:" in warning["text"]
    assert "Pup 3 is due to nurse" in warning["text"]
    assert "unheard" in owed(due)
    await page.confirm()
    assert owed(due) == []


@pytest.mark.parametrize("junk", ['{"got": 3}', '{"got": ["x", null, true, {}]}', '{"got": [-1, 99999999999999999999]}'])
async def test_a_confirmation_of_nothing_is_passed_over(house: House, keeper: TestClient[Any, Any], junk: str) -> None:
    page = await house.open(keeper)
    await page.line.send_str(junk)
    await page.quiet()
    assert page.frames[-1] == {"pong": 1}
