"""What a message would be read as is shown while it is typed: in the bot's own words, and nothing of it is kept."""

from __future__ import annotations

import pytest

from tests.conversation.talk import Talk


@pytest.fixture
def talk() -> Talk:
    talk = Talk()
    talk.say("03:00", "Ines", "new litter of 5 from Juniper, c-section at 1:00 am")
    talk.say("03:01", "Ines", "skip all")
    talk.say("03:02", "Ines", "3 206, 4 190")
    return talk


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("pup 3 212 g nursed 15 min cleared", "Pup 3: 212 g, nursed 15 min, cleared. (+6 g)"),
        ("3 212, 4 187", "Pup 3: 212 g. Pup 4: 187 g. (3: +6 g; 4: -3 g)"),
        ("pup 1 205 g", "Pup 1: 205 g."),
        ("pup 3 91", "I would ask first: 91 g for pup 3 is far from its last 206 g."),
        ("who's due?", "A question: due."),
        ("call pup 3 Olive", "A setting."),
        ("what a night", "a note, nothing to log"),
        ("undo", "Takes back: Pup 3: 206 g. Pup 4: 190 g."),
        ("pup 3 cleared zzqx", "Pup 3: cleared. Not read, kept as a note on pup 3: “zzqx”."),
        ("  ", ""),
    ],
)
def test_it_says_what_would_be_kept_and_what_would_be_asked(talk: Talk, typed: str, shown: str) -> None:
    assert talk.house.preview("Ines", typed, talk.at("03:03")).startswith(shown)
    assert (talk.house.preview("Ines", typed, talk.at("03:03")) == "") is (shown == "")


def test_nothing_of_it_is_kept_nor_remembered(talk: Talk) -> None:
    before = list(talk.house.history())
    for typed in ("pup 3 91", "yes", "invite Theo", "pup 3 died", "new litter of 4 from Hazel, born at 2:00 am"):
        talk.house.preview("Ines", typed, talk.at("03:03"))
    assert list(talk.house.history()) == before
    assert len(talk.house.conversations) == 1
    assert talk.say("03:04", "Ines", "yes") == "Noted: “yes”."


def test_an_answer_to_a_question_back_is_seen_as_one(talk: Talk) -> None:
    talk.say("03:03", "Ines", "pup 3 91")
    assert talk.house.preview("Ines", "yes", talk.at("03:04")) == "the answer to what I asked"
    assert talk.house.preview("Ines", "pup 4 cleared", talk.at("03:04")) == "Pup 4: cleared."


def test_with_several_litters_it_names_the_one_that_is_meant(talk: Talk) -> None:
    talk.say("03:05", "Ines", "new litter of 3 from Hazel, born at 2:00 am")
    assert talk.house.preview("Ines", "Juniper: pup 3 cleared", talk.at("03:06")) == "Juniper's litter: Pup 3: cleared."
