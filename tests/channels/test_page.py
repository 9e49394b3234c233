"""The page's line to the bot: live on every device, each message once, text as text, and a polite word to whatever else comes."""

from __future__ import annotations

from typing import Any

import pytest
from aiohttp import WSCloseCode, WSMsgType, WSServerHandshakeError
from aiohttp.test_utils import TestClient

from bot.channels.intake import LONGEST_TEXT
from bot.channels.web.channel import FILES as PAGE_FILES
from tests.channels.house import START, House

FILES = {
    "/": "text/html",
    "/style.css": "text/css",
    "/night.js": "text/javascript",
    "/page.js": "text/javascript",
    "/favicon.ico": "image/svg+xml",
}


@pytest.mark.parametrize("path", FILES)
async def test_who_has_joined_gets_the_page_and_nothing_of_it_is_cached(keeper: TestClient[Any, Any], path: str) -> None:
    answer = await keeper.get(path)
    assert (answer.status, answer.content_type) == (200, FILES[path])
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"


async def test_nothing_runs_on_the_page_but_its_own_files(keeper: TestClient[Any, Any]) -> None:
    answer = await keeper.get("/")
    policy = answer.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "script-src 'self';" in policy
    assert "unsafe" not in policy
    body = await answer.text()
    assert "style=" not in body
    assert "http://" not in body
    assert "https://" not in body


async def test_the_script_makes_no_markup_of_words(keeper: TestClient[Any, Any]) -> None:
    script = "".join([await (await keeper.get(path)).text() for path in PAGE_FILES if path.endswith(".js")])
    assert "createTextNode" in script
    for way in (
        "innerHTML",
        "outerHTML",
        "insertAdjacentHTML",
        "document.write",
        "eval(",
        "DOMParser",
        "srcdoc",
        "createContextualFragment",
    ):
        assert way not in script


async def test_a_message_is_read_back_on_every_device_at_once(house: House, keeper: TestClient[Any, Any]) -> None:
    ines, theo = await house.open(keeper), await house.open(await house.joined("Theo"))
    await ines.say("pup 3 212 g nursed 15 min cleared", "a1")
    for page in (ines, theo):
        frame = await page.until(lambda frame: frame.get("lines"))
        said, reply = frame["lines"]
        assert (said["by"], said["text"], said["client_id"]) == ("Ines", "pup 3 212 g nursed 15 min cleared", "a1")
        assert (reply["says"], reply["to"], reply["text"]) == ("reply", "Ines", "Pup 3: 212 g, nursed 15 min, cleared.")
        assert said["id"] < reply["id"]


async def test_two_devices_see_the_same_log_in_the_same_order(house: House, keeper: TestClient[Any, Any]) -> None:
    ines, theo = await house.open(keeper), await house.open(await house.joined("Theo"))
    for number in range(5):
        await ines.say(f"pup {number + 1} 21{number} g", f"i{number}")
        await theo.say(f"pup {number + 1} cleared", f"t{number}")
    await ines.quiet()
    await theo.quiet()
    await ines.quiet()
    late = await house.open(keeper)
    assert ines.lines == theo.lines == late.lines
    assert [line["id"] for line in late.lines] == sorted(line["id"] for line in late.lines)


