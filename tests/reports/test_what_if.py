"""What if: `is 210 ok for 3` is held against what is known, and nothing is logged."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bot.reports import REPORTS, Answer
from tests.care.written_log import Log, event, litter
from tests.reports.asking import asked


def three_days() -> Log:
    log = litter(3)
    for wall, grams in (("2026-03-01 10:40", 213), ("2026-03-04 08:00", 220)):
        log.at(wall, *(event("weight", pup, grams=grams + pup) for pup in (1, 2, 3)))
    return log.at("2026-03-04 08:00", event("weight", "dam", grams=11800))


def status(words: str, who: int | str = 3, wall: str = "2026-03-05 08:00", log: Log | None = None) -> Answer:
    return REPORTS["status"](replace(asked(log or three_days(), wall, "status", who=who), words=words))


@pytest.mark.parametrize(
    ("words", "who", "line"),
    [
        ("is 236 ok for 3", 3, "236 g: +13 g (+5.8 %) in 24 h, usual is 5 to 10 % a day."),
        ("is two thirty six ok for 3", 3, "236 g: +13 g (+5.8 %) in 24 h, usual is 5 to 10 % a day."),
        ("is 221 g ok for 3", 3, "221 g: -2 g (-0.9 %) in 24 h, needs a look: no gain."),
        ("is 7.9 oz ok for 3", 3, "223.96 g: +1 g (+0.4 %) in 24 h, usual is 5 to 10 % a day."),
        ("is 150 ok for 3", 3, "150 g: far from the last weight, weigh again."),
        ("is 96.4 ok for 3", 3, "temp 96.4 F: Soon: cold pup, temperature 96.4 F."),
        ("is 97.5 fine for 3?", 3, "temp 97.5 F: no warning."),
        ("is 36.5 C ok for 3", 3, "temp 97.7 F: no warning."),
        ("is 101 ok for mom", "dam", "temp 101 F: no warning."),
        ("is 103.5 ok for mom", "dam", "temp 103.5 F: Vet today: dam temperature, temperature 103.5 F."),
        ("is 11900 g ok for mom", "dam", "11900 g: +100 g (+0.8 %) in 24 h."),
    ],
)
def test_a_value_that_is_asked_about_is_judged_before_the_status(words: str, who: int | str, line: str) -> None:
    plain, judged = status("how is it", who), status(words, who)
    assert judged.text == f"{line}\n{plain.text}"
    assert {name: value for name, value in judged.values.items() if not name.startswith("asked_")} == plain.values


def test_its_figures_stand_beside_those_of_the_status() -> None:
    values = status("is 236 ok for 3").values
    assert (values["asked_grams"], values["asked_gain_g"], values["grams"]) == (236, 13, 223)
    assert status("is 96.8 ok for 3").values["asked_celsius"] == pytest.approx(36)


@pytest.mark.parametrize("words", ["how is pup 3", "is that weight ok for 3", "is 3 ok", "status of number three"])
def test_the_number_of_a_pup_is_no_value(words: str) -> None:
    assert status(words).text.startswith("Pup 3, ")


def test_what_the_same_message_logged_is_not_judged_again() -> None:
    log = three_days().at("2026-03-05 08:00", event("weight", 3, grams=236))
    assert status("pup 3 236 g, is that ok", log=log).text.startswith("Pup 3, ")


def test_a_pup_that_was_never_weighed_has_nothing_to_be_compared_with() -> None:
    assert status("is 210 ok for 3", log=litter(3)).text.startswith("210 g: nothing to compare it with yet.")
