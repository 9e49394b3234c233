"""One file a question: the answers, worked out from the nursery. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from bot.reports import (
    board,
    calendar,
    chart,
    climate,
    due,
    feed_plan,
    gains,
    getting_ready,
    handover,
    help,
    last,
    sheet,
    status,
    weights,
    why,
    worry,
)
from bot.reports.answer import Answer
from bot.reports.asked import Asked

Report = Callable[[Asked], Answer]
"""A report answers a question from what it may look at; it never raises, and never fails to say something."""

REPORTS: Mapping[str, Report] = {
    "gains": gains.answer,
    "weights": weights.answer,
    "due": due.answer,
    "last": last.answer,
    "status": status.answer,
    "board": board.answer,
    "why": why.answer,
    "chart": chart.answer,
    "sheet": sheet.answer,
    "handover": handover.answer,
    "help": help.answer,
    "worry": worry.answer,
    "calendar": calendar.answer,
    "climate": climate.answer,
    "feed plan": feed_plan.answer,
    "getting ready": getting_ready.answer,
}
"""Every topic of the reader and the report that answers it."""

__all__ = ["REPORTS", "Answer", "Asked", "Report"]
