"""Due: who is overdue, and who is next for what."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from bot.care.choice import care_named
from bot.care.due import Due
from bot.care.nursery import Nursery
from bot.care.rounds import due, due_values
from bot.care.wording import at_time, say_list, say_span, say_time
from bot.reports.answer import Answer
from bot.reports.asked import Asked
from parsers.events import KINDS

_SPOKEN_OF = ("nursing", "dose")
"""The care whose due times are worked out so far."""


def answer(asked: Asked) -> Answer:
    """What is due for those asked about: the overdue first, then the rest in order of time."""
    nursery = asked.nursery
    care, drug = _care_asked(asked.question.of)
    if care is not None and care not in _SPOKEN_OF:
        return Answer(f"I do not keep due times for {care} yet: only for nursing and for doses on a plan.", about="due")
    wanted = [
        one
        for one in due(nursery)
        if (care is None or one.care == care)
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
    if of in KINDS or of in _SPOKEN_OF:
        return care_named(of), None
    return "dose", of.casefold()


def _text(asked: Asked, dues: Sequence[Due], care: str | None) -> str:
    nursery, now = asked.nursery, asked.now
    late = [one for one in dues if one.at < now]
    ahead = [one for one in dues if one.at >= now]
    lines = [f"Overdue: {_listed(nursery, late, lambda one: _late(nursery, one, now))}." if late else "No one is overdue."]
    if ahead:
        lines.append(f"Next: {_listed(nursery, ahead, lambda one: at_time(one.at, now, nursery.zone))}.")
    unfed = [pup.who for pup in nursery.living if pup.last_fed() is None]
    if unfed and not asked.named and care in (None, "nursing"):
        lines.append(f"Not nursed or fed yet: {nursery.together(unfed)}.")
    return "\n".join(lines)


def _late(nursery: Nursery, one: Due, now: datetime) -> str:
    span = say_span((now - one.at).total_seconds() / 60)
    done = "given" if one.drug else one.last.event.kind
    return f"by {span} (last {done} {say_time(one.last.began, now, nursery.zone)})"


def _listed(nursery: Nursery, dues: Sequence[Due], say: Callable[[Due], str]) -> str:
    """`Pups 1 and 2 at 7:04 am and calcium for Juniper at 7:44 am`: those of the same words together."""
    parts: dict[tuple[str, bool], list[Due]] = {}
    for one in dues:
        parts.setdefault((say(one), one.drug is None), []).append(one)
    return say_list([f"{_whose(nursery, ones)} {said}" for (said, _), ones in parts.items()])


def _whose(nursery: Nursery, dues: Sequence[Due]) -> str:
    """The pups where they are to nurse, the drug and for whom where it is a dose."""
    if dues[0].drug is None:
        return nursery.together(one.who for one in dues)
    return say_list([f"{one.drug} for {'the dam' if (name := nursery.called(one.who)) == 'The dam' else name}" for one in dues])


def _nothing(asked: Asked, care: str | None, drug: str | None) -> str:
    """Why there is no due time."""
    nursery = asked.nursery
    if drug is not None:
        if drug not in nursery.choices.plan:
            return f"There is no plan for {drug}: tell me how often your vet wants it given, and I will say when it is due."
        return f"No {drug} is in the log yet, so I cannot say when the next one is due."
    if care == "dose" or asked.question.who == "dam":
        return "No dose is due: tell me a drug and how often your vet wants it given, and I will say when the next one is due."
    pups = asked.pups
    if not pups:
        return asked.no_such_pup
    if all(pup.died_at is not None for pup in pups):
        return f"Nothing is due: {nursery.together(pup.who for pup in pups)} died."
    if all(pup.last_fed() is None for pup in pups):
        return f"No nursing or feed of {nursery.together(pup.who for pup in pups)} is in the log yet, so I cannot say who is due."
    return "Nothing is due by the clock: from three weeks on the pups nurse as they like."
