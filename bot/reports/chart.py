"""Chart: growth, the care of a night, or temperatures, in words that stand by themselves; and the chart itself, as what is drawn."""

from __future__ import annotations

from types import ModuleType

from bot.charts import Chart
from bot.reports import growth_chart, night_chart, temperature_chart
from bot.reports.answer import Answer
from bot.reports.asked import Asked

_OF_CARE = frozenset(("night", "nursed", "fed", "refused", "cleared", "toilet"))
"""What a timeline shows, however it was asked for."""


def answer(asked: Asked) -> Answer:
    """The chart in words: what it shows, and its source."""
    return _of(asked).answer(asked)  # type: ignore[no-any-return]


def picture(asked: Asked) -> Chart | None:
    """What is drawn; None where there is nothing to draw."""
    return _of(asked).picture(asked)  # type: ignore[no-any-return]


def _of(asked: Asked) -> ModuleType:
    """Which of the charts is meant: the dam's is that of her temperature, a pup's that of its growth."""
    if asked.question.of in _OF_CARE:
        return night_chart
    return temperature_chart if asked.question.of == "temperature" or asked.question.who == "dam" else growth_chart