async def test_a_message_sent_again_under_its_mark_is_kept_once(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    await page.say("pup 3 212 g", "same")
    await page.say("pup 3 212 g", "same")
    await page.until(lambda frame: frame.get("kept") == "same")
    again = await house.open(keeper)
    await again.say("pup 3 212 g", "same")
    assert await again.until(lambda frame: "kept" in frame) == {"kept": "same"}
    assert [line["text"] for line in again.lines if line.get("client_id") == "same"] == ["pup 3 212 g"]
    assert sum("Pup 3: 212 g." in line["text"] for line in again.lines) == 1


async def test_two_people_may_use_the_same_mark(house: House, keeper: TestClient[Any, Any]) -> None:
    ines, theo = await house.open(keeper), await house.open(await house.joined("Theo"))
    await ines.say("pup 3 212 g", "1")
    await theo.say("pup 4 190 g", "1")
    await ines.quiet()
    await theo.quiet()
    assert [line["text"] for line in theo.lines if line.get("client_id") == "1"] == ["pup 3 212 g", "pup 4 190 g"]


async def test_markup_stays_text_and_leaves_as_it_came(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    words = "<img src=x onerror=alert(1)> & </script> \u202e&lt;b&gt;"
    await page.say(words, "m")
    frame = await page.until(lambda frame: frame.get("lines"))
    assert frame["lines"][0]["text"] == words


async def test_what_was_typed_without_a_connection_is_kept_at_the_time_it_was_typed(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    house.clock.on(hours=1)
    await page.say("pup 3 nursed 15 min", "late", typed_ago=1800)
    frame = await page.until(lambda frame: frame.get("lines"))
    assert frame["lines"][0]["at"] == START.replace(minute=44).isoformat()
    await page.say("when did 3 last nurse", "ask")
    frame = await page.until(lambda frame: frame.get("lines"))
    assert "3:29 am" in frame["lines"][1]["text"]


async def test_a_page_that_comes_back_gets_what_it_missed_and_no_more(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    last, run = page.lines[-1]["id"], page.welcome["run"]
    await page.line.close()
    other = await house.open(await house.joined("Theo"))
    await other.say("pup 2 cleared", "b")
    await other.until(lambda frame: frame.get("lines"))
    back = await house.open(keeper, f"?after={last}&run={run}")
    assert [line["id"] for line in back.lines] == [last + 1, last + 2]
    assert "fresh" not in back.welcome


@pytest.mark.parametrize("query", ["?after=3&run=another", "?after=-1", "?after=x", "?after=" + "9" * 30, "?after=²", ""])
async def test_a_page_of_another_run_takes_the_log_afresh(house: House, keeper: TestClient[Any, Any], query: str) -> None:
    page = await house.open(keeper, query)
    assert page.welcome["fresh"] is True
    assert page.lines[0]["id"] == 1


async def test_a_long_log_comes_in_parts(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    for number in range(120):
        await page.say(f"note {number}", f"n{number}")
    await page.until(lambda frame: any(line.get("client_id") == "n119" for line in frame.get("lines", [])))
    every = [line["id"] for line in page.lines]
    late = await house.open(keeper)
    assert late.welcome["earlier"] is True
    assert [line["id"] for line in late.lines] == every[-200:]
    await late.line.send_json({"before": late.lines[0]["id"]})
    frame = await late.until(lambda frame: "earlier" in frame)
    assert frame["earlier"] is False
    assert [line["id"] for line in frame["lines"]] == every[:-200]


async def test_a_page_that_missed_more_than_a_part_takes_the_log_afresh(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    first, run = page.lines[0]["id"], page.welcome["run"]
    for number in range(120):
        await page.say(f"note {number}", f"n{number}")
    await page.until(lambda frame: any(line.get("client_id") == "n119" for line in frame.get("lines", [])))
    back = await house.open(keeper, f"?after={first}&run={run}")
    assert back.welcome["fresh"] is True
    assert back.lines[-1] == page.lines[-1]


@pytest.mark.parametrize("origin", ["http://elsewhere.test", "null", "https://127.0.0.1:1", "file://", "", "http://"])
async def test_a_foreign_page_may_not_open_the_line_of_someone_who_has_joined(keeper: TestClient[Any, Any], origin: str) -> None:
    with pytest.raises(WSServerHandshakeError) as refused:
        await keeper.ws_connect("/socket", headers={"Origin": origin})
    assert refused.value.status == 403
    assert (await keeper.get("/", headers={"Origin": origin})).status == 403


async def test_our_own_page_may_open_the_line(house: House, keeper: TestClient[Any, Any]) -> None:
    own = f"http://{house.server.host}:{house.server.port}"
    line = await keeper.ws_connect("/socket", headers={"Origin": own})
    assert (await line.receive_json(timeout=5))["you"] == "Ines"


async def test_a_device_that_is_sent_away_hears_nothing_more(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    register = house.running.household._journal.register
    register.remove_device(register.devices("Ines")[0].session_hash)
    await page.say("pup 3 212 g", "gone")
    message = await page.line.receive(timeout=5)
    assert message.type is WSMsgType.CLOSE
    assert message.data == WSCloseCode.POLICY_VIOLATION
    assert not [line for line in house.running.household.history() if line.client_id == "gone"]


async def test_a_message_of_100_kb_is_kept_and_answered(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    words = ("pup 3 was restless and then slept. " * 3000)[:100_000]
    await page.say(words, "long")
    frame = await page.until(lambda frame: frame.get("lines"))
    assert frame["lines"][0]["text"] == words
    assert frame["lines"][1]["says"] == "reply"


async def test_a_message_longer_than_any_is_answered_and_the_line_stays_open(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    await page.say("a" * (LONGEST_TEXT + 1), "too long")
    frame = await page.next()
    assert frame["not_kept"] == "too long"
    assert "send it in parts" in frame["why"]
    await page.say("pup 3 212 g", "after")
    assert (await page.next())["lines"][1]["text"] == "Pup 3: 212 g."


@pytest.mark.parametrize("words", ["\x00" * 50_000, "🐕" * 50_000, "\u202e\u05e9\u05dc\u05d5\u05dd" * 10_000, "7 " * 1000, "\ud800"])
async def test_odd_text_is_answered_and_lost_by_no_one(house: House, keeper: TestClient[Any, Any], words: str) -> None:
    page = await house.open(keeper)
    await page.say(words, "odd")
    frame = await page.until(lambda frame: frame.get("lines") or frame.get("not_kept"))
    assert frame["lines"][0]["client_id"] == "odd"
    assert frame["lines"][1]["says"] == "reply"
    assert len(frame["lines"][0]["text"]) == len(words)


async def test_an_empty_message_is_answered_and_not_kept(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    await page.say("  \n", "empty")
    frame = await page.next()
    assert frame["not_kept"] == "empty"
    assert "empty" in frame["why"]


@pytest.mark.parametrize("frame", ["", "not json", "[]", '{"say": 3, "id": "a"}', '{"say": "x"}'])
async def test_a_frame_that_is_none_is_answered_and_the_line_stays_open(house: House, keeper: TestClient[Any, Any], frame: str) -> None:
    page = await house.open(keeper)
    await page.line.send_str(frame)
    assert "nothing was kept" in (await page.next())["why"]
    await page.quiet()


async def test_where_nothing_could_be_kept_the_sender_is_told_and_no_page_shows_it(house: House, keeper: TestClient[Any, Any]) -> None:
    ines, theo = await house.open(keeper), await house.open(await house.joined("Theo"))
    seen = len(theo.lines)
    house.running.household._journal._database.execute(
        "create trigger full before insert on messages begin select raise(abort, 'disk is full'); end"
    )
    await ines.say("pup 3 212 g", "full")
    frame = await ines.until(lambda frame: "not_kept" in frame)
    assert frame["not_kept"] == "full"
    assert "Nothing was kept" in frame["why"]
    house.running.household._journal._database.execute("drop trigger full")
    await theo.quiet()
    assert len(theo.lines) == seen
    await ines.say("pup 3 212 g", "full")
    assert (await ines.until(lambda frame: frame.get("lines")))["lines"][1]["text"] == "Pup 3: 212 g."


@pytest.mark.parametrize(
    ("words", "taps"),
    [
        (["pup 5 200 g", "pup 5 91 g"], ["no", "yes"]),
        (["pup 5 200 g"], None),
        (["3 221 and 4 191", "no, 222"], ["3", "4", "no"]),
        (["212"], None),
        (["thanks!"], None),
    ],
)
async def test_a_question_back_comes_with_the_answers_to_tap(
    house: House, keeper: TestClient[Any, Any], words: list[str], taps: list[str] | None
) -> None:
    page = await house.open(keeper)
    for number, each in enumerate(words):
        await page.say(each, f"q{number}")
        frame = await page.until(lambda frame: frame.get("lines"))
    (shown,) = [line.get("taps") for line in frame["lines"] if line.get("says") == "reply"]
    assert (sorted(shown) if shown else None) == taps
    again = await house.open(keeper)
    assert again.lines[-1].get("taps") == shown


async def test_each_answer_to_tap_is_one_that_the_bot_takes(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    for number, words in enumerate(["pup 1 205 g", "pup 2 204 g", "pup 3 91 g", "pup 3 nursed 15 or pup 4", "pup 3 91 g 191 g"]):
        await page.say(words, f"w{number}")
        frame = await page.until(lambda frame: frame.get("lines"))
        for tap in frame["lines"][-1].get("taps", [])[:1]:
            await page.say(tap, f"t{number}")
            answer = await page.until(lambda frame: frame.get("lines"))
            assert "taps" not in answer["lines"][-1]
            assert answer["lines"][-1]["does"] == "log"


async def test_the_questions_of_the_first_night_can_be_answered_by_taps(house: House) -> None:
    page = await house.open(await house.joined("Ines"))
    seen = [page.lines[-1].get("taps")]
    for number, words in enumerate(["5", "Juniper", "2:00 am", "yes", "grams", "yes"]):
        await page.say(words, f"f{number}")
        frame = await page.until(lambda frame: frame.get("lines"))
        seen.append(frame["lines"][-1].get("taps"))
    assert seen == [["skip"], ["skip"], ["skip"], ["yes", "no", "skip"], ["grams", "ounces", "skip"], ["yes", "skip"], None]


async def test_a_nudge_reaches_every_page(house: House, keeper: TestClient[Any, Any]) -> None:
    ines, theo = await house.open(keeper), await house.open(await house.joined("Theo"))
    await ines.say("pup 3 nursed", "n")
    await ines.quiet()
    await theo.quiet()
    house.clock.on(hours=2)
    await house.running.speak_up()
    for page in (ines, theo):
        frame = await page.until(lambda frame: frame.get("lines"))
        assert {"nudge"} == {line["says"] for line in frame["lines"]}
        assert "routine" in [line["urgency"] for line in frame["lines"]]


async def test_what_was_said_while_no_page_was_open_is_owed_until_one_is(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    await page.say("pup 3 nursed", "n")
    await page.quiet()
    await page.line.close()
    house.running._mark()
    house.clock.on(hours=2)
    await house.running.speak_up()
    house.running._mark()
    assert {"nudge"} == {said.says for said in house.running.household.owed()}
    again = await house.open(keeper)
    await again.quiet()
    assert again.lines[-1]["says"] == "nudge"
    await again.confirm()
    house.running._mark()
    assert house.running.household.owed() == []


async def test_the_page_is_closed_in_order_when_the_bot_stops(house: House, keeper: TestClient[Any, Any]) -> None:
    page = await house.open(keeper)
    await page.say("pup 3 212 g", "last")
    await page.until(lambda frame: frame.get("lines"))
    await house.running.web.close()
    message = await page.line.receive(timeout=5)
    assert (message.type, message.data) == (WSMsgType.CLOSE, WSCloseCode.GOING_AWAY)
