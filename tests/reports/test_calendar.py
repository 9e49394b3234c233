"""What comes, in words: the next things first, or the one that was asked about, with what to mind."""

from __future__ import annotations

from typing import Any

import pytest

from bot.reports import Answer
from tests.care.written_log import Log, event, litter
from tests.reports.asking import ask


def when(said: str, wall: str = "2026-03-02 08:00", log: Log | None = None, **about: Any) -> Answer:
    return ask(log or litter(3), wall, "calendar", words=said, **about)


def test_what_comes_next_stands_first_and_the_rest_in_one_line() -> None:
    answer = when("what is coming up")
    lines = answer.text.splitlines()
    assert lines[0] == "Coming up, on day 1:"
    assert lines[1] == "Still today: never leave the pups alone with the dam (day 0 to 1)."
    assert lines[3] == "Tomorrow to 4 Mar: the cords dry and fall off (day 2 to 3)."
    assert len(lines) <= 12
    for word in ("eyes 11 to 17 Mar", "deworming 15 Mar", "first vaccine 12 to 26 Apr", "microchip 12 to 26 Apr", "weaning 12 to 19 Apr"):
        assert word in lines[-2]
    assert lines[-1].startswith("Your vet's plan and your local law go first; these are the usual ages. “Calendar link”")


def test_its_figures_are_dates() -> None:
    values = when("what is coming up").values
    assert values["deworm_dates"] == ["2026-03-15", "2026-03-29", "2026-04-12", "2026-04-26"]
    assert (values["eyes_from_date"], values["eyes_to_date"]) == ("2026-03-11", "2026-03-17")


def test_what_is_past_is_not_coming() -> None:
    later = when("what is coming up", "2026-03-20 08:00").text
    assert "eyes" not in later
    assert "Now, until tomorrow: first teeth (day 14 to 20)." in later
    assert "Nothing of the first eight weeks lies ahead." in when("what is coming up", "2026-06-20 08:00").text


def test_one_thing_is_told_with_all_its_dates_and_what_to_mind() -> None:
    answer = when("when do i deworm")
    assert "15 Mar (2 weeks), 29 Mar (4 weeks), 12 Apr (6 weeks) and 26 Apr (8 weeks)" in answer.text
    assert "With what your vet gives" in answer.text
    assert answer.values == {"deworm_dates": ["2026-03-15", "2026-03-29", "2026-04-12", "2026-04-26"]}
    assert "29 Mar" in when("when do i deworm", "2026-03-16 08:00").text
    assert "15 Mar" not in when("when do i deworm", "2026-03-16 08:00").text


def test_the_sources_that_differ_are_said_to() -> None:
    assert "10 to 14 in clinics, 10 to 16 in a kennel club's table" in when("when do eyes open").text


def test_a_thing_without_a_date_is_said_to_have_none() -> None:
    assert when("when do i bathe them").text.startswith("I have no date for that. Coming up")
    assert not when("what is coming up").text.startswith("I have no date")


@pytest.mark.parametrize(("span", "there", "not_there"), [("week", "shiver", "eyes"), ("today", "alone", "cords")])
def test_a_span_bounds_what_comes(span: str, there: str, not_there: str) -> None:
    text = when("what is coming up", span=span).text
    assert there in text
    assert not_there not in text


def test_of_the_dam_only_hers_is_told() -> None:
    text = when("what is coming up", who="dam").text
    assert "incision" in text
    assert "deworm" in text
    assert "teeth" not in text


def test_a_pup_of_its_own_birth_has_its_own_dates() -> None:
    log = litter(2).at("2026-03-02 00:30", event("born", 3))
    assert when("when do eyes open", log=log, who=3).values["eyes_from_date"] == "2026-03-12"
    assert when("when do eyes open", log=log, who=1).values["eyes_from_date"] == "2026-03-11"


def test_before_the_birth_there_are_ages_and_no_dates() -> None:
    answer = when("when do i deworm", log=Log())
    assert "2, 4, 6 and 8 weeks: deworm the pups, and the dam with them." in answer.text
    assert answer.values == {}
    assert len(when("what is coming up", log=Log()).text.splitlines()) <= 12


def test_a_natural_birth_is_told_that_there_is_no_incision() -> None:
    log = Log().at("2026-03-01 10:30", litter={"pups": 2, "born": "2026-03-01T09:40:00-06:00", "delivery": "natural"})
    assert "after a c-section only" in when("when do the stitches come out", log=log).text
