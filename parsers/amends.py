"""Which field of the events last logged a new value changes: a number goes to the field that it is near, a measure to that of its unit."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from math import log
from typing import Any

from parsers.doings import SLOT, in_celsius
from parsers.lexicon import lexicon
from parsers.litter_card import LitterCard
from parsers.measures import GRAMS_PER_OUNCE, Measure, tidy
from parsers.numbers import Number
from parsers.plausibility import LIMITS
from parsers.words import Word

Fields = dict[str, Any]
Logged = Sequence[Mapping[str, Any]]
ReadValue = Callable[[Sequence[Word], int], "Value | None"]

_NEAR = log(2.5)
"""How far apart, as a ratio, the old value and the right one may lie for a bare number to be a slip of it (own choice)."""
_WIDE = frozenset(("minutes", "ml", "amount", "humidity"))
"""Fields whose values may be corrected to any size: a nursing of 5 minutes may have been 20."""
_PARTS = {"look": "toilet", "amount": "intake", "what": "intake", "drug": "dose", "sex": "born", "item": "cleaned"}
"""The words that set one field, by their role in the vocabulary, and the kind of event that has it."""
_OUTRIGHT = frozenset(("fed", "cleared", "toilet", "intake", "placed"))
"""The kinds whose own words set fields: `by tube`, `with the bulb`, `pooped`."""
HOLDERS = {
    "mass": ("grams",),
    "duration": ("minutes",),
    "volume": ("ml", "amount"),
    "warmth": ("celsius",),
    "percent": ("humidity",),
    "dose": ("amount",),
}
"""The fields that can hold a measure of a dimension, the likeliest first."""


@dataclass(frozen=True, slots=True)
class Value:
    """Words that set fields: `goat milk`, `by tube`, `most`, `pooped`; `kinds` are the kinds of event that they can be said of."""

    fields: Fields
    kinds: frozenset[str]
    length: int
    doing: bool = False
    """True for the words of an act (`nursed`, `pooped`), which `no` before them denies."""


@dataclass(slots=True)
class Amended:
    """What a correction changes, as far as it is known: the fields, and how sure it is that they belong to what was logged."""

    fields: Fields = field(default_factory=dict)
    near: float = 0.0
    """How far the new value lies from the old, as the logarithm of their ratio; infinite where nothing logged has the field."""


def value_words(words: Sequence[Word], at: int) -> Value | None:
    """The longest words from `at` on that set fields by themselves, by the reader's own vocabulary."""
    near = [place for place in range(at, min(at + _LONGEST_WORDS, len(words))) if place == at or words[place].text not in _ARTICLES]
    best: Value | None = None
    for count, tags in lexicon().every([words[place] for place in near], 0):
        length = near[count - 1] + 1 - at
        fields: Fields = {}
        kinds: list[str] = []
        doing = False
        for tag in tags:
            if tag.role in _PARTS:
                key = "drug" if tag.role == "drug" else tag.role
                fields, kinds = fields | {key: tag.name}, [*kinds, _PARTS[tag.role]]
            elif tag.role == "do" and (tag.name in _OUTRIGHT or tag.name in SLOT):
                fields, kinds, doing = fields | dict(tag.sets), [*kinds, tag.name], True
        if kinds:
            best = Value(fields, frozenset(kinds), length, doing)
    return best


_ARTICLES = frozenset(("the", "a", "an", "his", "her", "its", "some"))
_LONGEST_WORDS = 8


def fields_of(value: Value, logged: Logged) -> Fields | None:
    """The fields that a value word changes in what was logged; None where nothing logged can have them."""
    kinds = {str(event.get("kind")) for event in logged} or value.kinds
    fitting = kinds & value.kinds
    if not fitting:
        return None
    allowed = {key for kind in fitting for key in _KEYS.get(kind, ())}
    fields = {key: said for key, said in value.fields.items() if key in allowed}
    if "look" in fields:
        fields["stool"] = True
    return fields


_KEYS = {
    "fed": ("food", "by"),
    "cleared": ("with",),
    "toilet": ("urine", "stool", "look"),
    "intake": ("what", "amount"),
    "dose": ("drug",),
    "born": ("sex",),
    "cleaned": ("item",),
    "placed": ("place",),
}
"""The fields that a word can set, by kind."""


