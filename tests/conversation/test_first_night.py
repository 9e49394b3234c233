"""The first night: one short question at a time; each may be answered, skipped, or all said at once."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from tests.conversation.talk import Talk


def choices(talk: Talk) -> tuple[object, ...]:
    known = talk.house.conversations[0].nursery.choices
    return known.pups, known.dam, None if known.born is None else known.born.isoformat(), known.delivery, known.weights_in


def last_line(text: str) -> str:
    return text.rsplit("\n", 1)[-1]


def test_questions_come_one_at_a_time_and_the_answers_are_kept(tmp_path: Path) -> None:
    talk = Talk(tmp_path / "log.db")
    asked = []
    for place, answer in enumerate(("hello", "5", "Juniper", "9:40 this morning", "yes", "ounces", "yes")):
        asked.append(last_line(talk.say(f"20:{place:02}", "Ines", answer)))
        talk.restart()
    assert "How many pups?" in asked[0]
    assert [line.split("?")[0] for line in asked[1:6]] == [
        "What is the dam's name",
        "When were they born",
        "By c-section",
        "Do you weigh in grams or ounces",
        "Is your time zone America/Chicago, where it is now 8:05 pm",
    ]
    assert "That is all I need" in asked[6]
    assert choices(talk) == (5, "Juniper", "2026-03-02T15:40:00+00:00", "c-section", "oz")


def test_each_may_be_skipped() -> None:
    talk = Talk()
    for place, answer in enumerate(("hi", "skip", "later", "don't know", "no", "skip", "skip")):
        said = talk.say(f"20:{place:02}", "Ines", answer)
    assert "That is all I need" in said
    assert choices(talk) == (None, None, None, "natural", "g")


def test_all_of_them_may_be_skipped_at_once() -> None:
    talk = Talk()
    talk.say("20:00", "Ines", "hello")
    assert "That is all I need" in talk.say("20:01", "Ines", "skip all")
    assert "?" not in talk.say("20:02", "Ines", "thanks")


def test_all_may_be_said_at_once() -> None:
    talk = Talk()
    text = talk.say("20:00", "Ines", "new litter of 5 from Juniper, c-section at 9:40 this morning")
    assert choices(talk) == (5, "Juniper", "2026-03-02T15:40:00+00:00", "c-section", "g")
    assert "Weights in grams, temperatures in Fahrenheit, times in America/Chicago" in text
    assert "?" not in text


def test_what_was_left_out_is_asked_for() -> None:
    talk = Talk()
    assert "When were they born" in last_line(talk.say("20:00", "Ines", "new litter of 5 from Juniper"))
    talk.say("20:01", "Ines", "at noon")
    talk.say("20:02", "Ines", "no")
    assert choices(talk) == (5, "Juniper", "2026-03-02T18:00:00+00:00", "natural", "g")


@pytest.mark.parametrize("answer", ["this morning at 9:40, by c-section", "around 9:40 this morning via c section", "c-section, 9:40 am"])
def test_how_they_were_born_may_be_said_along_with_when(answer: str) -> None:
    talk = Talk()
    talk.say("20:00", "Ines", "new litter of 5 from Bella")
    assert "By c-section?" not in talk.say("20:01", "Ines", answer)
    assert choices(talk) == (5, "Bella", "2026-03-02T15:40:00+00:00", "c-section", "g")


def test_a_unit_is_no_name_of_the_dam() -> None:
    talk = Talk()
    for place, answer in enumerate(("hello", "5", "grams")):
        talk.say(f"20:{place:02}", "Ines", answer)
    assert choices(talk)[1] is None


def test_a_line_of_the_log_in_an_empty_store_is_kept_and_answered_and_asks_nothing() -> None:
    talk = Talk()
    assert talk.say("03:14", "ines", "pup 3 212 g nursed 15 min cleared") == "Pup 3: 212 g, nursed 15 min, cleared."
    assert len(talk.events()) == 3


def test_a_line_of_the_log_among_the_questions_is_kept_and_the_question_is_put_once_more() -> None:
    talk = Talk()
    talk.say("20:00", "Ines", "hello")
    assert talk.say("20:01", "Ines", "pup 3 212 g").split("\n") == ["Pup 3: 212 g.", "How many pups? (a number, or skip)"]
    assert talk.say("20:02", "Ines", "pup 4 205 g") == "Pup 4: 205 g."
    assert [event["grams"] for event in talk.events()] == [212.0, 205.0]


def test_a_bare_number_answers_the_question_and_is_no_weight() -> None:
    talk = Talk()
    talk.say("20:00", "Ines", "hello")
    talk.say("20:01", "Ines", "pup 3 212 g")
    assert talk.say("20:01", "Ines", "6").startswith("6 pups.")
    assert len(talk.events()) == 1


def test_a_name_is_taken_as_it_is_written_and_small_letters_get_a_capital() -> None:
    for said, name in (
        ("Juniper", "Juniper"),
        ("juniper", "Juniper"),
        ("her name is juniper", "Juniper"),
        ("McKenna", "McKenna"),
    ):
        talk = Talk()
        talk.say("20:00", "Ines", "hello")
        talk.say("20:01", "Ines", "5 pups")
        talk.say("20:02", "Ines", said)
        assert choices(talk)[1] == name


def test_another_zone_may_be_named_and_holds_for_the_whole_log() -> None:
    talk = Talk()
    for place, answer in enumerate(("hello", "3", "Juniper", "skip", "skip", "grams")):
        talk.say(f"20:{place:02}", "Ines", answer)
    assert "Time zone: America/Denver" in talk.say("20:10", "Ines", "denver")
    assert talk.house.zone.key == "America/Denver"
    talk.say("20:11", "Ines", "pup 1 nursed at 6:50 pm")
    assert datetime.fromisoformat(str(talk.events()[-1]["at"])) == datetime.fromisoformat("2026-03-02T18:50:00-07:00")


@pytest.mark.parametrize("text", ["pup 3 peed", "3 peed", "pup 2 nursed at 3:10 pm", "who's due", "pup 1 212 g at 9:40 this morning"])
def test_what_reads_as_something_else_is_no_name_and_no_birth(text: str) -> None:
    for before in (("hello", "5"), ("hello", "5", "Juniper")):
        talk = Talk()
        for place, answer in enumerate(before):
            talk.say(f"20:0{place}", "Ines", answer)
        talk.say("20:05", "Ines", text)
        assert choices(talk)[:3] == (5, "Juniper" if len(before) == 3 else None, None)


def test_a_question_about_one_litter_is_put_once_and_never_below_a_line_of_the_log() -> None:
    talk = Talk()
    assert "By c-section?" in talk.say("20:00", "Ines", "new litter of 5 from Juniper, born at noon")
    assert talk.say("20:01", "Ines", "pup 3 212 g") == "Pup 3: 212 g."


def test_only_a_keeper_is_asked() -> None:
    talk = Talk()
    talk.say("20:00", "Ines", "pup 3 212 g")
    assert "?" not in talk.say("20:01", "Theo", "hello")


def test_a_keeper_who_has_just_joined_is_welcomed_with_the_first_question(tmp_path: Path) -> None:
    talk = Talk(tmp_path / "log.db")
    talk.house.take_in("Ines", talk.at("20:00"))
    assert [said.text.rsplit("? ", 1)[0][-13:] for said in talk.house.welcome("Ines", talk.at("20:00"))] == ["How many pups"]
    talk.restart()
    assert talk.say("20:01", "Ines", "five").startswith("5 pups.")


def test_nobody_is_welcomed_twice_or_once_something_is_known() -> None:
    talk = Talk()
    talk.say("20:00", "Ines", "new litter of 5 from Juniper")
    assert talk.house.welcome("Ines", talk.at("20:01")) == []
    talk.house.take_in("Theo", talk.at("20:02"))
    assert talk.house.welcome("Theo", talk.at("20:02")) == []
