"""One thumb in the dark: keys compose a message that is seen before it goes, read along while it stands there; a glance, a board."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, expect

from tests.app.served import Served, serving
from tests.browser.test_browser import LITTER, Device, browser, phone, pytestmark
from tests.browser.test_charts import SEEN

__all__ = ["browser", "pytestmark"]


@pytest.fixture
def bot(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serving(tmp_path_factory.mktemp("keys") / "data") as bot:
        bot.say(LITTER.replace("of 5", "of 6"))
        bot.say("skip all")
        bot.say("call pup 2 Olive")
        bot.say("1 206, 2 188, 3 212, 4 199, 5 176, 6 190")
        yield bot


@pytest.fixture
def ines(browser: Browser, bot: Served) -> Iterator[Device]:
    device = Device(phone(browser))
    device.join(bot.invite("Ines"), "Ines")
    yield device
    assert device.complaints == []
    device.context.close()


def key(ines: Device, name: str) -> Locator:
    return ines.page.locator("#keys").get_by_role("button", name=name, exact=True)


def test_keys_compose_a_message_that_is_seen_before_it_goes(ines: Device) -> None:
    for name in ("Pup 3", "nursed 15", "cleared", "Pup 2 Olive", "peed"):
        key(ines, name).tap()
    field = ines.page.get_by_label("Message")
    expect(field).to_have_value("3 nursed 15 cleared, 2 peed")
    expect(ines.page.locator("#reads")).to_have_text("reads as: Pup 3: nursed 15 min, cleared. Pup 2 Olive: peed.")
    assert ines.page.get_by_role("log").get_by_text("nursed 15").count() == 0
    key(ines, "back").tap()
    expect(field).to_have_value("3 nursed 15 cleared, 2")
    key(ines, "pooped").tap()
    ines.page.get_by_role("button", name="Send").tap()
    expect(ines.page.locator(".bot .text").last).to_have_text("Pup 3: nursed 15 min, cleared. Pup 2 Olive: pooped.")
    expect(field).to_have_value("")
    expect(ines.page.locator("#reads")).to_be_hidden()
    assert ines.page.evaluate("document.activeElement === document.body"), "the phone's own keyboard stays away"


def test_the_weights_of_six_pups_take_fewer_than_45_taps(ines: Device) -> None:
    taps = 0

    def tap(name: str) -> None:
        nonlocal taps
        taps += 1
        key(ines, name).tap()

    tap("weigh")
    expect(ines.page.locator("#keys .last")).to_have_text("Pup 1: last 206 g")
    weights = {1: "209", 2: "191", 3: "218", 4: "203", 5: "180", 6: "196"}
    for pup, grams in weights.items():
        for digit in grams:
            tap(digit)
        if pup == 1:
            expect(ines.page.locator("#keys .last")).to_have_text("Pup 1: last 206 g, now +3 g")
        if pup != 6:
            tap("next pup")
    expect(ines.page.get_by_label("Message")).to_have_value("1 209, 2 191, 3 218, 4 203, 5 180, 6 196")
    tap("Send")
    expect(ines.page.locator(".bot .text").last).to_contain_text("Pup 6: 196 g.")
    assert taps < 45


def test_what_is_typed_is_read_along_and_what_would_be_asked_is_seen(ines: Device) -> None:
    ines.page.get_by_label("Message").fill("pup 3 91")
    reads = ines.page.locator("#reads")
    expect(reads).to_contain_text("I would ask first: 91 g for pup 3 is far from its last 212 g")
    expect(reads).to_have_class("asks")
    ines.page.get_by_label("Message").fill("pup 3 <b>215</b> g")
    expect(reads).to_contain_text("reads as:")
    assert reads.locator("b").count() == 0
    ines.page.get_by_label("Message").fill("")
    expect(reads).to_be_hidden()


def test_the_top_tells_what_is_next_and_opens_the_board(ines: Device, bot: Served) -> None:
    bot.say("all nursed 15")
    bot.say("pup 5 limp")
    strip = ines.page.get_by_role("button", name="open the board")
    expect(strip).to_contain_text("Emergency: limp (Pup 5)")
    expect(strip).to_contain_text(" in ")
    strip.tap()
    board = ines.page.get_by_role("dialog", name="The board")
    expect(board.get_by_role("rowheader").first).to_have_text("5")
    expect(board.locator("tr").nth(2)).to_contain_text("emergency: sign, limp")
    expect(board).to_contain_text("Juniper")
    SEEN.mkdir(exist_ok=True)
    ines.page.screenshot(path=SEEN / "board_dark.png")
    assert ines.page.evaluate("document.getElementById('board').scrollWidth <= 360")
    board.get_by_role("button", name="close").tap()
    expect(board).to_be_hidden()


def test_all_of_it_is_reached_by_a_keyboard(ines: Device) -> None:
    reached = set()
    for _ in range(40):
        ines.page.keyboard.press("Tab")
        reached.add(ines.page.evaluate("document.activeElement.getAttribute('aria-label') || document.activeElement.textContent"))
    assert any("open the board" in each for each in reached)
    assert {"Send", "Pup 3", "weigh", "cleared", "who's due?", "help"} <= reached
