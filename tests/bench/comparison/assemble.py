"""What both general libraries share: whom a doing belongs to, units, clock times and plain checks, as the contract has them.

A library turns a message into items in the order said: ("who", pups), ("did", event without `who`), ("at", moment). The reach of
subjects and times is then the same plain code for both, so that the comparison is one of recognising, not of this file.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from parsers.litter_card import LitterCard
from parsers.measures import GRAMS_PER_OUNCE, fahrenheit_to_celsius

Plain = dict[str, Any]
Item = tuple[str, Any]

WORDS: dict[str, dict[str, str]] = tomllib.loads((Path(__file__).parent / "words.toml").read_text(encoding="utf-8"))
TIMELESS = {"dose", "intake"}
HOUSE = {"climate", "cleaned"}
_TO_NINETEEN = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
)
NUMBER_WORDS = {word: value for value, word in enumerate(_TO_NINETEEN.split())}
NUMBER_WORDS |= {word: 10 * value for value, word in enumerate("twenty thirty forty fifty sixty seventy eighty ninety".split(), start=2)}


def digits(text: str) -> str:
    """Write spelled numbers in digits: two hundred and twelve, two twelve, fifteen."""
    words = "|".join(sorted([*NUMBER_WORDS, "hundred"], key=len, reverse=True))
    run = re.compile(rf"\b(?:{words})(?:[ -](?:and )?(?:{words}))*\b", re.I)
    return run.sub(lambda found: str(_value(re.split(r"[ -]", found[0].lower()))), text)


def _value(words: Sequence[str]) -> int:
    total = 0
    for word in words:
        if word == "hundred":
            total = max(1, total) * 100
        elif word != "and":
            value = NUMBER_WORDS[word]
            total = total + value if total % 100 == 0 or (total % 10 == 0 and value < 10 and total % 100 >= 20) else total * 100 + value
    return total


def pups_of(card: LitterCard, group: str, named: Sequence[Any]) -> list[Any]:
    """The pups that a group word means."""
    living = card.living
    if group == "rest":
        return [pup.pup for pup in living if pup.pup not in named]
    return [pup.pup for pup in living if group == "all" or pup.sex == group[0]]


def clock(card: LitterCard, now: datetime, hour: int, minute: int, half: str | None) -> datetime:
    """The latest such moment that is not in the future."""
    local = now.astimezone(card.tz)
    hours = [hour % 12 + (12 if half == "pm" else 0)] if half else [hour % 12, hour % 12 + 12] if hour <= 12 else [hour]
    moments = [(local - timedelta(days=days)).replace(hour=each, minute=minute, second=0) for each in hours for days in (0, 1)]
    return max(moment for moment in moments if moment <= local)


def dam_or_body(card: LitterCard, value: float, unit: str | None) -> float:
    """A temperature in Celsius."""
    said = unit or ("C" if value < 50 else "F")
    return round(fahrenheit_to_celsius(value), 2) if said.upper() == "F" else value


def grams(card: LitterCard, value: float, unit: str | None) -> float:
    """A weight in grams, in the litter's unit where none is said."""
    unit = unit or card.weights_in
    factor = {"g": 1.0, "kg": 1000.0, "oz": GRAMS_PER_OUNCE, "lb": 16 * GRAMS_PER_OUNCE}[unit]
    return round(value * factor, 2)


def assemble(items: Sequence[Item], card: LitterCard, last_who: Any) -> Plain:
    """Put the items of a message together to the contract's object."""
    who: list[Any] = []
    named: list[Any] = []
    waiting: list[Plain] = []
    events: list[Plain] = []
    at = next((value for name, value in items if name == "at"), None)
    for name, value in items:
        if name == "who":
            who = value if isinstance(value, list) else who if value == "last" else pups_of(card, value, named)
            named += who
            events += [{**doing, "who": each} for doing in waiting for each in who]
            waiting = []
        elif name == "did" and value["kind"] in HOUSE:
            events.append(value)
        elif name == "did":
            about = who or (["dam"] if value["kind"] in TIMELESS else [])
            events += [{**value, "who": each} for each in about]
            waiting += [] if about else [value]
    if waiting and last_who is not None:
        events += [{**doing, "who": last_who} for doing in waiting]
        waiting = []
    if at is not None:
        events = [{**event, "at": at.isoformat()} for event in events]
    if waiting or not all(_plausible(event, card) for event in events):
        return {"does": "check", "events": events, "why": "not sure"}
    return {"does": "log", "events": events} if events else note()


def note() -> Plain:
    """A message that was not understood."""
    return {"does": "note", "events": [{"kind": "note", "text": "all of it"}]}


def _plausible(event: Plain, card: LitterCard) -> bool:
    who = event.get("who", "dam")
    if who == "dam":
        return event["kind"] != "weight" or not card.dam.last_grams or abs(event["grams"] / card.dam.last_grams - 1) <= 0.25
    pup = card.by_number.get(who)
    if pup is None or pup.died:
        return False
    if event["kind"] != "weight":
        return True
    return 40 <= event["grams"] <= 1500 and (not pup.last_grams or abs(event["grams"] / pup.last_grams - 1) <= 0.25)
