"""The chart of a night: who nursed, was fed, was cleared and passed what, when; in words and as what is drawn."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time, timedelta

from pydantic import JsonValue

from bot.care.doing import Doing, doing
from bot.care.wording import iso, say_time
from bot.charts import Timeline
from bot.charts.night_timeline import KINDS, night_timeline, shape_of
from bot.reports.answer import Answer
from bot.reports.asked import Asked
from parsers.events import Event

NIGHT_FROM, NIGHT_UNTIL = time(20), time(8)
"""What counts as the night, by the wall clock: the last one, or the one that is. Our choice: from the evening round to the morning's."""
_SAID = {"nursed": "nursed", "fed": "fed", "refused": "refused", "cleared": "cleared", "stool": "stool", "urine": "urine only"}


def answer(asked: Asked) -> Answer:
    """The night in words: how often each pup nursed, was fed, was cleared and passed stool, and when last."""
    pups = asked.pups
    if not pups:
        return Answer(asked.no_such_pup, about="chart", who=asked.named)
    start, end = when(asked)
    done = done_between(asked, start, end)
    span = (
        f"{say_time(start, asked.now, asked.nursery.zone)} to {'now' if end == asked.now else say_time(end, asked.now, asked.nursery.zone)}"
    )
    mine = {pup.who: [one for one in done if getattr(one.event, "who", None) == pup.who and shape_of(one)] for pup in pups}
    if not any(mine.values()):
        return Answer(f"Nothing was logged of {asked.nursery.together(mine)} from {span}.", about="chart", who=asked.named)
    lines = [f"Chart of the care from {span}:", *(f"{pup.called}: {_counts(asked, mine[pup.who])}." for pup in pups)]
    each: dict[str, JsonValue] = {str(pup.who): _values(asked, mine[pup.who]) for pup in pups}
    flat = asked.names_one and isinstance(alone := each[str(pups[0].who)], dict)
    return Answer("\n".join(lines), alone if flat else each, "chart", asked.named, "chart")  # type: ignore[arg-type]


def picture(asked: Asked) -> Timeline | None:
    """What is drawn of it."""
    pups = asked.pups
    if not pups:
        return None
    start, end = when(asked)
    said = answer(asked)
    wall, later = (moment.astimezone(asked.nursery.zone) for moment in (start, end))
    days = f"{wall.day} {wall:%b}" if wall.date() == later.date() else f"{wall.day} {wall:%b} to {later.day} {later:%b}"
    return night_timeline(
        asked.nursery, pups, done_between(asked, start, end), start, end, title=f"Who was tended, and when: {days}", alt=said.text
    )


def when(asked: Asked) -> tuple[datetime, datetime]:
    """The span asked about; where none was said, the night that is, or the last one."""
    if asked.question.span is not None:
        return asked.span.start, asked.span.end
    zone = asked.nursery.zone
    wall = asked.now.astimezone(zone)
    evening = wall.date() if wall.time() >= NIGHT_FROM else wall.date() - timedelta(days=1)
    start = datetime.combine(evening, NIGHT_FROM, zone).astimezone(asked.now.tzinfo)
    end = datetime.combine(evening + timedelta(days=1), NIGHT_UNTIL, zone).astimezone(asked.now.tzinfo)
    return start, min(end, asked.now)


def done_between(asked: Asked, start: datetime, end: datetime) -> list[Doing]:
    """What began between two moments, in the order told. What was told long before its time there is not, so the walk ends early."""
    found: list[Doing] = []
    for entry in reversed(asked.entries):
        if entry.told_at < start and entry.replaces is None:
            break
        if isinstance(entry.event, Event) and start <= (done := doing(entry.event, entry.told_at, entry.by)).began <= end:
            found.append(done)
    return found[::-1]


def _counts(asked: Asked, done: Sequence[Doing]) -> str:
    said = []
    for kind in KINDS:
        of_kind = [one for one in done if shape_of(one) == kind]
        if of_kind:
            last = max(of_kind, key=lambda one: one.began)
            said.append(f"{_SAID[kind]} {len(of_kind)} (last {say_time(last.began, asked.now, asked.nursery.zone)})")
    return ", ".join(said) or "nothing logged"


def _values(asked: Asked, done: Sequence[Doing]) -> dict[str, JsonValue]:
    values: dict[str, JsonValue] = {}
    for kind in KINDS:
        of_kind = [one for one in done if shape_of(one) == kind]
        if of_kind:
            values[f"{kind}_count"] = len(of_kind)
            values[f"{kind}_last_at"] = iso(max(one.began for one in of_kind), asked.nursery.zone)
    return values
