"""Corrections are rows beside what they correct; what stands is what counts."""

from __future__ import annotations

import pytest

from bot.conversation.corrections import Corrected, Logged, Unclear, Unfit, correct
from parsers.events import KINDS, Event
from parsers.reading import Fix
from tests.conversation.talk import Talk


@pytest.fixture
def talk() -> Talk:
    talk = Talk()
    talk.say("02:00", "Ines", "new litter of 5 from Juniper, c-section at 9:40 am yesterday")
    return talk


def event(kind: str, **fields: object) -> Event:
    return KINDS[kind].model_validate(fields)


def test_a_value_is_corrected_where_it_stands(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 231 g nursed 15 min")
    assert talk.say("03:01", "Ines", "no, 221").startswith("Corrected: Pup 3: 221 g.")
    assert {"kind": "weight", "who": 3, "grams": 221.0} in talk.events()
    assert len(talk.events()) == 2


def test_both_the_old_and_the_new_stay_in_the_log(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 231 g")
    talk.say("03:01", "Ines", "no, 221")
    lines = [line for line in talk.house.log() if line.entries and line.entries[0].event.kind == "weight"]  # type: ignore[attr-defined]
    assert [(entry.event.grams, entry.id in line.standing) for line in lines for entry in line.entries] == [  # type: ignore[attr-defined]
        (231.0, False),
        (221.0, True),
    ]


def test_the_sender_corrects_their_own_last_entry(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 231 g")
    talk.say("03:01", "Theo", "pup 4 205 g")
    talk.say("03:02", "Ines", "no, 221")
    assert [(event["who"], event["grams"]) for event in talk.events()] == [(4, 205.0), (3, 221.0)]


def test_a_correction_can_be_corrected_and_then_the_whole_taken_back(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 231 g nursed 15 min")
    talk.say("03:01", "Ines", "no, 221")
    talk.say("03:02", "Ines", "make that 20 min")
    assert sorted(str(event.get("grams") or event.get("minutes")) for event in talk.events()) == ["20", "221.0"]
    assert talk.say("03:03", "Ines", "undo").startswith("Taken back, from 3:00 am: Pup 3:")
    assert talk.events() == []


def test_undo_goes_back_message_by_message(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 231 g")
    talk.say("03:01", "Ines", "pup 4 205 g")
    talk.say("03:02", "Ines", "undo")
    talk.say("03:03", "Ines", "undo")
    assert talk.events() == []
    assert talk.hear("03:04", "Ines", "undo").said[0].text == "There is nothing of yours in the log to correct."


def test_a_wrong_pup_is_moved(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 nursed 15 cleared")
    talk.say("03:01", "Ines", "that was pup 4")
    assert sorted((event["kind"], event["who"]) for event in talk.events()) == [("cleared", 4), ("nursed", 4)]


def test_a_wrong_time_is_put_right(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 nursed 15")
    talk.say("03:01", "Ines", "that was at 2:30")
    assert talk.events() == [{"kind": "nursed", "who": 3, "minutes": 15, "at": "2026-03-02T02:30:00-06:00"}]


def test_where_several_could_be_meant_it_asks_which(talk: Talk) -> None:
    talk.say("03:00", "Ines", "1 205, 2 188, 3 212")
    heard = talk.hear("03:01", "Ines", "no, 190")
    assert (heard.said[0].does, heard.said[0].text.count("\n")) == ("fix", 3)
    assert [event["grams"] for event in talk.events()] == [205.0, 188.0, 212.0]
    talk.say("03:02", "Ines", "2")
    assert sorted(str(event["grams"]) for event in talk.events()) == ["190.0", "205.0", "212.0"]


def test_a_correction_that_cannot_be_is_asked_back(talk: Talk) -> None:
    talk.say("02:55", "Ines", "pup 4 320 g")
    talk.say("03:00", "Ines", "pup 3 212 g")
    heard = talk.hear("03:01", "Ines", "that was pup 4")
    assert (heard.said[0].does, "Not corrected yet" in heard.said[0].text) == ("fix", True)
    assert [(event["who"], event["grams"]) for event in talk.events()] == [(4, 320.0), (3, 212.0)]
    talk.say("03:02", "Ines", "no")
    assert [(event["who"], event["grams"]) for event in talk.events()] == [(4, 320.0), (3, 212.0)]
    talk.say("03:03", "Ines", "that was pup 4")
    assert talk.say("03:04", "Ines", "yes") == "Corrected: Pup 4: 212 g."
    assert [(event["who"], event["grams"]) for event in talk.events()] == [(4, 320.0), (4, 212.0)]


def test_what_is_noted_or_set_is_not_what_undo_means(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 212 g")
    talk.say("03:01", "Ines", "what a night")
    talk.say("03:02", "Ines", "remind me every 3 hours")
    assert "Pup 3: 212 g" in talk.say("03:03", "Ines", "undo")


def test_a_correction_and_a_new_entry_in_one_message(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 2 231 g")
    talk.say("03:01", "Ines", "no, 221. and 4 nursed 10")
    assert sorted((str(event["kind"]), event["who"]) for event in talk.events()) == [("nursed", 4), ("weight", 2)]


def test_the_value_goes_to_the_event_that_has_it() -> None:
    logged = [Logged(1, event("weight", who=3, grams=231.0)), Logged(2, event("fed", who=3, ml=5, by="tube"))]
    found = correct(Fix(change="value", fields={"by": "bottle"}), logged)
    assert isinstance(found, Corrected)
    assert (found.old[0].id, found.new[0]) == (2, event("fed", who=3, ml=5, by="bottle"))


def test_a_field_is_found_by_its_name_in_json() -> None:
    found = correct(
        Fix(change="value", fields={"with": "aspirator"}), [Logged(1, KINDS["cleared"].model_validate({"who": 3, "with": "bulb"}))]
    )
    assert isinstance(found, Corrected)
    assert found.new[0] is not None
    assert found.new[0].as_json() == {"kind": "cleared", "who": 3, "with": "aspirator"}


def test_a_value_that_nothing_has_corrects_nothing() -> None:
    assert isinstance(correct(Fix(change="value", fields={"celsius": 36.0}), [Logged(1, event("weight", who=3, grams=231.0))]), Unfit)
    assert isinstance(correct(Fix(change="value", fields={"grams": "many"}), [Logged(1, event("weight", who=3, grams=231.0))]), Unfit)


def test_moving_one_of_several_pups_asks_which() -> None:
    logged = [Logged(1, event("nursed", who=2, minutes=10)), Logged(2, event("nursed", who=3, minutes=15))]
    found = correct(Fix(change="who", who=4), logged)
    assert isinstance(found, Unclear)
    assert [option.old[0].id for option in found.options] == [2, 1]
