"""The reader's lexicon: every phrase of the vocabulary with what it can be, built once from the data."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import Any

from parsers import questions
from parsers.numbers import SPOKEN
from parsers.numbers import WORDS as NUMBER_WORDS
from parsers.subjects import known_words as subject_words
from parsers.times import KNOWN as TIME_WORDS
from parsers.vocabulary import Phrases, Tag, VocabularyError, load, words_of
from parsers.words import Speller

KINDS = load("kinds")
"""The vocabulary's entries by kind, in the order of the file."""
NUMBER_OF: dict[str, str] = {kind: entry["number"] for kind, entry in KINDS.items() if "number" in entry}
"""What a number beside a kind's word is: kind -> minutes, ml, grams, amount or celsius."""
DOER: dict[str, str] = {kind: entry.get("doer", "either") for kind, entry in KINDS.items()}
"""Who does it: `keeper` (to the pup), `pup`, `dam`, `person` or `either`."""

_TALK = (
    "filler",
    "thanks",
    "past",
    "person",
    "plan",
    "future_after",
    "if",
    "hedge",
    "deny",
    "over",
    "difference",
    "swap",
    "cry",
    "among",
    "elsewhere",
    "except",
    "agenda",
    "inspect",
)


@cache
def lexicon() -> Phrases:
    """All phrases but the litter's own names, each with its tags."""
    phrases = Phrases()
    for kind, entry in KINDS.items():
        _check(kind, entry)
        fields = {"says", "bare", "short", "turns"}
        for key in fields & entry.keys():
            phrases.add(entry[key], Tag("do", kind, (), key == "bare"))
        for form in entry.get("forms", ()):
            phrases.add(form["says"], Tag("do", kind, tuple(form["set"].items()), form.get("bare", False)))
    for who, signs in load("signs").items():
        for sign, patterns in signs.items():
            phrases.add([sign, *patterns], Tag(f"{who} sign", sign))
    for part, values in load("parts").items():
        for value, patterns in values.items():
            phrases.add(patterns, Tag(part, value))
    for role in _TALK:
        phrases.add(load("talk").get(role, {}).get("says", ()), Tag(role, role))
    return phrases


def _check(kind: str, entry: dict[str, Any]) -> None:
    allowed = {"help", "examples", "says", "bare", "short", "turns", "number", "doer", "forms"}
    if strange := entry.keys() - allowed:
        raise VocabularyError(f"parsers/vocabulary/kinds.toml, [{kind}]: {sorted(strange)} is no key of an entry; use {sorted(allowed)}.")


@cache
def short_words() -> frozenset[str]:
    """The trade's shorthands, which are never taken for a slip of a longer word."""
    return frozenset(word for entry in KINDS.values() for word in entry.get("short", ()))


@cache
def speller() -> Speller:
    """Mends slips into words of the trade; everyday words are left as they are."""
    everyday = set(load("everyday")["words"].split())
    spelling = [load(name)["spelling"] for name in ("setup", "corrections")]
    trade = trade_words() | questions.mended_words() | {word for part in spelling for word in part["words"]}
    everyday |= questions.known_words() | {word for part in spelling for word in part["leave"]}
    return Speller(trade, leave=everyday | (lexicon().known - trade))


@cache
def trade_words() -> frozenset[str]:
    """Every word of the trade: of doings, signs, parts, units, subjects and numbers."""
    return frozenset(_trade_words())


def _trade_words() -> Iterable[str]:
    for entry in KINDS.values():
        for key in ("says", "bare"):
            yield from words_of(entry.get(key, ()))
        for form in entry.get("forms", ()):
            yield from words_of(form["says"])
    for signs in load("signs").values():
        for patterns in signs.values():
            yield from words_of(patterns)
    for values in load("parts").values():
        for patterns in values.values():
            yield from words_of(patterns)
    for unit in load("measures")["units"]:
        yield from words_of(unit["says"])
    yield from subject_words()
    yield from SPOKEN
    yield from NUMBER_WORDS
    yield from TIME_WORDS
