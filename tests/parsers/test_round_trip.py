"""What is read back reads again as the same events: of every kind, several in a reply, in every unit, with names and without."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parsers import KINDS, Event, LitterCard, read, read_back
from parsers.events import make
from parsers.vocabulary import load
from tests.parsers.litters import HOUSES, NOW, litter
from tests.parsers.told_events import NOTES, UNLISTED_DRUGS, told

FACTS = [kind for kind in KINDS if kind != "note"]
"""Kinds that are logged as facts; a note is whatever words remain."""


@dataclass(frozen=True)
class Gap:
    """Events that do not come back yet: why, which ones, and one of them; an open gap that is closed fails the run."""

    why: str
    holds: Callable[[Event, LitterCard], bool]
    example: dict[str, Any]


def _named(event: Event, card: LitterCard) -> bool:
    who = getattr(event, "who", None)
    return not event.reads_back_whole and isinstance(who, int) and who in card.by_number and bool(card.by_number[who].names)


def _yesterday(event: Event) -> bool:
    return event.at is not None and event.at.date() != NOW.date()


GAPS = [
    Gap(
        "a drug that no list has is read behind `gave` only where a measure of a drug stands behind it",
        lambda event, _: (
            event.kind == "dose" and getattr(event, "drug", "") in UNLISTED_DRUGS and getattr(event, "unit", None) in (None, "g")
        ),
        {"kind": "dose", "who": "dam", "drug": "lactulose"},
    ),
]


def _closed(event: Event, card: LitterCard) -> bool:
    return not any(gap.holds(event, card) for gap in GAPS)


@pytest.mark.xfail(strict=True, raises=AssertionError, reason="a gap: see its `why`")
@pytest.mark.parametrize("gap", [pytest.param(gap, id=gap.why) for gap in GAPS])
def test_a_gap_is_still_open(gap: Gap) -> None:
    event = KINDS[gap.example["kind"]].model_validate_json(json.dumps(gap.example))
    assert gap.holds(event, litter())
    _comes_back([event], litter())


def _comes_back(events: Sequence[Event], card: LitterCard, now: datetime = NOW) -> None:
    """Assert that reading the reply gives the same events, and nothing else."""
    said = read_back(events, card, now)
    reading = read(said, card, now=now, by="Ines")
    assert [_plain(event) for event in _sorted(reading.events)] == [_plain(event) for event in _sorted(events)], f"{said!r} is read so"
    assert reading.does == "log", f"{said!r} does {reading.does}: {reading.why}"
    assert reading.unread == "", f"{said!r} leaves {reading.unread!r} unread"
    assert (reading.setup, reading.fix, reading.about) == (None, None, None), f"{said!r} also sets, fixes or asks"


def _plain(event: Event) -> dict[str, Any]:
    """The event with its time in UTC: in the hour that comes twice, times of different zones are never equal in Python (PEP 495)."""
    return event.as_json() | ({"at": event.at.astimezone(UTC)} if event.at is not None else {})


def _sorted(events: Sequence[Event]) -> list[Event]:
    """In one order: the reply has them by subject."""
    return sorted(events, key=lambda event: (str(getattr(event, "who", "")), event.kind, event.model_dump_json()))


@pytest.mark.parametrize("house", HOUSES)
@pytest.mark.parametrize("kind", FACTS)
@given(data=st.data())
@settings(max_examples=12)
def test_an_event_that_is_read_back_comes_back_the_same(kind: str, house: str, data: st.DataObject) -> None:
    card = HOUSES[house]
    event = data.draw(told(kind, card, NOW))
    if _closed(event, card):
        _comes_back([event], card)


@pytest.mark.parametrize("house", HOUSES)
@given(data=st.data())
@settings(max_examples=40)
def test_several_events_of_several_pups_come_back_in_one_reply(house: str, data: st.DataObject) -> None:
    card = HOUSES[house]
    kinds = data.draw(st.lists(st.sampled_from(FACTS), min_size=2, max_size=6))
    events = _one_of_each([event for kind in kinds if _closed(event := data.draw(told(kind, card, NOW)), card)])
    if events:
        _comes_back(events, card)


def _one_of_each(events: Sequence[Event]) -> list[Event]:
    """No two events of one kind on one subject: what a message says twice of one pup is one event, or a correction."""
    return list({(event.kind, getattr(event, "who", None), getattr(event, "sign", None)): event for event in events}.values())


@pytest.mark.parametrize("house", HOUSES)
@given(data=st.data())
@settings(max_examples=25)
def test_the_same_doing_of_several_pups_comes_back_for_each(house: str, data: st.DataObject) -> None:
    card = HOUSES[house]
    kind = data.draw(st.sampled_from(["nursed", "fed", "cleared", "toilet", "placed", "refused"]))
    event = data.draw(told(kind, card, NOW))
    if getattr(event, "who", None) == "dam" or not _closed(event.model_copy(update={"who": 3}), card):
        return
    pups = data.draw(st.lists(st.integers(1, 5), min_size=2, unique=True))
    _comes_back([event.model_copy(update={"who": pup}) for pup in pups], card)


@pytest.mark.parametrize("example", [example for kind in FACTS for example in load("kinds")[kind]["examples"]])
def test_what_an_example_means_comes_back_the_same(example: str) -> None:
    card = litter(named=False)
    events = read(example, card, now=NOW).events
    if all(_closed(event, card) for event in events):
        _comes_back(events, card)


@pytest.mark.parametrize("text", NOTES)
@pytest.mark.parametrize("who", [None, 3])
def test_a_note_that_is_read_back_is_a_note_again_with_all_its_words(text: str, who: int | None) -> None:
    card = litter()
    said = read_back([make("note", text=text, who=who)], card, NOW)
    reading = read(said, card, now=NOW, by="Ines")
    assert reading.does == "note", f"{said!r} does {reading.does}"
    assert [event.kind for event in reading.events] == ["note"]
    assert all(text in getattr(event, "text", "") for event in reading.events)
    assert [getattr(event, "who", None) for event in reading.events] == [who]


NIGHTS = {
    "America/Chicago": ("2026-03-08T08:00", "2026-11-01T07:00"),
    "Europe/Berlin": ("2026-03-29T01:00", "2026-10-25T01:00"),
    "Australia/Lord_Howe": ("2026-10-03T15:30", "2026-04-04T15:00"),
    "America/Santiago": ("2026-09-06T04:00", "2026-04-05T03:00"),
}
"""When clocks go forward and back in 2026, in UTC (the IANA zone data; Lord Howe moves by half an hour, Santiago at midnight)."""


@pytest.mark.parametrize("zone", NIGHTS)
@given(
    forward=st.booleans(), minute=st.integers(-120, 240), back=st.integers(1, 290), kind=st.sampled_from(["nursed", "cleared", "weight"])
)
@settings(max_examples=60)
def test_a_time_comes_back_in_the_nights_when_clocks_change(zone: str, forward: bool, minute: int, back: int, kind: str) -> None:
    now = datetime.fromisoformat(NIGHTS[zone][0 if forward else 1]).replace(tzinfo=UTC) + timedelta(minutes=minute)
    card = litter(zone=zone, now=now.isoformat(), born=(now - timedelta(days=2)).isoformat(), named=False, grams={})
    more: dict[str, Any] = {"grams": 212.0} if kind == "weight" else {"minutes": 15} if kind == "nursed" else {}
    event = make(kind, who=3, at=(now - timedelta(minutes=back)).astimezone(ZoneInfo(zone)), **more)
    said = read_back([event], card, now)
    reading = read(said, card, now=now, by="Ines")
    assert [_plain(again) for again in reading.events] == [_plain(event)], said
    assert reading.does == "log", f"{said!r} does {reading.does}: {reading.why}"
