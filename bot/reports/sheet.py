"""Sheet: what is printed for the vet or the new owner. The answer says what it holds; the page beside it opens it."""

from __future__ import annotations

import re
from datetime import UTC, datetime

from bot.care.wording import say_span
from bot.reports.answer import Answer
from bot.reports.asked import Asked
from bot.sheets import Sheet
from bot.sheets.compose import Wanted, compose

_HOLDS = "growth with its chart, feeds, signs, temperatures, doses, notes"
_HOW = "It opens as a PDF on the page; on the bot's machine: “lampwatch export --pdf” (or --csv, --json)."

_EACH = re.compile(r"\b(each|every|per)\s+(pup|puppy)\b", re.I)
"""Words beside the question that want a page for each pup too."""


def answer(asked: Asked) -> Answer:
    """What the sheet is of, what it holds, and how to get it."""
    pups = asked.pups
    if asked.question.who not in (None, "dam") and not pups:
        return Answer(asked.no_such_pup, about="sheet", who=asked.named)
    if not asked.entries:
        return Answer("Nothing is in the log yet, so there is nothing to print.", about="sheet")
    nursery = asked.nursery
    if asked.named and pups:
        whose = nursery.together(pup.who for pup in pups)
    else:
        dam = nursery.choices.dam
        whose = f"{dam}'s litter" if dam else "the litter"
        whose += f" ({len(nursery.living)} pups)" if nursery.pups else ""
    born = "" if nursery.born is None else f", {say_span((asked.now - nursery.born).total_seconds() / 60)} old"
    span = "" if asked.question.span is None else f", {asked.span.said}"
    return Answer(f"A sheet of {whose}{born}{span}: {_HOLDS}.\n{_HOW}", about="sheet", who=asked.named, shows="sheet")


def printed(asked: Asked) -> Sheet:
    """The sheet itself."""
    span = asked.question.span
    start, end = (datetime.min.replace(tzinfo=UTC), asked.now) if span is None else (asked.span.start, asked.span.end)
    each_pup = _EACH.search(asked.words) is not None
    pups = tuple(pup.who for pup in asked.pups) if asked.named and asked.question.who != "dam" else None
    return compose(asked.nursery, asked.entries, Wanted(start, end, pups, each_pup), asked.by)
