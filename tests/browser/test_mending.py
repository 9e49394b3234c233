"""A line is mended on the phone where it stands: undo, another pup, a number, a time; the correction says which line it mends."""

from __future__ import annotations

from playwright.sync_api import Browser, expect

from tests.app.served import Served
from tests.browser.test_browser import Device, browser, pytestmark
from tests.browser.test_charts import SEEN
from tests.browser.test_keys import bot, ines

__all__ = ["bot", "browser", "ines", "pytestmark"]


def test_a_line_is_mended_where_it_stands(ines: Device, bot: Served, browser: Browser) -> None:
    ines.say("pup 3 215 g")
    expect(ines.page.locator(".bot .text").last).to_contain_text("Pup 3: 215 g.")
    ines.say("pup 1 cleared")
    line = ines.page.get_by_role("log").get_by_text("pup 3 215 g", exact=True)
    line.tap()
    ines.page.get_by_role("button", name="change").tap()
    expect(ines.page.locator("#mending")).to_contain_text("“pup 3 215 g”")
    field = ines.page.get_by_label("Message")
    expect(field).to_have_value("no, ")
    field.press_sequentially("218")
    expect(ines.page.locator("#reads")).to_have_text("reads as: Corrects to: Pup 3: 218 g.")
    SEEN.mkdir(exist_ok=True)
    ines.page.screenshot(path=SEEN / "mending_dark.png")
    ines.page.get_by_role("button", name="Send").tap()
    expect(ines.page.locator(".bot .text").last).to_contain_text("Corrected: Pup 3: 218 g. Was: Pup 3: 215 g.")
    expect(ines.page.locator(".person .of").last).to_contain_text("mends ")
    expect(ines.page.locator("#mending")).to_be_hidden()
    expect(line).to_be_visible()


def test_another_pup_and_undo_are_one_tap(ines: Device, bot: Served) -> None:
    ines.say("pup 3 215 g")
    line = ines.page.get_by_role("log").get_by_text("pup 3 215 g", exact=True)
    expect(line).to_be_visible()
    line.tap()
    ines.page.get_by_role("button", name="other pup").tap()
    ines.page.get_by_role("button", name="It was Pup 4").tap()
    expect(ines.page.locator(".bot .text").last).to_contain_text("Corrected: Pup 4: 215 g")
    line.tap()
    ines.page.locator(".offer").get_by_role("button", name="undo").tap()
    expect(ines.page.locator(".bot .text").last).to_contain_text("Taken back")
