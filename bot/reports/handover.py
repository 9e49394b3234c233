"""Handover: what happened since the asker was last here, what is worrying and due now, and who logged it. The worst first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta

from pydantic import JsonValue

from bot.care.figures import figures
from bot.care.growth import Growth, growth, litter_values
from bot.care.nursery import Nursery
from bot.care.wording import iso, say_change, say_list
from bot.reports.answer import Answer, in_lines, on_a_screen
from bot.reports.asked import Asked, Span
from bot.reports.away import away, since
from bot.reports.happened import Happened, happened
from bot.reports.needs import Need, needs, say_due, say_overdue, say_worries
from bot.reports.telling import Telling
from parsers.events import Who

_STALE = timedelta(hours=figures("rounds").number("left_to_the_handover_after"))
_FEW = 3
"""So many warnings, gains, and things that come next are told one by one."""
_COUNTED = ("nursed", "fed", "refused", "cleared", "toilet", "weight", "temperature", "sign", "dose", "intake", "urine", "stool")


def answer(asked: Asked) -> Answer:
    """Everything that someone who takes over must know, of those named or of all."""
    nursery, now, span = asked.nursery, asked.now, away(asked)
    dogs = [dog for who in asked.named if (dog := nursery.dog(who)) is not None] if asked.named else [*nursery.living, nursery.dam]
    if not dogs:
        return Answer(asked.no_such_pup, about="handover", who=asked.named)
    found = happened(since(asked.entries, span.start), span.end, asked.people)
    pups = [int(dog.who) for dog in dogs if dog.who != "dam"]
    told = Telling(nursery, found, pups, len(pups) < len(dogs), now)
    whole = needs(nursery, [dog for dog in dogs if dog.died_at is None], now)
    grown = {who: growth(nursery, nursery.pups[who], until=span.end) for who in pups}
    gains = {who: gain for who, gain in grown.items() if gain is not None and gain.latest.at > span.start}
    late = [line.removeprefix("Overdue: ").removesuffix(".") for line in say_overdue(nursery, whole)]
    lines = [
        f"{span.said}: {told.who_logged()}",
        *told.births_and_deaths(),
        *in_lines([f"{said}." for said in say_worries(nursery, asked.named, now)], _FEW),
        *([f"Overdue: {'; '.join(late)}."] if late else []),
        *_never_said(asked, whole),
        *told.signs(),
        *told.feeds(),
        *_weighed(nursery, gains, pups),
        *told.passed(),
        *told.temperatures(),
        *told.given(),
        *_next(nursery, whole, now),
        *told.the_rest(),
    ]
    return Answer(on_a_screen(lines), _values(nursery, span, found, gains, told), "handover", asked.named)


def _never_said(asked: Asked, whole: Iterable[Need]) -> list[str]:
    """Care so long overdue that it was left to the handover, of which no reminder told."""
    old = [one for need in whole for one in need.late if asked.now - one.at > _STALE]
    untold = [one for one in old if not any(cause in asked.told for cause in one.causes)]
    said = [f"{one.drug or one.care} of {asked.nursery.called(one.who)}" for one in untold]
    return [f"No reminder told of {say_list(said)}."] if said else []


def _weighed(nursery: Nursery, gains: Mapping[int, Growth], pups: Sequence[int]) -> list[str]:
    """Each gain where they are few, the least first; else the mean, and who gained least and most."""
    if not gains:
        return []
    grams = sorted((gain.gain_g, who) for who, gain in gains.items() if gain.gain_g is not None)
    few = len(grams) <= _FEW
    parts = [] if few else [f"mean {say_change(sum(one for one, _ in grams) / len(grams), nursery.units)}"]
    parts += [f"{nursery.called(who)} {say_change(one, nursery.units)}" for one, who in (grams if few else (grams[0], grams[-1]))]
    first = [who for who, gain in gains.items() if gain.gain_g is None]
    parts += [f"first weight of {nursery.together(first)}"] if first else []
    missing = [who for who in pups if who not in gains]
    parts += [f"not {nursery.together(missing)}"] if missing else []
    return [f"Weighed: {', '.join(parts)}."]


def _next(nursery: Nursery, whole: Iterable[Need], now: datetime) -> list[str]:
    said: dict[str, list[Who]] = {}
    for one in sorted((one for need in whole for one in need.ahead), key=lambda one: one.at):
        said.setdefault(say_due(nursery, one, now), []).append(one.who)
    parts = [f"{words} ({nursery.together(whos)})" for words, whos in list(said.items())[:_FEW]]
    return [f"Next: {'; '.join(parts)}."] if parts else []


def _values(nursery: Nursery, span: Span, found: Happened, gains: Mapping[int, Growth], told: Telling) -> dict[str, JsonValue]:
    """Counts of what was done to each, its weight and gain; since when, and how much each person logged."""
    hours = (span.end - span.start).total_seconds() / 3600
    values: dict[str, JsonValue] = {"since_at": iso(span.start, nursery.zone), "hours": hours, "logged": {**found.by}}
    whos: list[Who] = [*told.pups]
    for who in [*whos, "dam"] if told.dam else whos:
        tally = found.tally(who)
        mine: dict[str, JsonValue] = {kind: times for kind in _COUNTED if (times := tally.times[kind])}
        mine |= {"fed_ml": tally.ml} if tally.ml else {}
        if who in gains:
            mine |= {"grams": gains[int(who)].latest.grams, **gains[int(who)].values(nursery.zone)}
        values[str(who)] = mine
    return values | litter_values(gains.values(), [who for who in told.pups if who not in gains])
