"""Several litters in one household: each message goes to one, says which, and their pup 3s are never mixed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.conversation.talk import Talk


@pytest.fixture
def talk(tmp_path: Path) -> Talk:
    talk = Talk(tmp_path / "log.db")
    talk.say("20:00", "Ines", "new litter of 5 from Juniper, c-section at 9:40 am")
    talk.say("20:01", "Ines", "pup 3 212 g")
    talk.say("20:02", "Ines", "new litter of 4 from Willow, born at noon")
    return talk


def of(talk: Talk, dam: str) -> list[tuple[str, object]]:
    """What stands in one litter: kind and subject."""
    number = next(one.litter for one in talk.house.conversations if one.nursery.choices.dam == dam)
    return [
        (entry.event.kind, getattr(entry.event, "who", None))  # type: ignore[attr-defined]
        for entry in talk.house._journal.entries(number)
        if entry.event.kind not in ("choice", "note")  # type: ignore[attr-defined]
    ]


def test_a_new_litter_is_one_of_its_own(talk: Talk) -> None:
    assert [one.name for one in talk.house.conversations] == ["Juniper's litter", "Willow's litter"]
    assert of(talk, "Juniper") == [("weight", 3)]
    assert of(talk, "Willow") == []


def test_a_message_stays_with_the_litter_that_its_sender_spoke_to_last_and_says_which(talk: Talk) -> None:
    assert talk.say("20:05", "Ines", "pup 3 180 g").startswith("Willow's litter: Pup 3: 180 g.")
    assert (of(talk, "Juniper"), of(talk, "Willow")) == ([("weight", 3)], [("weight", 3)])


def test_the_dams_name_in_front_chooses_the_litter(talk: Talk) -> None:
    assert talk.say("20:05", "Ines", "Juniper: pup 3 nursed 10").startswith("Juniper's litter: Pup 3: nursed 10 min.")
    assert talk.say("20:06", "Ines", "pup 3 cleared").startswith("Juniper's litter:")
    assert talk.say("20:07", "Ines", "Willow ate half").startswith("Willow's litter:")


def test_a_pups_own_name_chooses_its_litter(talk: Talk) -> None:
    talk.say("20:05", "Ines", "call pup 3 Olive")
    talk.say("20:06", "Ines", "Juniper: pup 3 cleared")
    assert talk.say("20:07", "Ines", "olive nursed 10").startswith("Willow's litter: Pup 3 Olive:")


def test_of_someone_who_spoke_to_neither_it_is_asked_and_nothing_is_guessed(talk: Talk) -> None:
    heard = talk.hear("20:05", "Theo", "pup 2 190 g")
    assert [(said.says, said.does) for said in heard.said] == [("reply", "check")]
    assert "1. Juniper's litter\n2. Willow's litter" in heard.said[0].text
    assert (of(talk, "Juniper"), of(talk, "Willow")) == ([("weight", 3)], [])
    talk.restart()
    assert talk.say("20:06", "Theo", "willow").startswith("Willow's litter: Pup 2: 190 g.")
    assert of(talk, "Willow") == [("weight", 2)]


def test_the_choice_outlives_a_restart(talk: Talk) -> None:
    talk.restart()
    assert talk.say("20:05", "Ines", "pup 1 180 g").startswith("Willow's litter:")


def test_a_slip_in_the_dams_name_or_a_second_telling_is_no_other_litter() -> None:
    talk = Talk()
    talk.say("20:00", "Ines", "new litter of 5 from Junper")
    talk.say("20:01", "Ines", "new litter of 6 from Juniper, c-section at 9:40 am")
    assert len(talk.house.conversations) == 1
    assert talk.house.conversations[0].nursery.choices.pups == 6


def test_what_is_told_of_a_litter_that_had_only_a_log_belongs_to_it() -> None:
    talk = Talk()
    talk.say("20:00", "Ines", "pup 3 212 g")
    talk.say("20:01", "Ines", "new litter of 5 from Juniper, c-section at 9:40 am")
    assert len(talk.house.conversations) == 1
    assert [pup.who for pup in talk.house.conversations[0].nursery.living] == [1, 2, 3, 4, 5]


def test_nudges_name_their_litter(talk: Talk) -> None:
    talk.say("20:05", "Ines", "Juniper: pup 3 nursed 10")
    assert {said.text.split(":")[0] for said in talk.until("21:55")} == {"Juniper's litter"}


def test_a_resent_new_litter_opens_no_second_one(talk: Talk) -> None:
    talk.hear("20:10", "Ines", "new litter of 3 from Hazel, born at noon", client_id="h1")
    talk.hear("20:11", "Ines", "new litter of 3 from Hazel, born at noon", client_id="h1")
    assert len(talk.house.conversations) == 3
