"""Warnings are concerns in words: the act first, the reason second, the source last."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta

from pydantic import JsonValue

from bot.care.choice import Phone
from bot.care.concern import Concern
from bot.care.figures import source_in_short
from bot.care.notice import EVERYONE, URGENCIES, Notice, Urgency
from bot.care.nursery import Nursery
from bot.care.wording import at_time, say_list
from parsers.events import Who

_A_MINUTE = timedelta(minutes=1)


def worst_first(concerns: Iterable[Concern]) -> list[Concern]:
    """By urgency, then the latest first."""
    return sorted(concerns, key=lambda one: (-URGENCIES.index(one.urgency), -one.seen_at.timestamp()))


def as_notices(nursery: Nursery, concerns: Iterable[Concern], now: datetime) -> list[Notice]:
    """The concerns as warnings, the worst first: one for each dog and thing, and one for several pups of which the same is to be said."""
    of_one: dict[tuple[str, tuple[Who, ...]], list[Concern]] = {}
    for concern in worst_first(concerns):
        of_one.setdefault((concern.about, concern.who), []).append(concern)
    together: dict[tuple[str, ...], list[list[Concern]]] = {}
    for several in of_one.values():
        first = several[0]
        alone = str(first.who) if first.alone or len(first.who) != 1 or first.who == ("dam",) else ""
        key = (first.about, first.urgency, first.act, _seen(nursery, several, now), alone)
        together.setdefault(key, []).append(several)
    found = [_notice(nursery, groups, now) for groups in together.values()]
    return sorted(found, key=lambda notice: (-URGENCIES.index(notice.urgency), [_place(who) for who in notice.who]))


def _notice(nursery: Nursery, groups: Sequence[Sequence[Concern]], now: datetime) -> Notice:
    groups = sorted(groups, key=lambda several: [_place(who) for who in several[0].who])
    first = groups[0][0]
    at = max(several[0].at for several in groups)
    values: dict[str, JsonValue] = {}
    for several in groups:
        mine = {name: value for one in reversed(several) for name, value in one.values.items()}
        if len(groups) == 1:
            values = mine
        elif mine:
            values[str(several[0].who[0])] = mine
    return Notice(
        says="warning",
        about=first.about,
        who=tuple(dict.fromkeys(who for several in groups for who in several[0].who)),
        at=at,
        urgency=first.urgency,
        text=_text(nursery, groups, now),
        to=EVERYONE if first.urgency != "soon" else nursery.on_duty(max(at, now)) or EVERYONE,
        causes=tuple(dict.fromkeys(cause for several in groups for one in several for cause in one.causes)),
        values=values,
        seen=say_list(list(dict.fromkeys(one.seen for one in groups[0]))),
    )


def _text(nursery: Nursery, groups: Sequence[Sequence[Concern]], now: datetime) -> str:
    """The act first, the reason second, the source last."""
    first = groups[0][0]
    pups = [who for several in groups for who in several[0].who if who != "dam"]
    subject = nursery.together(pups) if pups else nursery.dam.called if first.who else "The box"
    parts = [f"{subject}: {first.act}{say_call(nursery, first.urgency)}.", f"{_seen(nursery, groups[0], now)}."]
    parts += [f"{first.why}."] if first.why else []
    parts += [f"Source: {source_in_short(first.source)}."] if first.source else []
    return " ".join(parts)


def _seen(nursery: Nursery, several: Sequence[Concern], now: datetime) -> str:
    each = list(dict.fromkeys(one.seen for one in several))
    seen = say_list([one for one in each if not any(other.endswith(f" with {one}") for other in each)])
    how, latest = several[0].how, max(one.seen_at for one in several)
    if not how:
        return f"{seen[:1].upper()}{seen[1:]}"
    return f"{how}{'' if now - latest < _A_MINUTE else f' {at_time(latest, now, nursery.zone)}'}: {seen}"


def say_call(nursery: Nursery, urgency: Urgency) -> str:
    """Whom to call, with the numbers that the household stored."""
    if urgency == "soon":
        return ""
    phones = nursery.choices.phones
    if urgency == "emergency":
        numbers = [_number(phones, "vet"), _number(phones, "emergency")]
        words = ", and call your vet or the emergency clinic now"
    else:
        numbers = [_number(phones, "vet") or _number(phones, "emergency")]
        words = ", and call your vet today"
    said = ", ".join(number for number in numbers if number)
    return f"{words} ({said})" if said else words


def _place(who: Who) -> int:
    """The dam before the pups."""
    return 0 if who == "dam" else who


def _number(phones: Mapping[str, Phone], of: str) -> str:
    phone = phones.get(of)
    return "" if phone is None else f"{phone.name or ('vet' if of == 'vet' else 'emergency clinic')} {phone.number}"
