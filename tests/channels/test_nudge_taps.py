"""A nudge carries its likely answers, each an ordinary message that the bot reads as the care that was asked for."""

from __future__ import annotations

from typing import Any

import pytest
from aiohttp.test_utils import TestClient

from bot.care.choice import CARES
from bot.channels.web.taps import nudge_taps
from parsers import read
from parsers.events import Who
from tests.channels.house import House
from tests.parsers.litters import NOW, litter

ALL = [1, 2, 3, 4, 5]
SILENT = {"weighing", "dam check", "temperature"}
"""Care that is answered with figures, which only the person has."""


@pytest.mark.parametrize(
    ("about", "who", "taps"),
    [
        ("nursing", ALL, ["all nursed", "snooze 20"]),
        ("nursing", [3], ["3 nursed", "snooze 20", "3 refused"]),
        ("nursing", [1, 4], ["1, 4 nursed", "snooze 20", "1 refused", "4 refused"]),
        ("clearing", [1, 4], ["1, 4 cleared", "snooze 20"]),
        ("toilet", ALL, ["all stimulated", "snooze 20"]),
        ("first milk", [2], ["2 nursed", "snooze 20", "2 refused"]),
        ("supervision", ALL, ["looked in on them", "snooze 20"]),
        ("weighing", ALL, ["snooze 20"]),
        ("dam check", ["dam"], ["snooze 20"]),
    ],
)
def test_what_can_be_tapped(about: str, who: list[Who], taps: list[str]) -> None:
    assert nudge_taps(about, who, {}, ALL) == taps


def test_a_dose_is_given_to_each_by_itself() -> None:
    assert nudge_taps("dose", ["dam"], {"drug": "calcium"}, ALL) == ["gave mom calcium", "snooze 20"]
    both = {"1": {"drug": "dewormer"}, "2": {"drug": "dewormer"}}
    assert nudge_taps("dose", [1, 2], both, ALL) == ["gave pup 1 dewormer", "gave pup 2 dewormer", "snooze 20"]


@pytest.mark.parametrize("about", CARES)
@pytest.mark.parametrize("who", [[3], [1, 4], ALL])
def test_each_tap_reads_as_what_was_asked_for_of_those_it_was_asked_of(about: str, who: list[int]) -> None:
    """Nothing is unread, nothing is asked back, and no other dog is logged; so whatever care a nudge is ever about."""
    drug = {str(pup): {"drug": "calcium"} for pup in who}
    taps = nudge_taps(about, who, drug if about == "dose" else {}, ALL)
    assert (len(taps) == 1) == (about in SILENT)
    logged: set[object] = set()
    for tap in taps:
        reading = read(tap, litter(), now=NOW)
        assert not reading.unread
        assert reading.does == ("setup" if tap == "snooze 20" else "note" if about == "supervision" else "log"), tap
        logged |= {getattr(event, "who", None) for event in reading.events}
    if about not in SILENT and about != "supervision":
        assert logged == set(who)


async def test_a_nudge_on_the_page_can_be_answered_by_a_tap_for_a_while(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    await page.say("all nursed 15 cleared stimulated", "n")
    await page.quiet()
    house.clock.on(hours=2)
    await house.running.speak_up()
    frame = await page.until(lambda frame: frame.get("lines"))
    (nudge,) = [line for line in frame["lines"] if "to nurse" in line["text"]]
    assert nudge["taps"] == ["all nursed", "snooze 20"]
    await page.say(nudge["taps"][0], "tap")
    reply = (await page.until(lambda frame: any(line.get("says") == "reply" for line in frame.get("lines", []))))["lines"][-1]
    assert reply["does"] == "log"
    house.clock.on(hours=2)
    later = await house.open(keeper)
    assert [line["id"] for line in later.lines if line["id"] == nudge["id"] and "taps" in line] == []


async def test_where_there_are_two_litters_a_tap_names_its_own(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    await page.say("all nursed 15 cleared stimulated", "n")
    await page.say("new litter of 3 from Willow, born today at 2:30 am", "w")
    await page.quiet()
    house.clock.on(hours=2)
    await house.running.speak_up()
    await page.quiet()
    (nudge,) = [line for line in page.lines if "to nurse" in line["text"]]
    assert nudge["taps"][0] == "Juniper: all nursed"
    await page.say(nudge["taps"][0], "tap")
    await page.quiet()
    assert page.lines[-1]["text"].startswith("Juniper's litter: ")
