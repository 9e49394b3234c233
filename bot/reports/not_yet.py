"""What is asked and cannot be answered yet: said in one honest sentence, with what can be."""

from __future__ import annotations

from bot.reports.answer import Answer
from bot.reports.asked import Asked

_CAN = "I can tell gains, weights, who is due, when something was last done, and how a pup or the dam is."
_CANNOT = {
    "sheet": "I cannot print the sheet for the vet yet; `lampwatch log` on the bot's machine prints every entry.",
}


def answer(asked: Asked) -> Answer:
    """That it cannot be answered yet, and what can."""
    return Answer(f"{_CANNOT[asked.question.topic]} {_CAN}", about=asked.question.topic)


TOPICS = tuple(_CANNOT)
"""The topics that wait here."""