def number_fields(numbers: Sequence[Number], logged: Logged, card: LitterCard, *, kinds: frozenset[str] = frozenset()) -> list[Amended]:
    """What a number without a unit changes, for each of its readings and each field that holds one, the nearest to the old value first.

    Where nothing is known of what was logged it is a weight, in the litter's unit.
    """
    found: list[Amended] = []
    for number in numbers:
        slots = _slots(logged, kinds)
        for key, old in slots:
            for new in _stored(number, key, card):
                found.append(Amended({key: new}, abs(log(new / old)) if old and old > 0 and new > 0 else _NEAR / 2))
        if not slots and not number.tenths:
            field_said = next((SLOT[kind] for kind in kinds if kind in SLOT), "grams")
            if not logged:
                found.append(Amended({field_said: _stored(number, field_said, card)[0]}, float("inf")))
    found.sort(key=lambda one: one.near)
    return found


def is_near(amended: Amended) -> bool:
    """True where the new value may well be what was meant instead of the old."""
    return amended.near <= _NEAR or (amended.near != float("inf") and not _WIDE.isdisjoint(amended.fields))


def _slots(logged: Logged, kinds: frozenset[str]) -> list[tuple[str, float | None]]:
    """Every field of what was logged that holds a number, with its old value: also `nursed` without its minutes."""
    slots: list[tuple[str, float | None]] = []
    for event in logged:
        kind = str(event.get("kind"))
        if kinds and kind not in kinds:
            continue
        keys = ("celsius", "humidity") if kind == "climate" else (SLOT[kind],) if kind in SLOT else ()
        for key in keys:
            old = event.get(key)
            if old is not None or key in ("minutes", "ml", "amount"):
                slots.append((key, float(old) if isinstance(old, int | float) else None))
    return slots


def _stored(number: Number, key: str, card: LitterCard) -> list[float]:
    """The number as that field stores it: a weight in the litter's unit, or in the other one for the ratio to choose."""
    if key == "celsius":
        return [in_celsius(number.value, None, house=card.temperatures_in, low=LIMITS["body_low"] - 20, high=LIMITS["hottest_air"])[0]]
    if number.tenths:
        return []
    if key == "grams":
        grams, ounces = float(number.value), tidy(number.value * GRAMS_PER_OUNCE)
        return [ounces, grams] if card.weights_in == "oz" else [grams]
    return [_plain(number.value)]


def _plain(value: float) -> float | int:
    return int(value) if float(value).is_integer() else value


def measure_fields(measure: Measure, logged: Logged, card: LitterCard) -> Amended | None:
    """What a measure changes; None where what was logged has no field for its dimension."""
    keys = HOLDERS.get(measure.dimension, ())
    slots = _slots(logged, frozenset())
    for key in keys:
        held = [old for slot, old in slots if slot == key]
        if not held and logged:
            continue
        if measure.dimension == "warmth":
            scale = measure.unit if measure.unit in ("F", "C") else None
            new = in_celsius(measure.number, scale, house=card.temperatures_in, low=LIMITS["body_low"] - 20, high=LIMITS["hottest_air"])[0]
        else:
            new = tidy(measure.value)
        fields: Fields = {key: new if key in ("grams", "celsius") else _plain(new)}
        if key == "amount":
            unit = "ml" if measure.dimension == "volume" else measure.unit
            if not any(event.get("unit") == unit for event in logged):
                fields["unit"] = unit
        near = [abs(log(new / old)) for old in held if old and new > 0]
        return Amended(fields, min(near) if near else 0.0)
    return None


def may_be_weight(clock: str, logged: Logged) -> bool:
    """True where `2:21` may be 221 g, typed with a colon, for it is near a weight that was logged."""
    grams = int(clock.replace(":", ""))
    return any(
        event.get("kind") == "weight" and abs(log(grams / event["grams"])) <= _SLIP for event in logged if grams and event.get("grams")
    )


_SLIP = log(1.25)
"""How far, as a ratio, a weight that was meant lies from the one logged by a slip: the contract's bound of a plausible weight."""


def equals(number: Number, logged: Logged, card: LitterCard) -> bool:
    """True where the number is what was logged, in either unit: `221 not 212`, said of 212 g."""
    for key, old in _slots(logged, frozenset()):
        ways = [*_stored(number, key, card), *([tidy(number.value * GRAMS_PER_OUNCE)] if key == "grams" else [])]
        if old is not None and any(abs(new - old) <= _SAME * max(1.0, old) for new in ways):
            return True
    return False


_SAME = 0.01
"""How far a number that is read again may lie from the one that was logged: a rounding of ounces or degrees."""


def unchanged(fields: Fields, logged: Logged) -> frozenset[str]:
    """The fields that were logged so already."""
    return frozenset(key for key, new in fields.items() if any(event.get(key) == new for event in logged))
