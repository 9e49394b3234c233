"""Every event that can be told, as hypothesis draws it from the fields of the models: a new kind or value is drawn without a word here."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin

from hypothesis import strategies as st

from parsers import KINDS, Event, LitterCard
from parsers.events.sign import DamSign, PupSign
from parsers.measures import fahrenheit_to_celsius, tidy
from parsers.vocabulary import load

VISITORS = ["Marta", "Joao", "Ulla", "Mrs Brandt"]
MARKS = ["white chest", "white tail tip", "brown spot", "green collar", "red ribbon"]
UNLISTED_DRUGS = ["lactulose", "sucralfate", "cisapride"]
"""Drugs that no list of ours has: any word after `gave` is kept as it was said."""
NOTES = ["the sun is out", "she likes the soft towel", "sleeping in a heap", "tiny toes", "so tired"]

_PUP_ONLY = {"nursed", "fed", "refused", "cleared", "placed", "born", "died"}
"""Kinds that the contract's table gives to pups alone (the `cleaned` thing may also be a pup's own)."""


def _tenths(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers as scales and thermometers show them."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda tenths: tenths / 10)


def _whole_or_tenths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.one_of(st.integers(round(low), round(high)), _tenths(low, high))


def _degrees(low: float, high: float) -> st.SearchStrategy[float]:
    """Celsius, as thermometers of either scale show them."""
    fahrenheit = _tenths(low * 1.8 + 32, high * 1.8 + 32).map(lambda degrees: tidy(fahrenheit_to_celsius(degrees)))
    return st.one_of(_tenths(low, high), fahrenheit)


def _grams(card: LitterCard, who: Any) -> st.SearchStrategy[float]:
    """A weight in grams or ounces near the last one, so that it is logged without a question."""
    last = card.dam.last_grams if who == "dam" else card.by_number[who].last_grams if who in card.by_number else None
    last = last or 200.0
    ounces = _tenths(last * 0.95 / 28.349523125, last * 1.05 / 28.349523125).map(lambda ounces: tidy(ounces * 28.349523125))
    return st.one_of(st.integers(round(last * 0.95), round(last * 1.05)).map(float), _tenths(last * 0.95, last * 1.05), ounces)


_NUMBERS: dict[tuple[str, str], st.SearchStrategy[float]] = {
    ("nursed", "minutes"): _whole_or_tenths(1, 60),
    ("fed", "ml"): _whole_or_tenths(1, 15),
    ("temperature", "celsius"): _degrees(34, 40),
    ("dose", "amount"): _whole_or_tenths(1, 40),
    ("climate", "celsius"): _degrees(20, 35),
    ("climate", "humidity"): st.integers(30, 80),
}
"""What is drawn for a kind's number: values that are logged without a question (the contract's Plausibility)."""
_WORDS: dict[tuple[str, str], st.SearchStrategy[str]] = {
    ("dose", "drug"): st.sampled_from([*load("parts")["drug"], *UNLISTED_DRUGS]),
    ("visitor", "name"): st.sampled_from(VISITORS),
    ("born", "mark"): st.sampled_from(MARKS),
    ("note", "text"): st.sampled_from(NOTES),
}


def values(kind: str, field: str, annotation: Any) -> st.SearchStrategy[Any]:
    """What a field of a kind can hold. A number or a text that nothing is drawn for yet raises LookupError with the remedy."""
    if (kind, field) in _NUMBERS:
        return _NUMBERS[kind, field]
    if (kind, field) in _WORDS:
        return _WORDS[kind, field]
    choices = choices_of(annotation)
    if not choices:
        raise LookupError(
            f"tests/parsers/told_events.py does not know what {kind}.{field} can hold: give it a line in _NUMBERS or _WORDS, "
            "with values that are logged without a question."
        )
    return st.sampled_from(choices)


def choices_of(annotation: Any) -> list[Any]:
    """The values that a field's type names one by one: of a Literal, a bool, and unions of these; None is left out."""
    if get_origin(annotation) is Literal:
        return list(get_args(annotation))
    if annotation is bool:
        return [True, False]
    if get_origin(annotation) in (Union, UnionType):
        return [choice for part in get_args(annotation) if part is not NoneType for choice in choices_of(part)]
    return []


def _whos(kind: str, card: LitterCard) -> st.SearchStrategy[Any]:
    pups = [pup.pup for pup in card.living]
    if kind == "born":
        return st.sampled_from([max(pups) + 1, max(pups) + 2])
    if kind in ("cleaned", "note"):
        return st.sampled_from([None, *pups])
    return st.sampled_from(pups if kind in _PUP_ONLY else [*pups, "dam"])


def _tellable(fields: dict[str, Any]) -> bool:
    """False for what no message can mean by the contract's table, though the model's types would let it pass."""
    kind = fields["kind"]
    if kind == "toilet" and fields.get("look") and not (fields.get("stool") or fields.get("urine")):
        return False  # a look makes `stool` or `urine` true
    if kind == "dose" and fields.get("unit") and fields.get("amount") is None:
        return False  # a unit is the unit of an amount
    if kind == "intake" and fields.get("what") is None:
        return False  # who ate, ate food
    if kind == "climate" and fields.get("celsius") is None and fields.get("humidity") is None:
        return False  # nothing was read
    return not (kind == "died" and fields.get("stillborn") is False)  # true, only where said


@st.composite
def told(draw: Callable[..., Any], kind: str, card: LitterCard, now: datetime, *, timed: bool | None = None) -> Event:
    """One event of a kind, as a keeper could have told it; `timed` says whether it has an `at` (None: either)."""
    model = KINDS[kind]
    fields: dict[str, Any] = {"kind": kind}
    names = {name: info.alias or name for name, info in model.model_fields.items()}
    if "who" in names and kind != "intake":
        fields["who"] = draw(_whos(kind, card))
    for name, info in model.model_fields.items():
        if name in ("kind", "at", "who"):
            continue
        if name == "grams":
            drawn = _grams(card, fields["who"])
        elif name == "sign":
            drawn = st.sampled_from(get_args(DamSign if fields["who"] == "dam" else PupSign))
        else:
            drawn = values(kind, name, info.annotation)
        fields[names[name]] = draw(drawn if info.is_required() else st.none() | drawn)
    if timed or (timed is None and draw(st.booleans())):
        minutes = draw(st.integers(1, int((now - (card.born or now)).total_seconds() // 60) - 1))
        fields["at"] = (now - timedelta(minutes=minutes)).replace(second=0, microsecond=0)
    given = {key: value for key, value in fields.items() if value is not None}
    return model(**given) if _tellable(fields) else draw(told(kind, card, now, timed=timed))
