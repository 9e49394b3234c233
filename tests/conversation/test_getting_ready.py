"""The list for the way home, ticked by chat: before any pup, beside the first questions, and after a restart."""

from __future__ import annotations

from pathlib import Path

from tests.conversation.talk import Talk


def test_a_tick_is_answered_with_what_is_left_and_outlives_a_restart(tmp_path: Path) -> None:
    talk = Talk(tmp_path / "log.db")
    talk.say("18:00", "Ines", "hello")
    talk.say("18:01", "Ines", "skip all")
    assert talk.say("18:02", "Ines", "gloves and gowns done").startswith("Ticked: gloves, gowns. Still open: box, carrier")
    talk.restart()
    assert talk.say("18:03", "Ines", "no gowns yet").startswith("Open again: gowns. Still open: box")
    talk.restart()
    assert "Done: gloves." in talk.say("18:04", "Ines", "getting ready list")
    assert [note["text"] for note in talk.notes()][-2:] == ["gloves and gowns done", "no gowns yet"]


def test_a_tick_as_the_very_first_words_is_no_greeting() -> None:
    said = Talk().say("18:00", "Ines", "gloves done")
    assert said.startswith("Ticked: gloves.")
    assert "How many pups?" in said


def test_a_tick_is_no_dams_name() -> None:
    talk = Talk()
    talk.say("18:00", "Ines", "hello")
    talk.say("18:01", "Ines", "5")
    assert "What is the dam's name?" in talk.say("18:02", "Ines", "gloves done")
    assert talk.house.conversations[0].nursery.choices.dam is None


def test_what_is_left_unread_of_a_log_line_ticks_too() -> None:
    talk = Talk()
    talk.say("18:00", "Ines", "new litter of 2 from Juniper, c-section at 9:40 this morning")
    said = talk.say("18:01", "Ines", "boiled the bulbs and packed the gloves")
    assert "Ticked: gloves." in said
    assert "bulbs" not in said.partition("Still open:")[2]
