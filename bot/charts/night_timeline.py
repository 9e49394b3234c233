"""The timeline of a night: who nursed, was fed, was cleared, passed what, and when."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from bot.care.dog import Dog
from bot.care.doing import Doing
from bot.care.nursery import Nursery
from bot.charts.axes import clock_axis, days
from bot.charts.chart import Mark, Row, Shape, Timeline
from parsers.events.toilet import Toilet

KINDS: tuple[Shape, ...] = ("nursed", "fed", "refused", "cleared", "stool", "urine")
"""What is shown, in the order in which it is explained."""
_SHORTEST = timedelta(hours=1)


def shape_of(done: Doing) -> Shape | None:
    """What a doing is shown as; None where it is not. A toilet that brought nothing is none: what is shown came."""
    event = done.event
    if isinstance(event, Toilet):
        return "stool" if event.stool else "urine" if event.urine else None
    return event.kind if event.kind in ("nursed", "fed", "refused", "cleared") else None  # type: ignore[return-value]


def night_timeline(
    nursery: Nursery, pups: Sequence[Dog], doings: Iterable[Doing], start: datetime, end: datetime, *, title: str, alt: str
) -> Timeline:
    """The chart of these pups, of what began between two moments (UTC)."""
    end = max(end, start + _SHORTEST)
    found: dict[object, list[tuple[Shape, Doing]]] = {pup.who: [] for pup in pups}
    for done in doings:
        shape = shape_of(done)
        who = getattr(done.event, "who", None)
        if shape is not None and who in found and start <= done.began <= end:
            found[who].append((shape, done))
    kinds = tuple([kind for kind in KINDS if any(shape == kind for marks in found.values() for shape, _ in marks)])
    rows = [
        Row(
            label=pup.labelled,
            marks=tuple([
                Mark(kind=kinds.index(shape), start=days(done.began - start), end=days(min(done.ended, end) - start))
                for shape, done in sorted(found[pup.who], key=lambda mark: mark[1].began)
            ]),
        )
        for pup in pups
    ]  # fmt: skip
    return Timeline(title=title, caption="", alt=alt, x=clock_axis(start, end, nursery.zone), kinds=kinds, rows=tuple(rows))
