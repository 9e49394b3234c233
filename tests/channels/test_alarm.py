"""`test my alarm`: the ways with their last success, and a nudge of nothing by each at once."""

from __future__ import annotations

from collections.abc import AsyncIterator
from typing import Any

import pytest
from aiohttp.test_utils import TestClient, TestServer

from bot.app.running import Running
from bot.app.ways import Further
from bot.conversation import Message, Said
from bot.delivery import Came, Way
from tests.channels.house import HeldClock, House
from tests.conversation.talk import Talk


class Voice:
    """A way of the house that keeps what it was given."""

    way = Way("speaker", shared=True)

    def __init__(self) -> None:
        self.got: list[str] = []

    async def say(self, said: Said, to: str) -> Came:
        self.got.append(said.text)
        assert to == said.to
        return Came.ARRIVED


@pytest.fixture
def voice() -> Voice:
    return Voice()


@pytest.fixture
async def house(voice: Voice) -> AsyncIterator[House]:
    clock = HeldClock()
    running = Running(None, "America/Chicago", clock, ways=lambda *_: Further(house=[voice]))
    server = TestServer(running.web.application())
    await server.start_server()
    house = House(running, clock, server)
    yield house
    await running.web.close()
    for browser in house.browsers:
        await browser.close()
    await server.close()
    running.stop()


async def test_a_test_goes_by_every_way_and_the_next_one_tells_what_arrived(
    house: House, keeper: TestClient[Any, Any], voice: Voice
) -> None:
    page = await house.open(keeper)
    await page.say("Test my alarm!", "t1")
    await page.quiet()
    await house.running.settled()
    reply, nudge = page.lines[-2:]
    assert reply["text"].splitlines()[1:3] == [
        "1. page: nothing has arrived by it yet.",
        "2. speaker: nothing has arrived by it yet.",
    ]
    assert (nudge["says"], nudge["to"], "taps" in nudge) == ("nudge", "Ines", False)
    assert voice.got == [nudge["text"]], "a page is open, and it goes by the speaker all the same"
    await page.confirm()
    house.running._mark()
    house.clock.on(minutes=1)
    await page.say("test my alarm", "t2")
    await page.quiet()
    assert page.lines[-2]["text"].splitlines()[1:3] == ["1. page: last arrived 3:14 am.", "2. speaker: last arrived 3:14 am."]


async def test_a_test_that_nobody_confirms_is_no_warning(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    await page.say("test my alarm", "t1")
    await page.quiet()
    house.clock.on(minutes=30)
    await house.running.speak_up()
    await house.running.settled()
    await page.quiet()
    assert [line["text"] for line in page.lines if line.get("says") == "warning"] == []


async def test_the_machine_is_told_the_ways_of_everyone(house: House, keeper: TestClient[Any, Any]) -> None:
    await house.joined("Theo")
    answer = await house.running.answer({"do": "ways"})
    assert {person: len(ways) for person, ways in answer["ways"].items()} == {"Ines": 2, "Theo": 2}


def test_where_nothing_is_sent_the_words_go_to_the_reader() -> None:
    talk = Talk()
    talk.say("02:00", "Ines", "new litter of 2 from Juniper, c-section at 2:00 am")
    heard = talk.house.hear(Message("Ines", "test my alarm"), talk.at("03:00"))
    assert heard.kept
    assert "Your ways" not in heard.said[0].text
