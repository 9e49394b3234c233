"""Ready: what is to be at hand for the way home and the first night, and what of it is done. It is ticked by facts, and by notes.

A note that says nothing but things of the list and that they are done (`gloves done`, `tick the scale`, `getting ready: bulbs named,
gowns packed`) ticks them, one that says they are not (`no gowns yet`) opens them again. It stays the note that it is.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from importlib.resources import files
from typing import NamedTuple

from pydantic import BaseModel, ConfigDict

from bot.care.choice import Choices
from bot.care.figures import figures
from parsers.events.climate import Climate
from parsers.events.note import Note


class Thing(BaseModel):
    """One thing of the list, as ready.toml has it."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    key: str
    what: str
    group: str
    says: tuple[str, ...]
    done: tuple[str, ...] = ()
    by: str = ""


@cache
def things() -> Mapping[str, Thing]:
    """The whole list, in its order."""
    text = files(__package__).joinpath("ready.toml").read_text(encoding="utf-8")
    return {key: Thing.model_validate({"key": key} | entry) for key, entry in tomllib.loads(text).items()}


def ticks(event: BaseModel) -> Mapping[str, bool]:
    """What an event ticks (True) or opens again (False), by the thing's key."""
    if isinstance(event, Note):
        return ticked_in(event.text) if event.who is None else {}
    if getattr(event, "who", None) is not None:
        return {}
    if isinstance(event, Climate):
        return {} if event.celsius is None else dict.fromkeys(_by().get(f"climate {event.place}", ()), _warm(event.celsius))
    return dict.fromkeys(_by().get(f"{getattr(event, 'kind', '')} {getattr(event, 'item', '')}", ()), True)


def ticked_in(text: str) -> Mapping[str, bool]:
    """The same of words: nothing where they say anything beside the list's own things and whether they are done."""
    words: list[str] = []
    for found in _WORD.finditer(text.casefold()):
        if found[0] not in _known():
            return {}  # most notes end here, at their first word
        words.append(found[0])
    opened = words[: len(_TITLE)] == _TITLE
    rest = words[len(_TITLE) :] if opened else words
    if opened and rest[:1] == ["list"]:
        rest = rest[1:]
    clauses = [_read(clause) for clause in _clauses(rest)]
    verdicts = [clause.verdict for clause in clauses if clause.verdict is not None]
    if not (verdicts or opened):
        return {}
    verdict = verdicts[0] if verdicts else True  # `gloves, gowns done`: the first word on it holds for what stands before it too
    keys: tuple[str, ...] = ()
    ticked: dict[str, bool] = {}
    for clause in clauses:
        keys = clause.keys or keys
        if any(not keys or any(word not in things()[key].done for key in keys) for word in clause.own):
            return {}
        verdict = verdict if clause.verdict is None else clause.verdict
        ticked |= dict.fromkeys(clause.keys, verdict)
    return ticked


def done(ticked: Mapping[str, bool], choices: Choices) -> tuple[str, ...]:
    """The things that are done, in the list's order: ticked, or told to the bot."""
    told = {f"phone {of}" for of in choices.phones} | ({"formula"} if choices.kcal_per_ml is not None else set())
    return tuple(key for key, thing in things().items() if ticked.get(key, False) or thing.by in told)


def _clauses(words: Sequence[str]) -> Iterator[list[str]]:
    clause: list[str] = []
    for word in words:
        if word in _CUTS:
            yield clause
            clause = []
        else:
            clause.append(word)
    yield clause


class _Clause(NamedTuple):
    keys: tuple[str, ...]
    own: tuple[str, ...]
    """Words that are no part of this language, but may say of a thing of the clause that it is done: `zeroed`."""
    verdict: bool | None
    """Whether it says that they are done; None: it says neither."""


def _read(words: Sequence[str]) -> _Clause:
    keys: list[str] = []
    own: list[str] = []
    verdict: bool | None = None
    place = 0
    while place < len(words):
        length = next((n for n in _LENGTHS if " ".join(words[place : place + n]) in _names()), 0)
        word = words[place]
        if length:
            keys.append(_names()[" ".join(words[place : place + length])])
        elif word in _NOT:
            verdict = False
        elif word in _DONE:
            verdict = True if verdict is None else verdict
        elif word not in _SMALL:
            own.append(word)
        place += length or 1
    return _Clause(tuple(keys), tuple(own), True if own and verdict is None else verdict)


@cache
def _names() -> Mapping[str, str]:
    return {phrase: thing.key for thing in things().values() for phrase in thing.says}


_LENGTHS = (2, 1)
"""Words that a thing's name has, the longest first."""


@cache
def _known() -> frozenset[str]:
    """Every word of this language."""
    own = (word for thing in things().values() for word in (*thing.done, *(part for phrase in thing.says for part in phrase.split())))
    return frozenset((*own, *_TITLE, "list")) | _CUTS | _DONE | _NOT | _SMALL


@cache
def _by() -> Mapping[str, tuple[str, ...]]:
    """The things that a fact ticks by itself."""
    found: dict[str, tuple[str, ...]] = {}
    for thing in things().values():
        if thing.by:
            found[thing.by] = (*found.get(thing.by, ()), thing.key)
    return found


def _warm(celsius: float) -> bool:
    """Whether a reading of the box is right for newborns, within what a thermometer may be off."""
    climate = figures("climate")
    low, high, margin = climate.on_day("box_low", 0), climate.on_day("box_high", 0), climate.number("box_margin")
    return low is not None and high is not None and low - margin <= celsius <= high + margin


_WORD = re.compile(r"[\w'’-]+|[,;.\n&+]")
_TITLE = ["getting", "ready"]
_CUTS = frozenset((",", ";", ".", "\n", "&", "+", "and"))
_DONE = frozenset("done ready packed tick ticked checked off got have had bought here set yes ok okay full loaded".split())
_NOT = frozenset("not no isn't isnt aren't arent untick un-tick uncheck missing need needs still without forgot cold empty".split())
_SMALL = frozenset(
    "a an the is are be been all both my our your of for to up it them we i i've we've now one each yet also too in on car bag".split()
)
