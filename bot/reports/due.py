"""Due: who is overdue, and who is next for what."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import datetime

from bot.care.choice import care_named
from bot.care.due import Due
from bot.care.nudge import TO_DO, due_values, last_done, whose
from bot.care.nursery import Nursery
from bot.care.rounds import due
from bot.care.wording import at_time, say_list, say_span
from bot.reports.answer import Answer, on_a_screen
from bot.reports.asked import Asked
from parsers.events import KINDS

_ALSO = {"nursing": ("first milk",), "temperature": ("dam check",)}
"""What else is meant by a care that is asked about: a newborn's first nursing, the dam's daily check with its temperature."""


def answer(asked: Asked) -> Answer:
    """What is due for those asked about: the overdue first, then the rest in order of time.

    Care that the household silenced is told of only where it is asked for by its name.
    """
    nursery = asked.nursery
    care, drug = _care_asked(asked.question.of)
    cares = None if care is None else (care, *_ALSO.get(care, ()))
    wanted = [
        one
        for one in due(nursery, asked.now)
        if (one.care in cares if cares is not None else not nursery.choices.silences(one.care, one.drug))
        and (drug is None or (one.drug or "").casefold() == drug)
        and (one.who in asked.named or not asked.named)
    ]
    if not wanted:
        return Answer(_nothing(asked, care, drug), about="due", who=asked.named)
    who = asked.named or tuple(dict.fromkeys(one.who for one in wanted))
    values = due_values(wanted, nursery.zone, flat=drug is not None or asked.names_one)
    return Answer(_text(asked, wanted, care), values, "due", who)


def _care_asked(of: str | None) -> tuple[str | None, str | None]:
    """The care and the drug that a question is about."""
    if of is None:
        return None, None
    care = care_named(of)
    return (care, None) if of in KINDS or care in TO_DO else ("dose", of.casefold())


def _text(asked: Asked, dues: Sequence[Due], care: str | None) -> str:
    nursery, now = asked.nursery, asked.now
    late = _by_care(one for one in dues if one.at < now)
    ahead = _by_care(one for one in dues if one.at >= now)
    lines = [f"Overdue{of}: {_listed(nursery, ones, lambda one: _late(nursery, one, now))}." for of, ones in late.items()]
    lines = lines or ["No one is overdue."]
    lines += [f"Next{of}: {_listed(nursery, ones, lambda one: at_time(one.at, now, nursery.zone))}." for of, ones in ahead.items()]
    milk = {one.who for one in dues if one.care == "first milk"}
    unfed = [pup.who for pup in nursery.living if pup.last_fed() is None and pup.who not in milk]
    if unfed and not asked.named and care in (None, "nursing"):
        lines.append(f"Not nursed or fed yet: {nursery.together(unfed)}.")
    return on_a_screen(lines)


def _by_care(dues: Iterable[Due]) -> dict[str, list[Due]]:
    """Care of one kind together, the kind that is due first before the others."""
    found: dict[str, list[Due]] = {}
    for one in dues:
        found.setdefault(f" {TO_DO[one.care]}" if one.care in TO_DO else "", []).append(one)
    return found


def _late(nursery: Nursery, one: Due, now: datetime) -> str:
    last = last_done(nursery, one, now)
    return f"by {say_span((now - one.at).total_seconds() / 60)}{f' ({last})' if last else ''}"


def _listed(nursery: Nursery, dues: Sequence[Due], say: Callable[[Due], str]) -> str:
    """`Pups 1 and 2 at 7:04 am and Pup 3 at 7:44 am`: those of the same words together."""
    parts: dict[str, list[Due]] = {}
    for one in dues:
        parts.setdefault(say(one), []).append(one)
    return say_list([f"{whose(nursery, ones)} {said}" for said, ones in parts.items()])


_NONE = {
    "dose": "No dose is due: tell me a drug and how often your vet wants it given, and I will say when the next one is due.",
    "clearing": "No one is to be cleared now: I ask for it after each nursing or feed.",
    "toilet": "No one is to be stimulated now: I ask for it after each nursing or feed, until three weeks.",
    "weighing": "No weigh-in lies ahead by the calendar: from a month on the pups are weighed as you like.",
    "temperature": "Nothing is due. For the temperatures say how often, like “temperature every 4 hours”.",
}
"""Why a care that was asked about is not due."""


def _nothing(asked: Asked, care: str | None, drug: str | None) -> str:
    """Why there is no due time."""
    nursery = asked.nursery
    if drug is not None:
        if drug not in nursery.choices.plan:
            return f"There is no plan for {drug}: tell me how often your vet wants it given, and I will say when it is due."
        return f"No {drug} is in the log yet, so I cannot say when the next one is due."
    if care == "dose" or asked.question.who == "dam":
        return _NONE[care or "dose"] if care is None or care in _NONE else _NONE["dose"]
    pups = asked.pups
    if not pups:
        return asked.no_such_pup
    if all(pup.died_at is not None for pup in pups):
        return f"Nothing is due: {nursery.together(pup.who for pup in pups)} died."
    if care in _NONE:
        return _NONE[care]
    if all(pup.last_fed() is None for pup in pups):
        return f"No nursing or feed of {nursery.together(pup.who for pup in pups)} is in the log yet, so I cannot say who is due."
    return "Nothing is due by the clock: from three weeks on the pups nurse as they like."
