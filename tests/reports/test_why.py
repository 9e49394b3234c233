"""Why: the rule, the numbers that met it and the source, of what was said last or of what stands of a pup."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from bot.conversation.said import Said
from bot.reports import REPORTS, Answer
from tests.care.written_log import Log, event, litter
from tests.conversation.talk import Talk
from tests.reports.asking import asked

NIGHT = litter(2).at("2026-03-02 03:00", event("nursed", 1, minutes=10), event("nursed", 2, minutes=10))


def said(log: Log, wall: str, says: str, about: str, *who: int | str, to: str = "all", urgency: str | None = None, **values: Any) -> Said:
    return Said(log.moment(wall), to, says, f"{about}!", about, who, urgency, values=values)  # type: ignore[arg-type]


def why(lately: list[Said], wall: str = "2026-03-02 05:10", log: Log = NIGHT, words: str = "why?", **about: Any) -> Answer:
    answer = REPORTS["why"](replace(asked(log, wall, "why", **about), lately=lately, words=words))
    assert answer.about == "why"
    return answer


def nudge(*who: int) -> Said:
    each: dict[str, Any] = {
        str(one): {"care": "nursing", "due_at": "2026-03-02T04:50:00-06:00", "last_at": "2026-03-02T02:50:00-06:00"} for one in who
    }
    return said(NIGHT, "2026-03-02 04:50", "nudge", "nursing", *who, urgency="routine", **each)


def test_a_reminder_is_explained_by_its_rule_its_numbers_and_its_source() -> None:
    answer = why([nudge(1, 2)])
    assert answer.text == "\n".join(
        [
            "Pups 1 and 2: nursing.",
            "A pup is due 2 h after its last nursing or feed began; what you choose yourself takes its place.",
            "Pups 1 and 2: due 4:50 am, last 2:50 am.",
            "Source: UC Davis; a veterinary clinic's sheet.",
        ]
    )
    assert answer.who == (1, 2)
    assert answer.values == nudge(1, 2).values


def test_an_interval_of_the_households_own_is_named() -> None:
    log = litter(2).at("2026-03-02 03:00", event("nursed", 1)).at("2026-03-02 03:01", every={"care": "nursed", "minutes": 90})
    assert "You chose every 1 h 30 min." in why([nudge(1)], log=log).text


def test_of_several_things_said_in_one_breath_the_worst_is_meant() -> None:
    warned = said(NIGHT, "2026-03-02 05:00", "warning", "no gain", 2, urgency="vet today", gain_g=-2.0, gain_percent=-0.9, hours=24.0)
    told = said(NIGHT, "2026-03-02 05:00", "answer", "gains", to="Ines", mean_gain_g=3.0)
    answer = why([nudge(1), warned, told])
    assert answer.text.startswith("Pup 2: no gain (vet today).\nAfter 48 h of age, no gain")
    assert "Numbers: gain -2 g, gain -0.9 %, in 24 h." in answer.text
    assert "Source: Home Veterinary Handbook p. 492." in answer.text
    assert answer.values == warned.values


def test_what_was_said_to_someone_else_or_was_a_reason_itself_is_not_meant() -> None:
    others = said(NIGHT, "2026-03-02 05:05", "answer", "gains", to="Theo")
    reason = said(NIGHT, "2026-03-02 05:06", "answer", "why", to="Ines")
    assert why([nudge(1), others, reason]).text.startswith("Pup 1: nursing.")


def test_of_a_pup_its_standing_warning_is_meant_and_only_then_what_was_said_of_it() -> None:
    log = litter(2).at("2026-03-02 03:00", every={"care": "dose", "drug": "drops", "minutes": 240})
    log.at("2026-03-02 03:00", event("weight", 1, grams=200))
    log.at("2026-03-02 03:00", event("nursed", 1), event("dose", 1, drug="drops")).at("2026-03-02 04:00", event("dose", 1, drug="drops"))
    assert why([nudge(1)], log=log, who=1).text.startswith("Pup 1: dose too soon (soon).")
    assert why([nudge(1)], who=1).text.startswith("Pup 1: nursing.")
    assert why([nudge(1)], log=log, who=1, words="why is 1 due").text.startswith("Pup 1: clearing.")


def test_of_a_pup_that_stood_in_an_answer_its_own_numbers_are_told() -> None:
    each: dict[str, Any] = {"1": {"gain_g": 2.0}, "2": {"gain_g": 9.0}}
    gains = said(NIGHT, "2026-03-02 05:05", "answer", "gains", to="Ines", **each)
    log = Log().at("2026-03-02 04:30", litter={"pups": 2})
    answer = why([gains], log=log, who=2)
    assert answer.who == (2,)
    assert "Numbers: gain +9 g." in answer.text
    assert answer.values == {"gain_g": 9.0}


def test_a_pup_that_died_needs_no_reason() -> None:
    log = litter(2).at("2026-03-02 03:00", event("died", 2))
    assert why([nudge(2)], log=log, who=2).text == "Pup 2 died. I am sorry."


def test_where_there_is_nothing_to_explain_it_says_so() -> None:
    assert why([]).text.startswith("I have given no number yet.")
    assert why([], log=Log().at("2026-03-02 04:30", litter={"pups": 2}), who=2).text.startswith("Nothing stands against Pup 2 now.")


def test_what_was_said_is_known_after_a_restart(tmp_path: Path) -> None:
    talk = Talk(tmp_path / "night.db")
    for text in ("new litter of 2 from Juniper, c-section at 22:00", "calcium every 150 min", "gave mom calcium 2 clicks"):
        talk.hear("03:00", "Ines", text)
    talk.hear("03:40", "Theo", "gave mom calcium 2 clicks")
    talk.restart()
    assert talk.say("03:41", "Ines", "why?").startswith("Juniper: dose too soon (soon).")
    talk.house.close()
