"""Weights: the last weight of each, or the weights of a span of days."""

from __future__ import annotations

from datetime import datetime

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.nursery import Nursery
from bot.care.weighings import Weighing
from bot.care.wording import iso, say_time, say_weight
from bot.reports.answer import Answer
from bot.reports.asked import Asked

_MOST = 20
"""Weighings listed in one answer: a screen of a phone. The figures beside the text hold them all."""


def answer(asked: Asked) -> Answer:
    """The last weights of those asked about; with a span, their weights in it."""
    nursery, question, now = asked.nursery, asked.question, asked.now
    dogs = (nursery.dam,) if question.who == "dam" else asked.pups
    if not dogs:
        return Answer(asked.no_such_pup, about="weights")
    if asked.names_one:
        return _of_one(asked, dogs[0])
    weighed, missing = {}, []
    span = asked.span
    for dog in dogs:
        weighing = dog.weighings.latest(span.end)
        if weighing is None or (question.span is not None and weighing.at < span.start):
            missing.append(dog)
        else:
            weighed[int(dog.who)] = weighing
    when = f" {span.said}" if question.span is not None else " yet"
    lines = [f"{nursery.called(number)}: {_said(nursery, weighing, now)}." for number, weighing in weighed.items()]
    if missing:
        lines.append(f"Not weighed{when}: {nursery.together(dog.who for dog in missing)}.")
    values: dict[str, JsonValue] = {str(number): _values(nursery, weighing) for number, weighing in weighed.items()}
    values["not_weighed"] = [int(dog.who) for dog in missing]
    return Answer("\n".join(lines), values, "weights", tuple(dog.who for dog in dogs) if asked.named else ())


def _of_one(asked: Asked, dog: Dog) -> Answer:
    nursery, now, span = asked.nursery, asked.now, asked.span
    latest = dog.weighings.latest(span.end)
    if latest is None:
        return Answer(f"{dog.called} has not been weighed yet.", about="weights", who=(dog.who,))
    if asked.question.span is None:
        return Answer(f"{dog.called}: {_said(nursery, latest, now)}.", _values(nursery, latest), "weights", (dog.who,))
    found = dog.weighings.between(span.start, span.end)
    if not found:
        last = f"the last weight was {_said(nursery, latest, now)}"
        return Answer(f"{dog.called} was not weighed {span.said}; {last}.", _values(nursery, latest), "weights", (dog.who,))
    left_out = f" (the last {_MOST} of {len(found)})" if len(found) > _MOST else ""
    said = "; ".join(_said(nursery, weighing, now) for weighing in found[-_MOST:])
    values = _values(nursery, found[-1]) | {"weights": [_values(nursery, weighing) for weighing in found]}
    return Answer(f"{dog.called} {span.said}{left_out}: {said}.", values, "weights", (dog.who,))


def _said(nursery: Nursery, weighing: Weighing, now: datetime) -> str:
    return f"{say_weight(weighing.grams, nursery.units)}, {say_time(weighing.at, now, nursery.zone)}"


def _values(nursery: Nursery, weighing: Weighing) -> dict[str, JsonValue]:
    return {"grams": weighing.grams, "last_at": iso(weighing.at, nursery.zone)}
