"""Weights: the last weight of each, or the weights of a span of days."""

from __future__ import annotations

from datetime import datetime

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.nursery import Nursery
from bot.care.weighings import Weighing
from bot.care.wording import iso, say_time, say_weight
from bot.reports.answer import Answer
from bot.reports.asked import no_such_pup, one_asked, pups_asked, span
from parsers.reading import Question

_MOST = 20
"""Weighings listed in one answer: a screen of a phone. The figures beside the text hold them all."""


def answer(nursery: Nursery, question: Question, now: datetime, by: str) -> Answer:
    """The last weights of those asked about; with a span, their weights in it."""
    dogs = (nursery.dam,) if question.who == "dam" else pups_asked(nursery, question)
    if not dogs:
        return Answer(no_such_pup(nursery, question), about="weights")
    if one_asked(question):
        return _of_one(nursery, dogs[0], question, now)
    weighed, missing = {}, []
    asked = span(nursery, question, now)
    for dog in dogs:
        weighing = dog.weighings.latest(asked.end)
        if weighing is None or (question.span is not None and weighing.at < asked.start):
            missing.append(dog)
        else:
            weighed[int(dog.who)] = weighing
    when = f" {asked.said}" if question.span is not None else " yet"
    lines = [f"{nursery.called(number)}: {_said(nursery, weighing, now)}." for number, weighing in weighed.items()]
    if missing:
        lines.append(f"Not weighed{when}: {nursery.together(dog.who for dog in missing)}.")
    values: dict[str, JsonValue] = {str(number): _values(nursery, weighing) for number, weighing in weighed.items()}
    values["not_weighed"] = [int(dog.who) for dog in missing]
    return Answer("\n".join(lines), values, "weights", tuple(dog.who for dog in dogs) if question.who is not None else ())


def _of_one(nursery: Nursery, dog: Dog, question: Question, now: datetime) -> Answer:
    asked = span(nursery, question, now)
    latest = dog.weighings.latest(asked.end)
    if latest is None:
        return Answer(f"{dog.called} has not been weighed yet.", about="weights", who=(dog.who,))
    if question.span is None:
        return Answer(f"{dog.called}: {_said(nursery, latest, now)}.", _values(nursery, latest), "weights", (dog.who,))
    found = dog.weighings.between(asked.start, asked.end)
    if not found:
        last = f"the last weight was {_said(nursery, latest, now)}"
        return Answer(f"{dog.called} was not weighed {asked.said}; {last}.", _values(nursery, latest), "weights", (dog.who,))
    left_out = f" (the last {_MOST} of {len(found)})" if len(found) > _MOST else ""
    said = "; ".join(_said(nursery, weighing, now) for weighing in found[-_MOST:])
    values = _values(nursery, found[-1]) | {"weights": [_values(nursery, weighing) for weighing in found]}
    return Answer(f"{dog.called} {asked.said}{left_out}: {said}.", values, "weights", (dog.who,))


def _said(nursery: Nursery, weighing: Weighing, now: datetime) -> str:
    return f"{say_weight(weighing.grams, nursery.units)}, {say_time(weighing.at, now, nursery.zone)}"


def _values(nursery: Nursery, weighing: Weighing) -> dict[str, JsonValue]:
    return {"grams": weighing.grams, "last_at": iso(weighing.at, nursery.zone)}
