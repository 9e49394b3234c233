"""A reading that must be confirmed: how it is kept with its message, how it is asked back, and what the next words answer."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from parsers.events import KINDS, Event, Who
from parsers.litter_card import LitterCard

Option = tuple[Event, ...]

_YES = frozenset({
    "yes", "y", "yep", "yeah", "yup", "ok", "okay", "k", "right", "correct", "sure", "confirm", "confirmed", "log it", "that's right",
    "thats right", "that is right", "yes please", "it is", "yes it is", "yes log it",
})  # fmt: skip
_NO = frozenset({"no", "n", "nope", "nah", "no thanks", "cancel", "drop it", "drop that", "wrong", "neither", "none", "forget it", "skip"})
_NUMBER = re.compile(r"(?:option |no\.? ?|number )?#?(\d{1,2})")
_PUP = re.compile(r"(?:it'?s |it was |that'?s |that was )?(?:pup|puppy|p|#|no\.?|number)?\s*#?\s*(\d{1,2})")


@dataclass(frozen=True)
class Confirmed:
    """The sender took one of the options: these events are meant, each in place of a standing one where `replaces` has its id."""

    events: Option
    replaces: tuple[int | None, ...]


@dataclass(frozen=True)
class Dropped:
    """The sender took none."""


@dataclass(frozen=True)
class Named:
    """The sender said which pup or dam is meant: the words are to be read again with it in front."""

    words: str


@dataclass(frozen=True)
class Another:
    """The sender said which pup or dam is meant instead of the one that was read."""

    who: Who


@dataclass(frozen=True)
class Unsettled:
    """The sender said yes, and it cannot be told to what: the question is to be put again."""


Answer = Confirmed | Dropped | Named | Another | Unsettled


def kept(options: Sequence[Option], text: str, replaces: Sequence[Sequence[int]] = (), *, which_pup: bool = False) -> dict[str, Any]:
    """What is kept beside a message that must be confirmed, as plain JSON: its words and every reading of them.

    `replaces`, for a correction: by option, the ids of the standing events that its events take the place of.
    `which_pup` where the pup was asked for, so that a mere number names one.
    """
    plain: dict[str, Any] = {"text": text, "options": [[event.as_json() for event in option] for option in options]}
    if replaces:
        plain["replaces"] = [list(ids) for ids in replaces]
    if which_pup:
        plain["which_pup"] = True
    return plain


def options_of(check: Mapping[str, Any]) -> tuple[Option, ...]:
    """The readings that were kept, as events."""
    return tuple(tuple(KINDS[event["kind"]].model_validate(event) for event in option) for option in check["options"])


def _confirmed(check: Mapping[str, Any], place: int) -> Confirmed:
    events = options_of(check)[place]
    replaces = check.get("replaces")
    return Confirmed(events, tuple(replaces[place]) if replaces else (None,) * len(events))


def answered(text: str, check: Mapping[str, Any], card: LitterCard, *, at_once: bool) -> Answer | None:
    """What the sender's next words say to a question back; None where they say something else.

    `at_once` is False where the sender said other things in between: then a mere number may mean anything, and answers nothing.
    """
    words = " ".join(text.casefold().split()).strip(" .!,")
    options = options_of(check)
    unknown = stranger(options, card)
    if words in _YES:
        return _confirmed(check, 0) if len(options) == 1 and unknown is None else Unsettled()
    if words in _NO:
        return Dropped()
    if not at_once:
        return None
    pups = by_pup(options)
    asks_pup = bool(pups or not options or unknown is not None or check.get("which_pup"))
    if not asks_pup and (found := _NUMBER.fullmatch(words)):
        number = int(found[1])
        return _confirmed(check, number - 1) if len(options) > 1 and 1 <= number <= len(options) else Unsettled()
    pup = _pup_named(words, card, any_number=not options)
    if pup in pups:
        return _confirmed(check, pups[pup])
    if pup is None or "replaces" in check:
        return None
    if not options:
        return Named("dam" if pup == "dam" else f"pup {pup}")
    return Another(pup) if len(options) == 1 else None


def by_pup(options: Sequence[Option]) -> dict[Who, int]:
    """The place of each option by its pup, where the options differ in nothing else; else empty."""
    found: dict[Who, int] = {}
    bare: set[str] = set()
    for place, option in enumerate(options):
        subjects = {getattr(event, "who", None) for event in option}
        if len(subjects) != 1 or (who := subjects.pop()) is None or who in found:
            return {}
        found[who] = place
        bare.add(str([event.model_dump(exclude={"who"}) for event in option]))
    return found if len(options) > 1 and len(bare) == 1 else {}


def stranger(options: Sequence[Option], card: LitterCard) -> Who | None:
    """The pup that a reading names and the litter does not have: it is no yes that such a reading waits for, but a pup."""
    if not card.pups:
        return None
    subjects = (getattr(event, "who", None) for option in options for event in option if event.kind != "born")
    return next((who for who in subjects if isinstance(who, int) and who not in card.by_number), None)


def _pup_named(words: str, card: LitterCard, *, any_number: bool) -> Who | None:
    """The pup or the dam that the words are, and nothing else; `any_number` also one that nobody has spoken of yet."""
    if found := _PUP.fullmatch(words):
        number = int(found[1])
        return number if any_number or number in card.by_number else None
    if words in {name.casefold() for name in card.dam.names}:
        return "dam"
    named = [pup.pup for pup in card.pups if words in {name.casefold() for name in pup.names}]
    return named[0] if len(named) == 1 else None
