"""The first milk: asked for at two and at four hours of age, the vet's at eight (care contract, Care that is due)."""

from __future__ import annotations

import pytest

from bot.care.notices import standing
from bot.care.rounds import due
from parsers.events import Event
from tests.care.written_log import Listening, Log, event, litter


def heard(log: Log, until: str, off_until: str | None = None) -> list[str]:
    """Everything said of the first milk, nudges and the warning."""
    nudges, warnings = Listening(log, only="first milk"), Listening(log, only="first milk", says="warning")
    if off_until is not None:
        return sorted(nudges.off_until(off_until) + nudges.until(until) + warnings.off_until(off_until) + warnings.until(until))
    return sorted(nudges.until(until) + warnings.until(until))


def test_it_is_asked_for_at_two_and_four_hours_and_is_the_vets_at_eight() -> None:
    log = litter(3).at("2026-03-01 10:40", on_duty="Theo")  # born at 9:40
    assert heard(log, "2026-03-03 12:00") == [
        "11:40 first milk 1,2,3 soon Theo",
        "13:40 first milk 1,2,3 soon Theo",
        "17:40 first milk 1,2,3 vet today all",
    ]


@pytest.mark.parametrize(
    "given", [event("nursed", 2, minutes=1), event("fed", 2, food="colostrum", ml=3), event("fed", 2, food="dam's milk", by="tube")]
)
def test_a_nursing_colostrum_or_her_milk_ends_it(given: Event) -> None:
    log = litter(2).at("2026-03-01 11:00", given)
    assert {line.split()[3] for line in heard(log, "2026-03-03 12:00")} == {"1"}


@pytest.mark.parametrize("fields", [{}, {"food": "formula"}, {"food": "goat milk"}, {"food": "sugar water"}])
def test_another_feed_does_not_end_it_and_is_due_again_by_itself(fields: dict[str, str]) -> None:
    log = litter(1).at("2026-03-01 11:00", event("fed", 1, ml=3, **fields))
    assert heard(log, "2026-03-01 18:00")[0] == "11:40 first milk 1 soon all"
    assert [(one.care, f"{one.at.astimezone(log.zone):%H:%M}") for one in due(log.nursery(), log.now)][-5:-2] == [
        ("toilet", "11:30"), ("first milk", "11:40"), ("nursing", "13:00"),
    ]  # fmt: skip


def test_formula_after_colostrum_leaves_it_ended() -> None:
    log = litter(1).at("2026-03-01 11:00", event("fed", 1, food="colostrum")).at("2026-03-01 12:00", event("fed", 1, food="formula"))
    assert heard(log, "2026-03-02 12:00") == []


def test_a_pup_with_neither_is_not_asked_for_as_a_nursing() -> None:
    log = litter(1)
    assert Listening(log, only="nursing").until("2026-03-03 12:00") == []


def test_each_pup_goes_by_its_own_birth_and_those_within_ten_minutes_are_asked_for_together() -> None:
    log = Log().at("2026-03-01 21:00", litter={"pups": 0, "dam": "Juniper"})
    for pup, born in ((1, "21:00"), (2, "21:08"), (3, "21:30")):
        log.at(f"2026-03-01 {born}", event("born", pup))
    assert heard(log, "2026-03-02 06:00") == [
        "01:00 first milk 1,2 soon all", "01:30 first milk 3 soon all",
        "05:00 first milk 1 vet today all", "05:08 first milk 2 vet today all", "05:30 first milk 3 vet today all",
        "23:00 first milk 1,2 soon all", "23:30 first milk 3 soon all",
    ]  # fmt: skip


def test_a_snooze_moves_a_nudge_and_not_the_next_one_and_silences_no_warning() -> None:
    log = litter(1).at("2026-03-01 11:30", snooze={"minutes": 60})
    assert heard(log, "2026-03-01 17:00") == ["12:30 first milk 1 soon all", "13:40 first milk 1 soon all"]
    log = litter(1).at("2026-03-01 11:30", snooze={"minutes": 180})  # both moments lie in it
    assert heard(log, "2026-03-01 17:00") == ["14:30 first milk 1 soon all"]
    log = litter(1).at("2026-03-01 11:30", snooze={"minutes": 380})  # until 17:50: the warning comes before its end
    assert heard(log, "2026-03-02 12:00") == ["17:40 first milk 1 vet today all"]


