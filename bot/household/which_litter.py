"""Which litter a message goes to, where a household has several.

The rule, in this order:

1. the litter that the words name: its dam (`Juniper ate half`, `Juniper: pup 3 212 g`), or a name that only one litter's pups have;
2. else the litter that the sender last spoke to, within twelve hours;
3. else nothing is guessed: the bot asks which.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

from rapidfuzz.distance import OSA

from bot.conversation import Conversation

STICKS = timedelta(hours=12)
"""How long a sender's messages stay with the litter they spoke to last. Derived: a night's watch."""
ANOTHER_BIRTH = timedelta(days=50)
"""Births so far apart are of two litters. Derived: shorter than a pregnancy of 58 days, longer than any slip of a date."""

_WORD = re.compile(r"[\w'’\-]+")


def named(text: str, conversations: Sequence[Conversation]) -> Conversation | None:
    """The one litter that the words name; None where they name none, or several."""
    words = text.casefold()
    by_dam = [conversation for conversation in conversations if _says(words, _dam_names(conversation))]
    if by_dam:
        return by_dam[0] if len(by_dam) == 1 else None
    names = {id(conversation): _pup_names(conversation) for conversation in conversations}
    own = [
        conversation
        for conversation in conversations
        if _says(words, names[id(conversation)] - {name for other, many in names.items() if other != id(conversation) for name in many})
    ]
    return own[0] if len(own) == 1 else None


def without_the_address(text: str, conversation: Conversation) -> str:
    """The words without a dam's name in front that only says which litter is meant (`Juniper: pup 3 212 g`, `Juniper's pup 3`)."""
    for name in _dam_names(conversation):
        if found := re.match(rf"\s*{re.escape(name)}(?:['’]s(?: litter)?\s*[:,]?\s+|\s*:\s*)(?=\S)", text, re.IGNORECASE):
            return text[found.end() :]
    return text


def only_the_address(text: str, conversations: Sequence[Conversation]) -> Conversation | None:
    """The litter, where the words are nothing but its name or number (`Juniper`, `Juniper's litter`, `litter 2`, `2`)."""
    words = " ".join(text.casefold().split()).strip(" .!:")
    for place, conversation in enumerate(conversations, 1):
        names = {
            form
            for name in _dam_names(conversation)
            for form in (name, f"{name}'s", f"{name}’s", f"{name}'s litter", f"{name}’s litter", f"{name} litter")
        }
        if words in names | {str(place), f"litter {conversation.litter}"}:
            return conversation
    return None


def is_another(told: dict[str, Any], conversation: Conversation, now: datetime) -> bool:
    """True where what is told of a litter cannot be of the one that this conversation is about."""
    known = conversation.nursery.choices
    if not conversation.described:
        return False
    born = told.get("born")
    born = datetime.fromisoformat(born) if isinstance(born, str) else born
    if born is not None and known.born is not None and abs(born - known.born) >= ANOTHER_BIRTH:
        return True
    dam = told.get("dam")
    if dam is not None and known.dam is not None:
        return OSA.distance(str(dam).casefold(), known.dam.casefold()) > 2
    return known.born is not None and now - known.born >= ANOTHER_BIRTH


def _dam_names(conversation: Conversation) -> set[str]:
    return {name.casefold() for name in (conversation.nursery.choices.dam, *conversation.nursery.dam.names) if name}


def _pup_names(conversation: Conversation) -> set[str]:
    return {name.casefold() for pup in conversation.nursery.living for name in pup.names}


def _says(text: str, names: set[str]) -> bool:
    words = [word.removesuffix("'s").removesuffix("’s") for word in _WORD.findall(text)]
    said = f" {' '.join(words)} "
    return any(f" {' '.join(_WORD.findall(name))} " in said for name in names)
