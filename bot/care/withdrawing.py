"""What a correction does to the warnings that were told: those whose facts are gone, those that are milder now, and those that stay."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime

from bot.care.concern import Concern
from bot.care.concerns import concerns
from bot.care.notice import URGENCIES
from bot.care.nursery import Nursery
from bot.care.wording import say_list

_Thing = tuple[str, tuple[object, ...], str]


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """What is to be said of a correction, and what is told with it: the withdrawals, and the causes that need no telling after it."""

    said: str = ""
    causes: frozenset[str] = frozenset()


def withdrawn(before: Nursery, after: Nursery, told: Collection[str], now: datetime) -> Withdrawn:
    """What a correction, which made `after` of `before`, does to the warnings that were told and still held.

    A warning of a fact that is the same or milder now was told, though the entry that it rests on is another one: it is not told again.
    """
    held = _worst(concern for concern in concerns(before) if concern.holds(now) and concern.is_told(told))
    if not held:
        return Withdrawn()
    holds = [concern for concern in concerns(after) if concern.holds(now)]
    now_worst = _worst(holds)
    gone = [concern for thing, concern in held.items() if thing not in now_worst]
    milder = [now_worst[thing] for thing, concern in held.items() if thing in now_worst and _rank(now_worst[thing]) < _rank(concern)]
    known = [concern for concern in holds if (was := held.get(_thing(concern))) is not None and _rank(concern) <= _rank(was)]
    said = [_said(after, gone)] if gone else []
    said += [f"The warning about {_whom(after, one)} ({_seen(one)}) is milder now: {one.urgency}." for one in milder]
    ended = frozenset(cause for one in (*gone, *(held[_thing(one)] for one in milder)) for cause in one.withdrawal(told))
    told = {*told, *ended} if ended else told
    return Withdrawn(" ".join(said), ended.union(cause for one in known for cause in one.causes(told) if cause not in told))


def _worst(several: Iterable[Concern]) -> dict[_Thing, Concern]:
    """The most urgent concern about each thing."""
    found: dict[_Thing, Concern] = {}
    for concern in several:
        thing = _thing(concern)
        if thing not in found or _rank(concern) > _rank(found[thing]):
            found[thing] = concern
    return found


def _thing(concern: Concern) -> _Thing:
    """What a warning is about. One of the litter is the same also where other pups are in it."""
    return concern.about, concern.who if len(concern.who) == 1 else (), concern.kind


def _rank(concern: Concern) -> int:
    return URGENCIES.index(concern.urgency)


def _said(nursery: Nursery, gone: list[Concern]) -> str:
    said = list(dict.fromkeys(f"{_whom(nursery, one)} ({_seen(one)})" for one in gone))
    return f"No longer {'hold: the warnings' if len(said) > 1 else 'holds: the warning'} about {say_list(said)}."


def _whom(nursery: Nursery, concern: Concern) -> str:
    """`Pup 3`, `the dam`, `the box`, inside a sentence."""
    said = nursery.together([who for who in concern.who if who != "dam"] or concern.who) or concern.words().subject
    return f"the {said.removeprefix('The ')}" if said.startswith("The ") else said


def _seen(concern: Concern) -> str:
    return concern.words().seen
