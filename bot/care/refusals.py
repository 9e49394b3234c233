"""Refusals: a pup that declined two feeds running, or took nothing for two of its intervals."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from functools import partial

from pydantic import JsonValue

from bot.care.concern import Concern, Words
from bot.care.dog import Dog
from bot.care.doing import Doing
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
    """The two causes, each said once until the pup takes something, and neither once it does.

    A run is named by the refusal that made it one: where that was taken back, the next that makes one is said again.
    """
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
    run = since if len(since) > _RUNNING else since[_RUNNING - 1 :]  # those of which a warning of this run may be named
    yield _concern(
        pup,
        "declined",
        which.cause,
        [done.cause for done in run if done is not which],
        seen_at=last.began,
        at=max(which.told_at, which.began),
        words=partial(_declined_words, len(since), taken, nursery),
    )


def _declined_words(count: int, taken: Doing | None, nursery: Nursery) -> Words:
    values: dict[str, JsonValue] = {"refused": count}
    if taken is not None:
        values["last_at"] = iso(taken.began, nursery.zone)
    return _words(nursery, f"{count} feeds declined running", values)


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
    yield _concern(pup, "nothing taken", last.cause, (), seen_at=at, at=at, words=partial(_nothing_taken_words, last, minutes, nursery))


def _nothing_taken_words(last: Doing, minutes: float, nursery: Nursery) -> Words:
    seen = f"nothing taken since {say_time(last.began, last.began, nursery.zone)}, for {say_span(_INTERVALS * minutes)} and more"
    return _words(nursery, seen, {"minutes": _INTERVALS * minutes, "last_at": iso(last.began, nursery.zone)})


def _counts(pup: Dog, nursery: Nursery, moment: datetime) -> bool:
    """Whether refusals still count at its age; where its birth was not told, a pup counts as newborn."""
    return _FIGURES.on_day("refusals_count", nursery.age_day(pup, moment) or 0) is not None


def _concern(
    pup: Dog, kind: str, since: str, near: Iterable[str], *, seen_at: datetime, at: datetime, words: Callable[[], Words]
) -> Concern:
    cause = f"refusals/{kind}/{pup.who}/"
    others = tuple([f"{cause}{other}" for other in near])
    return Concern(
        about="refusals",
        who=(pup.who,),
        kind=kind,
        urgency="vet today",
        seen_at=seen_at,
        at=at,
        until=seen_at + _STANDS,
        cause=f"{cause}{since}",
        near=others,
        also=others,
        words=words,
    )


def _words(nursery: Nursery, seen: str, values: Mapping[str, JsonValue]) -> Words:
    warm = say_temperature(_WARM_TO, nursery.temperatures_in)
    act = f"take the temperature, warm first if under {warm}, then put to the dam"
    return Words(act, seen, why=_WHY, source="cha22", values=values)
