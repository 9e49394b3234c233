"""Worry: what to do now. The act first, then whom to call, in at most 60 words, with the numbers that the household stored."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bot.care.sign_table import table
from bot.reports import REPORTS, Answer
from parsers.events.sign import DamSign, PupSign
from tests.care.written_log import Log, event, litter
from tests.reports.asking import ask, asked

NOW = "2026-03-02 05:24"
PUP, DAM = PupSign.__args__, DamSign.__args__  # type: ignore[attr-defined]


def a_night() -> Log:
    log = litter(3).at("2026-03-01 11:00", phone=[{"of": "vet", "number": "555 0134"}, {"of": "emergency", "number": "555 0177"}])
    return log.at("2026-03-01 11:00", name={"pup": 3, "as": "Olive"})


def worry(log: Log, words: str = "what do I do", who: int | str | None = None) -> Answer:
    return REPORTS["worry"](replace(asked(log, NOW, "worry", who=who), words=words))


@pytest.mark.parametrize(("who", "sign"), [*((3, sign) for sign in PUP), *(("dam", sign) for sign in DAM)])
def test_every_sign_is_answered_with_an_act_a_number_and_few_words(who: int | str, sign: str) -> None:
    answer = ask(a_night().at(NOW, event("sign", who, sign=sign)), NOW, "worry", who=who)
    assert "call your vet" in answer.text
    assert "555 0134" in answer.text
    assert len(answer.text.split()) <= 60, answer.text
    assert answer.text.startswith("Pup 3 Olive: " if who == 3 else "Juniper: ")
    assert answer.who == (who,)


@pytest.mark.parametrize(
    ("who", "sign", "words"),
    [
        (3, "cold", "warm to 97 F"),
        (3, "hot", "cool the box"),
        (
            3,
            "gasping",
            "clear mouth and nose, nothing by mouth, and call your vet or the emergency clinic now (vet 555 0134, emergency clinic",
        ),
        ("dam", "trembling", "take the pups off her"),
        ("dam", "growling", "never leave them"),
    ],
)
def test_the_act_for_what_was_seen_comes_first(who: int | str, sign: str, words: str) -> None:
    answer = ask(a_night().at(NOW, event("sign", who, sign=sign)), NOW, "worry", who=who)
    assert words in answer.text
    assert "Source: " in answer.text


def test_the_worst_that_stands_goes_before_what_was_just_told() -> None:
    log = a_night().at("2026-03-02 02:00", event("sign", 3, sign="gasping")).at(NOW, event("temperature", 3, celsius=38.6))
    assert "gasping" in worry(log, who=3).text
    assert "cool the box" in worry(a_night().at(NOW, event("temperature", 3, celsius=38.6)), who=3).text


def test_without_anyone_named_the_worst_that_stands_is_meant() -> None:
    log = a_night().at("2026-03-02 02:00", event("sign", 2, sign="crying")).at("2026-03-02 02:30", event("sign", "dam", sign="trembling"))
    answer = worry(log)
    assert answer.text.startswith("Juniper: take the pups off her")
    assert answer.who == ("dam",)


def test_a_sign_that_only_the_question_names_is_answered_by_its_row() -> None:
    answer = worry(a_night(), "what do I do if milk comes out of the nose")
    (row,) = (row for row in table("pup") if row.seen == ["milk at nose"] and not row.with_)
    assert answer.text.startswith(f"{row.act[:1].upper()}{row.act[1:]}, and call your vet or the emergency clinic now (vet 555 0134")
    assert row.why in answer.text
    assert worry(a_night(), "what if she is trembling", "dam").text.startswith("Juniper: take the pups off her")


@pytest.mark.parametrize(
    ("who", "words"), [(None, "Warm the pup first"), (3, "Pup 3 Olive: warm it slowly"), ("dam", "Juniper: stay with her")]
)
def test_where_nothing_is_known_the_first_steps_are_told_and_the_vet(who: int | str | None, words: str) -> None:
    answer = worry(a_night(), who=who)
    assert answer.text.startswith(words)
    assert "call your vet or the emergency clinic now (vet 555 0134, emergency clinic 555 0177)" in answer.text
    assert len(answer.text.split()) <= 60
    assert "nothing by mouth" in answer.text or who == "dam"


def test_no_answer_names_an_amount_of_any_drug() -> None:
    texts = [worry(a_night().at(NOW, event("sign", "dam", sign=sign)), who="dam").text for sign in DAM]
    assert not any(unit in text.split() for text in texts for unit in ("ml", "mg", "cc", "tablet", "click"))
