"""Help: what can be said and asked, taken from the same words that the reader knows."""

from __future__ import annotations

import re

from bot.reports.answer import Answer
from bot.reports.asked import Asked
from parsers.vocabulary import load


def answer(asked: Asked) -> Answer:
    """One example of each kind of entry and of each question that can be answered; all examples of a kind where it is named."""
    kinds, words = load("kinds"), set(re.findall(r"[a-z]+", asked.words.casefold()))
    named = asked.question.of or next((kind for kind in kinds if words & {kind, f"{kind}s"}), None)
    if named in kinds:
        kind = kinds[named]
        return Answer(f"{named.capitalize()}, {kind['help']}. Say it like: {' · '.join(kind['examples'])}", about="help")
    questions = [topic["examples"][0] for name, topic in load("topics").items() if name != asked.question.topic]
    lines = [
        "Text me what you did or saw, in your own words, several things at once: “pup 3 212 g nursed 15 min cleared”.",
        f"I log: {' · '.join(kind['examples'][0] for kind in kinds.values())}.",
        f"Ask: {' · '.join(questions)}.",
        "Wrong? “no, 221”, “that was pup 4” or “undo”.",
        "More ways to say one: “how do I log a dose”.",
    ]
    return Answer("\n".join(lines), about="help")
