"""What hangs on a statement and makes a question of it, and what only hangs there."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from parsers import read
from parsers.litter_card import LitterCard

CARD: dict[str, Any] = json.loads((Path(__file__).parents[1] / "readings" / "litters" / "c_fern.json").read_text(encoding="utf-8"))


def reading(said: str) -> Any:
    return read(said, LitterCard.model_validate(CARD), now=datetime.fromisoformat(CARD["now"]), by="Nadia")


@pytest.mark.parametrize(
    ("said", "topic", "who", "of"),
    [
        ("you fed pearl right", "last", 5, "fed"),
        ("you cleared blue didn't you", "last", 6, "cleared"),
        ("3 was cleared, wasn't he?", "last", 3, "cleared"),
        ("pearl nursed, didn't she?", "last", 5, "nursed"),
        ("mom got her calcium, right?", "last", "dam", "calcium"),
        ("Colm fed 3, yes?", "last", 3, "fed"),
        ("pearl was tubed at 1, yes?", "last", 5, "fed"),
        ("3 nursed when?", "last", 3, "nursed"),
        ("so 3 nursed 15?", "last", 3, "nursed"),
        ("Fern eat?", "last", "dam", "intake"),
        ("any poops today", "last", None, "toilet"),
        ("any pee from 3", "last", 3, "toilet"),
        ("any signs on 4", "status", 4, None),
        ("pearl is limp, isn't she?", "status", 5, None),
        ("pearl is 180, right?", "status", 5, None),
    ],
)
def test_a_statement_with_a_tag_asks_and_logs_nothing(said: str, topic: str, who: Any, of: str | None) -> None:
    found = reading(said)
    assert (found.does, found.about.topic, found.about.who, found.about.of) == ("ask", topic, who, of)


@pytest.mark.parametrize("said", ["I think 3 nursed?", "maybe 3 nursed 10?", "pearl nursed 10, I'm good, you?"])
def test_a_guess_with_a_question_mark_is_to_be_confirmed(said: str) -> None:
    assert reading(said).does == "check"


@pytest.mark.parametrize("said", ["any poop is good poop", "any vomiting call the vet", "time to change the bedding", "which is good"])
def test_talk_that_begins_like_a_question_asks_nothing(said: str) -> None:
    assert (reading(said).does, reading(said).about) == ("note", None)


@pytest.mark.parametrize("said", ["pearl 178, was 176", "pearl 180 (was 176)", "Green has green poop", "green has green diarrhea"])
def test_an_entry_beside_words_that_may_ask_is_logged_and_asks_nothing(said: str) -> None:
    assert (reading(said).does, reading(said).about) == ("log", None)


@pytest.mark.parametrize("said", ["limp!!! pearl!!! help!!!", "pearl is limp. help"])
def test_a_cry_for_help_in_its_own_sentence_is_about_the_sign_beside_it(said: str) -> None:
    found = reading(said)
    assert (found.does, found.about.topic, found.about.who) == ("log", "worry", 5)


def test_what_was_done_before_a_tag_after_a_comma_is_still_logged() -> None:
    found = reading("cleared 4, 3 nursed 10, didn't he?")
    assert [(event.kind, event.who) for event in found.events] == [("cleared", 4)]
    assert (found.about.topic, found.about.who) == ("last", 3)
