"""How warm the box should be: the range of the age first, then what was read, then the pups themselves."""

from __future__ import annotations

import pytest

from tests.care.written_log import Log, event, litter
from tests.reports.asking import ask


def test_the_range_of_the_age_comes_first_then_what_was_read_last() -> None:
    log = litter().at("2026-03-04 02:10", event("climate", place="box", celsius=30.0))
    answer = ask(log, "2026-03-04 03:10", "climate")
    assert answer.text.splitlines()[:2] == [
        "Box on day 2: 84 to 90 F where the pups lie, and a cool side that the dam can lie on.",
        "Box last read 86 F, 2:10 am: right for their age.",
    ]
    assert answer.values == {
        "box_low_c": 29, "box_high_c": 32, "box_c": 30.0, "box_at": "2026-03-04T02:10:00-06:00", "last_at": "2026-03-04T02:10:00-06:00",
    }  # fmt: skip
    assert "a loose, quiet pile is right" in answer.text


@pytest.mark.parametrize(
    ("celsius", "words"),
    [
        (25.0, "4 C too cold, warm it slowly"),
        (33.5, "1.5 C too hot, cool it"),
        (32.6, "only 0.6 C above the range"),
        (29.0, "right for their age"),
        (32.0, "right for their age"),
    ],
)
def test_a_reading_out_of_range_says_what_to_do(celsius: float, words: str) -> None:
    log = litter().at("2026-03-01 11:00", temperatures_in="C").at("2026-03-04 02:10", event("climate", place="box", celsius=celsius))
    answer = ask(log, "2026-03-04 03:10", "climate")
    assert words in answer.text
    assert "29 to 32 C" in answer.text


def test_the_incubator_has_its_own_reading_and_its_humidity() -> None:
    log = litter().at("2026-03-04 02:10", event("climate", place="incubator", celsius=32.0, humidity=40))
    answer = ask(log, "2026-03-04 07:10", "climate")
    assert "The box was not read yet" in answer.text
    assert "Incubator last read 89.6 F and 40 % humidity, 2:10 am, too long ago to count: read it again." in answer.text
    assert "55 to 60 % humidity" in answer.text  # a vet's column; others say 50 to 70, and that is said
    assert "50 to 70 % humidity" in answer.text
    assert (answer.values["incubator_c"], answer.values["incubator_humidity_percent"]) == (32.0, 40)
    assert "last_at" not in answer.values


def test_sources_that_disagree_are_said_to_where_it_matters_most() -> None:
    assert "75 to 90 F for newborns" in ask(litter(), "2026-03-04 03:10", "climate").text
    assert "newborns" not in ask(litter(), "2026-03-12 03:10", "climate").text


def test_before_the_birth_it_is_the_range_of_newborns() -> None:
    answer = ask(Log(), "2026-02-28 20:00", "climate")
    assert answer.text.startswith("Box before the birth: 84 to 90 F")
    assert (answer.values["box_low_c"], answer.values["box_high_c"]) == (29, 32)
