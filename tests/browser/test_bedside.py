"""By the bed: a dim screen that calls the one it is for, louder and louder, until one tap takes it; a chime on every other open page."""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, WebSocket, expect

from tests.app.served import Served, serving
from tests.browser.test_browser import Device, browser, phone, pytestmark
from tests.browser.test_charts import SEEN

__all__ = ["browser", "pytestmark"]

SOUNDS = """
    window.sounds = []; window.felt = [];
    const Sound = window.AudioContext;
    window.AudioContext = class extends Sound {
        createBufferSource() { const source = super.createBufferSource(); this.last = { source, ended: false };
            source.addEventListener("ended", () => { this.last.ended = true; }); return source; }
        createGain() { const gain = super.createGain(); this.last.gain = gain.gain; sounds.push(this.last); return gain; }
    };
    const feel = Navigator.prototype.vibrate;
    Navigator.prototype.vibrate = function (pattern) { felt.push(pattern); return feel.call(this, pattern); };
"""
"""Lets a test see what is played and how loud it is just now, and what is felt; all of it goes on as before."""

LOUDNESS = "sounds.at(-1).gain.value"
ENDED = "async () => { while (!sounds.at(-1).ended) await new Promise(requestAnimationFrame); return true; }"


@pytest.fixture
def bot(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serving(tmp_path_factory.mktemp("bedside") / "data") as bot:
        bot.say("new litter of 3 from Juniper, c-section 20 hours ago")
        bot.say("skip all")
        bot.say("all nursed 10, cleared and peed, back in the box")
        yield bot


@pytest.fixture
def ines(browser: Browser, bot: Served) -> Iterator[Device]:
    device = joined(phone(browser), bot, "Ines")
    yield device
    assert device.complaints == []
    device.context.close()


def joined(context: BrowserContext, bot: Served, name: str) -> Device:
    device = Device(context)
    device.page.add_init_script(SOUNDS)
    device.join(bot.invite(name), name)
    return device


def tablet(browser: Browser) -> BrowserContext:
    """An old tablet on its side: 1024 by 600."""
    return browser.new_context(
        viewport={"width": 1024, "height": 600}, has_touch=True, color_scheme="dark", timezone_id="America/Chicago", reduced_motion="reduce"
    )


def bedside(device: Device) -> Locator:
    device.page.get_by_role("button", name="bedside").tap()
    view = device.page.get_by_role("dialog", name="By the bed")
    expect(view).to_be_visible()
    return view


def html(device: Device) -> Locator:
    return device.page.locator("html")


def fits(device: Device) -> bool:
    return bool(
        device.page.evaluate("(b => b.scrollWidth <= innerWidth && b.scrollHeight <= innerHeight)(document.getElementById('bedside'))")
    )


def look(device: Device, name: str) -> None:
    SEEN.mkdir(exist_ok=True)
    device.page.screenshot(path=SEEN / f"bedside_{name}.png")


def test_it_shows_the_hour_who_is_due_and_when_who_has_the_watch_and_what_is_wrong(browser: Browser, ines: Device, bot: Served) -> None:
    bot.say("I'm on for 3 hours")
    view = bedside(ines)
    assert ines.page.url.endswith("/bedside")
    expect(view.get_by_role("timer")).to_have_text("1 h 50")
    expect(view).to_contain_text("nursing: Pups 1, 2 and 3")
    expect(view).to_contain_text("you have the watch until ")
    look(ines, "phone_at_rest")
    assert fits(ines)
    bot.say("pup 2 limp", by="Theo")
    expect(view.locator("#amiss")).to_contain_text("Emergency: limp (Pup 2)")
    for button in view.locator("button:visible").all():
        box = button.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 44
    view.get_by_role("button", name="the log").tap()
    expect(view).to_be_hidden()
    expect(ines.page).to_have_url(f"http://127.0.0.1:{bot.port}/")


def test_a_warning_rings_louder_and_louder_until_one_tap_takes_it(ines: Device, bot: Served) -> None:
    view = bedside(ines)
    expect(html(ines)).to_have_attribute("data-tone", "off")
    bot.say("pup 2 limp", by="Theo")
    expect(html(ines)).to_have_attribute("data-tone", "ringing")
    expect(html(ines)).to_have_attribute("data-sound", "ready")
    soft = ines.page.evaluate(LOUDNESS)
    assert soft < 0.05
    ines.page.evaluate(f"async () => {{ while ({LOUDNESS} < {soft} * 1.5) await new Promise(requestAnimationFrame); }}")
    expect(view.get_by_role("alert")).to_contain_text("Pup 2")
    look(ines, "phone_calls")
    assert fits(ines)
    view.get_by_role("button", name="I'm on", exact=True).tap()
    expect(html(ines)).to_have_attribute("data-tone", "off")
    assert ines.page.evaluate(ENDED)
    expect(view.get_by_role("button", name="snooze 20")).to_be_hidden()
    expect(view).to_contain_text("you have the watch")


def test_the_second_key_snoozes_and_what_the_person_says_elsewhere_takes_the_call_too(ines: Device, bot: Served) -> None:
    view = bedside(ines)
    bot.say("pup 2 limp", by="Theo")
    view.get_by_role("button", name="snooze 20").tap()
    expect(html(ines)).to_have_attribute("data-call", "none")
    view.get_by_role("button", name="the log").tap()
    expect(ines.page.locator(".bot .text").last).to_contain_text("No nudges to anyone until ")
    view = bedside(ines)
    bot.say("pup 3 limp", by="Theo")
    expect(html(ines)).to_have_attribute("data-tone", "ringing")
    bot.say("pup 3 36.5 C", by="Ines")
    expect(html(ines)).to_have_attribute("data-tone", "off")


def test_a_nudge_for_another_is_not_heard_and_one_that_was_answered_by_the_care_stops(browser: Browser, bot: Served) -> None:
    ines, theo = (joined(phone(browser), bot, name) for name in ("Ines", "Theo"))
    bot.say("Theo has the watch")
    views = [bedside(device) for device in (ines, theo)]
    bot.say("calcium every 2 hours")
    bot.say("mom calcium 2 clicks 125 min ago")
    expect(html(theo)).to_have_attribute("data-tone", "ringing")
    expect(html(ines)).to_have_attribute("data-tone", "off")
    expect(views[0].locator("#called")).to_be_empty()
    bot.say("mom calcium 2 clicks")
    expect(html(theo)).to_have_attribute("data-tone", "off")
    for device in (ines, theo):
        assert device.complaints == []
        device.context.close()


def test_any_open_page_chimes_and_vibrates_for_what_is_for_this_person_and_a_quiet_one_does_not(ines: Device, bot: Served) -> None:
    ines.page.get_by_role("button", name="who's due?").tap()  # the first tap unlocks the sound
    expect(html(ines)).to_have_attribute("data-sound", "ready")
    bot.say("pup 1 peed", by="Theo")
    expect(ines.page.locator(".person .text").last).to_have_text("pup 1 peed")
    assert ines.page.evaluate("[sounds.length, felt.length]") == [0, 0]
    bot.say("pup 2 limp", by="Theo")
    expect(html(ines)).to_have_attribute("data-call", "warning")
    assert ines.page.evaluate("[sounds.length, felt]") == [1, [[250, 100, 250, 100, 250]]]
    expect(html(ines)).to_have_attribute("data-tone", "off")
    switch = ines.page.locator("#hush")
    expect(switch).to_have_text("sound")
    look(ines, "header")
    assert ines.page.evaluate("document.documentElement.scrollWidth <= 360")
    assert ines.page.locator("#who").evaluate("element => element.clientWidth > 40"), "the names are seen beside the keys"
    switch.tap()
    ines.page.reload()
    expect(ines.page.locator("#state")).to_have_text("live")
    quiet = ines.page.locator("#hush")
    expect(quiet).to_have_text("quiet")
    expect(quiet).to_have_attribute("aria-pressed", "true")
    bot.say("pup 3 limp", by="Theo")
    expect(html(ines)).to_have_attribute("data-call", "warning")
    assert ines.page.evaluate("[sounds.length, felt.length]") == [0, 0]
    expect(bedside(ines).locator("#notes")).to_contain_text("This device is quiet: it makes no sound.")
    expect(html(ines)).to_have_attribute("data-tone", "off")


def test_what_came_while_the_page_was_away_calls_when_it_is_back_and_old_lines_do_not(ines: Device, bot: Served) -> None:
    bot.say("pup 2 limp", by="Theo")
    expect(html(ines)).to_have_attribute("data-call", "warning")
    ines.page.reload()
    expect(ines.page.locator("#state")).to_have_text("live")
    expect(html(ines)).not_to_have_attribute("data-call", "warning")
    ines.page.goto("about:blank")
    bot.say("pup 3 limp", by="Theo")
    ines.page.goto(f"http://127.0.0.1:{bot.port}/bedside")
    expect(html(ines)).to_have_attribute("data-call", "warning")
    expect(html(ines)).to_have_attribute("data-sound", "locked")
    expect(ines.page.locator("#notes")).to_contain_text("Tap anywhere once, so that this device may sound.")
    ines.page.locator("#clock").tap()
    expect(html(ines)).to_have_attribute("data-tone", "ringing")


def test_what_rings_by_the_bed_is_confirmed_only_once_it_was_taken(browser: Browser, bot: Served) -> None:
    device = Device(phone(browser))
    sockets: list[WebSocket] = []
    confirmed: list[str | bytes] = []
    device.page.on("websocket", lambda line: sockets.append(line))
    device.join(bot.invite("Ines"), "Ines")
    sockets[-1].on("framesent", lambda frame: confirmed.append(frame) if "got" in json.loads(frame) else None)
    view = bedside(device)
    bot.say("pup 2 limp", by="Theo")
    expect(html(device)).to_have_attribute("data-tone", "ringing")
    assert confirmed == []
    with sockets[-1].expect_event("framesent", lambda frame: "got" in json.loads(frame)):
        view.get_by_role("button", name="I'm on").tap()
    device.context.close()


def test_the_screen_is_kept_awake_where_the_browser_can(ines: Device) -> None:
    ines.context.grant_permissions(["screen-wake-lock"])
    bedside(ines)
    expect(html(ines)).to_have_attribute("data-awake", "yes")


def test_over_plain_http_it_is_said_that_the_screen_may_go_dark(browser: Browser, bot: Served) -> None:
    address = bot.link.split("/")[2].rpartition(":")[0]
    if address.startswith("127."):
        pytest.skip("this machine has no address on a home network")
    plain = Device(phone(browser))
    plain.join(bot.invite("Theo").replace("127.0.0.1", address), "Theo")
    view = bedside(plain)
    expect(html(plain)).to_have_attribute("data-awake", "no")
    expect(view.locator("#notes")).to_contain_text("keeps the screen awake only over HTTPS")
    plain.context.close()


def test_on_a_tablet_all_of_it_is_seen_at_once_and_it_wanders_only_where_motion_is_welcome(browser: Browser, bot: Served) -> None:
    bot.say("Theo 10 pm to 4 am, Ines 4 am to 10 pm")
    bot.say("pup 2 weak", by="Theo")
    still = joined(tablet(browser), bot, "Ines")
    bedside(still)
    look(still, "tablet_at_rest")
    assert fits(still)
    for sick in ("pup 1 gasping", "pup 2 milk at nose", "mom is trembling", "pup 3 limp"):
        bot.say(sick, by="Theo")
    expect(still.page.locator("#called")).to_contain_text("Pup 3")
    expect(html(still)).to_have_attribute("data-tone", "ringing")
    look(still, "tablet_calls")
    assert fits(still)
    expect(still.page.get_by_role("button", name="snooze 20")).to_be_in_viewport(ratio=1)
    still.page.set_viewport_size({"width": 360, "height": 640})
    expect(still.page.get_by_role("button", name="snooze 20")).to_be_in_viewport(ratio=1)
    look(still, "small_phone_calls")
    still.page.set_viewport_size({"width": 1024, "height": 600})
    assert still.page.locator("#wanders").evaluate("element => element.style.transform") == "translate(0px, 0px)"
    still.context.close()
    moving = Device(phone(browser))
    moving.context.clock.install()
    moving.join(bot.invite("Theo"), "Theo")
    bedside(moving)
    moving.context.set_offline(True)  # a page that hears the bot goes by the bot's clock, which this test cannot move
    moving.page.evaluate("lines.at(-1).close()")
    places = set()
    for _ in range(12):
        places.add(moving.page.locator("#wanders").evaluate("element => element.style.transform"))
        moving.context.clock.run_for(60_000)
    assert len(places) > 5
    moving.context.close()


def test_with_no_line_to_the_bot_it_says_so_and_calls_by_its_own_clock(browser: Browser, bot: Served) -> None:
    device = Device(phone(browser))
    device.context.clock.install()
    device.join(bot.invite("Ines"), "Ines")
    view = bedside(device)
    expect(view.get_by_role("timer")).to_have_text("1 h 50")
    device.context.set_offline(True)
    device.page.evaluate("lines.at(-1).close()")
    expect(device.page.locator("#state")).to_have_text("reconnecting")
    device.context.clock.run_for(3 * 60_000)
    expect(view.locator("#notes")).to_contain_text("No line to the bot since ")
    expect(html(device)).to_have_attribute("data-tone", "off")
    device.context.clock.run_for(109 * 60_000)
    expect(html(device)).to_have_attribute("data-tone", "ringing")
    expect(view.get_by_role("alert")).to_contain_text("Due by this device's own clock")
    device.context.close()


def test_a_device_that_has_not_joined_is_told_so_at_the_bed_too(browser: Browser, bot: Served) -> None:
    stranger = Device(phone(browser))
    stranger.page.goto(f"http://127.0.0.1:{bot.port}/bedside")
    assert "This device has not joined." in stranger.page.inner_text("body")
    stranger.context.close()
