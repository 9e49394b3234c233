"""Gains: how each pup grows, the litter's mean and range, and who was not weighed."""

from __future__ import annotations

from datetime import datetime

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.growth import Growth, expected_percent, growth, litter_values
from bot.care.nursery import Nursery
from bot.care.wording import say_change, say_hours, say_percent, say_time, say_weight
from bot.reports.answer import Answer
from bot.reports.asked import Asked
from bot.reports.looks import EARLY_LOSS, say_look


def answer(asked: Asked) -> Answer:
    """The gains of the pups asked about over the span asked about (today's, where none was said)."""
    pups = asked.pups
    if asked.question.who == "dam":
        return Answer("I work out gains for the pups only. Ask `weights` for hers.", about="gains", who=("dam",))
    if not pups:
        return Answer(asked.no_such_pup, about="gains")
    if asked.names_one:
        return _of_one(asked.nursery, pups[0], asked.now)
    return _of_several(asked)


def _of_several(asked: Asked) -> Answer:
    nursery, span = asked.nursery, asked.span
    found = {int(pup.who): growth(nursery, pup, since=span.start, until=span.end) for pup in asked.pups}
    gains = {number: gain for number, gain in found.items() if gain is not None}
    not_weighed = [number for number, gain in found.items() if gain is None]
    values: dict[str, JsonValue] = {str(number): gain.values(nursery.zone) for number, gain in gains.items()}
    litter = litter_values(gains.values(), not_weighed)
    who = tuple(found) if asked.named else ()
    if not gains:
        return Answer(f"No pup was weighed {span.said}.", values | litter, "gains", who)
    lines = [f"Gains {span.said}:"]
    lines += [f"{nursery.called(number)}: {_one(nursery, gain)}." for number, gain in gains.items()]
    if "mean_gain_g" in litter and len(gains) > 1:
        lines.append(_mean(nursery, list(gains.values())))
    if not_weighed:
        lines.append(f"Not weighed {span.said}: {nursery.together(not_weighed)}.")
    lines += _coarse(list(gains.values()))
    return Answer("\n".join(lines), values | litter, "gains", who)


def _of_one(nursery: Nursery, pup: Dog, now: datetime) -> Answer:
    gain = growth(nursery, pup, until=now)
    who = (pup.who,)
    if gain is None:
        return Answer(f"{pup.called} has not been weighed yet.", {"not_weighed": [int(pup.who)]}, "gains", who)
    when = say_time(gain.latest.at, now, nursery.zone)
    parts = [f"{pup.called}: {_one(nursery, gain)}, weighed {when}."]
    if gain.since_birth_percent is not None and gain.reference is not None:
        parts.append(f"Since birth {say_percent(gain.since_birth_percent)}.")
    if gain.doubled_at is not None:
        parts.append(f"Doubled its birth weight {say_time(gain.doubled_at, now, nursery.zone)}.")
    usual = expected_percent(None if gain.age is None else gain.age.days)
    if usual is not None:
        parts.append(f"Usual at this age: {usual[0]:g} to {usual[1]:g} % a day.")
    return Answer(" ".join(parts + _coarse([gain])), gain.values(nursery.zone), "gains", who)


def _one(nursery: Nursery, gain: Growth) -> str:
    """`218 g, +6 g (+2.8 %) in 24 h`, and why it needs a look."""
    weight = say_weight(gain.latest.grams, nursery.units)
    if gain.gain_g is None or gain.gain_percent is None or gain.hours is None:
        return f"{weight}, the first weight: no gain to work out yet"
    said = f"{weight}, {say_change(gain.gain_g, nursery.units)} ({say_percent(gain.gain_percent)}) in {say_hours(gain.hours)}"
    return f"{said}, {say_look(gain.look)}" if gain.look else said


def _mean(nursery: Nursery, gains: list[Growth]) -> str:
    values = litter_values(gains, ())
    grams = [float(str(values[name])) for name in ("mean_gain_g", "min_gain_g", "max_gain_g")]
    mean, low, high = (say_change(one, nursery.units) for one in grams)
    return f"Mean {mean} ({say_percent(float(str(values['mean_gain_percent'])))}), from {low} to {high}."


def _coarse(gains: list[Growth]) -> list[str]:
    if all(gain.step is None for gain in gains):
        return []
    return [f"The scale reads in steps: too coarse for the {EARLY_LOSS} line of day 2."]
