"""How long an answer takes, topic by topic, on a long log: ten pups, eight weeks, 100,000 events; and the next due moment. Process time."""

from __future__ import annotations

import itertools
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime, timedelta
from typing import Any

from bot.care.choice import Choice
from bot.care.notices import next_moment, notices, standing
from bot.care.nursery import Nursery
from bot.reports import REPORTS, Asked
from parsers.events import Event
from parsers.reading import Question
from tests.bench.figures import line, median, milliseconds, percentile
from tests.care.written_log import CHICAGO, Told, event

PUPS, WEEKS, EVENTS = 10, 8, 100_000
ROUNDS = 10
ANSWER_SECONDS = 0.020
MOMENT_SECONDS = 0.005
BORN = datetime.fromisoformat("2026-01-05T09:40:00-06:00")
SPANS = (None, "today", "24h", "yesterday", "week", "all")
WHOS: tuple[Any, ...] = (None, 3, "dam", (1, 2))


def written(events: int) -> list[Told]:
    """A log of so many events, evenly over eight weeks: pups nursed, cleared, passed, placed, now and then weighed, fed, or unwell."""
    sets: dict[str, Any] = {
        "litter": {"pups": PUPS, "dam": "Juniper", "born": BORN.isoformat()},
        "every": {"care": "dose", "drug": "calcium", "minutes": 240},
    }
    entries = [Told(1, 1, BORN, "Ines", Choice.model_validate({"sets": sets, "by": "Ines"}))]
    apart = timedelta(weeks=WEEKS) / events
    for number in range(1, events):
        at, pup = BORN + apart * number, 1 + number // 6 % PUPS
        entries.append(Told(number + 1, number // 6 + 2, at, ("Ines", "Theo")[number // 900 % 2], _one(number, pup, number / events)))
    return entries


def _one(number: int, pup: int, share: float) -> Event:
    match number % 6, number // 6:
        case 0, _:
            return event("nursed", pup, minutes=10 + number % 7)
        case 1, _:
            return event("cleared", pup)
        case 2, _:
            return event("toilet", pup, urine=True, stool=number % 4 == 0)
        case 3, turn if turn % 16 < 2:
            return event("weight", pup, grams=round(200 + 2800 * share + number % 5, 1))
        case 3, _:
            return event("placed", pup, place=("box", "dam")[number % 2])
        case 4, turn if turn % 9 == 0:
            return event("sign", pup, sign=("crying", "restless", "thin", "cold")[turn % 4])
        case 4, turn if turn % 5 == 0:
            return event("dose", "dam", drug="calcium", amount=2, unit="click")
        case 4, turn if turn % 3 == 0:
            return event("intake", "dam", amount=("half", "all", "none")[turn % 3])
        case 4, _:
            return event("temperature", pup, celsius=36.5 + number % 9 / 10)
        case _, turn if turn % 2:
            return event("fed", pup, ml=4, food="formula")
        case _:
            return event("climate", place="box", celsius=27)


def report() -> Iterator[str]:
    """The figures of the answers, a line each topic, and of what is due next."""
    entries = written(EVENTS)
    nursery = Nursery.fold(entries, CHICAGO)
    now = entries[-1].told_at + timedelta(minutes=1)
    told = {cause for notice in notices(nursery, (), now) for cause in notice.causes}
    for topic in REPORTS:
        taken = [
            each for who, span in itertools.product(WHOS, SPANS) for each in _asked(topic, entries, nursery, now, told, who=who, span=span)
        ]
        p99 = percentile(taken, 99)
        yield line(
            f"answer, {topic}: p50, p99 (ms)", f"{milliseconds(median(taken))} {milliseconds(p99)}", "< 20", held=p99 < ANSWER_SECONDS
        )
    for what, work in (
        ("what is due next", lambda known: next_moment(known, told, now)),
        ("what is worrying", lambda known: standing(known, now)),
    ):
        taken = [_timed(work, _with_one_more(nursery, number, now)) for number in range(20 * ROUNDS)]
        p99 = percentile(taken, 99)
        yield line(f"{what}: p50, p99 (ms)", f"{milliseconds(median(taken))} {milliseconds(p99)}", "< 5", held=p99 < MOMENT_SECONDS)


def _asked(topic: str, entries: Sequence[Told], nursery: Nursery, now: datetime, told: set[str], **about: Any) -> Iterator[float]:
    question = Question.model_validate({"topic": topic} | about)
    for number in range(ROUNDS):
        known = _with_one_more(nursery, number, now)
        asked = Asked(nursery=known, question=question, now=now, by="Ines", entries=entries, told=told, people=("Ines", "Theo"))
        yield _timed(REPORTS[topic], asked)


def _with_one_more(nursery: Nursery, number: int, now: datetime) -> Nursery:
    """As after a message: what was worked out for one pup is not known any more."""
    return nursery.after([Told(0, 0, now, "Ines", event("weight", 1 + number % PUPS, grams=3000))])


def _timed(work: Callable[[Any], object], given: object) -> float:
    started = time.process_time()
    work(given)
    return time.process_time() - started
