"""A correction: which of the sender's logged events a fix is about, and what stands in their place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from parsers.events import Event, Who
from parsers.reading import Fix


@dataclass(frozen=True)
class Logged:
    """An event that stands in the log, with its row."""

    id: int
    event: Event


@dataclass(frozen=True)
class Corrected:
    """The rows that a fix replaces, and the events that take their place (None: it is taken back, and nothing does)."""

    old: tuple[Logged, ...]
    new: tuple[Event | None, ...]


@dataclass(frozen=True)
class Unclear:
    """The fix could be about several; each option is one correction, the one of the pup named last first."""

    why: str
    options: tuple[Corrected, ...]


@dataclass(frozen=True)
class Unfit:
    """Nothing that the sender logged can be corrected so."""

    why: str


def correct(fix: Fix, logged: Sequence[Logged]) -> Corrected | Unclear | Unfit:
    """What a fix makes of the events of the sender's last message that logged."""
    if not logged:
        return Unfit("There is nothing of yours in the log to correct.")
    if fix.change == "undo":
        return Corrected(tuple(logged), (None,) * len(logged))
    if fix.change == "time":
        return _changed(logged, {"at": fix.at})
    if fix.change == "who":
        return _moved(fix, logged)
    return _revalued(fix, logged)


def propose(fix: Fix, events: Sequence[Event]) -> tuple[Event, ...] | None:
    """What a fix makes of a reading that still waits for a yes; None where it does not fit it."""
    found = correct(fix, [Logged(place, event) for place, event in enumerate(events)])
    if fix.change == "undo" or not isinstance(found, Corrected):
        return None
    new = dict(zip((one.id for one in found.old), found.new, strict=True))
    return tuple(kept for place, event in enumerate(events) if (kept := new.get(place, event)) is not None)


def _moved(fix: Fix, logged: Sequence[Logged]) -> Corrected | Unclear | Unfit:
    """The events of one pup were another's."""
    movable = [one for one in logged if getattr(one.event, "who", None) is not None]
    if not movable:
        return Unfit("What you logged last is about no pup, so it cannot be moved to another.")
    if fix.who is None or isinstance(fix.who, tuple):
        return Unfit("I can move what you logged to one pup only. Take it back with “undo” and send it again.")
    changes = {"who": fix.who} | ({"at": fix.at} if fix.at else {})
    subjects = [who for who in _subjects(movable) if who != fix.who]
    if not subjects:
        return Unfit(f"What you logged last is {_of(fix.who)} already.")
    options = [_changed([one for one in movable if getattr(one.event, "who", None) == who], changes) for who in reversed(subjects)]
    return _one_of(options, f"Whose entry was {_of(fix.who)}?")


def _revalued(fix: Fix, logged: Sequence[Logged]) -> Corrected | Unclear | Unfit:
    """A value was another: it is one of the events that has such a field, of the pup named in the fix where one is."""
    fields = dict(fix.fields) | ({"at": fix.at} if fix.at else {})
    named = [one for one in logged if fix.who is None or getattr(one.event, "who", None) == fix.who]
    fitting = [one for one in named if all(_has(one.event, name) for name in fix.fields)]
    said = [one for one in fitting if any(getattr(one.event, _field(one.event, name)) is not None for name in fix.fields)]
    fitting = said or fitting
    if not fitting:
        return Unfit(
            f"Nothing that you logged last has {' and '.join(fix.fields) or 'such a value'}. Take it back with “undo” and send it again."
        )
    options = [found for one in reversed(fitting) if isinstance(found := _changed([one], fields), Corrected)]
    if not options:
        return Unfit("That value does not fit what you logged last. Take it back with “undo” and send it again.")
    return _one_of(options, "Which one do you correct?")


def _one_of(found: Sequence[Corrected | Unfit], why: str) -> Corrected | Unclear | Unfit:
    options = tuple(one for one in found if isinstance(one, Corrected))
    if not options:
        return found[0]
    return options[0] if len(options) == 1 else Unclear(why, options)


def _changed(logged: Sequence[Logged], changes: dict[str, Any]) -> Corrected | Unfit:
    new: list[Event] = []
    for one in logged:
        plain = {_alias(one.event, name): value for name, value in one.event.model_dump(exclude_none=True).items()}
        try:
            new.append(
                type(one.event).model_validate(plain | {_alias(one.event, _field(one.event, name)): v for name, v in changes.items()})
            )
        except ValidationError:
            return Unfit("That does not fit what you logged last. Take it back with “undo” and send it again.")
    return Corrected(tuple(logged), tuple(new))


def _subjects(logged: Sequence[Logged]) -> list[Who]:
    return list(dict.fromkeys(getattr(one.event, "who") for one in logged))  # noqa: B009


def _has(event: Event, name: str) -> bool:
    return _field(event, name) in type(event).model_fields


def _field(event: Event, name: str) -> str:
    """The model's own name of a field that may be given by its name in JSON (`with`)."""
    return next((own for own, info in type(event).model_fields.items() if info.alias == name), name)


def _alias(event: Event, name: str) -> str:
    info = type(event).model_fields.get(name)
    return info.alias if info is not None and info.alias else name


def _of(who: Who) -> str:
    return "the dam's" if who == "dam" else f"pup {who}'s"
