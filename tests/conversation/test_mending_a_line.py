"""A line of the log is corrected where it stands, however far back and whoever wrote it; the line is kept, and both can be seen."""

from __future__ import annotations

from pathlib import Path

import pytest

from bot.conversation import Heard, Message
from tests.conversation.talk import Talk


@pytest.fixture
def talk(tmp_path: Path) -> Talk:
    talk = Talk(tmp_path / "lampwatch.db")
    talk.say("02:00", "Ines", "new litter of 4 from Juniper, c-section at 1:00 am")
    talk.say("02:01", "Ines", "skip all")
    return talk


def mend(talk: Talk, wall: str, line: int, words: str, by: str = "Ines") -> Heard:
    talk.house.take_in(by, talk.at(wall))
    return talk.house.hear(Message(by, words, mends=line), talk.at(wall))


def logged(talk: Talk, wall: str, words: str, by: str = "Ines") -> int:
    heard = talk.hear(wall, by, words)
    assert heard.message_id is not None
    return heard.message_id


@pytest.mark.parametrize(
    ("words", "reply", "event"),
    [
        ("no, 221", "Corrected: Pup 3: 221 g. Was: Pup 3: 212 g.", {"kind": "weight", "who": 3, "grams": 221.0}),
        ("that was pup 4", "Corrected: Pup 4: 212 g. Was: Pup 3: 212 g.", {"kind": "weight", "who": 4, "grams": 212.0}),
        ("undo", "Taken back, from 2:10 am: Pup 3: 212 g.", None),
    ],
)
def test_an_earlier_line_is_corrected_and_the_later_ones_stand(talk: Talk, words: str, reply: str, event: dict[str, object] | None) -> None:
    line = logged(talk, "02:10", "pup 3 212 g")
    talk.say("02:20", "Ines", "pup 1 cleared")
    heard = mend(talk, "02:30", line, words)
    assert heard.kept
    assert heard.said[-1].text == reply
    weights = [one for one in talk.events() if one["kind"] == "weight"]
    assert weights == ([] if event is None else [event])
    assert {"kind": "cleared", "who": 1} in talk.events()
    assert [row.text for row in talk.house.history() if row.id == line] == ["pup 3 212 g"], "the line itself is kept"


def test_a_line_that_was_corrected_before_a_restart_is_corrected_again(talk: Talk) -> None:
    line = logged(talk, "02:10", "pup 3 212 g")
    mend(talk, "02:20", line, "no, 221")
    talk.restart()
    assert mend(talk, "02:30", line, "no, 231").said[-1].text == "Corrected: Pup 3: 231 g. Was: Pup 3: 221 g."
    assert talk.events() == [{"kind": "weight", "who": 3, "grams": 231.0}]


def test_a_partners_line_can_be_corrected_too(talk: Talk) -> None:
    line = logged(talk, "02:10", "pup 3 212 g", by="Theo")
    assert mend(talk, "02:20", line, "that was at 2:05").said[-1].text.startswith("Corrected: Pup 3: 212 g at 2:05 am.")


def test_words_that_are_no_correction_change_nothing_and_are_given_back(talk: Talk) -> None:
    line = logged(talk, "02:10", "pup 3 212 g")
    before = len(talk.house.history())
    heard = mend(talk, "02:20", line, "what a night")
    assert not heard.kept
    assert "so nothing was changed" in heard.said[0].text
    assert len(talk.house.history()) == before
    assert talk.say("02:21", "Ines", "pup 1 cleared") == "Pup 1: cleared.", "the next message is heard as always"


@pytest.mark.parametrize("line", [999, 1])
def test_a_line_that_is_none_or_told_no_event_is_refused(talk: Talk, line: int) -> None:
    heard = mend(talk, "02:20", line, "undo")
    assert not heard.kept
    assert "nothing was changed" in heard.said[0].text


def test_an_impossible_correction_is_given_back_with_its_reason(talk: Talk) -> None:
    line = logged(talk, "02:10", "pup 3 212 g")
    mended = mend(talk, "02:20", line, "no, 38 g")
    assert not mended.kept
    assert "so nothing was changed. Say it again as you mean it." in mended.said[-1].text
    assert talk.events() == [{"kind": "weight", "who": 3, "grams": 212.0}]


def test_what_a_correction_would_do_is_seen_before_it_is_sent(talk: Talk) -> None:
    line = logged(talk, "02:10", "pup 3 212 g")
    talk.say("02:20", "Ines", "pup 1 200 g")
    assert talk.house.preview("Ines", "no, 221", talk.at("02:30"), line) == "Corrects to: Pup 3: 221 g."
    assert talk.house.preview("Ines", "no, 221", talk.at("02:30")) == "Corrects to: Pup 1: 221 g."
    assert talk.house.preview("Ines", "hm", talk.at("02:30"), line) == "no correction"
