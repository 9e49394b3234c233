"""Asking for tests: a question put to a log at a time."""

from __future__ import annotations

from typing import Any

from bot.reports import REPORTS, Answer, Asked
from parsers.reading import Question
from tests.care.written_log import Log


def asked(log: Log, wall: str, topic: str, by: str = "Ines", words: str = "", **about: Any) -> Asked:
    """A question put to the log at that time on the wall."""
    question = Question.model_validate({"topic": topic} | about)
    return Asked(nursery=log.nursery(), question=question, now=log.moment(wall), by=by, words=words, entries=log.entries)


def ask(log: Log, wall: str, topic: str, **about: Any) -> Answer:
    """The answer at that time on the wall."""
    answer = REPORTS[topic](asked(log, wall, topic, **about))
    assert answer.about == topic
    return answer


def of(answer: Answer, who: int | str) -> dict[str, Any]:
    """The figures that an answer about several has for one of them."""
    found = answer.values[str(who)]
    assert isinstance(found, dict)
    return found
