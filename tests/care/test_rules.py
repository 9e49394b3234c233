"""Every warning, nudge and answer has a rule that can be said, with figures that are there and a source or an honest word in its place."""

from __future__ import annotations

import re
from typing import get_args

import pytest

from bot.care.figures import FiguresError
from bot.care.rules import Rule, rules
from parsers.events import Units
from parsers.reading import Topic

NUDGES = ("nursing", "clearing", "toilet", "weighing", "dose", "first milk", "dam check", "supervision")
WARNINGS = (
    "weight loss", "no gain", "small at birth", "slow litter", "scale", "cold pup", "hot pup", "sign", "dam temperature",
    "dam not eating", "low calcium signs", "dose too soon", "box too cold", "box too hot", "refusals", "milk at nose", "clock",
)  # fmt: skip
OURS = ("sensor silent",)
"""Beyond the contract."""
TALK = ("why", "help")
"""Topics that show no figure of their own."""


def test_every_warning_nudge_and_answer_has_a_rule_and_no_rule_is_of_nothing() -> None:
    assert set(rules()) == {*NUDGES, *WARNINGS, *OURS, *get_args(Topic)} - set(TALK)


@pytest.mark.parametrize("about", list(rules()))
def test_a_rule_says_itself_and_where_it_is_from(about: str) -> None:
    rule = rules()[about]
    for units in (Units("g", "C"), Units("oz", "F")):
        for day in (None, 0, 10, 30):
            assert "{" not in rule.sentence(units, day)
            assert rule.origin(units, day).endswith("."), "it names neither a source nor whose choice it is"


@pytest.mark.parametrize("about", list(rules()))
def test_no_number_of_care_is_typed_into_a_rule(about: str) -> None:
    said = re.sub(r"\{[^}]*\}", "", rules()[about].says)
    assert re.findall(r"\d+", said.replace("each 100 g", "each")) == []


def test_a_figure_is_said_in_the_households_units_and_for_the_day_of_life() -> None:
    rule = Rule(says="Warm to {warmth.warm_before_a_feed}; due every {rounds.nursing_interval}; {growth.early_loss} is a loss.")
    assert rule.sentence(Units("g", "F"), 8) == "Warm to 97 F; due every 3 h; 4 % is a loss."
    assert rule.sentence(Units("g", "C")) == (
        "Warm to 36.1 C; due every 2 h (days 0 to 6), 3 h (days 7 to 13) and 4 h (days 14 to 20); 4 % is a loss."
    )


def test_a_difference_of_warmth_is_no_temperature() -> None:
    rule = Rule(says="{climate.box_margin}")
    assert (rule.sentence(Units("g", "F")), rule.sentence(Units("g", "C"))) == ("1.8 F", "1 C")


def test_the_origin_names_the_source_and_owns_up_to_what_has_none() -> None:
    origin = Rule(says="{growth.no_gain_after} and {growth.great_loss}, {rounds.repeat_after}").origin(Units())
    assert origin.startswith("Source: Home Veterinary Handbook p. 492; Home Veterinary Handbook p. 493.")
    assert "Our own reading of it (derived): 48 h." in origin
    assert "Common practice, no source: 30 min." in origin
    assert Rule(says="As your vet planned it.", status="the plan is your vet's").origin(Units()) == "The plan is your vet's."


def test_a_rule_of_a_figure_that_is_not_there_is_named() -> None:
    with pytest.raises(FiguresError, match="no_such"):
        Rule(says="{growth.no_such}").sentence(Units())
