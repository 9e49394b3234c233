"""Several values for several pups: each its own where the counts agree, else a question. Our own rule, no source."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from parsers import Reading, read
from parsers.litter_card import DamCard, LitterCard, PupCard

NOW = datetime(2026, 4, 12, 3, 5, tzinfo=ZoneInfo("Europe/Dublin"))
CARD = LitterCard(
    now=NOW,
    zone="Europe/Dublin",
    weights_in="g",
    temperatures_in="C",
    born=datetime(2026, 4, 8, 14, 20, tzinfo=ZoneInfo("Europe/Dublin")),
    dam=DamCard(names=("Fern", "mum")),
    pups=tuple(
        PupCard(pup=pup, names=(name,), sex=sex, last_grams=grams)
        for pup, name, sex, grams in ((1, "Red", "m", 241), (2, "Biscuit", "f", 228), (3, "Moss", "m", 254), (4, "Pearl", "f", 219))
    ),
)


def _read(text: str) -> Reading:
    return read(text, CARD, now=NOW)


def _told(text: str) -> list[tuple[object, ...]]:
    fields = ("grams", "minutes", "ml")
    return [
        (event.kind, getattr(event, "who", None), *(getattr(event, name) for name in fields if getattr(event, name, None) is not None))
        for event in _read(text).events
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("biscuit and pearl 221 and 230", [("weight", 2, 221), ("weight", 4, 230)]),
        ("3 and 4 251 and 230 g", [("weight", 3, 251), ("weight", 4, 230)]),
        ("boys: 243 255", [("weight", 1, 243), ("weight", 3, 255)]),
        ("red and pearl nursed 10 and 12 minutes", [("nursed", 1, 10), ("nursed", 4, 12)]),
        ("1 and 2 nursed 15 and 12", [("nursed", 1, 15), ("nursed", 2, 12)]),
    ],
)
def test_as_many_values_as_pups_are_one_each(text: str, told: list[tuple[object, ...]]) -> None:
    assert _read(text).does == "log"
    assert _told(text) == told


@pytest.mark.parametrize(
    "text",
    [
        "boys: 243 255 221",
        "weighed everyone 234 230 240",
        "red was 241 now 246",
        "biscuit 219 now 221",
        "red 247 to 250",
        "pearl 216 or 218",
        "242 red 223 biscuit 220 pearl",
        "nursed 10 red nursed 12 biscuit",
        "all nursed red didn't",
    ],
)
def test_what_cannot_be_shared_out_is_asked(text: str) -> None:
    reading = _read(text)
    assert reading.does == "check", reading
    assert reading.why


def test_what_is_said_of_one_pup_is_not_what_was_said_of_all() -> None:
    assert _told("all nursed 12 pearl refused") == [("nursed", 1, 12), ("nursed", 2, 12), ("nursed", 3, 12), ("refused", 4)]
    assert _told("everyone nursed 12, pearl only 5") == [("nursed", 1, 12), ("nursed", 2, 12), ("nursed", 3, 12), ("nursed", 4, 5)]


def test_one_value_for_several_pups_is_all_of_theirs() -> None:
    assert _told("3 and 4 nursed 12") == [("nursed", 3, 12), ("nursed", 4, 12)]


def test_weights_without_a_heading_keep_the_time_that_was_told() -> None:
    told = datetime(2026, 4, 12, 2, 50, tzinfo=ZoneInfo("Europe/Dublin"))
    assert [event.at for event in read("242 at 2:50", CARD, now=NOW, last_who=1).events] == [told]
    reading = _read("242 228 255 220 at 2:50")
    assert [(event.kind, event.at) for event in reading.events] == [("weight", told)] * 4
    assert (reading.does, reading.unread) == ("log", "")
    assert reading.assumed
