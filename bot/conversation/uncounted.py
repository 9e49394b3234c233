"""The reader, asked about a litter whose pups were not counted yet: then a pup is there once it is named."""

from __future__ import annotations

from datetime import datetime

from parsers import read
from parsers.events import Who
from parsers.litter_card import LitterCard, PupCard
from parsers.reading import Reading

_UNCOUNTED = tuple(PupCard(pup=number) for number in range(1, 21))
"""The numbers that may be named before the pups were counted: more than all but the rarest litters have (from memory)."""


def read_of_uncounted(text: str, card: LitterCard, *, now: datetime, by: str, last_who: Who | None) -> Reading:
    """As `parsers.read`, but a number that the words name is a pup, and `all` means those named so far."""
    known = card.by_number
    more = tuple(pup for pup in _UNCOUNTED if pup.pup not in known)
    wide = read(text, _with_pups(card, (*card.pups, *more)), now=now, by=by, last_who=last_who)
    named = _numbers(wide) - set(known)
    fresh = () if len(named) == len(more) else tuple(PupCard(pup=number) for number in sorted(named))
    pups = tuple(sorted((*card.pups, *fresh), key=lambda pup: pup.pup))
    return read(text, _with_pups(card, pups), now=now, by=by, last_who=last_who)


def _with_pups(card: LitterCard, pups: tuple[PupCard, ...]) -> LitterCard:
    """The card with other pups; a plain copy would keep what the old card worked out of its own."""
    return LitterCard.model_construct(**{**{name: getattr(card, name) for name in LitterCard.model_fields}, "pups": pups})


def _numbers(reading: Reading) -> set[int]:
    """Every pup number that a reading speaks of."""
    found = {getattr(event, "who", None) for option in (reading.events, *reading.options) for event in option}
    for part in (reading.about, reading.fix):
        who = getattr(part, "who", None)
        found.update(who if isinstance(who, tuple) else (who,))
    if reading.setup is not None:
        names = reading.setup.sets.get("name") or ()
        found.update(name["pup"] for name in (names if isinstance(names, list | tuple) else (names,)))
    if reading.unread_who is not None:
        found.add(reading.unread_who)
    return {number for number in found if isinstance(number, int)}
