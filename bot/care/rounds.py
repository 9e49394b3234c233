"""Rounds are the care that is due: who is next for what, and what is said about it, and when."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import chain

from bot.care import supervision
from bot.care.choice import Quiet
from bot.care.due import Due
from bot.care.figures import figures
from bot.care.notice import Notice
from bot.care.nudge import nudge
from bot.care.nursery import Nursery
from bot.care.schedule import due_of
from parsers.events import Who

_FIGURES = figures("rounds")
_AGAIN = timedelta(minutes=_FIGURES.number("repeat_after"))
_TOGETHER = timedelta(minutes=_FIGURES.number("together_within"))
_LATE = timedelta(minutes=_FIGURES.number("late_by"))
_STALE = timedelta(hours=_FIGURES.number("left_to_the_handover_after"))


@dataclass(frozen=True, slots=True)
class _Call:
    """The next thing to be said of a due care: which stage, and when."""

    due: Due
    stage: int
    at: datetime
    causes: tuple[str, ...]


def due(nursery: Nursery, now: datetime) -> list[Due]:
    """All care that is or will be due, the earliest first, each care of a dog once."""
    found: dict[tuple[str, Who, str | None], Due] = {}
    for one in sorted(_all(nursery, now), key=lambda one: one.at):
        if one.until is None or now < one.until:
            found.setdefault((one.care, one.who, one.drug), one)
    return list(found.values())


def nudges(nursery: Nursery, told: Collection[str], now: datetime, heard: datetime | None = None) -> list[Notice]:
    """The care that is due or overdue by now and was not said yet. `heard` is the moment of the last message from anyone."""
    return [_nudge(nursery, group, now) for group in _groups(nursery, told, now, heard) if group[0].at <= now]


def next_nudge(nursery: Nursery, told: Collection[str], now: datetime, heard: datetime | None = None) -> datetime | None:
    """When there will next be a nudge: not after `now` where there is one already; None: nothing lies ahead."""
    return min((group[0].at for group in _groups(nursery, told, now, heard)), default=None)


def _groups(nursery: Nursery, told: Collection[str], now: datetime, heard: datetime | None) -> list[list[_Call]]:
    by_care: dict[str, list[_Call]] = {}
    choices, quiet = nursery.choices, nursery.choices.quiet
    for one in chain(_all(nursery, now), supervision.dues(nursery, heard)):
        if not choices.silences(one.care, one.drug):
            call = _next_call(one, quiet, told, now)
            if call is not None:
                by_care.setdefault(one.care, []).append(call)
    return [group for calls in by_care.values() for group in _grouped(calls, now)]


def _all(nursery: Nursery, now: datetime) -> Iterator[Due]:
    return (one for dog in (nursery.dam, *nursery.living) for one in due_of(dog, nursery, now))


def _next_call(one: Due, quiet: Sequence[Quiet], told: Collection[str], now: datetime) -> _Call | None:
    """The latest stage that is past and unsaid, else the next one; None: all is said, or too old to be said."""
    said = next((stage for stage in range(len(one.causes) - 1, -1, -1) if one.causes[stage] in told), -1)
    if said == len(one.causes) - 1:
        return None
    moment = one.at
    call = None
    for stage, cause in enumerate(one.causes):
        if one.moments:
            moment = one.moments[stage]
        elif stage:
            moment += _AGAIN
        if quiet and cause in told:
            moment = next((rest.end for rest in quiet if rest.end > moment and _after(cause, rest.end) in told), moment)
        elif quiet:  # also a stage that an outage passed over: the one after it counts from the end of the snooze
            moment = _after_the_snooze(moment, one.who, quiet)
        if stage > said and (call is None or moment <= now):
            waited = any(rest.end == moment for rest in quiet)
            call = _Call(one, stage, moment, (cause, _after(cause, moment)) if waited else (cause,))
        if moment > now and call is not None:
            break
    end = one.nudged_until or one.until
    if call is None or now - call.at > _STALE or (end is not None and max(call.at, now) >= end):
        return None
    return call


def _after(cause: str, end: datetime) -> str:
    """Told beside a cause that waited for the end of a snooze: the later stages count from there, also after a restart."""
    return f"{cause}/after {end.isoformat(timespec='seconds')}"


def _after_the_snooze(moment: datetime, who: Who, quiet: Sequence[Quiet]) -> datetime:
    """An unsaid stage waits for the end of a snooze, or of the one after it.

    One from before the snooze that is unsaid yet came to light late, by a late entry or one taken back: it waits too, unless it was
    too old to be said when the snooze began.
    """
    moved = True
    while moved:
        moved = False
        for rest in quiet:
            if rest.covers(who) and rest.start - _STALE <= moment < rest.end:
                moment, moved = rest.end, True
    return moment


def _grouped(calls: list[_Call], now: datetime) -> list[list[_Call]]:
    """Calls of one care as messages: one stage each, of those within ten minutes of the first; what came late all in one."""
    groups: list[list[_Call]] = []
    calls.sort(key=lambda call: (call.stage, call.at))
    for call in calls:
        if not groups or call.stage != groups[-1][0].stage or call.at - groups[-1][0].at > _TOGETHER:
            groups.append([])
        groups[-1].append(call)
    ready = [group for group in groups if group[0].at <= now]
    if any(now - group[0].at > _LATE for group in ready):
        late = sorted((call for group in ready for call in group), key=lambda call: call.at)
        return [late, *(group for group in groups if group[0].at > now)]
    return groups


def _nudge(nursery: Nursery, group: list[_Call], now: datetime) -> Notice:
    causes = tuple(cause for call in group for cause in call.causes)
    stage = max(call.stage for call in group)
    return nudge(nursery, [call.due for call in group], causes, stage=stage, at=group[0].at, now=now)
