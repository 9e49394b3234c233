"""Who gets the nudges is said with every change of the watch: until when, who after that, and that a snooze is everyone's."""

from __future__ import annotations

import pytest

from tests.conversation.talk import Talk


@pytest.fixture
def talk() -> Talk:
    talk = Talk()
    talk.say("20:00", "Ines", "new litter of 3 from Juniper, c-section at 7 pm")
    talk.say("20:01", "Ines", "invite Theo")
    talk.say("20:02", "Theo", "pup 1 peed")
    return talk


def test_a_watch_says_until_when_and_who_gets_the_nudges_after_it(talk: Talk) -> None:
    assert talk.say("20:10", "Theo", "I'm on until 4") == "Theo has the watch until 4:00 am, then nudges go to everyone."
    assert talk.say("20:11", "Ines", "Ines has the watch") == "Ines has the watch until someone else takes it."
    assert talk.say("20:12", "Ines", "nobody has the watch") == "Nobody has the watch: nudges go to everyone."


def test_a_roster_says_its_gaps_and_who_goes_before_it_and_how_that_ends(talk: Talk) -> None:
    talk.say("20:10", "Theo", "I'm on")
    assert talk.say("22:00", "Ines", "Theo 10 pm to 4 am, Ines 4 am to 10 am") == (
        "Watch, every day: Theo 10 pm to 4 am, Ines 4 am to 10 am; at other hours nudges go to everyone. "
        "For now Theo has the watch until someone else takes it. “Back to the roster” ends that."
    )
    assert talk.say("22:01", "Theo", "back to the roster") == "Theo has the watch until 4:00 am, then Ines by the roster."
    assert talk.say("22:02", "Ines", "I'm on until midnight") == "Ines has the watch until 12:00 am, then Theo by the roster."
    assert talk.say("22:03", "Theo", "no roster").startswith("Only a keeper can change that")
    assert (
        talk.say("22:04", "Ines", "no roster") == "There is no roster now. Ines has the watch until 12:00 am, then nudges go to everyone."
    )
    assert "at other hours" not in talk.say("22:05", "Ines", "Theo 10 pm to 10 am, Ines 10 am to 10 pm")


@pytest.mark.parametrize("words", ["who has the watch?", "who's on", "who's on duty?", "who gets the nudges?", "roster"])
def test_who_has_the_watch_can_be_asked(talk: Talk, words: str) -> None:
    talk.say("20:10", "Ines", "Theo 8 pm to 4 am, Ines 4 am to 10 am")
    assert talk.say("20:11", "Ines", words) == (
        "Theo has the watch until 4:00 am, then Ines by the roster. Every day: Theo 8 pm to 4 am, Ines 4 am to 10 am."
    )


def test_a_watch_for_a_stranger_changes_nothing_and_says_so(talk: Talk) -> None:
    said = talk.say("20:10", "Ines", "Marta has the watch tonight")
    assert (
        said == "Marta is not in the household, so nothing was changed: “invite Marta” first. Nobody has the watch: nudges go to everyone."
    )


def test_a_snooze_and_an_interval_say_whom_they_are_for(talk: Talk) -> None:
    assert talk.say("20:10", "Theo", "snooze 20") == "No nudges to anyone until 8:30 pm. Warnings still come."
    assert talk.say("20:11", "Ines", "remind me every 3 hours") == "Nursing: a reminder every 3 h to whoever has the watch."
