"""The feed plan in words: the dam first, a reason, the most for one feed; cold pups before all else."""

from __future__ import annotations

import pytest

from tests.care.written_log import Log, event, litter
from tests.reports.asking import ask, of


def weighed(*, formula: bool = True) -> Log:
    log = litter(2).at("2026-03-01 11:00", event("weight", 1, grams=250), event("weight", 2, grams=212), event("nursed", 2))
    return log.at("2026-03-01 11:05", formula={"kcal_per_ml": 0.9}) if formula else log


def test_the_dam_comes_first_then_a_reason_then_the_most_for_one_feed() -> None:
    answer = ask(weighed(), "2026-03-02 03:14", "feed plan", who=2)
    lines = answer.text.splitlines()
    assert lines[0].startswith("The dam is the first answer")
    assert lines[1].startswith("Start it only with a reason")
    assert (
        lines[2]
        == "Pup 2 (212 g, yesterday 11:00 am): at most 8.4 ml in one feed (4 ml per 100 g); let the weight steer, not a daily total."
    )
    assert "47" not in answer.text  # no daily total beside nursing
    assert answer.who == (2,)
    assert answer.values == pytest.approx(
        {
            "grams": 212,
            "kcal_per_day_low": 42.4,
            "kcal_per_day_high": 53.0,
            "ml_per_day_low": 42.4 / 0.9,
            "ml_per_day_high": 53 / 0.9,
            "ml_per_feed_max": 8.48,
            "feeds_per_day_low": 12,
            "feeds_per_day_high": 12,
        }
    )


def test_the_labels_energy_is_asked_for_and_never_assumed() -> None:
    answer = ask(weighed(formula=False), "2026-03-02 03:14", "feed plan", who=2)
    assert "How many kcal per ml does the label of the milk say?" in answer.text
    assert "I assume none" in answer.text
    assert answer.values.keys() == {"grams", "kcal_per_day_low", "kcal_per_day_high", "ml_per_feed_max"}
    assert "How many" not in ask(weighed(), "2026-03-02 03:14", "feed plan", who=2).text


def test_sources_that_disagree_by_a_factor_of_two_are_said_to() -> None:
    """13.2 (Home Veterinary Handbook p. 499, week 1) against 26 kcal per 100 g (Lawler 2008)."""
    assert "sources differ on the need (13 to 26 kcal per 100 g a day)" in ask(weighed(), "2026-03-02 03:14", "feed plan", who=2).text


def test_a_pup_on_the_bottle_alone_is_told_its_day() -> None:
    log = weighed().at("2026-03-02 03:00", event("fed", 1, ml=9))
    assert "by hand alone 56 to 69 ml a day in 12 feeds" in ask(log, "2026-03-02 03:14", "feed plan", who=1).text


def test_a_cold_pup_is_warmed_before_anything_else_is_said() -> None:
    log = weighed().at("2026-03-02 03:00", event("temperature", 2, celsius=35.5))
    answer = ask(log, "2026-03-02 03:14", "feed plan", who=2)
    assert answer.text.startswith("Pup 2 is too cold to feed (95.9 F): warm it to 97 F first, over 1 to 3 h.")
    assert "at most" not in answer.text
    assert answer.values["celsius"] == 35.5
    later = ask(log, "2026-03-02 05:01", "feed plan", who=2).text
    assert "Take its temperature first: no feed below 97 F" in later


def test_below_94_f_nothing_goes_by_mouth_and_the_vet_is_called() -> None:
    log = weighed().at("2026-03-02 03:00", event("temperature", 2, celsius=34.2))
    text = ask(log, "2026-03-02 03:14", "feed plan", who=2).text
    assert text.startswith("Pup 2 (93.6 F): nothing by mouth now.")
    assert "call your vet or the emergency clinic now" in text.splitlines()[0]


@pytest.mark.parametrize(
    ("sign", "words"),
    [
        ("gasping", "Pup 2: nothing by mouth now. Keep it warm, and call your vet or the emergency clinic now."),
        ("cold", "Pup 2 was cold: take its temperature, and warm it to 97 F before any feed."),
    ],
)
def test_a_sign_that_stands_goes_before_any_amount(sign: str, words: str) -> None:
    log = weighed().at("2026-03-02 03:00", event("sign", 2, sign=sign))
    text = ask(log, "2026-03-02 03:14", "feed plan", who=2).text
    assert text.splitlines()[0] == words
    assert "at most" not in text
    assert "at most 10 ml" in ask(log, "2026-03-02 03:14", "feed plan").text  # the other pup's


def test_a_pup_that_was_warmed_since_it_felt_cold_is_fed() -> None:
    log = weighed().at("2026-03-02 02:00", event("sign", 2, sign="cold")).at("2026-03-02 03:00", event("temperature", 2, celsius=36.4))
    assert "at most 8.4 ml" in ask(log, "2026-03-02 03:14", "feed plan", who=2).text


def test_a_reason_that_stands_in_the_log_is_named() -> None:
    log = weighed().at("2026-03-05 03:00", event("weight", 2, grams=200)).at("2026-03-05 03:05", event("refused", 2))
    assert "A reason is in the log (Pup 2, below its birth weight and refused)" in ask(log, "2026-03-05 03:14", "feed plan", who=2).text


def test_the_litter_has_the_figures_of_each_and_a_pup_not_weighed_is_weighed_first() -> None:
    log = litter(8).at("2026-03-02 03:00", *[event("weight", pup, grams=200 + pup) for pup in (1, 2, 4, 5, 6, 7, 8)])
    answer = ask(log, "2026-03-02 03:14", "feed plan")
    assert answer.values.keys() == set("12345678")
    assert of(answer, 3) == {}
    assert of(answer, 8)["ml_per_feed_max"] == pytest.approx(8.32)
    assert "Pup 3: weigh it first" in answer.text
    assert len(answer.text.splitlines()) <= 12
    assert answer.who == ()


def test_the_dam_is_told_her_own_need() -> None:
    log = litter(6).at("2026-03-01 11:00", event("weight", "dam", grams=12000))
    answer = ask(log, "2026-03-02 03:14", "feed plan", who="dam")
    assert answer.values["kcal_per_day"] == pytest.approx(2014.9, abs=0.06)  # NRC / SACN5 table 15-7: 12 kg, 6 pups, week 1
    assert answer.text.startswith("Juniper needs about 2015 kcal and 2015 ml of water a day.")
    assert "as your vet planned" in answer.text
    assert "mom 11.8 kg" in ask(litter(6), "2026-03-02 03:14", "feed plan", who="dam").text
    assert "From the fifth week on" in ask(log, "2026-04-02 03:14", "feed plan", who="dam").text


@pytest.mark.parametrize(("who", "words"), [(9, "There is no pup 9"), (None, "no pup in this litter yet")])
def test_without_a_pup_there_is_no_plan(who: int | None, words: str) -> None:
    assert words in ask(Log() if who is None else litter(2), "2026-03-02 03:14", "feed plan", **({} if who is None else {"who": who})).text
