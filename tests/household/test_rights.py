"""A keeper sets up the house; everyone logs, asks, snoozes and takes the watch."""

from __future__ import annotations

import pytest

from tests.conversation.talk import Talk


@pytest.fixture
def talk() -> Talk:
    talk = Talk()
    talk.say("20:00", "Ines", "new litter of 4 from Juniper, born 8 am")
    talk.say("20:01", "Theo", "pup 1 212 g")
    return talk


@pytest.mark.parametrize(
    "text", ["call pup 3 Olive", "remind me every 4 hours", "use ounces", "stop the clearing reminders", "invite Marta"]
)
def test_set_up_by_others_is_refused_and_nothing_changes(talk: Talk, text: str) -> None:
    before = talk.house.conversations[0].nursery.choices
    heard = talk.hear("20:10", "Theo", text)
    assert [(said.says, said.does) for said in heard.said] == [("reply", "setup")]
    assert "Only a keeper can change that (Ines)" in heard.said[0].text
    assert talk.house.conversations[0].nursery.choices == before


def test_what_they_log_beside_it_is_kept(talk: Talk) -> None:
    heard = talk.hear("20:10", "Theo", "call pup 3 Olive, 212 g")
    assert heard.said[0].does == "log"
    assert "Pup 3: 212 g" in heard.said[0].text
    assert "Only a keeper" in heard.said[0].text
    assert talk.events()[-1] == {"kind": "weight", "who": 3, "grams": 212.0}


def test_everyone_may_ask_snooze_and_take_the_watch(talk: Talk) -> None:
    assert talk.hear("20:10", "Theo", "who's due").said[0].says == "answer"
    assert "No nudges to anyone until 8:31 pm" in talk.say("20:11", "Theo", "snooze 20")
    assert "Theo has the watch until 4:00 am" in talk.say("20:12", "Theo", "I'm on until 4").replace("tomorrow ", "")
    assert talk.house.conversations[0].nursery.on_duty(talk.at("21:00")) == "Theo"


def test_nobody_unknown_gets_the_watch(talk: Talk) -> None:
    talk.say("20:10", "Ines", "Marta has the watch")
    assert talk.house.conversations[0].nursery.on_duty(talk.at("21:00")) is None
