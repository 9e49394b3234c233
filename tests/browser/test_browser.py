"""The page in a real browser on a phone's screen: join by the link, say it, see it read back on two devices."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, expect, sync_playwright

from tests.app.served import Served, serving

CHROMIUM = Path("/usr/bin/chromium")
OPTIONS = [
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run",
    "--disable-quic",
]  # fmt: skip
SAID = "pup 3 212 g nursed 15 min cleared"
LITTER = "new litter of 5 from Juniper, c-section 20 hours ago"
READ_BACK = "Pup 3: 212 g, nursed 15 min, cleared."

OPENS = """port => new Promise(done => {
    const line = new WebSocket(`ws://127.0.0.1:${port}/socket`);
    line.onopen = () => done(true);
    line.onerror = () => done(false);
})"""

LINES = (
    "const Line = WebSocket; window.lines = []; window.WebSocket = class extends Line { constructor(at) { super(at); lines.push(this); } };"
)
"""Lets a test get at the page's own socket, to break it."""

AT_END = "(s => s.scrollHeight - s.scrollTop - s.clientHeight < 80)(document.getElementById('scroll'))"

Scheme = Literal["dark", "light"]

pytestmark = pytest.mark.skipif(not CHROMIUM.exists(), reason="needs Debian's chromium: apt-get install chromium fonts-dejavu-core")


class Device:
    """A phone with the page, and everything that its console complained of."""

    def __init__(self, context: BrowserContext) -> None:
        self.context = context
        self.page: Page = context.new_page()
        self.complaints: list[str] = []
        self.asked: list[str] = []
        self.page.add_init_script(LINES)
        self.page.on("console", lambda message: self.complaints.append(message.text) if message.type in ("error", "warning") else None)
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("request", lambda request: self.asked.append(request.url))

    def join(self, link: str, name: str) -> None:
        self.page.goto(link)
        self.page.get_by_label("Your name").fill(name)
        self.page.get_by_role("button", name="Join on this device").tap()
        expect(self.page.locator("#state")).to_have_text("live")

    def say(self, words: str) -> None:
        self.page.get_by_label("Message").fill(words)
        self.page.get_by_role("button", name="Send").tap()


