"""A clock that is behind the log is told of once and nothing is due by it; what people say is kept at the last time that was right."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from bot.clock import SetClock
from bot.conversation import Heard, Message
from tests.conversation.talk import Talk

IN_1970 = datetime(1970, 1, 1, 0, 3, tzinfo=UTC)


@pytest.fixture
def talk() -> Talk:
    talk = Talk()
    talk.say("03:00", "Ines", "new litter of 2 from Juniper, c-section at 1:00 am")
    talk.say("03:01", "Ines", "skip all")
    talk.say("03:10", "Ines", "1 and 2 nursed 10 and cleared")
    return talk


def by(talk: Talk, clock: datetime, text: str) -> Heard:
    return talk.house.hear(Message("Ines", text), clock, clock=clock)


def test_a_board_that_starts_in_1970_says_so_once_and_holds_its_nudges(talk: Talk) -> None:
    assert talk.house.next_notice(IN_1970) == IN_1970
    (said,) = talk.house.speak_up(IN_1970)
    assert (said.says, said.about, said.to) == ("warning", "clock", "all")
    assert "it says 18:03 on 31 Dec 1969, but it was 03:10 on 2 Mar 2026 already" in said.text
    assert said.at == talk.at("03:10"), "it stands in the log after what it follows"
    assert talk.house.speak_up(IN_1970 + timedelta(minutes=1)) == []
    assert talk.house.next_notice(IN_1970 + timedelta(minutes=1)) is None
    once_right = [said.about for said in talk.house.speak_up(talk.at("05:05"))]
    assert once_right.count("nursing") == 1
    assert "clock" not in once_right


def test_it_is_not_said_again_after_a_restart(tmp_path_factory: pytest.TempPathFactory) -> None:
    talk = Talk(tmp_path_factory.mktemp("clock") / "lampwatch.db")
    talk.say("03:00", "Ines", "new litter of 2 from Juniper, c-section at 1:00 am")
    assert len(talk.house.speak_up(IN_1970)) == 1
    talk.restart()
    assert talk.house.speak_up(IN_1970 + timedelta(minutes=2)) == []


def test_what_is_said_meanwhile_is_kept_at_the_last_right_time_and_the_reply_says_so(talk: Talk) -> None:
    heard = by(talk, IN_1970, "pup 1 212 g")
    assert heard.said[-1].text.startswith("Pup 1: 212 g. The machine's clock is wrong, so this is kept at 03:10 on 2 Mar 2026")
    assert talk.house.history(limit=1)[0].at == talk.at("03:10")
    assert by(talk, talk.at("03:30"), "pup 2 190 g").said[-1].text == "Pup 2: 190 g."


def test_a_clock_that_is_a_minute_behind_is_no_matter(talk: Talk) -> None:
    assert by(talk, talk.at("03:09"), "pup 1 212 g").said[-1].text == "Pup 1: 212 g."
    assert not [said for said in talk.house.speak_up(talk.at("03:09")) if said.about == "clock"]


def test_a_clock_that_jumps_ahead_while_the_bot_runs_is_told_of(talk: Talk) -> None:
    (said,) = talk.house.clock_was_set(timedelta(hours=3), talk.at("06:12"), trusted=False)
    assert (said.about, said.urgency) == ("clock", "soon")
    assert "set forward by 3 h and says 06:12" in said.text


def test_a_clock_that_is_put_right_is_believed_at_once(talk: Talk) -> None:
    """It ran three hours ahead, things were kept by it, and it was set back: nothing is held for three hours."""
    talk.say("06:12", "Ines", "pup 1 cleared")
    assert talk.house.clock_was_set(timedelta(hours=-3), talk.at("03:13"), trusted=True) == []
    assert not [said for said in talk.house.speak_up(talk.at("03:13")) if said.about == "clock"]
    assert talk.house.clock_was_set(talk.at("03:14") - IN_1970, talk.at("03:14"), trusted=False) == [], "from 1970 to now: put right"


def test_the_machines_own_count_shows_that_the_clock_was_set() -> None:
    wall, count = [datetime(2026, 3, 2, 9, 0, tzinfo=UTC)], [1000.0]
    clock = SetClock(lambda: wall[0], lambda: count[0])

    def on(seconds: float, *, wall_too: float | None = None) -> timedelta | None:
        count[0] += seconds
        wall[0] += timedelta(seconds=seconds if wall_too is None else wall_too)
        return clock.moved()

    assert on(60) is None
    assert on(8 * 3600) is None, "a machine that slept counts on"
    assert on(60, wall_too=61) is None, "the network puts it right by a second"
    assert on(60, wall_too=60 + 3 * 3600) == timedelta(hours=3)
    assert not clock.as_at_the_start
    assert on(60) is None, "it is told once"
    assert on(60, wall_too=60 - 3 * 3600) == timedelta(hours=-3)
    assert clock.as_at_the_start
