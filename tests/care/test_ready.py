"""The list for the way home: what ticks it, what opens it again, and what is only a note."""

from __future__ import annotations

import pytest

from bot.care.ready import done, things, ticked_in, ticks
from parsers.events.note import Note
from tests.care.written_log import Log, event


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("gloves done", ["gloves"]),
        ("box warmed done", ["box"]),
        ("Box pre-warmed", ["box"]),
        ("tick scale", ["scale"]),
        ("tick off the gloves", ["gloves"]),
        ("scale is zeroed", ["scale"]),
        ("warm carrier done", ["carrier"]),
        ("gloves and gowns packed", ["gloves", "gowns"]),
        ("gloves, gowns done", ["gloves", "gowns"]),
        ("got the gloves, the gowns and the thermometer", ["gloves", "gowns", "thermometer"]),
        ("bulbs named", ["bulbs"]),
        ("vet's number stored", ["vet"]),
        ("getting ready: scale zeroed, gowns packed", ["scale", "gowns"]),
        ("getting ready: gloves", ["gloves"]),
        ("getting ready list: bulbs boiled and named.", ["bulbs"]),
        ("and packed the gloves", ["gloves"]),
    ],
)
def test_a_note_of_things_that_are_done_ticks_them(text: str, keys: list[str]) -> None:
    assert ticked_in(text) == dict.fromkeys(keys, True)


@pytest.mark.parametrize(
    "text", ["gowns not done", "untick gowns", "no gowns yet", "gowns missing", "need gowns", "getting ready: gowns not packed"]
)
def test_a_note_that_it_is_not_done_opens_it_again(text: str) -> None:
    assert ticked_in(text) == {"gowns": False}


def test_what_is_done_and_what_is_not_can_stand_in_one_note() -> None:
    assert ticked_in("gloves packed, no gowns yet, scale zeroed") == {"gloves": True, "gowns": False, "scale": True}


@pytest.mark.parametrize(
    "text",
    [
        "gloves", "done", "the box", "box clean", "gloves ripped", "pup 3 in the box done", "ready to go home with the box", "vet called",
        "Theo done with the bulbs at 3", "check scale", "the scale is odd", "getting ready", "", "milk came in",
        "got milk on the scale, weigh again",
        "packed", "bulbs done by Marta",
    ],
)  # fmt: skip
def test_any_other_note_ticks_nothing(text: str) -> None:
    assert ticked_in(text) == {}


@pytest.mark.parametrize(
    ("told", "ticked"),
    [
        (event("cleaned", item="bulb"), {"bulbs": True}),
        (event("cleaned", item="aspirator"), {"aspirator": True}),
        (event("cleaned", item="bedding"), {"bedding": True}),
        (event("cleaned", item="scale"), {}),
        (event("cleaned", 3, item="bulb"), {}),
        (event("climate", place="box", celsius=30.0), {"box": True}),
        (event("climate", place="box", celsius=28.0), {"box": True}),
        (event("climate", place="box", celsius=27.9), {"box": False}),
        (event("climate", place="box", celsius=33.1), {"box": False}),
        (event("climate", place="room", celsius=30.0), {}),
        (event("climate", place="box", humidity=60), {}),
        (event("note", 3, text="gloves done"), {}),
        (event("nursed", 3), {}),
    ],
)
def test_a_fact_ticks_its_own_thing(told: object, ticked: dict[str, bool]) -> None:
    assert ticks(told) == ticked  # type: ignore[arg-type]


def test_the_later_word_counts() -> None:
    log = Log().at("2026-02-28 18:00", event("note", text="gloves and gowns done")).at("2026-02-28 18:10", event("note", text="no gowns"))
    log.at("2026-02-28 18:20", event("climate", place="box", celsius=30.0)).at(
        "2026-02-28 19:20", event("climate", place="box", celsius=22.0)
    )
    nursery = log.nursery()
    assert done(nursery.ready, nursery.choices) == ("gloves",)


def test_numbers_and_the_labels_energy_tick_themselves_when_they_are_told() -> None:
    log = Log().at("2026-02-28 18:00", phone={"of": "vet", "number": "555 0134"}).at("2026-02-28 18:01", formula={"kcal_per_ml": 0.9})
    nursery = log.nursery()
    assert done(nursery.ready, nursery.choices) == ("milk", "vet")


def test_every_thing_can_be_ticked_by_its_first_name() -> None:
    for key, thing in things().items():
        assert ticked_in(f"{thing.says[0]} done") == {key: True}
        assert ticks(Note(text=f"no {thing.says[0]}")) == {key: False}
