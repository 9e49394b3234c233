"""Looking back: what an answer could look at when it was given, so that the chart beside it can be drawn as it was then, at any time."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ValidationError

from bot.conversation.log import Log
from bot.reports import Answer, Asked
from parsers.reading import Question
from storage import Journal, KeptMessage


def shown(answer: Answer, question: Question) -> dict[str, Any]:
    """What is kept beside the message that asks, where its answer shows more than words: what it shows, and what was asked."""
    return {"shows": answer.shows, "asked": question.model_dump(mode="json", exclude_none=True)} if answer.shows else {}


def looking_back(journal: Journal[BaseModel], log: Log, answer: KeptMessage) -> Asked | None:
    """The question of an answer, with the litter and the log as they were known then; None where the answer shows nothing but words."""
    asking = next(iter(journal.messages([answer.reply_to or 0])), None)
    if asking is None or answer.says != "answer" or "shows" not in asking.values or asking.litter is None:
        return None
    try:
        question = Question.model_validate(asking.values["asked"])
    except ValidationError:  # asked of another version of the bot
        return None
    entries, nursery = log.then(asking.id, journal.replaced_since(asking.litter, asking.id))
    return Asked(nursery=nursery, question=question, now=answer.at, by=asking.by, words=asking.text, entries=entries)
