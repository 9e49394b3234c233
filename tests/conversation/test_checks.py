"""What must be confirmed is kept and not logged, until the sender says yes."""

from __future__ import annotations

import pytest

from tests.conversation.talk import Talk


@pytest.fixture
def talk() -> Talk:
    talk = Talk()
    talk.say("02:00", "Ines", "new litter of 5 from Juniper, c-section at 9:40 am yesterday")
    talk.say("02:05", "Ines", "weights 205 188 212 231 196")
    return talk


def weights(talk: Talk, pup: int) -> list[object]:
    return [event["grams"] for event in talk.events() if event["kind"] == "weight" and event["who"] == pup]


def test_an_unlikely_weight_is_asked_back_and_not_logged(talk: Talk) -> None:
    heard = talk.hear("03:00", "Ines", "pup 3 2120 g")
    assert [(said.says, said.does, said.who) for said in heard.said] == [("reply", "check", (3,))]
    assert "Not logged yet" in heard.said[0].text
    assert weights(talk, 3) == [212.0]


def test_yes_logs_it_at_the_time_at_which_it_was_told(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 320 g")
    heard = talk.hear("03:04", "Ines", "yes")
    assert [(said.does, said.text) for said in heard.said] == [("log", "Pup 3: 320 g.")]
    assert talk.events()[-1] == {"kind": "weight", "who": 3, "grams": 320.0, "at": "2026-03-02T09:00:00Z"}


def test_no_drops_it(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 320 g")
    assert talk.say("03:01", "Ines", "no") == "Dropped: nothing of “pup 3 320 g” was logged."
    assert weights(talk, 3) == [212.0]
    talk.say("03:02", "Ines", "yes")
    assert weights(talk, 3) == [212.0]


def test_only_the_sender_confirms(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 320 g")
    talk.say("03:01", "Theo", "yes")
    assert weights(talk, 3) == [212.0]


def test_what_was_asked_is_still_open_after_another_message(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 320 g")
    talk.say("03:01", "Ines", "pup 4 235 g")
    talk.say("03:02", "Ines", "yes")
    assert weights(talk, 3) == [212.0, 320.0]


def test_after_a_quarter_of_an_hour_yes_means_nothing(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 320 g")
    talk.say("03:16", "Ines", "yes")
    assert weights(talk, 3) == [212.0]


def test_the_right_value_said_anew_settles_it(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 3 320 g")
    talk.say("03:01", "Ines", "pup 3 220 g")
    talk.say("03:02", "Ines", "yes")
    assert weights(talk, 3) == [212.0, 220.0]


def test_a_correction_is_of_what_was_asked_and_never_of_what_was_logged_before(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 2 190 g")
    talk.say("03:01", "Ines", "pup 3 320 g")
    assert talk.say("03:02", "Ines", "no, 220") == "Pup 3: 220 g."
    assert (weights(talk, 2), weights(talk, 3)) == ([188.0, 190.0], [212.0, 220.0])


def test_a_correction_of_what_was_asked_may_be_asked_back_itself(talk: Talk) -> None:
    talk.say("03:01", "Ines", "pup 3 320 g")
    assert talk.hear("03:02", "Ines", "no, 330").said[0].does == "check"
    assert weights(talk, 3) == [212.0]
    talk.say("03:03", "Ines", "yes")
    assert weights(talk, 3) == [212.0, 330.0]


def test_undo_right_after_a_question_back_drops_the_question_only(talk: Talk) -> None:
    talk.say("03:00", "Ines", "pup 2 190 g")
    talk.say("03:01", "Ines", "pup 3 320 g")
    talk.say("03:02", "Ines", "undo")
    assert weights(talk, 2) == [188.0, 190.0]


def test_a_pup_answers_which_pup(talk: Talk) -> None:
    assert talk.hear("03:10", "Ines", "nursed 15").said[0].does == "check"
    assert "nursed 15 min" in talk.say("03:11", "Ines", "pup 2")
    assert talk.events()[-1] == {"kind": "nursed", "who": 2, "minutes": 15, "at": "2026-03-02T08:55:00Z"}


def test_a_bare_number_answers_which_pup_by_the_pups_own_number(talk: Talk) -> None:
    talk.say("03:05", "Ines", "pup 1 passed")
    talk.say("03:10", "Ines", "nursed 15")
    talk.say("03:11", "Ines", "4")
    assert talk.events()[-1]["who"] == 4


def test_a_pup_that_is_not_there_is_never_confirmed_but_named_anew(talk: Talk) -> None:
    talk.say("03:10", "Ines", "pup 9 nursed 10")
    talk.say("03:11", "Ines", "yes")
    assert [event["who"] for event in talk.events() if event["kind"] == "nursed"] == []
    talk.say("03:12", "Ines", "pup 9 nursed 10")
    talk.say("03:13", "Ines", "pup 4")
    assert [event["who"] for event in talk.events() if event["kind"] == "nursed"] == [4]


def test_of_a_pup_that_has_died_the_right_pup_may_be_named(talk: Talk) -> None:
    talk.say("03:05", "Ines", "pup 5 passed")
    assert talk.hear("03:10", "Ines", "pup 5 nursed 10").said[0].does == "check"
    assert talk.say("03:11", "Ines", "4") == "Pup 4: nursed 10 min."


def test_another_pup_named_is_held_against_its_own_weights(talk: Talk) -> None:
    talk.say("03:10", "Ines", "pup 3 320 g")
    assert talk.hear("03:11", "Ines", "pup 4").said[0].does in ("log", "check", "fix")
    assert weights(talk, 3) == [212.0]
    assert weights(talk, 4) == [231.0]


def test_a_mere_number_is_no_yes_to_one_reading(talk: Talk) -> None:
    talk.say("03:10", "Ines", "pup 3 320 g")
    assert "Not logged yet" in talk.say("03:11", "Ines", "1")
    assert weights(talk, 3) == [212.0]
    talk.say("03:12", "Ines", "yes")
    assert weights(talk, 3) == [212.0, 320.0]


def test_a_number_picks_one_of_several_readings(talk: Talk) -> None:
    heard = talk.hear("03:10", "Ines", "red 2:31 pup 4 2:31")
    if heard.said[0].does != "check":
        pytest.skip("the reader is sure of it")
    assert weights(talk, 4) == [231.0]
