"""Charts of ten pups at eight weeks, with 100,000 entries: from the log to the picture, by the drawing process kept warm."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Iterator
from datetime import timedelta

from bot.care.nursery import Nursery
from bot.drawing.artist import Artist
from bot.reports import Asked, chart
from parsers.reading import Question
from tests.bench.answers import BORN, EVENTS, PUPS, WEEKS, written
from tests.bench.figures import line, median, milliseconds
from tests.care.written_log import CHICAGO

ROUNDS = 9
WARM_SECONDS = 0.200
ASKED = {
    "growth of the litter": Question(topic="chart"),
    "growth of a pup": Question(topic="chart", who=3),
    "the care of a night": Question(topic="chart", of="night"),
    "a pup's temperature": Question(topic="chart", who=3, of="temperature"),
}


def report() -> Iterator[str]:
    """The figures of charts, a line each."""
    yield from asyncio.run(_measured())


async def _measured() -> list[str]:
    entries = written(EVENTS)
    nursery, now = Nursery.fold(entries, CHICAGO), BORN + timedelta(weeks=WEEKS)
    artist = Artist()
    lines: list[str] = []
    try:
        for what, question in ASKED.items():
            asked = Asked(nursery=nursery, question=question, now=now, by="Ines", entries=entries)
            taken = []
            for _ in range(ROUNDS):
                began = time.perf_counter()
                drawn = chart.picture(asked)
                assert drawn is not None
                await artist.draw(drawn, "dark")
                taken.append(time.perf_counter() - began)
            if not lines:
                lines.append(line("the first chart, the beginning of its process included (ms)", milliseconds(taken[0])))
            warm = median(taken[1:])
            named = f"chart: {what}, {PUPS} pups, {EVENTS:,} events, p50 (ms)"
            lines.append(line(named, milliseconds(warm), "< 200", held=warm < WARM_SECONDS))
    finally:
        artist.close()
    return lines
