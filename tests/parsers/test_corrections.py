"""What a correction of an earlier message changes, and the remarks that only sound like one."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from parsers.amends import Value
from parsers.corrections import Corrected, find, known_words
from parsers.litter_card import LitterCard
from parsers.subjects import Names
from parsers.words import Word, cut
from tests.readings.judge import same

HERE = Path(__file__).parent
FERN: dict[str, Any] = json.loads((HERE.parent / "readings" / "litters" / "c_fern.json").read_text(encoding="utf-8"))
LOGGED: dict[str, list[dict[str, Any]]] = {
    "weight": [{"kind": "weight", "who": 3, "grams": 212.0}],
    "weight of 2": [{"kind": "weight", "who": 2, "grams": 231.0}],
    "three weights": [{"kind": "weight", "who": pup, "grams": grams} for pup, grams in ((1, 205.0), (2, 188.0), (3, 212.0))],
    "nursed": [{"kind": "nursed", "who": 3, "minutes": 15}],
    "nursed, no minutes": [{"kind": "nursed", "who": 3}],
    "weight and nursed": [
        {"kind": "weight", "who": 3, "grams": 212.0}, {"kind": "nursed", "who": 3, "minutes": 15}, {"kind": "cleared", "who": 3},
    ],
    "fed": [{"kind": "fed", "who": 3, "ml": 4, "food": "formula", "by": "tube"}],
    "temperature": [{"kind": "temperature", "who": 3, "celsius": 35.5}],
    "peed": [{"kind": "toilet", "who": 3, "urine": True}],
    "dose": [{"kind": "dose", "who": "dam", "drug": "calcium", "amount": 2, "unit": "click"}],
    "intake": [{"kind": "intake", "who": "dam", "what": "food", "amount": "half"}],
    "cleared": [{"kind": "cleared", "who": 3}],
    "box": [{"kind": "climate", "place": "box", "celsius": 30.0, "humidity": 60}],
    "nothing": [],
}  # fmt: skip


def card(logged: list[dict[str, Any]], **more: Any) -> LitterCard:
    last = {"last_logged": {"by": "Nadia", "events": logged}} if logged else {}
    return LitterCard.model_validate(FERN | last | more)


def corrected(said: str, litter: LitterCard) -> Corrected | None:
    now = datetime.fromisoformat(FERN["now"])
    return find(cut(said), Names(litter), litter, now, by="Nadia")


def table(name: str) -> list[list[str]]:
    lines = (HERE / name).read_text(encoding="utf-8").splitlines()
    return [line.split(" | ") for line in lines if line and not line.startswith("#")]


@pytest.mark.parametrize(("logged", "said", "fix"), table("corrected.txt"))
def test_a_correction_changes_what_was_meant_and_nothing_else(logged: str, said: str, fix: str) -> None:
    found = corrected(said, card(LOGGED[logged]))
    assert found is not None
    assert same(json.loads(fix), found.fix.as_json()), found.fix.as_json()


@pytest.mark.parametrize(("logged", "said"), table("not_corrected.txt"))
def test_a_remark_corrects_nothing(logged: str, said: str) -> None:
    found = corrected(said, card(LOGGED[logged]))
    assert found is None, found


@pytest.mark.parametrize(
    ("said", "rest"),
    [
        ("no, 221. and 4 nursed 10", ". and 4 nursed 10"),
        ("no, 221, pup 4 nursed 10", ", pup 4 nursed 10"),
        ("scratch that. pup 4 nursed 8", ". pup 4 nursed 8"),
        ("scratch that pup 4 nursed 8", " pup 4 nursed 8"),
        ("make that 221. who's next?", ". who's next?"),
        ("wrong pup, 4, at 2:10. cleared 2", ". cleared 2"),
        ("no 221 the towel was on", " the towel was on"),
        ("can you delete that?", ""),
        ("221 not 212 sorry", ""),
    ],
)
def test_a_correction_takes_its_own_words_and_leaves_the_rest(said: str, rest: str) -> None:
    words = cut(said)
    found = corrected(said, card(LOGGED["weight"]))
    assert found is not None
    assert found.start == 0
    assert said[words[found.end - 1].end :] == rest


@pytest.mark.parametrize(
    ("said", "problem"),
    [("that was at 2:10", None), ("that was at 3", "either half"), ("no, 2:21", "weight or time"), ("that was at 2:21", None)],
)
def test_a_time_that_words_leave_open_is_told_with_its_reason(said: str, problem: str | None) -> None:
    found = corrected(said, card(LOGGED["weight"]))
    assert found is not None
    assert found.fix.change == "time"
    assert found.problem == problem


def test_a_bare_number_is_in_the_unit_of_the_litter_unless_only_the_other_is_near() -> None:
    ounces = card([{"kind": "weight", "who": 3, "grams": 209.79}], weights_in="oz")
    for said, grams in (("no, 7.8", 221.13), ("no, 221", 221.0), ("7.8 not 7.4", 221.13), ("I meant 7 and a half", 212.62)):
        found = corrected(said, ounces)
        assert found is not None
        assert found.fix.fields == {"grams": pytest.approx(grams, abs=0.01)}, said


def test_the_number_of_several_events_goes_to_the_one_that_it_is_near() -> None:
    several = card(
        [
            {"kind": "fed", "who": 3, "ml": 5},
            {"kind": "nursed", "who": 3, "minutes": 20},
            {"kind": "temperature", "who": 3, "celsius": 36.0},
        ]
    )
    for said, fields in (
        ("no, 6", {"ml": 6}),
        ("no, 25", {"minutes": 25}),
        ("no, 97.2", {"celsius": 36.22}),
        ("no, 6 min", {"minutes": 6}),
    ):
        found = corrected(said, several)
        assert found is not None
        assert found.fix.fields == fields, said


def test_the_reader_may_bring_its_own_words_for_values() -> None:
    def milk(words: Any, at: int) -> Value | None:
        return Value({"food": "goat milk"}, frozenset(["fed"]), 1) if words[at].text == "nanny" else None

    litter = card(LOGGED["fed"])
    found = find(cut("I meant nanny"), Names(litter), litter, datetime.fromisoformat(FERN["now"]), read_value=milk)
    assert found is not None
    assert found.fix.fields == {"food": "goat milk"}


@pytest.mark.parametrize(
    "said", ["", "?", "*", "no", "no,", "I meant", "wrong pup", "not", "not 3,", "undo?", "no " * 400, "not 3 " * 300, "I meant 3 " * 300]
)
def test_words_that_lead_to_nothing_are_no_correction_and_raise_nothing(said: str) -> None:
    found = corrected(said, card(LOGGED["weight"]))
    assert found is None or found.end <= len(cut(said))


def test_any_words_of_the_vocabulary_in_any_order_raise_nothing() -> None:
    words = [*sorted(known_words()), "pup", "3", "4", "221", "212", "g", "at", "2:10", ",", ".", "olive", "min", "nursed", "?"]
    litter = card(LOGGED["weight and nursed"])
    names, now = Names(litter), datetime.fromisoformat(FERN["now"])
    for start in range(3000):
        said = " ".join(words[(start * 31 + step * (7 + start % 13)) % len(words)] for step in range(1 + start % 9))
        cut_words: list[Word] = cut(said)
        found = find(cut_words, names, litter, now)
        assert found is None or 0 <= found.start < found.end <= len(cut_words)
