"""The chart on a phone: it fits, it says in words what it shows, it is dark in the dark, and a tap enlarges it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from bot.clock import now
from tests.app.served import Served, serving
from tests.app.sixteen_days import grow
from tests.browser.test_browser import Device, Scheme, browser, phone, pytestmark

__all__ = ["browser", "pytestmark"]
SEEN = Path(__file__).parent / "seen"
"""Where a picture of each page is put, to be looked at; git does not keep it."""


@pytest.fixture(scope="module")
def bot(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    data = tmp_path_factory.mktemp("charts") / "data"
    grow(data, now())
    with serving(data) as bot:
        yield bot


@pytest.mark.parametrize(("scheme", "hour"), [("dark", "03:14"), ("light", "12:00")])
@pytest.mark.parametrize(
    ("words", "begins"),
    [
        ("chart", "Growth chart, % of birth weight:"),
        ("chart of Olive", "Growth chart of Pup 2 Olive"),
        ("chart of the night", "Chart of the care"),
        ("chart mom's temperature", "Temperature chart of Juniper"),
    ],
)
def test_a_chart_is_seen_in_full_on_a_small_phone(
    bot: Served, browser: Browser, scheme: Scheme, hour: str, words: str, begins: str
) -> None:
    device = Device(phone(browser, scheme))
    device.context.clock.install(time=f"2026-03-02T{hour}:00-06:00")
    device.join(bot.invite("Ines"), "Ines")
    device.say(words)
    line = device.page.locator(".bot.answer").last
    expect(line.locator(".text")).to_contain_text(begins)
    image = line.locator("figure img")
    expect(image).to_have_js_property("complete", True)
    device.page.wait_for_function("image => image.naturalWidth > 0", arg=image.element_handle())
    assert (image.get_attribute("alt") or "").startswith(begins)
    assert image.evaluate("image => image.currentSrc").endswith(f"/{scheme}.png")
    box = image.bounding_box()
    assert box is not None
    assert box["x"] >= 0
    assert 320 <= box["width"] <= 360
    assert device.page.evaluate("document.documentElement.scrollWidth") == 360
    words_below = line.locator("details")
    expect(words_below.locator(".text")).to_be_hidden()
    words_below.locator("summary").tap()
    expect(words_below.locator(".text")).to_be_visible()
    words_below.locator("summary").tap()
    image.scroll_into_view_if_needed()
    SEEN.mkdir(exist_ok=True)
    device.page.screenshot(path=SEEN / f"{words.replace(' ', '_')}_{scheme}.png")
    assert device.complaints == []
    device.context.close()


def test_a_tap_enlarges_it_and_another_closes_it(bot: Served, browser: Browser) -> None:
    device = Device(phone(browser))
    device.join(bot.invite("Ines"), "Ines")
    device.say("chart of Pip")
    expect(device.page.locator(".bot.answer .text").last).to_contain_text("Growth chart of Pup 4 Pip")
    device.page.locator(".bot.answer").last.get_by_role("button", name="Enlarge the chart").tap()
    large = device.page.get_by_role("dialog")
    expect(large).to_be_visible()
    picture = large.locator("img")
    width = picture.evaluate("image => image.getBoundingClientRect().width")
    assert width > 600
    device.page.screenshot(path=SEEN / "large.png")
    picture.tap(position={"x": 60, "y": 60})
    expect(large).to_be_hidden()
    assert device.complaints == []
    device.context.close()


def test_the_sheet_for_the_vet_opens_at_a_tap(bot: Served, browser: Browser) -> None:
    device = Device(phone(browser))
    device.join(bot.invite("Ines"), "Ines")
    device.say("sheet for the vet")
    link = device.page.locator(".bot.answer").last.get_by_role("link", name="Open the sheet (PDF)")
    expect(link).to_be_visible()
    box = link.bounding_box()
    assert box is not None
    assert box["height"] >= 44
    SEEN.mkdir(exist_ok=True)
    device.page.screenshot(path=SEEN / "sheet.png")
    answer = device.context.request.get(f"http://127.0.0.1:{bot.port}{link.get_attribute('href')}")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.body().startswith(b"%PDF-")
    assert device.complaints == []
    device.context.close()
