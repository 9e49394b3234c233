"""Whether someone is there: every message of a person counts, and it is known after a restart."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from bot.conversation import Message
from tests.care.written_log import event
from tests.conversation.talk import Talk


def a_night(path: Path | None = None) -> Talk:
    talk = Talk(path)
    talk.hear("02:50", "Ines", "new litter of 2 from Juniper, c-section at 2:30")
    talk.hear("03:00", "Ines", "all nursed 10, cleared and peed")
    return talk


def moments(talk: Talk, until: str) -> list[int]:
    """After how many minutes from three o'clock it is said."""
    return [round((said.at - talk.at("03:00")).total_seconds() / 60) for said in talk.until(until) if said.about == "supervision"]


def test_it_is_said_45_minutes_after_the_last_message() -> None:
    assert moments(a_night(), "03:50") == [45]


def test_a_question_a_note_and_a_word_of_thanks_count_too() -> None:
    talk = a_night()
    talk.hear("03:20", "Theo", "who's due?")
    assert moments(talk, "04:00") == []
    talk.hear("04:00", "Theo", "thanks")
    assert moments(talk, "04:50") == [105]
    talk.hear("04:50", "Ines", "they look fine to me")
    assert moments(talk, "05:30") == []


def test_a_restart_knows_when_anyone_last_wrote_and_says_nothing_twice(tmp_path: Path) -> None:
    talk = a_night(tmp_path / "night.db")
    talk.hear("03:20", "Theo", "how is everybody?")
    talk.restart()
    assert moments(talk, "04:06") == [65]
    talk.restart()
    assert moments(talk, "04:40") == [95]
    talk.house.close()


def test_what_a_sensor_tells_is_no_sign_that_someone_is_there(tmp_path: Path) -> None:
    talk = a_night(tmp_path / "night.db")
    conversation = talk.house._conversations[0]
    conversation.sense(Message("The box", "30 C", channel="sensor"), event("climate", place="box", celsius=30.0), talk.at("03:30"))
    talk.restart()
    assert moments(talk, "03:50") == [45]
    talk.house.close()


def test_with_the_pups_in_the_box_nothing_is_said() -> None:
    talk = a_night()
    talk.hear("03:05", "Ines", "all back in the box")
    assert moments(talk, "05:30") == []


def test_a_message_that_waited_on_another_phone_does_not_undo_a_later_one(tmp_path: Path) -> None:
    talk = a_night(tmp_path / "night.db")
    talk.hear("03:40", "Theo", "thanks")
    now = talk.at("03:41")
    talk.house.hear(Message("Ines", "all quiet"), talk.at("03:05"), clock=now)
    assert [said for said in talk.house.speak_up(talk.at("03:55")) if said.about == "supervision"] == []
    talk.restart()
    assert [said for said in talk.house.speak_up(talk.at("04:00")) if said.about == "supervision"] == []
    assert len([said for said in talk.house.speak_up(talk.at("04:25")) if said.about == "supervision"]) == 1


def test_once_the_clock_is_put_right_nobody_wrote_later_than_now() -> None:
    talk = a_night()
    talk.hear("06:10", "Ines", "thanks")  # by a clock that was three hours ahead
    talk.house.clock_was_set(-timedelta(hours=3), talk.at("03:11"), trusted=True)
    assert [said.about for said in talk.house.speak_up(talk.at("03:56"))].count("supervision") == 1
