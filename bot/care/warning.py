"""Warnings are concerns in words: the act first, the reason second, the source last."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import datetime, timedelta

from pydantic import JsonValue

from bot.care.choice import Phone
from bot.care.concern import Concern, Words
from bot.care.figures import figures, source_in_short
from bot.care.notice import EVERYONE, URGENCIES, Notice, Urgency
from bot.care.nursery import Nursery
from bot.care.wording import at_time, say_list
from parsers.events import Who

_A_MINUTE = timedelta(minutes=1)
_MOST_WORDS = figures("signs").number("words_at_most")

_OfOne = list[tuple[Concern, Words]]
"""Concerns of one dog (or of the litter as a whole) about one thing, the worst first."""


def as_notices(nursery: Nursery, concerns: Iterable[Concern], now: datetime, told: Collection[str] = ()) -> list[Notice]:
    """The concerns as warnings, the worst first: one for each dog and thing, and one for several pups of which the same is to be said.

    Their causes are those that were not told yet.
    """
    of_one: dict[tuple[str, tuple[Who, ...]], _OfOne] = {}
    for concern in sorted(concerns, key=lambda one: (-URGENCIES.index(one.urgency), -one.seen_at.timestamp())):
        of_one.setdefault((concern.about, concern.who), []).append((concern, concern.words()))
    together: dict[tuple[object, ...], list[_OfOne]] = {}
    for several in of_one.values():
        first, words = several[0]
        alone = first.who if first.alone or len(first.who) != 1 or first.who == ("dam",) else None
        together.setdefault((first.about, first.urgency, words.act, _seen(nursery, several, now), alone), []).append(several)
    found = [_notice(nursery, groups, now, told) for groups in together.values()]
    return sorted(found, key=lambda notice: (-URGENCIES.index(notice.urgency), [_place(who) for who in notice.who]))


def _notice(nursery: Nursery, groups: Sequence[_OfOne], now: datetime, told: Collection[str]) -> Notice:
    groups = sorted(groups, key=lambda several: [_place(who) for who in several[0][0].who])
    first = groups[0][0][0]
    at = max(several[0][0].at for several in groups)
    values: dict[str, JsonValue] = {}
    for several in groups:
        mine = {name: value for _, words in reversed(several) for name, value in words.values.items()}
        if len(groups) == 1:
            values = mine
        elif mine:
            values[str(several[0][0].who[0])] = mine
    causes = dict.fromkeys(cause for several in groups for one, _ in several for cause in one.causes(told) if cause not in told)
    return Notice(
        says="warning",
        about=first.about,
        who=tuple(dict.fromkeys(who for several in groups for who in several[0][0].who)),
        at=at,
        urgency=first.urgency,
        text=_text(nursery, groups, now),
        to=EVERYONE if first.urgency != "soon" else nursery.on_duty(max(at, now)) or EVERYONE,
        causes=tuple(causes),
        values=values,
        seen=_all_seen(groups[0]),
    )


def _text(nursery: Nursery, groups: Sequence[_OfOne], now: datetime) -> str:
    first, words = groups[0][0]
    pups = [who for several in groups for who in several[0][0].who if who != "dam"]
    parts = [f"{words.act}{say_call(nursery, first.urgency)}.", f"{_seen(nursery, groups[0], now)}."]
    parts += [f"{words.why}."] if words.why else []
    parts += [f"Source: {source_in_short(words.source)}."] if words.source else []
    said = " ".join(parts)
    subject = _litter(nursery, pups) or nursery.together(pups or first.who) or words.subject
    if len(f"{subject}: {said}".split()) > _MOST_WORDS and len(pups) > 1:
        subject = f"Pups {say_list([str(who) for who in pups])}"
    return f"{subject}: {said}"


def _litter(nursery: Nursery, pups: Sequence[Who]) -> str:
    """The whole of a larger litter in three words, so that the act comes soon."""
    return f"All {len(pups)} pups" if len(pups) > 2 and len(pups) == len(nursery.living) else ""


def _seen(nursery: Nursery, several: _OfOne, now: datetime) -> str:
    seen = _all_seen(several)
    how, latest = several[0][1].how, max(one.seen_at for one, _ in several)
    if not how:
        return f"{seen[:1].upper()}{seen[1:]}"
    return f"{how}{'' if now - latest < _A_MINUTE else f' {at_time(latest, now, nursery.zone)}'}: {seen}"


def _all_seen(several: _OfOne) -> str:
    """All that was seen, each once: `panting with restless` says that the other was seen as well."""
    said: list[str] = []
    named: set[str] = set()
    for seen in dict.fromkeys(words.seen for _, words in several):
        parts = seen.split(" with ")
        if not named.issuperset(parts):
            said.append(seen)
            named.update(parts)
    return say_list(said)


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
