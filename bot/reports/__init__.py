"""One file a question: the answers, worked out from the nursery. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime

from bot.care.nursery import Nursery
from bot.reports import due, gains, help, last, not_yet, status, weights, worry
from bot.reports.answer import Answer
from parsers.reading import Question

Report = Callable[[Nursery, Question, datetime, str], Answer]
"""A report answers a question about a litter, at a time, for the person who asks."""

REPORTS: Mapping[str, Report] = {
    "gains": gains.answer,
    "weights": weights.answer,
    "due": due.answer,
    "last": last.answer,
    "status": status.answer,
    "help": help.answer,
    "worry": worry.answer,
    **dict.fromkeys(not_yet.TOPICS, not_yet.answer),
}
"""Every topic of the reader and the report that answers it."""

__all__ = ["REPORTS", "Answer", "Report"]
