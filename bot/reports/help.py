"""Help: what can be said and asked, taken from the same words that the reader knows."""

from __future__ import annotations

from bot.reports.answer import Answer
from bot.reports.asked import Asked
from bot.reports.not_yet import TOPICS as NOT_YET
from parsers.vocabulary import load


def answer(asked: Asked) -> Answer:
    """One example of each kind of entry and of each question that can be answered; all examples of a kind where it is named."""
    question, kinds = asked.question, load("kinds")
    if question.of is not None and question.of in kinds:
        kind = kinds[question.of]
        examples = " · ".join(kind["examples"])
        return Answer(f"{question.of.capitalize()}, {kind['help']}. Say it like: {examples}", about="help")
    questions = [topic["examples"][0] for name, topic in load("topics").items() if name not in NOT_YET and name != question.topic]
    lines = ["Text me what you did or saw, in your own words and several things at once, like “pup 3 212 g nursed 15 min cleared”."]
    lines += [f"{kind['help'].capitalize()}: {kind['examples'][0]}" for kind in kinds.values()]
    lines.append(f"Ask: {' · '.join(questions)}.")
    lines.append("Wrong? “no, 221”, “that was pup 4” or “undo”.")
    return Answer("\n".join(lines), about="help")
