"""How a pup, the dam and the litter are; the weights; help; and what cannot be answered yet."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

import pytest

from bot.reports import REPORTS
from bot.reports.answer import LINES
from parsers.events import KINDS
from parsers.reading import Topic
from parsers.vocabulary import load
from tests.care.written_log import Log, event, litter
from tests.reports.asking import ask, asked, of


def a_night() -> Log:
    log = litter(3).at("2026-03-01 11:00", name={"pup": 3, "as": "Olive"})
    log.at("2026-03-01 11:00", event("weight", 3, grams=212), event("weight", 1, grams=203))
    log.at("2026-03-02 03:14", event("weight", 3, grams=219), event("nursed", 3, minutes=15), event("cleared", 3))
    return log.at("2026-03-02 03:20", event("temperature", "dam", celsius=38.5), event("weight", "dam", grams=12000))


# Status


def test_the_status_of_a_pup_tells_age_weight_care_and_what_is_due() -> None:
    answer = ask(a_night(), "2026-03-02 05:24", "status", who=3)
    assert answer.text == "\n".join(
        [
            "Pup 3 Olive, 19 h 44 min old: 219 g, +7 g (+3.3 %) in 16 h.",
            "Toilet overdue by 1 h 40 min; nursing overdue by 25 min.",
            "Last: nursed 15 min, 2:59 am; cleared, 3:14 am.",
            "Weighing due 8:00 am.",
        ]
    )
    assert answer.values == {
        "grams": 219.0,
        "gain_g": 7.0,
        "gain_percent": pytest.approx(7 / 212 * 100),
        "hours": pytest.approx(16 + 14 / 60),
        "per_day_percent": pytest.approx(((219 / 212) ** (24 / (16 + 14 / 60)) - 1) * 100),
        "since_birth_percent": pytest.approx(7 / 212 * 100),
        "last_at": "2026-03-02T02:59:00-06:00",
        "due_at": "2026-03-02T03:44:00-06:00",
        "care": "toilet",
    }


def test_the_status_of_the_litter_tells_each_pup_in_a_line() -> None:
    log = a_night().at("2026-03-02 04:00", on_duty="Theo")
    answer = ask(log, "2026-03-02 05:24", "status")
    assert answer.text == "\n".join(
        [
            "Vet today: first milk, no nursing or colostrum logged in the first 8 h (Pups 1 and 2).",
            "Overdue: first milk of Pups 1 and 2 by 17 h 44 min.",
            "Overdue: weighing of Pups 1 and 2 by 9 h 24 min.",
            "Overdue: toilet of Pup 3 Olive by 1 h 40 min.",
            "Overdue: nursing of Pup 3 Olive by 25 min.",
            "Pup 1:       203 g, weighed yesterday 11:00 am, not nursed or fed yet.",
            "Pup 2:       not weighed yet, not nursed or fed yet.",
            "Pup 3 Olive: 219 g, +7 g (+3.3 %) in 16 h, nursed 2:59 am.",
            "Not weighed today: Pups 1 and 2.",
            "Dam check due tomorrow 9:00 am.",
            "Theo has the watch.",
        ]
    )
    assert (answer.values["mean_gain_g"], answer.values["not_weighed"]) == (7, [1, 2])
    assert of(answer, 3)["due_at"] == "2026-03-02T03:44:00-06:00"


def test_the_status_of_the_dam_tells_what_she_needs_by_the_published_formula() -> None:
    answer = ask(a_night(), "2026-03-02 05:24", "status", who="dam")
    assert answer.text == "\n".join(
        [
            "Juniper: temp 101.3 F, 3:20 am.",
            "Weight 12000 g, 3:20 am.",
            "Dam check due tomorrow 9:00 am.",
            "She needs about 1583 kcal and 1583 ml of water a day.",
        ]
    )
    assert answer.values["kcal_per_day"] == pytest.approx(145 * 12**0.75 + 12 * 24 * 3 * 0.75)
    assert answer.values["water_ml_per_day"] == answer.values["kcal_per_day"]


def a_large_litter() -> Log:
    """Ten pups, weighed twice, all nursed at one time and most of them overdue; the first has had a dose too soon."""
    log = litter(10).at("2026-03-01 10:31", every={"care": "dose", "drug": "drops", "minutes": 240})
    for wall, grams in (("2026-03-01 11:00", 200), ("2026-03-02 08:00", 211)):
        log.at(wall, *(event("weight", pup, grams=grams + pup) for pup in range(1, 11)))
    log.at("2026-03-02 08:10", *(event("nursed", pup, minutes=10) for pup in range(1, 11)))
    log.at("2026-03-02 08:20", *(event("cleared", pup) for pup in range(1, 5)), *(event("toilet", pup, urine=True) for pup in range(1, 5)))
    return log.at("2026-03-02 08:30", event("dose", 7, drug="drops")).at("2026-03-02 08:50", event("dose", 7, drug="drops"))


def test_the_status_of_a_large_litter_has_what_is_worrying_first_and_fits_a_phone() -> None:
    lines = ask(a_large_litter(), "2026-03-02 09:00", "status").text.split("\n")
    assert lines[:4] == [
        "Soon: dose too soon, this drops came 20 min from another (Pup 7).",
        "Overdue: clearing of Pups 5, 6, 7, 8, 9 and 10 by 35 min.",
        "Overdue: toilet of Pups 5, 6, 7, 8, 9 and 10 by 20 min.",
        "Pup 7:  218 g, +11 g (+5.3 %) in 21 h, nursed 8:00 am.",
    ]
    assert lines[-2:] == ["Pups 2, 3 and 4: ask about one for more.", "Dam check due 9:00 am."]


def test_the_status_of_a_pup_tells_what_is_worrying_before_the_care() -> None:
    lines = ask(a_large_litter(), "2026-03-02 09:00", "status", who=7).text.split("\n")
    assert lines[1:3] == [
        "Soon: dose too soon, this drops came 20 min from another.",
        "Clearing overdue by 35 min; toilet overdue by 20 min.",
    ]


def test_care_that_the_household_silenced_is_not_called_overdue() -> None:
    log = a_large_litter().at("2026-03-02 08:55", reminders=[{"care": "clearing", "on": False}, {"care": "toilet", "on": False}])
    assert "verdue" not in ask(log, "2026-03-02 09:00", "status").text


@pytest.mark.parametrize("topic", list(REPORTS))
@pytest.mark.parametrize("who", [None, 7, "dam", [1, 2]])
def test_every_answer_fits_a_phone(topic: str, who: int | str | list[int] | None) -> None:
    assert len(ask(a_large_litter(), "2026-03-02 09:00", topic, who=who).text.split("\n")) <= LINES


def test_a_dead_pup_is_spoken_of_gently() -> None:
    log = a_night().at("2026-03-02 04:00", event("died", 3))
    assert ask(log, "2026-03-02 05:24", "status", who=3).text == "Pup 3 Olive died 4:00 am. I am sorry."
    assert "Olive" not in ask(log, "2026-03-02 05:24", "status").text


# Weights


def test_the_last_weights_are_told_with_their_times() -> None:
    answer = ask(a_night(), "2026-03-02 05:24", "weights")
    assert answer.text == "Pup 1: 203 g, yesterday 11:00 am.\nPup 3 Olive: 219 g, 3:14 am.\nNot weighed yet: Pup 2."
    assert answer.values == {
        "1": {"grams": 203.0, "last_at": "2026-03-01T11:00:00-06:00"},
        "3": {"grams": 219.0, "last_at": "2026-03-02T03:14:00-06:00"},
        "not_weighed": [2],
    }


def test_the_weights_of_a_span_are_those_within_it() -> None:
    today = ask(a_night(), "2026-03-02 05:24", "weights", span="today")
    assert today.text == "Pup 3 Olive: 219 g, 3:14 am.\nNot weighed today: Pups 1 and 2."
    one = ask(a_night(), "2026-03-02 05:24", "weights", who=3, span="all")
    assert one.text == "Pup 3 Olive so far: 212 g, yesterday 11:00 am; 219 g, 3:14 am."
    assert ask(a_night(), "2026-03-02 05:24", "weights", who=1, span="today").text == (
        "Pup 1 was not weighed today; the last weight was 203 g, yesterday 11:00 am."
    )
    assert ask(a_night(), "2026-03-02 05:24", "weights", who="dam").text == "Juniper: 12000 g, 3:20 am."


# Help


def test_help_has_an_example_of_every_kind_of_entry_from_the_readers_own_words() -> None:
    text = ask(litter(), "2026-03-02 05:24", "help").text
    kinds = load("kinds")
    assert set(kinds) == set(KINDS)
    assert all(kind["examples"][0] in text for kind in kinds.values())
    assert "pup 3 212 g nursed 15 min cleared" in text.split("\n")[0]
    assert len(text.split("\n")) <= LINES


def test_help_shows_a_question_of_every_topic() -> None:
    (line,) = (line for line in ask(litter(), "2026-03-02 05:24", "help").text.split("\n") if line.startswith("Ask: "))
    for topic, words in load("topics").items():
        assert (f"{words['examples'][0]}" in line.removeprefix("Ask: ").rstrip(".").split(" · ")) == (topic != "help")


def test_help_on_one_kind_has_all_its_examples() -> None:
    one = ask(litter(), "2026-03-02 05:24", "help", of="nursed").text
    assert one.startswith("Nursed, ")
    assert all(example in one for example in load("kinds")["nursed"]["examples"])


def test_help_asked_with_a_kind_has_all_its_examples() -> None:
    one = REPORTS["help"](replace(asked(litter(), "2026-03-02 05:24", "help"), words="How do I log weights?")).text
    assert all(example in one for example in load("kinds")["weight"]["examples"])


def test_every_topic_of_the_reader_has_a_report() -> None:
    assert set(REPORTS) == set(get_args(Topic))


@pytest.mark.parametrize("topic", list(REPORTS))
def test_no_report_fails_on_an_empty_house(topic: str) -> None:
    empty = Log().at("2026-03-01 10:00", weights_in="g")
    for who in (None, 3, [1, 2], "dam"):
        for thing in (None, "nursed", "dose", "calcium", "climate", "nonsense"):
            assert ask(empty, "2026-03-02 05:24", topic, who=who, of=thing).text
