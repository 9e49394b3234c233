"""A nudge is the care that is due of one or several dogs, as one message: to whom, how urgent, in which words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, tzinfo

from pydantic import JsonValue

from bot.care.due import STAGES, Due
from bot.care.notice import EVERYONE, Notice
from bot.care.nursery import Nursery
from bot.care.wording import iso, say_list, say_span, say_time
from parsers.events import Who

TO_DO = {
    "first milk": "for the first milk",
    "nursing": "to nurse",
    "clearing": "to be cleared",
    "toilet": "to be stimulated",
    "weighing": "to be weighed",
    "temperature": "to be measured",
    "dam check": "for her daily check",
}
"""What a dog is due or overdue for, by care."""
_SOON_AT_ONCE = ("first milk",)
"""Care that is soon from its first stage on."""
_LAST_STAGE = len(STAGES) - 1


def nudge(nursery: Nursery, dues: Sequence[Due], causes: tuple[str, ...], *, stage: int, at: datetime, now: datetime) -> Notice:
    """The message that care of one kind is due, at a stage: the first two are for whoever is on duty, the last is for everyone."""
    said_at = max(at, now)
    dues = sorted(dues, key=lambda one: (one.who == "dam", 0 if one.who == "dam" else one.who, one.at))
    return Notice(
        says="nudge",
        about=dues[0].care,
        who=tuple(dict.fromkeys(one.who for one in dues)),
        at=at,
        urgency="soon" if stage or dues[0].care in _SOON_AT_ONCE else "routine",
        text=_text(nursery, dues, stage, said_at),
        to=EVERYONE if stage == _LAST_STAGE else nursery.on_duty(said_at) or EVERYONE,
        causes=causes,
        values=due_values(dues, nursery.zone, flat=len(dues) == 1),
    )


def due_values(dues: Sequence[Due], zone: tzinfo, *, flat: bool) -> dict[str, JsonValue]:
    """When each dog is due, for what, and since when: the earliest of each, by its number; `flat` where only one was asked about."""
    earliest: dict[Who, Due] = {}
    for one in dues:
        if one.who not in earliest or one.at < earliest[one.who].at:
            earliest[one.who] = one
    values: dict[str, JsonValue] = {}
    for who, one in earliest.items():
        mine: dict[str, JsonValue] = {"care": one.care, "due_at": iso(one.at, zone)}
        if one.last_at is not None:
            mine["last_at"] = iso(one.last_at, zone)
        if one.drug is not None:
            mine["drug"] = one.drug
        if flat:
            return mine
        values[str(who)] = mine
    return values


def last_done(nursery: Nursery, one: Due, now: datetime) -> str:
    """What a care is counted from: `last nursed 3:14 am`; `nursed 3:14 am` for what is due once after each feed; `not cleared yet`.

    Nothing where it does not matter: each pup has its own time for its last weight, and all go on the scale together.
    """
    if one.care == "weighing":
        return ""
    if one.care == "first milk":
        born = nursery.birth(nursery.pups[int(one.who)])
        return f"no nursing or colostrum in the log{'' if born is None else f', born {say_time(born, now, nursery.zone)}'}"
    if one.last_at is None:
        return f"not {one.done} yet"
    return f"{'' if one.once else 'last '}{one.done} {say_time(one.last_at, now, nursery.zone)}"


def _text(nursery: Nursery, dues: Sequence[Due], stage: int, now: datetime) -> str:
    if dues[0].care == "supervision":
        return _look_in(nursery, dues, now)
    to_do = f" {TO_DO[dues[0].care]}" if dues[0].care in TO_DO else ""
    parts: dict[tuple[str, str], list[Due]] = {}
    for one in dues:
        minutes = (now - one.at).total_seconds() / 60
        late = say_span(minutes) if stage and minutes >= 1 else ""
        why = _look_at(nursery) if one.care == "dam check" else last_done(nursery, one, now)
        parts.setdefault((late, why), []).append(one)
    if len(parts) == 1:
        [((late, last), ones)] = parts.items()
        verb = "are" if len(ones) > 1 else "is"
        opening = "" if to_do else "The next "
        return f"{opening}{whose(nursery, ones)} {verb} {f'{late} overdue' if late else 'due'}{to_do}{f': {last}' if last else ''}."
    said = [f"{whose(nursery, ones)} ({', '.join(word for word in key if word)})" for key, ones in parts.items()]
    return f"{'Overdue' if stage else 'Due'}{to_do}: {say_list(said)}."


def _look_in(nursery: Nursery, dues: Sequence[Due], now: datetime) -> str:
    """Nobody has written since one moment, so it is the same of all of them."""
    verb = "are" if len(dues) > 1 else "is"
    since = (now - (dues[0].last_at or dues[0].at)).total_seconds() / 60
    return f"{whose(nursery, dues)} {verb} with {for_whom(nursery, 'dam')}, and nobody has written for {say_span(since)}: look in on them."


def _look_at(nursery: Nursery) -> str:
    """What a check of the dam is made of; a dam that whelped naturally has no incision."""
    return say_list(["temperature", "appetite", "discharge", "glands", *([] if nursery.choices.delivery == "natural" else ["incision"])])


def whose(nursery: Nursery, dues: Sequence[Due]) -> str:
    """`Pups 1 and 2`; for a dose `calcium for Juniper`."""
    if dues[0].drug is None:
        return nursery.together(one.who for one in dues)
    return say_list([f"{one.drug} for {for_whom(nursery, one.who)}" for one in dues])


def for_whom(nursery: Nursery, who: Who) -> str:
    """How a dog is spoken of within a sentence."""
    return "the dam" if nursery.called(who) == "The dam" else nursery.called(who)
