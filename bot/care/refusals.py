"""Refusals: a pup that declined two feeds running, or took nothing for two of its intervals."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta

from pydantic import JsonValue

from bot.care.concern import Concern
from bot.care.dog import Dog
from bot.care.figures import figures
from bot.care.nursery import Nursery
from bot.care.schedule import interval
from bot.care.wording import iso, say_span, say_temperature, say_time

_FIGURES = figures("signs")
_RUNNING = int(_FIGURES.number("refused_running"))
_INTERVALS = _FIGURES.number("nothing_taken_for")
_STANDS = timedelta(hours=_FIGURES.number("stands"))
_WARM_TO = figures("warmth").number("warm_before_a_feed")
_WHY = "A newborn that does not drink cools and weakens within hours"


def concerns_of(pup: Dog, nursery: Nursery) -> Iterator[Concern]:
    """The two causes, each said once for each time the pup last took something; neither once it takes something again."""
    if pup.who == "dam" or pup.died_at is not None:
        return
    yield from _declined(pup, nursery)
    yield from _nothing_taken(pup, nursery)


def _declined(pup: Dog, nursery: Nursery) -> Iterator[Concern]:
    """Feeds declined one after the other. A feed by tube in between does not break the run: no pup can decline it (derived)."""
    taken = pup.suckled
    since = [done for done in pup.recent if done.event.kind == "refused" and (taken is None or done.began > taken.began)]
    if len(since) < _RUNNING:
        return
    since.sort(key=lambda done: done.began)
    last = since[-1]
    if not _counts(pup, nursery, last.began):
        return
    which = since[_RUNNING - 1]
    values: dict[str, JsonValue] = {"refused": len(since)}
    if taken is not None:
        values["last_at"] = iso(taken.began, nursery.zone)
    yield _concern(
        pup,
        nursery,
        cause=f"declined/{pup.who}/{'never' if taken is None else taken.cause}",
        seen_at=last.began,
        at=max(which.told_at, which.began),
        until=last.began + _STANDS,
        seen="two feeds declined running" if len(since) == _RUNNING else f"{len(since)} feeds declined running",
        values=values,
    )


def _nothing_taken(pup: Dog, nursery: Nursery) -> Iterator[Concern]:
    last = pup.last_fed()
    if last is None:  # a pup that never took anything is the first milk's concern
        return
    minutes = interval(nursery.choices, nursery.birth(pup), last.began)
    if minutes is None:
        return
    at = last.began + _INTERVALS * timedelta(minutes=minutes)
    if not _counts(pup, nursery, at):
        return
    yield _concern(
        pup,
        nursery,
        cause=f"nothing taken/{pup.who}/{last.cause}",
        seen_at=at,
        at=at,
        until=at + _STANDS,
        seen=f"nothing taken since {say_time(last.began, at, nursery.zone)}, for {say_span(_INTERVALS * minutes)} and more",
        values={"minutes": _INTERVALS * minutes, "last_at": iso(last.began, nursery.zone)},
    )


def _counts(pup: Dog, nursery: Nursery, moment: datetime) -> bool:
    """Whether refusals still count at its age; where its birth was not told, a pup counts as newborn."""
    return _FIGURES.on_day("refusals_count", nursery.age_day(pup, moment) or 0) is not None


def _concern(
    pup: Dog, nursery: Nursery, *, cause: str, seen_at: datetime, at: datetime, until: datetime, seen: str, values: Mapping[str, JsonValue]
) -> Concern:
    warm = say_temperature(_WARM_TO, nursery.temperatures_in)
    return Concern(
        about="refusals",
        who=(pup.who,),
        urgency="vet today",
        seen_at=seen_at,
        at=at,
        until=until,
        cause=f"refusals/{cause}",
        seen=seen,
        act=f"take the temperature, warm first if under {warm}, then put to the dam",
        why=_WHY,
        source="cha22",
        values=values,
    )
