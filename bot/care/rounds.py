"""Rounds are the care that is due: who is next for what, and what is said about it, and when."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from pydantic import JsonValue

from bot.care.choice import Quiet
from bot.care.dog import Dog, Doing
from bot.care.figures import figures
from bot.care.notice import EVERYONE, Notice
from bot.care.nursery import Nursery
from bot.care.wording import say_list, say_span, say_time
from parsers.events import Who

_FIGURES = figures("rounds")
_AGAIN = timedelta(minutes=_FIGURES.number("repeat_after"))
_TOGETHER = timedelta(minutes=_FIGURES.number("together_within"))
_LATE = timedelta(minutes=_FIGURES.number("late_by"))
_STALE = timedelta(hours=_FIGURES.number("left_to_the_handover_after"))

STAGES = ("due", "+30", "+60")
"""A care that is due is said three times at most; the names of the stages stand in the causes that the journal keeps."""
_LAST_STAGE = len(STAGES) - 1


@dataclass(frozen=True, slots=True)
class Due:
    """Care of one dog that is due at a moment, past or ahead."""

    care: str
    """`nursing`, `dose`."""
    who: Who
    at: datetime
    last: Doing
    """What it is counted from."""
    drug: str | None = None
    """For a dose: as the keeper last wrote it."""

    @property
    def cause(self) -> str:
        """What made it due. It names that event's time, so that a changed interval says nothing twice."""
        which = self.care if self.drug is None else f"{self.care}/{self.drug.casefold()}"
        return f"{which}/{self.who}/{self.last.cause}"


@dataclass(frozen=True, slots=True)
class _Call:
    """The next thing to be said of a due care: which stage, and when."""

    due: Due
    stage: int
    at: datetime


def due(nursery: Nursery) -> list[Due]:
    """All care that is or will be due, the earliest first."""
    found = [one for pup in nursery.living if (one := _nursing(nursery, pup)) is not None]
    for dog in (nursery.dam, *nursery.living):
        found += _doses(nursery, dog)
    return sorted(found, key=lambda one: one.at)


def notices(nursery: Nursery, told: Collection[str], now: datetime) -> list[Notice]:
    """What is to be said of due care: what is to be said now (`at` not after `now`), and the next of each that lies ahead."""
    return [_notice(nursery, group, now) for group in _groups(nursery, told, now)]


def next_moment(nursery: Nursery, told: Collection[str], now: datetime) -> datetime | None:
    """The earliest `at` of the notices, without putting them into words; None: nothing lies ahead."""
    return min((call.at for group in _groups(nursery, told, now) for call in group), default=None)


def interval(nursery: Nursery, pup: Dog, began: datetime) -> float | None:
    """Minutes between nursings for a pup of its age when it began the last one; None: no longer by the clock.

    Where its birth was not told, a pup counts as newborn: better a nudge too many.
    """
    day = nursery.age_day(pup, began) or 0
    chosen = nursery.choices.every.get("nursing")
    if chosen is not None and _FIGURES.on_day("nursing_interval_by_choice", day) is not None:
        return chosen
    return _FIGURES.on_day("nursing_interval", day)


def _nursing(nursery: Nursery, pup: Dog) -> Due | None:
    last = pup.last_fed()
    minutes = None if last is None else interval(nursery, pup, last.began)
    if last is None or minutes is None:
        return None
    return Due("nursing", pup.who, last.began + timedelta(minutes=minutes), last)


def _doses(nursery: Nursery, dog: Dog) -> Iterable[Due]:
    if dog.died_at is not None or not nursery.choices.plan:
        return
    plan = nursery.choices.plan
    for drug, given in dog.doses.items():
        minutes = plan.get(drug, plan.get(""))
        if minutes is not None:
            name = str(getattr(given.last.event, "drug", drug))
            yield Due("dose", dog.who, given.last.began + timedelta(minutes=minutes), given.last, name)


def _groups(nursery: Nursery, told: Collection[str], now: datetime) -> list[list[_Call]]:
    by_care: dict[str, list[_Call]] = {}
    for one in due(nursery):
        if one.care not in nursery.choices.silent:
            call = _next_call(one, nursery.choices.quiet, told, now)
            if call is not None:
                by_care.setdefault(one.care, []).append(call)
    return [group for calls in by_care.values() for group in _grouped(calls, now)]


