"""What is told about the litter and the household, and the talk, plans and questions that set nothing."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from parsers.household import Told, find, known_words, merged
from parsers.litter_card import LitterCard
from parsers.subjects import Names
from parsers.telling import sections
from parsers.vocabulary import load
from parsers.words import cut
from tests.readings.judge import same

HERE = Path(__file__).parent
FERN: dict[str, Any] = json.loads((HERE.parent / "readings" / "litters" / "c_fern.json").read_text(encoding="utf-8"))
FRESH: dict[str, Any] = {"now": FERN["now"], "zone": FERN["zone"], "people": ["Nadia", "Colm"]}


def told(said: str, litter: dict[str, Any] = FERN, **more: Any) -> list[Told]:
    card = LitterCard.model_validate(litter)
    words = cut(said)
    return find(words, 0, len(words), Names(card), card, datetime.fromisoformat(FERN["now"]), by="Nadia", **more)


def table(name: str) -> list[list[str]]:
    lines = (HERE / name).read_text(encoding="utf-8").splitlines()
    return [line.split(" | ") for line in lines if line and not line.startswith("#")]


@pytest.mark.parametrize(("said", "sets"), table("told.txt"))
def test_what_is_told_sets_what_was_meant(said: str, sets: str) -> None:
    got = merged(told(said))
    assert same(json.loads(sets), got), got


@pytest.mark.parametrize("said", [said for (said,) in table("not_told.txt")])
def test_talk_plans_and_questions_set_nothing(said: str) -> None:
    assert told(said) == []


@pytest.mark.parametrize(
    ("said", "rest"),
    [
        ("call pup 3 Olive, 212 g", [", 212 g"]),
        ("pup 3 is the yellow collar and she nursed 10", ["and she nursed 10"]),
        ("cleared 4, snooze 30", ["cleared 4,"]),
        ("please use ounces, thanks", [", thanks"]),
        ("ok so remind me every 2 hours please", []),
        ("call pup 3 Olive she weighs 212", ["she weighs 212"]),
        ("Fern had 6 pups yesterday", ["yesterday"]),
    ],
)
def test_it_takes_its_own_words_with_their_courtesies_and_leaves_the_rest(said: str, rest: list[str]) -> None:
    words, found = cut(said), told(said)
    edges = [0, *(edge for one in found for edge in (one.start, one.end)), len(words)]
    assert [said[words[a].start : words[b - 1].end] for a, b in zip(edges[::2], edges[1::2], strict=True) if b > a] == rest


def test_what_a_plan_has_no_room_for_is_left_to_be_kept() -> None:
    (one,) = told("calcium 2 clicks every 4 hours")
    words = cut("calcium 2 clicks every 4 hours")
    assert one.sets == {"every": {"care": "dose", "drug": "calcium", "minutes": 240}}
    assert [[word.text for word in words[start:end]] for start, end in one.left] == [["2", "clicks"]]


def test_several_of_a_sort_become_a_list_and_of_the_rest_the_last_word_counts() -> None:
    said = (
        "call 1 Olive. call 2 Pip. use ounces. weigh every 12 hours. calcium every 4 hours. "
        "new litter of 5, c-section. mom is called Fern. use grams"
    )
    assert merged(told(said)) == {
        "name": [{"pup": 1, "as": "Olive"}, {"pup": 2, "as": "Pip"}],
        "weights_in": "g",
        "every": [{"care": "weight", "minutes": 720}, {"care": "dose", "drug": "calcium", "minutes": 240}],
        "litter": {"pups": 5, "delivery": "c-section", "dam": "Fern"},
    }


def test_him_is_the_pup_named_last() -> None:
    assert told("call him Olive") == []
    assert merged(told("call him Olive", last_who=3)) == {"name": {"pup": 3, "as": "Olive"}}
    assert told("call him later", last_who=3) == []


def test_a_letter_too_many_of_capitals_makes_no_name() -> None:
    assert told("MOM IS TREMBLING HELP") == []
    assert told("PUP 3 IS LIMP") == []
    assert merged(told("CALL PUP 3 OLIVE")) == {"name": {"pup": 3, "as": "Olive"}}


@pytest.mark.parametrize(
    ("said", "sets"),
    [
        ("5 pups", {"litter": {"pups": 5}}),
        ("c-section", {"litter": {"delivery": "c-section"}}),
        (
            "Juniper had 6 pups by c-section yesterday at 3 pm",
            {"litter": {"pups": 6, "dam": "Juniper", "delivery": "c-section", "born": "2026-04-11T15:00:00-04:00"}},
        ),
        ("we have 5 puppies, mom is Juniper", {"litter": {"pups": 5, "dam": "Juniper"}}),
        (
            "new litter of 5 from Juniper, c-section at 9:40 pm",
            {"litter": {"pups": 5, "dam": "Juniper", "delivery": "c-section", "born": "2026-04-11T21:40:00-04:00"}},
        ),
        ("1 is red, 2 is blue, 3 is Moss", {"name": [{"pup": 1, "as": "red"}, {"pup": 2, "as": "blue"}, {"pup": 3, "as": "Moss"}]}),
    ],
)  # fmt: skip
def test_a_litter_that_is_not_known_yet_is_told_in_fewer_words(said: str, sets: dict[str, Any]) -> None:
    assert merged(told(said, FRESH)) == sets


@pytest.mark.parametrize("said", ["5 pups", "2 pups", "c-section", "a c-section"])
def test_a_litter_that_is_known_needs_more_than_a_count(said: str) -> None:
    assert told(said) == []


def test_a_watch_ends_at_the_next_such_moment_in_the_night_the_clocks_go_back() -> None:
    maple = json.loads((HERE.parent / "readings" / "litters" / "a_maple.json").read_text(encoding="utf-8"))
    card = LitterCard.model_validate(maple)
    words = cut("I'm on until 4")
    for now, until in (
        ("2026-10-31T23:50:00-05:00", "2026-11-01T04:00:00-06:00"),
        ("2026-11-01T05:00:00-06:00", "2026-11-01T16:00:00-06:00"),
    ):
        (one,) = find(words, 0, len(words), Names(card), card, datetime.fromisoformat(now), by="Ruth")
        assert one.sets == {"on_duty": "Ruth", "until": until}


def test_a_watch_without_a_sender_is_nobodys() -> None:
    card = LitterCard.model_validate(FERN)
    words = cut("I'm on until 4")
    assert find(words, 0, len(words), Names(card), card, datetime.fromisoformat(FERN["now"])) == []


def test_every_section_can_be_reached_through_the_words_that_it_needs() -> None:
    starts = {name for said, _ in table("told.txt") for one in told(said) for name in one.sets}
    units = {"weights_in", "temperatures_in"}
    assert starts - {"until"} == units | {section.name for section in sections()} - {"units", "list_of_names"}
    for section in sections():
        assert section.needs, section.name


def test_a_breed_stands_under_its_own_name_and_no_other_name_leads_elsewhere() -> None:
    data = load("breeds")
    names = {name.lower() for name in data["names"]}
    assert len(names) == len(data["names"])
    assert set(data["also"].values()) <= set(data["names"])
    assert not names & set(data["also"])


@pytest.mark.parametrize(
    "said",
    [
        "",
        "?",
        "call",
        "call pup",
        "every",
        "every 2",
        "1 is",
        "names:",
        "new litter of",
        "the vet is",
        "call pup 3 " * 200,
        "1 is red, " * 200,
        "new litter of 5, " * 100,
        "Colm 4 to 5, " * 100,
        "and " * 500,
    ],
)
def test_unfinished_and_endless_words_raise_nothing(said: str) -> None:
    for one in told(said):
        assert 0 <= one.start < one.end <= len(cut(said))


def test_any_words_of_the_vocabulary_in_any_order_raise_nothing() -> None:
    names_and_numbers = "3 5 Olive Nadia pm am 20 hours min g lb kcal ml , . : - red 555 0134".split()
    words = [*sorted(known_words()), *names_and_numbers]
    card = LitterCard.model_validate(FERN)
    names, now = Names(card), datetime.fromisoformat(FERN["now"])
    for start in range(3000):
        said = " ".join(words[(start * 31 + step * (7 + start % 13)) % len(words)] for step in range(1 + start % 9))
        cut_words = cut(said)
        for one in find(cut_words, 0, len(cut_words), names, card, now, by="Nadia"):
            assert 0 <= one.start < one.end <= len(cut_words)


@pytest.mark.parametrize("name", ["setup", "corrections"])
def test_a_slip_is_looked_for_in_long_words_only_and_a_real_word_is_no_slip(name: str) -> None:
    spelling = load(name)["spelling"]
    assert all(len(word) >= 5 for word in spelling["words"])
    assert not set(spelling["words"]) & set(spelling["leave"])
