"""Why: the rule behind what was said last, or behind what stands of a pup; the numbers that met it; and the source."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import tzinfo
from typing import NamedTuple, cast

from pydantic import JsonValue

from bot.care.due import Due
from bot.care.notice import URGENCIES
from bot.care.notices import standing
from bot.care.rounds import due
from bot.care.rules import rules
from bot.care.wording import iso, say_span
from bot.reports.answer import Answer
from bot.reports.asked import Asked, Spoken
from bot.reports.numbers import say_numbers
from parsers.events import Who

_TOLD_WITH_IT = re.compile(r"\. ((?:Seen|Read|Weighed)\b.* Source: .*)")
"""What a warning says after its act: what was seen, why it matters, and where that is from."""
_MOST = 4
"""How many lines of single dogs' numbers are said; those of the rest are beside the text."""


class _Reason(NamedTuple):
    """What is to be explained: the name of its rule, whom it is about, how urgent it was, and its figures."""

    about: str
    who: tuple[Who, ...]
    urgency: str | None
    values: Mapping[str, object]
    text: str = ""
    """As it was said, where it was."""


def answer(asked: Asked) -> Answer:
    """The rule, the numbers and the source of what the question means."""
    if asked.pups and asked.named and all(pup.died_at is not None for pup in asked.pups):
        return Answer(f"{asked.nursery.together(asked.named)} died. I am sorry.", about="why", who=asked.named)
    reason = next(_of_those_named(asked) if asked.named else _said_last(asked), None)
    if reason is None:
        nothing = f"Nothing stands against {asked.nursery.together(asked.named)} now" if asked.named else "I have given no number yet"
        return Answer(f"{nothing}. Ask “why?” after a warning, a reminder or an answer.", about="why", who=asked.named)
    nursery, rule = asked.nursery, rules().get(reason.about)
    day = _day(asked, reason)
    lines = [_heading(asked, reason)]
    lines += [] if rule is None else [rule.sentence(nursery.units, day)]
    if (chosen := nursery.choices.every.get(reason.about)) is not None:
        lines.append(f"You chose every {say_span(chosen)}.")
    lines += _numbers(asked, reason)
    if told := _TOLD_WITH_IT.search(reason.text):
        lines.append(told[1])
    elif rule is not None:
        lines.append(rule.origin(nursery.units, day))
    return Answer("\n".join(lines), cast("Mapping[str, JsonValue]", reason.values), "why", reason.who)


def _of_those_named(asked: Asked) -> Iterator[_Reason]:
    """The worst warning that stands of them, what was last said of them unasked, what is overdue, and the last answer that had them."""
    mine = set(asked.named)
    zone = asked.nursery.zone
    dues = [one for one in due(asked.nursery, asked.now) if one.who in mine]
    late = [one for one in dues if one.at <= asked.now]
    if "due" in asked.words.casefold():
        yield from (_due(one, zone) for one in dues)
    yield from (_reason(one) for one in standing(asked.nursery, asked.now) if mine & set(one.who))
    yield from (_reason(one) for one in _lately(asked, "warning", "nudge") if mine & set(one.who))
    yield from (_due(one, zone) for one in late)
    for one in _lately(asked, "answer"):
        for who in asked.named:
            if isinstance(values := one.values.get(str(who)), Mapping):
                yield _Reason(one.about or "", (who,), None, values)
        if mine & set(one.who):
            yield _reason(one)


def _due(one: Due, zone: tzinfo) -> _Reason:
    return _Reason(one.care, (one.who,), None, {"due_at": iso(one.at, zone)})


def _said_last(asked: Asked) -> Iterator[_Reason]:
    """What was said to the one who asks last; of several things said in one breath the most urgent."""
    spoken = [one for one in _lately(asked, "warning", "nudge", "answer") if one.to in (asked.by, "all")]
    if spoken:
        breath = [one for one in spoken if one.at == spoken[0].at]
        yield _reason(max(breath, key=lambda one: URGENCIES.index(one.urgency) if one.urgency in URGENCIES else -1))


def _lately(asked: Asked, *says: str) -> Iterator[Spoken]:
    """What was said, the latest first; not what was itself a reason."""
    return (one for one in reversed(asked.lately) if one.says in says and one.about not in ("why", "help"))


def _reason(one: Spoken) -> _Reason:
    return _Reason(one.about or "", one.who, one.urgency, one.values, one.text)


def _heading(asked: Asked, reason: _Reason) -> str:
    whose = asked.nursery.together(reason.who)
    urgency = "" if reason.urgency in (None, "routine") else f" ({reason.urgency})"
    return f"{whose}: {reason.about}{urgency}." if whose else f"{reason.about.capitalize()}{urgency}."


def _numbers(asked: Asked, reason: _Reason) -> list[str]:
    """The figures: flat, and those of each dog where there are not too many."""
    nursery, now = asked.nursery, asked.now
    said = say_numbers(reason.values, nursery, now)
    lines = [f"Numbers: {', '.join(said)}."] if said else []
    whos: list[Who] = [*nursery.pups, "dam"]
    alike: dict[str, list[Who]] = {}
    for who in whos:
        if isinstance(values := reason.values.get(str(who)), Mapping):
            alike.setdefault(", ".join(say_numbers(values, nursery, now)), []).append(who)
    lines += [f"{nursery.together(some)}: {numbers}." for numbers, some in list(alike.items())[:_MOST]]
    rest = [who for some in list(alike.values())[_MOST:] for who in some]
    return [*lines, f"For {nursery.together(rest)} ask “why is {rest[0]} so”."] if rest else lines


def _day(asked: Asked, reason: _Reason) -> int | None:
    """The day of life of those it is about, by which figures with rows for days are said; None where they are of several ages."""
    pups = [pup for who in reason.who if who != "dam" and (pup := asked.nursery.pups.get(who)) is not None] or asked.nursery.living
    days = {asked.nursery.age_day(pup, asked.now) for pup in pups}
    return days.pop() if len(days) == 1 else None
