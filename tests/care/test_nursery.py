"""The nursery: what is known is the same however it was folded, and costs the same however long the log."""

from __future__ import annotations

from datetime import datetime, timedelta
from time import process_time
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.care.notices import next_moment, notices
from bot.care.nursery import Nursery
from parsers.events import Event
from tests.care.written_log import CHICAGO, Log, Told, event, litter

EVENTS = st.one_of(
    st.builds(lambda who, grams: event("weight", who, grams=grams), st.integers(1, 4), st.sampled_from([200, 205.5, 212, 430])),
    st.builds(lambda who, minutes: event("nursed", who, minutes=minutes), st.integers(1, 4), st.sampled_from([5, 15, None])),
    st.builds(lambda who: event("fed", who, ml=4), st.integers(1, 4)),
    st.builds(lambda: event("dose", "dam", drug="calcium")),
    st.builds(lambda: event("climate", place="box", celsius=30)),
    st.builds(lambda who: event("died", who), st.integers(1, 4)),
    st.builds(lambda text: event("note", 2, text=text), st.sampled_from(["a", "b"])),
)


@st.composite
def logs(draw: st.DrawFn) -> Log:
    log = litter(4).at("2026-03-01 11:00", every={"care": "dose", "drug": "calcium", "minutes": 150})
    for place, (told, minutes_back) in enumerate(draw(st.lists(st.tuples(EVENTS, st.sampled_from([None, 3, 40, 300])), max_size=12))):
        at = log.moment("2026-03-02 00:00") + timedelta(minutes=7 * place)
        log.entries.append(Told(len(log.entries) + 1, place + 9, at, "Ines", _back(told, at, minutes_back)))
    return log


def _back(told: Event, at: datetime, minutes: int | None) -> Event:
    return told if minutes is None else told.model_copy(update={"at": at - timedelta(minutes=minutes)})


@given(logs(), st.data())
def test_folding_at_once_or_bit_by_bit_gives_the_same_and_leaves_the_old_as_it_was(log: Log, data: st.DataObject) -> None:
    whole = log.nursery()
    cut = data.draw(st.integers(0, len(log.entries)))
    first = Nursery.fold(log.entries[:cut], log.zone)
    before = repr(first)
    now = log.moment("2026-03-02 06:00")
    said = repr(notices(first, set(), now))
    both = first.after(log.entries[cut:])
    assert both == whole
    assert (repr(first), repr(notices(first, set(), now))) == (before, said)
    assert first.after(log.entries[cut:]) == whole  # and the old one can be gone on from again
    bit = Nursery.fold((), log.zone)
    for entry in log.entries:
        bit = bit.after([entry])
    assert bit == whole


# Who there is


def test_the_pups_are_those_told_of_and_those_born() -> None:
    log = litter(3).at("2026-03-01 11:00", event("born", 5, sex="f", grams=198, mark="white chest"))
    nursery = log.nursery()
    assert list(nursery.pups) == [1, 2, 3, 5]
    assert (nursery.pups[5].sex, nursery.pups[5].birth_grams) == ("f", 198)


def test_a_smaller_count_takes_back_only_pups_of_which_nothing_was_told() -> None:
    log = litter(7).at("2026-03-01 11:00", event("nursed", 6)).at("2026-03-01 11:05", litter={"pups": 4})
    assert list(log.nursery().pups) == [1, 2, 3, 4, 6]


def test_the_litters_birth_is_the_one_told_else_the_first_pups() -> None:
    log = Log().at("2026-03-01 10:00", event("born", 2)).at("2026-03-01 09:50", event("born", 1))
    assert log.nursery().born == log.moment("2026-03-01 09:50")
    log.at("2026-03-01 12:00", litter={"born": "2026-03-01T09:40:00-06:00"})
    assert log.nursery().born == log.moment("2026-03-01 09:40")
    assert log.nursery().birth(log.nursery().pups[2]) == log.moment("2026-03-01 10:00")


def test_a_name_goes_with_the_pup_and_moves_when_it_is_given_to_another() -> None:
    log = litter().at("2026-03-01 11:00", name={"pup": 3, "as": "Olive"}).at("2026-03-01 11:01", name=[{"pup": 1, "as": "green"}])
    assert [log.nursery().called(number) for number in (1, 2, 3)] == ["Pup 1 green", "Pup 2", "Pup 3 Olive"]
    log.at("2026-03-01 11:05", name={"pup": 2, "as": "olive"}).at("2026-03-01 11:06", name={"pup": 1, "as": "Fern"})
    assert [log.nursery().called(number) for number in (1, 2, 3)] == ["Pup 1 Fern", "Pup 2 olive", "Pup 3"]
    assert log.nursery().pups[1].names == ("Fern", "green")


def test_the_dam_is_called_by_her_name_once_it_is_told() -> None:
    assert (Log().nursery().called("dam"), litter().nursery().called("dam")) == ("The dam", "Juniper")


