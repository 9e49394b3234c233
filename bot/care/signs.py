"""Signs are what was seen of a pup or the dam: by the table of signs.toml each comes to a warning of some urgency, or to none."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from functools import partial
from typing import NamedTuple

from bot.care.concern import SAID_AGAIN_AFTER, Concern, Words
from bot.care.dog import Dog
from bot.care.figures import figures
from bot.care.nursery import Nursery
from bot.care.seen import Seen, seen_of
from bot.care.sign_table import Row, rows_for
from bot.care.wording import say_temperature

_WARM_TO = figures("warmth").number("warm_before_a_feed")


class _Found(NamedTuple):
    """What was seen, the row that it comes to, and what it was seen with."""

    one: Seen
    name: str
    row: Row
    beside: Seen | None


def concerns_of(dog: Dog, nursery: Nursery) -> tuple[Concern, ...]:
    """What was seen of a living dog that is worth a warning."""
    if not dog.recent or dog.died_at is not None:
        return ()
    seen = seen_of(dog, nursery)
    found = [one for each in seen if (one := _look_up(each, seen)) is not None]
    taken_in = {id(beside) for one in found if one.row.takes_in for beside in _beside(one.one, one.row, seen)}
    kept = [one for one in found if id(one.one) not in taken_in or one.row.takes_in]
    return tuple(_concern(one, kept, dog, nursery) for one in kept)


def _look_up(one: Seen, seen: Sequence[Seen]) -> _Found | None:
    """The most urgent row for it."""
    for name in one.names:
        for row in rows_for("dam" if one.doing.event.who == "dam" else "pup").get(name, ()):  # type: ignore[attr-defined]
            if not row.with_:
                return _Found(one, name, row, None)
            beside = min(_beside(one, row, seen), key=lambda other: other.doing.told_at, default=None)
            if beside is not None:
                return _Found(one, name, row, beside)
    return None


def _beside(one: Seen, row: Row, seen: Sequence[Seen]) -> Iterator[Seen]:
    for other in seen:
        beside = other.doing is not one.doing and any(name in row.with_ for name in other.names)
        if beside and abs(other.doing.began - one.doing.began) <= row.span:
            yield other


def _concern(found: _Found, others: Sequence[_Found], dog: Dog, nursery: Nursery) -> Concern:
    one, row, beside = found.one, found.row, found.beside
    same = [other for other in others if other is not found and _kind(other) == _kind(found)]
    near = [other for other in same if abs(_began(other) - _began(found)) <= SAID_AGAIN_AFTER]
    cause = _cause(found, dog)
    return Concern(
        about=row.about,
        who=(dog.who,),
        kind=found.name if row.about == "sign" else "",
        urgency=row.urgency,
        seen_at=_began(found),
        at=max(_told_at(found), _began(found)),
        until=one.until if beside is None else max(one.until, beside.until),
        cause=cause,
        near=tuple(dict.fromkeys(other for each in near if (other := _cause(each, dog)) != cause)),
        alone=bool(one.values),
        words=partial(_words, found, nursery.temperatures_in),
    )


def _words(found: _Found, unit: str) -> Words:
    one, row, beside = found.one, found.row, found.beside
    seen = one.said if beside is None or beside.said == one.said else f"{one.said} with {beside.said}"
    return Words(row.act.format(warm=say_temperature(_WARM_TO, unit)), seen, "Seen", row.why, row.source, one.values)


def _kind(found: _Found) -> tuple[str, str, int]:
    """What counts as the same thing seen again: for signs proper, the same sign."""
    return found.row.about, found.name if found.row.about == "sign" else "", found.one.spell


def _cause(found: _Found, dog: Dog) -> str:
    """Named by when it was told, which a correction of it leaves as it was."""
    name = f"{found.row.about}/{found.name}" if found.row.about == "sign" else found.row.about
    return f"{name}/{dog.who}/{_told_at(found).isoformat(timespec='seconds')}"


def _told_at(found: _Found) -> datetime:
    """When we knew all of it."""
    mine = found.one.doing.told_at
    return mine if found.beside is None else max(mine, found.beside.doing.told_at)


def _began(found: _Found) -> datetime:
    """When it was seen; of two things seen together, the later."""
    mine = found.one.doing.began
    return mine if found.beside is None else max(mine, found.beside.doing.began)
