"""The handover: since the asker's own last watch, what happened, what is worrying and due, and who logged it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from bot.care.rounds import due
from bot.reports import REPORTS, Answer
from bot.reports.away import away
from parsers.reading import Question
from tests.care.written_log import Log, event, litter
from tests.conversation.talk import Talk
from tests.reports.asking import asked, of

WAKES = "2026-03-02 05:30"


def a_night() -> Log:
    """Ines goes to bed at nine, Theo keeps the watch with three pups, of which one declines, is fed by hand and looks weak."""
    log = litter(3).at("2026-03-01 20:50", *(event("nursed", pup, minutes=15) for pup in (1, 2, 3)))
    log.at("2026-03-01 20:55", *(event("weight", pup, grams=200 + pup) for pup in (1, 2, 3)))
    log.at("2026-03-01 23:00", event("nursed", 1, minutes=10), event("nursed", 2, minutes=10), event("refused", 3), by="Theo")
    log.at("2026-03-02 01:00", event("nursed", 1, minutes=10), event("nursed", 2, minutes=10), event("fed", 3, ml=3), by="Theo")
    log.at("2026-03-02 01:10", event("toilet", 1, urine=True, stool=True), event("toilet", 2, urine=True), by="Theo")
    log.at(
        "2026-03-02 01:20", event("dose", "dam", drug="calcium", amount=2, unit="click"), event("intake", "dam", amount="half"), by="Theo"
    )
    log.at("2026-03-02 03:00", event("sign", 3, sign="weak"), event("temperature", 3, celsius=36.4), by="Theo")
    return log.at("2026-03-02 05:00", event("weight", 1, grams=207), event("weight", 3, grams=199), by="Theo")


def handover(log: Log, wall: str = WAKES, by: str = "Ines", **about: Any) -> Answer:
    answer = REPORTS["handover"](asked(log, wall, "handover", by, **about))
    assert answer.about == "handover"
    return answer


def start(
    log: Log, wall: str, by: str = "Ines", wrote: tuple[str, ...] = (), people: tuple[str, ...] = (), **about: Any
) -> tuple[str, str]:
    found = away(replace(asked(log, wall, "handover", by, **about), wrote=[log.moment(each) for each in wrote], people=people))
    assert found.end == log.moment(wall) or about
    return f"{found.start.astimezone(log.zone):%m-%d %H:%M}", found.said


# Since when


def test_it_goes_back_to_when_the_asker_wrote_last_before_someone_else_did() -> None:
    assert start(a_night(), WAKES) == ("03-01 20:55", "Since yesterday at 8:55 pm, when you last wrote")


def test_what_was_only_asked_counts_as_written_too() -> None:
    assert start(a_night(), WAKES, wrote=("2026-03-01 22:10",))[0] == "03-01 22:10"


def test_asking_twice_or_after_some_words_of_the_same_sitting_goes_back_as_far() -> None:
    log = a_night().at("2026-03-02 05:21", event("nursed", 1)).at("2026-03-02 05:22", event("nursed", 2), by="Theo")
    assert start(log, WAKES, wrote=("2026-03-02 05:21", "2026-03-02 05:29"))[0] == "03-01 20:55"


def test_whoever_was_alone_gets_the_last_hours() -> None:
    log = litter(1).at("2026-03-02 03:00", event("nursed", 1))
    assert start(log, WAKES) == ("03-01 17:30", "In the last 12 h")
    assert start(log, WAKES, by="Theo") == ("03-01 17:30", "In the last 12 h")


def test_a_sensor_is_no_other_person() -> None:
    log = litter(1).at("2026-03-02 03:00", event("nursed", 1)).at("2026-03-02 04:00", event("climate", place="box", celsius=30), by="box")
    assert start(log, WAKES, people=("Ines", "Theo"))[1] == "In the last 12 h"


def test_a_watch_taken_by_hand_ends_when_the_next_one_is_taken_or_as_was_said() -> None:
    log = litter(1).at("2026-03-01 18:00", on_duty="Ines").at("2026-03-01 22:00", on_duty="Theo")
    log.at("2026-03-02 00:00", event("nursed", 1)).at("2026-03-02 03:00", event("nursed", 1), by="Theo")
    assert start(log, WAKES) == ("03-01 22:00", "Since yesterday at 10:00 pm, when your watch ended")
    assert start(log, WAKES, by="Theo")[1] == "In the last 12 h", "his is not over"
    until = litter(1).at("2026-03-01 18:00", on_duty="Ines", until="2026-03-01T21:00:00-06:00")
    assert start(until.at("2026-03-01 22:00", on_duty="Theo"), WAKES)[0] == "03-01 21:00"


def test_a_shift_of_the_roster_ended_when_it_last_did() -> None:
    log = litter(1).at(
        "2026-03-01 10:40", roster=[{"who": "Theo", "from": "22:00", "to": "04:00"}, {"who": "Ines", "from": "04:00", "to": "10:00"}]
    )
    assert start(log, "2026-03-02 22:05", by="Theo") == ("03-02 04:00", "Since 4:00 am, when your watch ended")
    assert start(log, "2026-03-03 04:01")[0] == "03-02 10:00"
    assert start(log, "2026-03-02 04:01")[1] == "In the last 12 h", "no shift of hers was over since the roster was told"


def test_a_handover_is_no_history() -> None:
    log = litter(1).at("2026-03-01 12:00", event("nursed", 1)).at("2026-03-06 03:00", event("nursed", 1), by="Theo")
    assert start(log, "2026-03-06 05:30", wrote=("2026-03-01 12:00",)) == ("03-04 05:30", "In the last 2 days")


@pytest.mark.parametrize(("span", "said"), [("today", "today"), ("24h", "in the last 24 h")])
def test_a_span_that_was_asked_for_holds(span: str, said: str) -> None:
    assert start(a_night(), WAKES, span=span)[1] == said


# What happened


def test_it_tells_the_worst_first_then_what_is_due_and_what_was_done() -> None:
    assert handover(a_night()).text == "\n".join(
        [
            "Since yesterday at 8:55 pm, when you last wrote: Theo logged 14.",
            "Vet today: refusals, nothing taken since 12:50 am (Pups 1 and 2).",
            "Vet today: refusals, nothing taken since 1:00 am (Pup 3).",
            "Vet today: weak (Pup 3).",
            "Overdue: clearing of Pups 1, 2 and 3 by 4 h 15 min; toilet of Pup 3 by 4 h; "
            "nursing of Pups 1 and 2 by 2 h 40 min, of Pup 3 by 2 h 30 min.",
            "Seen: Pup 3 weak 3:00 am.",
            "Nursed: not Pup 3; twice Pups 1 and 2. Declined: once Pup 3. By hand: Pup 3 3 ml in 1 feed.",
            "Weighed: Pup 3 -4 g, Pup 1 +6 g, not Pup 2.",
            "Passed: stool Pup 1; urine Pups 1 and 2; neither Pup 3.",
            "Temperatures: Pup 3 97.52 F 3:00 am.",
            "Juniper: calcium 2 clicks 1:20 am; ate half 1:20 am.",
            "Next: weighing due 8:00 am (Pup 2); dam check due 9:00 am (Juniper); weighing due 8:00 pm (Pups 1 and 3).",
        ]
    )


def test_its_figures_are_the_counts_of_each_and_the_gains() -> None:
    answer = handover(a_night())
    assert of(answer, 2) == {"nursed": 2, "toilet": 1, "urine": 1}
    three = of(answer, 3)
    assert (three["fed"], three["fed_ml"], three["refused"], three["sign"], three["gain_g"]) == (1, 3, 1, 1, -4)
    assert of(answer, "dam") == {"dose": 1, "intake": 1}
    assert answer.values["since_at"] == "2026-03-01T20:55:00-06:00"
    assert answer.values["logged"] == {"Theo": 14}
    assert answer.values["not_weighed"] == [2]


def test_of_one_pup_only_its_own_is_told() -> None:
    answer = handover(a_night(), who=3)
    assert answer.who == (3,)
    assert "Juniper" not in answer.text
    assert "Pup 1" not in answer.text
    assert set(answer.values) >= {"3"}
    assert "1" not in answer.values


def test_a_death_is_the_first_thing_that_is_told() -> None:
    log = a_night().at("2026-03-02 04:00", event("died", 2), by="Theo")
    assert handover(log).text.split("\n")[1] == "Pup 2 died 4:00 am."


def test_what_was_corrected_since_is_told_as_it_stands() -> None:
    log = a_night()
    log.entries[-1] = replace(log.entries[-1], replaces=7)
    assert "Pup 3 -4 g" in handover(log).text


def test_care_too_old_for_a_reminder_is_owned_up_to() -> None:
    log = litter(1).at("2026-03-02 03:00", event("nursed", 1, minutes=10)).at("2026-03-02 03:00", event("cleared", 1), event("toilet", 1))
    asking = asked(log, "2026-03-02 18:30", "handover")
    assert "No reminder told of nursing of Pup 1." in REPORTS["handover"](asking).text
    told = {cause for one in due(asking.nursery, asking.now) for cause in one.causes}
    assert "No reminder" not in REPORTS["handover"](replace(asking, told=told)).text


def test_what_a_sensor_told_is_nobodys_work() -> None:
    log = litter(1).at("2026-03-02 04:00", event("climate", place="box", celsius=30), by="sensor")
    asking = replace(asked(log, WAKES, "handover"), people=("Ines", "Theo"))
    assert REPORTS["handover"](asking).text.startswith("In the last 12 h: nothing was logged.")
    assert "Last: box 86 F 4:00 am." in REPORTS["handover"](asking).text


def test_nothing_logged_is_said() -> None:
    assert handover(litter(1), "2026-03-02 05:30").text.startswith("In the last 12 h: nothing was logged.")


def test_who_was_last_here_is_known_after_a_restart(tmp_path: Path) -> None:
    talk = Talk(tmp_path / "night.db")
    for wall, by, text in (
        ("00:10", "Ines", "new litter of 2 from Juniper, c-section at 23:00"),
        ("00:20", "Ines", "who's due?"),
        ("03:00", "Theo", "1 and 2 nursed 15"),
    ):
        talk.hear(wall, by, text)
    talk.restart()
    assert talk.say("05:30", "Ines", "catch me up").startswith("Since 12:20 am, when you last wrote: Theo logged 2.")
    talk.house.close()


def test_a_handover_looks_no_further_back_than_it_tells() -> None:
    class Counting(list[Any]):
        looked = 0

        def __reversed__(self) -> Any:
            for one in super().__reversed__():
                self.looked += 1
                yield one

    log = litter(1)
    for day in range(1, 29):
        for hour in range(24):
            log.at(f"2026-03-{day:02} {hour:02}:00", event("nursed", 1), by="Theo")
    entries = Counting(log.entries)
    question = Question.model_validate({"topic": "handover"})
    REPORTS["handover"](replace(asked(log, "2026-03-28 23:30", "handover"), entries=entries, question=question))
    assert entries.looked < 200
    assert datetime(2026, 3, 1, tzinfo=UTC) < log.entries[-1].told_at
