"""Asking for tests: a question put to a log at a time."""

from __future__ import annotations

from typing import Any

from bot.reports import REPORTS, Answer
from parsers.reading import Question
from tests.care.written_log import Log


def ask(log: Log, wall: str, topic: str, **asked: Any) -> Answer:
    """The answer at that time on the wall."""
    question = Question.model_validate({"topic": topic} | asked)
    answer = REPORTS[topic](log.nursery(), question, log.moment(wall), "Ines")
    assert answer.about == topic
    return answer


def of(answer: Answer, who: int | str) -> dict[str, Any]:
    """The figures that an answer about several has for one of them."""
    found = answer.values[str(who)]
    assert isinstance(found, dict)
    return found
