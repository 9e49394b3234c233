"""What the household chose in chat: who has the watch, and choices kept as they were told."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from bot.care.choice import Choice, care_named
from tests.care.written_log import Log, litter

ROSTER = [{"who": "Theo", "from": "22:00", "to": "04:00"}, {"who": "Ines", "from": "04:00", "to": "10:00"}]


def on_duty(log: Log, *walls: str) -> list[str | None]:
    return [log.nursery().on_duty(log.moment(wall)) for wall in walls]


def test_nobody_is_on_duty_until_someone_is() -> None:
    assert on_duty(litter(), "2026-03-02 03:00") == [None]


def test_the_roster_holds_by_the_clock_on_the_wall_and_over_midnight() -> None:
    log = litter().at("2026-03-01 20:00", roster=ROSTER)
    walls = ["2026-03-01 21:59", "2026-03-01 22:00", "2026-03-02 03:59", "2026-03-02 04:00", "2026-03-02 09:59", "2026-03-02 10:00"]
    assert on_duty(log, *walls) == [None, "Theo", "Theo", "Ines", "Ines", None]
    assert on_duty(log, "2026-03-08 03:30", "2026-03-08 04:00") == ["Theo", "Ines"]  # the night on which the clocks go forward


def test_a_watch_taken_by_hand_goes_before_the_roster_and_when_it_ends_the_roster_holds_again() -> None:
    log = litter().at("2026-03-01 20:00", roster=ROSTER)
    log.at("2026-03-01 23:00", on_duty="Ines", until="2026-03-02T02:00:00-06:00")
    assert on_duty(log, "2026-03-01 23:30", "2026-03-02 01:59", "2026-03-02 02:00") == ["Ines", "Ines", "Theo"]


def test_a_watch_ends_with_its_shift_or_with_the_end_that_was_told() -> None:
    log = litter().at("2026-03-01 20:00", roster=ROSTER)

    def ends(wall: str) -> str | None:
        end = log.nursery().watch_ends(log.moment(wall))
        return None if end is None else f"{end.astimezone(log.nursery().zone):%d %H:%M}"

    walls = ("01 21:59", "01 23:00", "02 01:00", "02 04:00")
    assert [ends(f"2026-03-{wall}") for wall in walls] == [None, "02 04:00", "02 04:00", "02 10:00"]
    log.at("2026-03-01 23:00", on_duty="Ines", until="2026-03-02T02:00:00-06:00")
    assert (ends("2026-03-01 23:30"), ends("2026-03-02 02:00")) == ("02 02:00", "02 04:00")
    log.at("2026-03-02 05:00", on_duty="Theo")
    assert ends("2026-03-02 05:00") is None


def test_a_watch_without_an_end_holds_until_the_next_one_is_taken() -> None:
    log = litter().at("2026-03-01 20:00", on_duty="Ines")
    assert on_duty(log, "2026-03-02 20:00") == ["Ines"]
    log.at("2026-03-02 21:00", on_duty="Theo", by="Theo")
    assert on_duty(log, "2026-03-02 22:00") == ["Theo"]


def test_an_interval_without_minutes_goes_back_to_the_table() -> None:
    log = litter().at("2026-03-01 11:00", every={"care": "nursed", "minutes": 90})
    assert log.nursery().choices.every == {"nursing": 90}
    assert log.at("2026-03-01 12:00", every={"care": "nursed"}).nursery().choices.every == {}


def test_what_is_told_later_stands_beside_what_was_told_before() -> None:
    log = litter().at("2026-03-01 11:00", phone={"of": "vet", "number": "555 0134"}, formula={"kcal_per_ml": 0.9}, breed="Maltese")
    log.at("2026-03-01 11:10", phone={"of": "emergency", "number": "555 0199"}, weights_in="oz", adult_grams=12000)
    choices = log.nursery().choices
    assert {of: phone.number for of, phone in choices.phones.items()} == {"vet": "555 0134", "emergency": "555 0199"}
    assert (choices.kcal_per_ml, choices.breed, choices.weights_in, choices.adult_grams) == (0.9, "Maltese", "oz", 12000)
    assert (choices.dam, choices.pups, choices.delivery) == ("Juniper", 5, "c-section")


def test_a_choice_is_kept_as_it_was_told_also_what_this_version_does_not_know() -> None:
    told = {"roster": ROSTER, "name": {"pup": 3, "as": "Olive"}, "moon": {"phase": "full"}}
    kept = Choice.model_validate({"sets": told, "by": "Ines"})
    again = Choice.model_validate_json(kept.model_dump_json(by_alias=True, exclude_unset=True))
    assert again == kept
    sets = kept.as_json()["sets"]
    assert (sets["name"], sets["moon"]) == (told["name"], told["moon"])


@pytest.mark.parametrize(
    "sets", [{"every": {"care": "nursed", "minutes": 0}}, {"snooze": {"minutes": -5}}, {"on_duty": "Ines", "until": "at four"}]
)
def test_a_malformed_choice_is_refused(sets: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        Choice.model_validate({"sets": sets, "by": "Ines"})


@pytest.mark.parametrize(
    ("word", "care"), [("nursed", "nursing"), ("cleared", "clearing"), ("weight", "weighing"), ("clearing", "clearing"), ("dose", "dose")]
)
def test_a_care_may_be_named_by_its_event(word: str, care: str) -> None:
    assert care_named(word) == care
