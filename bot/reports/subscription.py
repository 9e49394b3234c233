"""The calendar as a file that a phone subscribes to (iCalendar, RFC 5545): the first eight weeks, and the care that is due. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from uuid import NAMESPACE_URL, uuid5

from bot.care.due import Due
from bot.care.figures import figures
from bot.care.milestones import calendar
from bot.care.nursery import Nursery
from bot.care.rounds import due
from bot.reports.calendar import CAUTION

_ROUNDS = figures("rounds")
_TOGETHER = timedelta(minutes=_ROUNDS.number("together_within"))
_STALE = timedelta(hours=_ROUNDS.number("left_to_the_handover_after"))
_DRAWN = timedelta(minutes=15)
"""How long a care that is due stands in the calendar: a line high enough to read."""
_ASKED_AGAIN = timedelta(minutes=15)
"""How often a phone is told to look again; most have a mind of their own."""
_NAMES = {"nursing": "Nurse", "clearing": "Clear", "toilet": "Stimulate", "weighing": "Weigh", "dam check": "Check"}


@dataclass(frozen=True, slots=True)
class LitterCalendar:
    """A litter as the file needs it."""

    key: str
    """What tells it from every other litter anywhere, and never changes: the ids of its events are made from it."""
    name: str
    nursery: Nursery


@dataclass(frozen=True, slots=True)
class _Entry:
    """One event of the file. A date stands for the whole day, and `last` is the last one; a moment has its length."""

    key: str
    summary: str
    description: str
    first: date | datetime
    after: date | datetime
    """The end, not counted any more."""
    known_at: datetime


def calendar_file(litters: Sequence[LitterCalendar], now: datetime) -> bytes:
    """The file with all events of all litters: whole days by each litter's own dates, due care by the moment.

    Each id stays the same from one reading to the next, so that a phone moves an event and never doubles it.
    """
    from icalendar import TRANSP, Calendar, Event  # late: it takes a tenth of a second, and only a subscribed household needs it

    file = Calendar.new(
        name=_clean("Pups" if len(litters) != 1 else litters[0].name),
        prodid="-//lampwatch//calendar//EN",
        refresh_interval=_ASKED_AGAIN,
        uid=_uid(*[litter.key for litter in litters]),
    )
    file.add("x-published-ttl", _ASKED_AGAIN)
    if litters:
        file.add("x-wr-timezone", litters[-1].nursery.zone.key)
    entries = [(litter.key, entry) for litter in litters for entry in _entries(litter, now, several=len(litters) > 1)]
    for key, entry in entries or [("", _nothing_yet(now))]:
        file.add_component(
            Event.new(
                uid=_uid(key, entry.key),
                stamp=entry.known_at,
                start=entry.first,
                end=entry.after,
                summary=_clean(entry.summary),
                description=_clean(entry.description),
                transparency=TRANSP.TRANSPARENT,
            )
        )
    return bytes(file.to_ical())


def _entries(litter: LitterCalendar, now: datetime, *, several: bool) -> Iterator[_Entry]:
    head = f"{litter.name}: " if several else ""
    nursery = litter.nursery
    if nursery.born is not None:
        for one in calendar(nursery.born, nursery.zone, nursery.choices.delivery):
            milestone = one.milestone
            yield _Entry(
                f"{milestone.key}/{one.first_day}",
                f"{head}{milestone.what[:1].upper()}{milestone.what[1:]}",
                f"{milestone.note}\n{CAUTION}",
                one.first,
                one.last + timedelta(days=1),
                nursery.born,
            )
    for place, group in _groups(nursery, now):
        first = group[0]
        known = max((one.last_at for one in group if one.last_at is not None), default=nursery.born or first.at)
        yield _Entry(
            f"due/{first.care}/{(first.drug or '').casefold()}/{place}",
            f"{head}{_summary(nursery, group)}",
            "Asked for by what was logged last; log it, and the next one takes its place.",
            first.at,
            first.at + _DRAWN,
            known,
        )


def _groups(nursery: Nursery, now: datetime) -> Iterator[tuple[int, list[Due]]]:
    """The care that is due, those of one care that the nudges say together in one, with its place among the groups of that care."""
    groups: dict[tuple[str, str], list[list[Due]]] = {}
    for one in due(nursery, now):
        if nursery.choices.silences(one.care, one.drug) or now - one.at > _STALE:
            continue
        mine = groups.setdefault((one.care, (one.drug or "").casefold()), [])
        if not mine or one.at - mine[-1][0].at > _TOGETHER:
            mine.append([])
        mine[-1].append(one)
    for mine in groups.values():
        yield from enumerate(mine)


def _summary(nursery: Nursery, group: Sequence[Due]) -> str:
    """`Nurse: Pups 1 and 2`, `Calcium: Juniper`."""
    what = group[0].drug or _NAMES.get(group[0].care, group[0].care)
    return f"{what[:1].upper()}{what[1:]}: {nursery.together(one.who for one in group)}"


def _nothing_yet(now: datetime) -> _Entry:
    """A calendar must hold something: what it waits for."""
    today = now.astimezone(UTC).date()
    return _Entry(
        "waits", "Tell the bot when the pups were born", "Then this calendar fills by itself.", today, today + timedelta(days=1), now
    )


def _uid(*parts: str) -> str:
    return str(uuid5(NAMESPACE_URL, f"lampwatch:{'/'.join(parts)}"))


def _clean(text: str) -> str:
    """Without what may not stand in such a file: signs that steer a terminal."""
    return re.sub(r"[\x00-\x08\x0b-\x1f\x7f]+", " ", text)