# The card of the reader


def test_the_card_shows_what_the_reader_may_know() -> None:
    log = litter(2).at("2026-03-01 11:00", event("born", 2, sex="m", grams=201, mark="white chest"), every={})
    log.at("2026-03-01 11:05", name={"pup": 2, "as": "Olive"}, every={"care": "dose", "drug": "calcium", "minutes": 150})
    log.at("2026-03-02 01:00", event("weight", 1, grams=205), event("weight", "dam", grams=11800), event("dose", "dam", drug="Calcium"))
    log.at("2026-03-02 02:00", event("died", 1), by="Theo")
    card = log.nursery().card(["Ines", "Theo"], "Ines")
    assert (card.zone, card.weights_in, card.temperatures_in, card.people) == ("America/Chicago", "g", "F", ("Ines", "Theo"))
    assert card.born == log.moment("2026-03-01 09:40")
    assert (card.dam.names, card.dam.last_grams) == (("Juniper",), 11800)
    one, two = card.pups
    assert (one.last_grams, one.last_at, one.died) == (205, log.moment("2026-03-02 01:00"), log.moment("2026-03-02 02:00"))
    assert (two.names, two.sex, two.last_grams) == (("Olive", "white chest"), "m", 201)
    assert [(plan.drug, plan.every_minutes, plan.last_at) for plan in card.doses] == [("calcium", 150, log.moment("2026-03-02 01:00"))]
    assert [pup.pup for pup in card.living] == [2]


def test_the_card_changes_with_the_log_and_an_older_card_does_not() -> None:
    log = litter(2).at("2026-03-02 01:00", event("weight", 1, grams=205))
    nursery = log.nursery()
    card = nursery.card([])
    later = nursery.after(Log(CHICAGO).at("2026-03-02 03:00", event("weight", 1, grams=209), event("died", 2)).entries).card([])
    assert [(pup.last_grams, pup.died is None) for pup in card.pups] == [(205, True), (None, True)]
    assert [(pup.last_grams, pup.died is None) for pup in later.pups] == [(209, True), (None, False)]


def test_a_correction_is_about_the_senders_last_message_that_logged_more_than_a_note() -> None:
    log = litter().at("2026-03-02 01:00", event("note", 3, text="sleepy"), event("weight", 3, grams=212))
    log.at("2026-03-02 01:01", event("nursed", 4), by="Theo").at("2026-03-02 01:02", event("note", text="thanks"))
    nursery = log.nursery()
    assert [event.kind for event in nursery.logged["Ines"].events] == ["note", "weight"]
    last = nursery.card(["Ines"], "Ines").last_logged
    assert last is not None
    assert last.events == ({"kind": "note", "who": 3, "text": "sleepy"}, {"kind": "weight", "who": 3, "grams": 212.0})
    assert nursery.card(["Ines"], "Marta").last_logged is None


@pytest.mark.parametrize(
    ("zone", "expected"),
    [
        ("America/Chicago", "F"),
        ("America/Indiana/Knox", "F"),
        ("Pacific/Honolulu", "F"),
        ("America/Toronto", "C"),
        ("Europe/London", "C"),
        ("UTC", "C"),
    ],
)
def test_temperatures_are_in_fahrenheit_in_a_zone_of_the_united_states_until_the_household_says_otherwise(zone: str, expected: str) -> None:
    assert Log(ZoneInfo(zone)).nursery().temperatures_in == expected
    assert Log(ZoneInfo(zone)).at("2026-03-01 10:00", temperatures_in="C").nursery().temperatures_in == "C"


# Speed


def test_a_hundred_thousand_entries_fold_in_time_and_one_more_costs_no_more_than_after_a_hundred() -> None:
    log = litter(8).at("2026-03-01 11:00", every={"care": "dose", "drug": "calcium", "minutes": 150})
    start = log.moment("2026-03-02 00:00")
    kinds = [[event("weight", who, grams=300 + who), event("nursed", who, minutes=15), event("cleared", who)] for who in range(1, 9)]
    for message in range(33_333):
        at = start + timedelta(minutes=message)
        log.entries += [Told(0, message + 9, at, "Ines", one) for one in kinds[message % 8]]
    began = process_time()
    long = log.nursery()
    assert process_time() - began < 2
    short = Nursery.fold(log.entries[:100], log.zone)
    assert _seconds_for_one_more(long, log.entries[-3:]) < 3 * _seconds_for_one_more(short, log.entries[97:100])


def _seconds_for_one_more(nursery: Nursery, new: list[Told]) -> float:
    """The best of several runs of the path of one message: fold it, look at the card, see what is due."""
    best = 1.0
    for _ in range(7):
        began = process_time()
        for _ in range(20):
            after = nursery.after(new)
            after.card((), "Ines")
            next_moment(after, set(), new[0].told_at)
        best = min(best, process_time() - began)
    return best
