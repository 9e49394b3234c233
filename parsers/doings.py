"""A doing is one thing a message tells: its kind, whom it is of, and the fields that the words gave it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from parsers.measures import Measure, fahrenheit_to_celsius, tidy
from parsers.numbers import Number
from parsers.pup_numbers import Whos


@dataclass(slots=True)
class Doing:
    """A doing while a message is read: what is known of it so far."""

    kind: str
    clause: int
    at_item: int
    sets: dict[str, Any] = field(default_factory=dict)
    whos: Whos | None = None
    numbers: list[Number] = field(default_factory=list)
    """A number without a unit that stands beside it, in all its readings."""
    warmth: tuple[float, str] | None = None
    """Degrees as said, with their unit (`F`, `C` or `degrees`)."""
    when: datetime | None = None
    problem: str | None = None
    """What is wrong with its time: future, either half, before birth."""
    denied: str | None = None
    """The word that denies it, where one does."""
    planned: bool = False
    hedged: bool = False
    over: bool = False
    bare: bool = False
    """Told by a word that is this kind only beside a subject or a measure."""
    weak: bool = False
    """Told by a noun alone (`bottle`): it needs a measure or a verb to be a doing."""
    short: bool = False
    unknown_pup: bool = False
    dead_pup: int | None = None
    either: bool = False
    """Two pups were offered for it: `red or blue nursed`."""
    torn: bool = False
    """It is one of several values for the same pups: `red was 241 now 246`."""
    alien: bool = False
    """Its clause begins with a word that is none of the trade: `the towel is 35 g`."""
    actor: bool = False
    """A person stands before it as who did it (`i cleared`, `my mum ate`)."""
    strangers: bool = False
    """Words that are none of the trade stand in its clause."""
    subject_span: tuple[int, int] | None = None
    spans: list[tuple[int, int]] = field(default_factory=list)
    sentence: int = 0
    """Where its sentence begins, among the items."""
    like: Doing | None = None
    """The doing of another pup that goes for this one too: `moss nursed 10, blue too`."""
    other: float | None = None
    """The second of two values that were offered for it: `nursed 10 to 15 min`."""

    @property
    def kept(self) -> bool:
        """True where it was done, as far as the words go."""
        return not (self.planned or self.over or self.alien)


SLOT = {
    "weight": "grams",
    "nursed": "minutes",
    "fed": "ml",
    "dose": "amount",
    "temperature": "celsius",
    "climate": "celsius",
    "born": "grams",
}
"""The field that a number beside a kind fills."""
HOLDS = {
    "mass": ("weight", "born", "dose"),
    "duration": ("nursed",),
    "volume": ("fed", "dose"),
    "warmth": ("temperature", "climate"),
    "percent": ("climate",),
    "dose": ("dose",),
}
"""Which kinds can hold a measure of a dimension."""
_HEAVY = frozenset(("oz", "lb", "kg"))


def takes(doing: Doing, measure: Measure) -> bool:
    """True where a measure can be a doing's value: an ounce or a pound is never an amount of a drug."""
    return doing.kind in HOLDS[measure.dimension] and not (doing.kind == "dose" and measure.unit in _HEAVY)


def in_celsius(value: float, unit: str | None, *, house: str, low: float, high: float) -> tuple[float, bool]:
    """Degrees as Celsius, and whether the litter's own unit was set aside because only the other can be right.

    `low` and `high` bound what can be right at all, in Celsius.
    """
    if unit in ("F", "C"):
        return tidy(value if unit == "C" else fahrenheit_to_celsius(value)), False
    ways = {"C": value, "F": fahrenheit_to_celsius(value)}
    other = "F" if house == "C" else "C"
    if not low <= ways[house] <= high and low <= ways[other] <= high:
        return tidy(ways[other]), True
    return tidy(ways[house]), False
