"""Away is the time since someone's own last watch: what a handover tells them about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta

from bot.care.choice import Choice
from bot.care.figures import figures
from bot.care.nursery import Entry
from bot.care.wording import at_time, say_span
from bot.reports.asked import Asked, Span

_FIGURES = figures("handover")
_UNCLEAR = timedelta(hours=_FIGURES.number("where_unclear"))
_MOST = timedelta(hours=_FIGURES.number("at_most"))
_SITTING = timedelta(minutes=_FIGURES.number("same_sitting"))


def away(asked: Asked) -> Span:
    """The span that was asked about; else the time since the end of the asker's last watch, by hand or by the roster; else since they
    last wrote before someone else did; else the last hours. It goes no further back than its figure: a handover is no history."""
    now = asked.now
    if asked.question.span is not None:
        asked_for = asked.span
        return asked_for if asked_for.start >= now - _MOST else _lately(now, _MOST)
    recent = list(since(asked.entries, now - _MOST))
    watched, wrote = _watch_ended(asked, recent), _last_wrote(asked, recent)
    start, why = (watched, "when your watch ended") if watched else (wrote, "when you last wrote") if wrote else (now - _UNCLEAR, "")
    if not why or now - start > _MOST:
        return _lately(now, min(now - start, _MOST))
    return Span(start, now, f"Since {at_time(start, now, asked.nursery.zone).removeprefix('at ').removeprefix('on ')}, {why}")


def _lately(now: datetime, span: timedelta) -> Span:
    return Span(now - span, now, f"In the last {say_span(span.total_seconds() / 60)}")


def since(entries: Sequence[Entry], start: datetime) -> Iterator[Entry]:
    """The entries told after a moment, the latest first: looked for from the end, so it takes as long as that time was busy.

    A correction is passed over: it was told when what it corrects was (see Asked.entries), which may be long before.
    """
    for entry in reversed(entries):
        if entry.told_at > start:
            yield entry
        elif entry.replaces is None:
            return


def _watch_ended(asked: Asked, recent: Sequence[Entry]) -> datetime | None:
    """When the asker's last watch ended; None: they had none, or it is not over."""
    return max((end for end in (*_by_hand(asked, recent), *_by_roster(asked, recent)) if end <= asked.now), default=None)


def _by_hand(asked: Asked, recent: Sequence[Entry]) -> Iterator[datetime]:
    """The ends of the watches that the asker took: as they said, or when the next one was taken."""
    next_taken: datetime | None = None
    for entry in recent:
        if not isinstance(entry.event, Choice) or "on_duty" not in entry.event.sets.model_fields_set:
            continue
        sets = entry.event.sets
        if (sets.on_duty or "").casefold() == asked.by.casefold():
            ends = [end.astimezone(UTC) for end in (sets.until, next_taken) if end is not None]
            if ends:
                yield min(ends)
        next_taken = entry.told_at


def _by_roster(asked: Asked, recent: Sequence[Entry]) -> Iterator[datetime]:
    """The last end of each of the asker's shifts, if the roster was told by then."""
    zone = asked.nursery.zone
    told = next((entry.told_at for entry in recent if isinstance(entry.event, Choice) and entry.event.sets.roster is not None), None)
    wall = asked.now.astimezone(zone)
    for shift in asked.nursery.choices.roster:
        if shift.who.casefold() == asked.by.casefold():
            day = wall.date() if shift.end <= wall.time() else wall.date() - timedelta(days=1)
            end = datetime.combine(day, shift.end, tzinfo=zone).astimezone(UTC)
            if told is None or told < end:
                yield end


def _last_wrote(asked: Asked, recent: Sequence[Entry]) -> datetime | None:
    """When the asker last wrote, before this sitting, and someone else wrote after it."""
    fresh = [entry for entry in recent if entry.replaces is None]
    people = {*asked.people} or {entry.by for entry in fresh}  # a sensor at the box is none
    others = max((entry.told_at for entry in fresh if entry.by in people - {asked.by}), default=None)
    mine = sorted({*asked.wrote, *(entry.told_at for entry in fresh if entry.by == asked.by)}, reverse=True)
    sitting = asked.now
    for wrote in mine:
        if sitting - wrote > _SITTING and others is not None and wrote < others:
            return wrote
        if sitting - wrote <= _SITTING:
            sitting = wrote
    return None