@pytest.mark.parametrize(
    ("back", "expected"),
    [
        ("2026-03-01 12:00", ["12:00 first milk 1 soon all", "13:40 first milk 1 soon all", "17:40 first milk 1 vet today all"]),
        ("2026-03-01 15:00", ["15:00 first milk 1 soon all", "17:40 first milk 1 vet today all"]),
        ("2026-03-01 19:00", ["19:00 first milk 1 vet today all"]),
        ("2026-03-02 05:39", ["05:39 first milk 1 vet today all"]),
        ("2026-03-02 05:41", []),
    ],
)
def test_after_an_outage_only_the_latest_is_said_and_what_is_old_is_left(back: str, expected: list[str]) -> None:
    assert heard(litter(1), "2026-03-03 12:00", off_until=back) == expected


def test_a_litter_told_of_hours_after_its_birth_is_asked_about_at_once() -> None:
    log = Log().at("2026-03-01 13:00", litter={"pups": 2, "born": "2026-03-01T09:40:00-06:00"})
    assert heard(log, "2026-03-01 13:30") == ["13:00 first milk 1,2 soon all"]
    log = Log().at("2026-03-01 20:00", litter={"pups": 2, "born": "2026-03-01T09:40:00-06:00"})
    assert heard(log, "2026-03-01 20:30") == ["20:00 first milk 1,2 vet today all"]


def test_without_a_birth_or_once_dead_it_is_not_asked_for() -> None:
    assert heard(Log().at("2026-03-01 13:00", litter={"pups": 2}), "2026-03-03 12:00") == []
    assert heard(litter(1).at("2026-03-01 11:00", event("died", 1)), "2026-03-03 12:00") == []


def test_reminders_that_were_stopped_stop_the_nudges_and_not_the_warning() -> None:
    log = litter(1).at("2026-03-01 11:00", reminders={"care": "all", "on": False})
    assert heard(log, "2026-03-02 12:00") == ["17:40 first milk 1 vet today all"]


def test_the_words_and_the_figures() -> None:
    log = litter(2).at("2026-03-01 11:00", phone={"of": "vet", "number": "555 0134"})
    nudges, warnings = Listening(log, only="first milk"), Listening(log, only="first milk", says="warning")
    nudges.until("2026-03-01 18:00")
    warnings.until("2026-03-01 18:00")
    assert [notice.text for _, notice in nudges.said] == [
        "Pups 1 and 2 are due for the first milk: no nursing or colostrum in the log, born 9:40 am.",
        "Pups 1 and 2 are 2 h overdue for the first milk: no nursing or colostrum in the log, born 9:40 am.",
    ]
    assert nudges.said[0][1].values["1"] == {"care": "first milk", "due_at": "2026-03-01T11:40:00-06:00"}
    [(_, warning)] = warnings.said
    assert warning.text == (
        "Pups 1 and 2: warm first if under 97 F, then put to a teat that gives milk, and call your vet today (vet 555 0134). "
        "No nursing or colostrum logged in the first 8 h. Its protection is halved by 4 h, nearly gone by 12 h. "
        "If they nursed, say when. Source: Mila 2014."
    )
    assert len(warning.text.split()) <= 60


def test_the_warning_stands_until_the_milk_is_told_of() -> None:
    log = litter(1)
    assert [one.about for one in standing(log.nursery(), log.moment("2026-03-01 18:00"))] == ["first milk"]
    log.at("2026-03-01 18:00", event("nursed", 1, at=log.moment("2026-03-01 12:00")))
    assert "first milk" not in [one.about for one in standing(log.nursery(), log.moment("2026-03-01 18:00"))]