def phone(browser: Browser, color_scheme: Scheme = "dark") -> BrowserContext:
    """A small phone: 360 by 740, touched by a thumb."""
    return browser.new_context(
        viewport={"width": 360, "height": 740},
        device_scale_factor=2,
        is_mobile=True,
        has_touch=True,
        color_scheme=color_scheme,
        timezone_id="America/Chicago",
    )


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=OPTIONS)
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def bot(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serving(tmp_path_factory.mktemp("browser") / "data") as bot:
        bot.say(LITTER)
        bot.say("skip all")
        yield bot


@pytest.fixture
def devices(browser: Browser, bot: Served) -> Iterator[tuple[Device, Device]]:
    """Two phones of the household, Ines's and Theo's; the litter is known."""
    ines, theo = (Device(phone(browser)) for _ in range(2))
    ines.join(bot.invite("Ines"), "Ines")
    theo.join(bot.invite("Theo"), "Theo")
    yield ines, theo
    for device in (ines, theo):
        assert device.complaints == []
        assert [url for url in device.asked if not url.startswith((f"http://127.0.0.1:{bot.port}/", "data:"))] == []
        device.context.close()


def test_a_newcomer_joins_by_the_printed_link_and_sees_it_read_back_on_two_phones(browser: Browser, tmp_path: Path) -> None:
    ines, theo = Device(phone(browser)), Device(phone(browser))
    with serving(tmp_path / "data") as bot:
        ines.join(bot.local_link, "Ines")
        theo.join(bot.invite("Theo"), "Theo")
        ines.say(SAID)
        for device in (ines, theo):
            expect(device.page.get_by_role("log").get_by_text(SAID, exact=True)).to_be_visible()
            expect(device.page.get_by_role("log").get_by_text(READ_BACK)).to_be_visible()
            assert device.complaints == []
    for device in (ines, theo):
        device.context.close()


def test_what_one_phone_says_is_read_back_on_both(devices: tuple[Device, Device]) -> None:
    ines, theo = devices
    ines.say(SAID)
    for device in devices:
        expect(device.page.locator(".bot .text").last).to_have_text(READ_BACK)
        expect(device.page.locator(".person .text").last).to_have_text(SAID)
        expect(device.page.locator(".person .name").last).to_have_text("Ines")
    expect(ines.page.get_by_label("Message")).to_have_value("")
    theo.page.get_by_label("Message").fill("pup 3 cleared")
    theo.page.get_by_label("Message").press("Enter")
    expect(ines.page.locator(".person .name").last).to_have_text("Theo")


def test_words_of_people_never_become_markup(devices: tuple[Device, Device]) -> None:
    ines, theo = devices
    words = '<img src=x onerror="document.title=1"><b>pup</b> 3 <script>document.title=2</script> javascript:alert(1)'
    ines.say(words)
    for device in devices:
        expect(device.page.get_by_role("log").get_by_text(words, exact=True)).to_be_visible()
        assert device.page.locator("#log img, #log b, #log script").count() == 0
        assert device.page.title() == "lampwatch"
    assert theo.page.locator("#log a").count() == 0


def test_what_is_typed_without_a_connection_is_kept_and_sent_by_itself(devices: tuple[Device, Device], bot: Served) -> None:
    ines, _ = devices
    ines.context.set_offline(True)
    ines.page.evaluate("lines.at(-1).close()")
    expect(ines.page.locator("#state")).to_have_text("reconnecting")
    ines.say("pup 1 205 g")
    ines.say("pup 2 188 g")
    expect(ines.page.locator("#waiting .line")).to_have_count(2)
    expect(ines.page.locator("#waiting .fate").first).to_contain_text("kept on this device")
    ines.page.get_by_label("Message").fill("")
    assert ines.page.evaluate("JSON.parse(localStorage.getItem('lampwatch.pending')).map(item => item.text)") == [
        "pup 1 205 g",
        "pup 2 188 g",
    ]
    ines.context.set_offline(False)
    for device in devices:
        expect(device.page.get_by_text("Pup 2: 188 g.", exact=True)).to_be_visible(timeout=15_000)
        assert device.page.get_by_role("log").locator(".person .text").all_inner_texts()[-2:] == ["pup 1 205 g", "pup 2 188 g"]
    expect(ines.page.locator("#waiting .line")).to_have_count(0)
    assert ines.page.evaluate("localStorage.getItem('lampwatch.pending')") == "[]"
    ines.complaints[:] = [words for words in ines.complaints if "ERR_INTERNET_DISCONNECTED" not in words]


def test_what_was_typed_before_the_page_was_closed_is_sent_when_it_is_opened_again(devices: tuple[Device, Device]) -> None:
    ines, _ = devices
    ines.page.evaluate(
        """localStorage.setItem('lampwatch.pending', JSON.stringify([{id: 'left', text: 'pup 4 190 g', typed: Date.now()}]))"""
    )
    ines.page.reload()
    expect(ines.page.get_by_text("Pup 4: 190 g.", exact=True)).to_be_visible()
    ines.page.reload()
    expect(ines.page.locator("#state")).to_have_text("live")
    expect(ines.page.get_by_role("log").get_by_text("pup 4 190 g", exact=True)).to_have_count(1)


def test_a_restart_of_the_bot_is_survived_and_nothing_is_said_twice(browser: Browser, tmp_path: Path) -> None:
    device = Device(phone(browser))
    with serving(tmp_path / "data") as bot:
        bot.say(LITTER)
        bot.say("skip all")
        device.join(bot.invite("Ines"), "Ines")
        device.say("pup 1 205 g")
        expect(device.page.get_by_text("Pup 1: 205 g.", exact=True)).to_be_visible()
        bot.stop()
        expect(device.page.locator("#state")).to_have_text("reconnecting")
        device.say("pup 2 188 g")
        port = str(bot.port)
    with serving(tmp_path / "data", "--port", port):
        expect(device.page.get_by_text("Pup 2: 188 g.", exact=True)).to_be_visible(timeout=15_000)
        texts = device.page.get_by_role("log").locator(".person .text").all_inner_texts()
        assert texts == [LITTER, "skip all", "pup 1 205 g", "pup 2 188 g"]
    device.context.close()


def test_a_question_back_is_answered_by_a_tap(devices: tuple[Device, Device]) -> None:
    ines, theo = devices
    ines.say("pup 5 200 g")
    ines.say("pup 5 91 g")
    yes = ines.page.locator(".picks").get_by_role("button", name="yes")
    expect(yes).to_be_visible()
    assert theo.page.locator(".picks").count() == 0
    yes.tap()
    expect(ines.page.locator(".bot .text").last).to_have_text("Pup 5: 91 g.")
    expect(ines.page.locator(".picks")).to_have_count(0)


def test_who_reads_further_up_is_not_pulled_down_and_sees_that_there_is_more(devices: tuple[Device, Device]) -> None:
    ines, theo = devices
    for number in range(8):
        theo.say(f"pup {number % 5 + 1} cleared")
        expect(ines.page.locator(".bot .text").last).to_have_text(f"Pup {number % 5 + 1}: cleared.")
    assert ines.page.evaluate(AT_END)
    ines.page.evaluate("document.getElementById('scroll').scrollTop = 0")
    below = ines.page.get_by_role("button", name="new entries below")
    expect(below).to_be_hidden()
    theo.say("pup 2 peed")
    expect(below).to_be_visible()
    assert ines.page.evaluate("document.getElementById('scroll').scrollTop") == 0
    below.tap()
    expect(ines.page.get_by_text("Pup 2: peed.").last).to_be_in_viewport()
    expect(below).to_be_hidden()


def test_the_page_fits_a_small_phone_and_its_buttons_a_thumb(devices: tuple[Device, Device]) -> None:
    ines, _ = devices
    ines.say("a very long word " + "x" * 400)
    expect(ines.page.locator(".bot").last).to_be_visible()
    assert ines.page.evaluate("document.documentElement.scrollWidth") == 360
    assert ines.page.evaluate("document.getElementById('scroll').scrollWidth <= document.getElementById('scroll').clientWidth")
    for button in ines.page.locator("button:visible").all():
        box = button.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 44
    size = ines.page.get_by_label("Message").evaluate("element => parseFloat(getComputedStyle(element).fontSize)")
    assert size >= 16


@pytest.mark.parametrize(
    ("asks_for", "hour", "dark"), [("light", "23:30", True), ("light", "03:10", True), ("light", "12:00", False), ("dark", "12:00", True)]
)
def test_the_page_is_dark_at_night_and_by_day_as_the_phone_asks(
    browser: Browser, bot: Served, asks_for: Scheme, hour: str, dark: bool
) -> None:
    device = Device(phone(browser, asks_for))
    device.context.clock.install(time=f"2026-03-02T{hour}:00-06:00")
    device.join(bot.invite("Ines"), "Ines")
    ground = device.page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert ground == ("rgb(18, 16, 12)" if dark else "rgb(250, 246, 236)")
    assert device.page.evaluate("document.querySelector('meta[name=theme-color]').content") == ("#12100c" if dark else "#faf6ec")
    assert device.complaints == []
    device.context.close()


def test_a_device_that_has_not_joined_sees_no_log(browser: Browser, bot: Served, devices: tuple[Device, Device]) -> None:
    ines, _ = devices
    ines.say(SAID)
    expect(ines.page.locator(".bot .text").last).to_have_text(READ_BACK)
    stranger = Device(phone(browser))
    stranger.page.goto(f"http://127.0.0.1:{bot.port}/")
    assert "This device has not joined." in stranger.page.inner_text("body")
    assert "212" not in stranger.page.content()
    opened = stranger.page.evaluate(
        OPENS,
        bot.port,
    )
    assert opened is False
    stranger.context.close()


def test_another_sites_page_cannot_open_the_line(browser: Browser, bot: Served, devices: tuple[Device, Device], tmp_path: Path) -> None:
    ines, _ = devices
    other = ines.context.new_page()
    other.goto("data:text/html,<p>another site")
    opened = other.evaluate(
        OPENS,
        bot.port,
    )
    assert opened is False
    with pytest.raises(Error):
        other.evaluate("port => fetch(`http://127.0.0.1:${port}/`, {credentials: 'include'}).then(r => r.text())", bot.port)
    other.close()