def _next_call(one: Due, quiet: Iterable[Quiet], told: Collection[str], now: datetime) -> _Call | None:
    """The latest stage that is past and unsaid, else the next one; None: all is said, or too old to be said."""
    cause = one.cause
    said = max((stage for stage in range(len(STAGES)) if f"{cause}/{STAGES[stage]}" in told), default=-1)
    moment = one.at
    call = None
    for stage in range(len(STAGES)):
        if stage:
            moment += _AGAIN
        moment = _after_the_snooze(moment, one.who, quiet, stage <= said)
        if stage > said and (call is None or moment <= now):
            call = _Call(one, stage, moment)
    return None if call is None or now - call.at > _STALE else call


def _after_the_snooze(moment: datetime, who: Who, quiet: Iterable[Quiet], was_said: bool) -> datetime:
    """A stage within a snooze is said at its end; one that was said in the minute in which the snooze began was before it."""
    moved = True
    while moved:
        moved = False
        for rest in quiet:
            if rest.covers(who) and moment < rest.end and (rest.start < moment or (rest.start == moment and not was_said)):
                moment, moved = rest.end, True
    return moment


def _grouped(calls: list[_Call], now: datetime) -> list[list[_Call]]:
    """Calls of one care as messages: one stage each, of those within ten minutes of the first; what came late all in one."""
    groups: list[list[_Call]] = []
    for stage in range(len(STAGES)):
        first: datetime | None = None
        for call in sorted((call for call in calls if call.stage == stage), key=lambda call: call.at):
            if first is None or call.at - first > _TOGETHER:
                first = call.at
                groups.append([])
            groups[-1].append(call)
    ready = [group for group in groups if group[0].at <= now]
    if any(now - group[0].at > _LATE for group in ready):
        return [[call for group in ready for call in group], *(group for group in groups if group[0].at > now)]
    return groups


def _notice(nursery: Nursery, group: list[_Call], now: datetime) -> Notice:
    at, stage = min(call.at for call in group), max(call.stage for call in group)
    said_at = max(at, now)
    dues = sorted((call.due for call in group), key=lambda one: (one.who == "dam", 0 if one.who == "dam" else one.who, one.at))
    return Notice(
        says="nudge",
        about=dues[0].care,
        who=tuple(dict.fromkeys(one.who for one in dues)),
        at=at,
        urgency="soon" if stage else "routine",
        text=_text(nursery, dues, stage, said_at),
        to=EVERYONE if stage == _LAST_STAGE else nursery.on_duty(said_at) or EVERYONE,
        causes=tuple(f"{call.due.cause}/{STAGES[call.stage]}" for call in group),
        values=due_values(dues),
    )


def due_values(dues: Sequence[Due]) -> dict[str, JsonValue]:
    """When each dog is due and since when, by its number; for one dog flat. Of several things for one dog, the earliest."""
    values: dict[str, JsonValue] = {}
    for one in sorted(dues, key=lambda one: one.at, reverse=True):
        mine: dict[str, JsonValue] = {"care": one.care, "due_at": one.at.isoformat(), "last_at": one.last.began.isoformat()}
        values[str(one.who)] = mine if one.drug is None else mine | {"drug": one.drug}
    only = next(iter(values.values())) if len(values) == 1 else None
    return only if isinstance(only, dict) else values


def _text(nursery: Nursery, dues: Sequence[Due], stage: int, now: datetime) -> str:
    nursing = dues[0].care == "nursing"
    if len(dues) == 1:
        one = dues[0]
        late = f"{say_span((now - one.at).total_seconds() / 60)} overdue" if stage else "due"
        if nursing:
            return f"{nursery.called(one.who)} is {late} to nurse: {_last(nursery, one, now)}."
        return f"The next {one.drug} for {_for(nursery, one)} is {late}: {_last(nursery, one, now)}."
    head = f"{'Overdue' if stage else 'Due'}{' to nurse' if nursing else ''}: "
    return head + say_list([_part(nursery, one, stage, now) for one in dues]) + "."


def _part(nursery: Nursery, one: Due, stage: int, now: datetime) -> str:
    minutes = (now - one.at).total_seconds() / 60
    late = f"{say_span(minutes)}, " if stage and minutes >= 1 else ""
    name = nursery.called(one.who) if one.drug is None else f"{one.drug} for {_for(nursery, one)}"
    return f"{name} ({late}{_last(nursery, one, now)})"


def _last(nursery: Nursery, one: Due, now: datetime) -> str:
    return f"last {one.last.event.kind if one.drug is None else 'given'} {say_time(one.last.began, now, nursery.zone)}"


def _for(nursery: Nursery, one: Due) -> str:
    return "the dam" if nursery.called(one.who) == "The dam" else nursery.called(one.who)
