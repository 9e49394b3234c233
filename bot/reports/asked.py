"""What a question asks about: which dogs, and which span of time, by the litter's own days."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from bot.care.dog import Dog
from bot.care.nursery import Nursery
from bot.care.wording import say_list
from parsers.events import Who
from parsers.reading import Question


class Span(NamedTuple):
    """A stretch of time (UTC, both ends counted), and how it is said."""

    start: datetime
    end: datetime
    said: str


def span(nursery: Nursery, question: Question, now: datetime) -> Span:
    """The time asked about: today where nothing was said. A day runs from midnight to midnight on the litter's own clock."""
    midnight = start_of_day(nursery, now)
    match question.span:
        case "yesterday":
            return Span(start_of_day(nursery, now, days_back=1), midnight - timedelta(microseconds=1), "yesterday")
        case "24h":
            return Span(now - timedelta(hours=24), now, "in the last 24 h")
        case "week":
            return Span(start_of_day(nursery, now, days_back=6), now, "this week")
        case "all":
            return Span(datetime.min.replace(tzinfo=UTC), now, "so far")
        case _:
            return Span(midnight, now, "today")


def start_of_day(nursery: Nursery, moment: datetime, *, days_back: int = 0) -> datetime:
    """The midnight (UTC) at which the local day of a moment began, or one of the days before it."""
    local = moment.astimezone(nursery.zone)
    day = local.date() - timedelta(days=days_back)
    return datetime(day.year, day.month, day.day, tzinfo=nursery.zone).astimezone(UTC)


def one_asked(question: Question) -> bool:
    """Whether the question names exactly one dog: its figures then stand flat."""
    return question.who is not None and (not isinstance(question.who, tuple) or len(question.who) == 1)


def named(question: Question) -> tuple[Who, ...]:
    """The dogs that the question names; none for a question about the litter."""
    return () if question.who is None else question.who if isinstance(question.who, tuple) else (question.who,)


def no_such_pup(nursery: Nursery, question: Question) -> str:
    """What is said where none of the pups asked about is there."""
    if question.who is None:
        return "There is no pup in this litter yet."
    return f"There is no {say_list([f'pup {who}' for who in named(question)])} in this litter."


def pups_asked(nursery: Nursery, question: Question) -> tuple[Dog, ...]:
    """The pups that the question names, the dead ones too; every living one where it names none. None for a question about the dam."""
    if question.who is None:
        return nursery.living
    if question.who == "dam":
        return ()
    numbers = question.who if isinstance(question.who, tuple) else (question.who,)
    return tuple(pup for number in numbers if (pup := nursery.pups.get(number)) is not None)
