"""Gains: how each pup grows, the litter's mean and range, and who was not weighed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.growth import Growth, growth, litter_values
from bot.care.notice import Notice
from bot.care.notices import standing
from bot.care.nursery import Nursery
from bot.care.usual import expected_percent
from bot.care.wording import say_change, say_percent, say_time
from bot.reports.answer import Answer, on_a_screen
from bot.reports.asked import Asked
from bot.reports.columns import columns
from bot.reports.looks import EARLY_LOSS, is_serious, say_look
from bot.reports.weighed import weighed

_OF_ALL = ("scale", "slow litter")
"""Warnings that take the place of those about single pups' weights."""


def answer(asked: Asked) -> Answer:
    """The gains of the pups asked about over the span asked about (today's, where none was said)."""
    pups = asked.pups
    if asked.question.who == "dam":
        return Answer("I work out gains for the pups only. Ask `weights` for hers.", about="gains", who=("dam",))
    if not pups:
        return Answer(asked.no_such_pup, about="gains")
    if asked.names_one:
        return _of_one(asked, pups[0])
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
    lines = [f"Gains {span.said}:{_mean(nursery, list(gains.values()))}"]
    worries = standing(nursery, asked.now)
    doubted = {who for one in worries if one.about == "scale" for who in one.who}
    lines += columns([[f"{nursery.called(number)}:", *_cells(nursery, gain, number in doubted)] for number, gain in gains.items()])
    if not_weighed:
        lines.append(f"Not weighed {span.said}: {nursery.together(not_weighed)}.")
    lines += _what_to_do(nursery, gains, worries) + _coarse(nursery, gains)
    return Answer(on_a_screen(lines), values | litter, "gains", who)


def _of_one(asked: Asked, pup: Dog) -> Answer:
    nursery, now = asked.nursery, asked.now
    gain = growth(nursery, pup, until=now)
    who = (pup.who,)
    if gain is None:
        return Answer(f"{pup.called} has not been weighed yet.", {"not_weighed": [int(pup.who)]}, "gains", who)
    when = say_time(gain.latest.at, now, nursery.zone)
    worries = standing(nursery, now)
    doubted = any(one.about == "scale" and pup.who in one.who for one in worries)
    said = " ".join(_cells(nursery, gain, doubted)).removesuffix(".")
    parts = [f"{pup.called}: {said}, weighed {when}."]
    if gain.since_birth_percent is not None and gain.reference is not None:
        parts.append(f"Since birth {say_percent(gain.since_birth_percent)}.")
    if gain.doubled_at is not None:
        parts.append(f"Doubled its birth weight {say_time(gain.doubled_at, now, nursery.zone)}.")
    usual = expected_percent(None if gain.age is None else gain.age.days)
    if usual is not None:
        parts.append(f"Usual at this age: {usual[0]:g} to {usual[1]:g} % a day.")
    parts += _what_to_do(nursery, {int(pup.who): gain}, worries) + _coarse(nursery, {int(pup.who): gain})
    return Answer(" ".join(parts), gain.values(nursery.zone), "gains", who)


def _cells(nursery: Nursery, gain: Growth, doubted: bool) -> list[str]:
    """`218 g,`, `+6 g`, `(+2.8 %)`, and in how long, with why it needs a look; `doubted` where the scale seems wrong."""
    *figures, last = weighed(nursery, gain)
    if gain.gain_g is None:
        return [f"{last},", "the first weight: no gain to work out yet."]
    words = "needs a look: weigh again" if doubted and is_serious(gain.look) else say_look(gain.look)
    look = f", {words}" if words else ""
    return [*figures, f"{last}{look}."]


def _mean(nursery: Nursery, gains: list[Growth]) -> str:
    """The litter's own figures, where there are several to compare."""
    values = litter_values(gains, ())
    if "mean_gain_g" not in values or len(gains) == 1:
        return ""
    grams = [float(str(values[name])) for name in ("mean_gain_g", "min_gain_g", "max_gain_g")]
    mean, low, high = (say_change(one, nursery.units) for one in grams)
    return f" mean {mean} ({say_percent(float(str(values['mean_gain_percent'])))}), from {low} to {high}."


def _what_to_do(nursery: Nursery, gains: Mapping[int, Growth], worries: Iterable[Notice]) -> list[str]:
    """Whom to call about; where the whole litter's weights call for something else, that instead."""
    serious = [number for number, gain in gains.items() if is_serious(gain.look)]
    if not serious:
        return []
    of_all = [one.text for one in worries if one.about in _OF_ALL]
    return of_all[:1] or [f"Call your vet today about {nursery.together(serious)}."]


def _coarse(nursery: Nursery, gains: Mapping[int, Growth]) -> list[str]:
    """Which pups' weights come in steps; one weight alone shows none."""
    coarse = [number for number, gain in gains.items() if gain.step is not None and gain.reference is not None]
    if not coarse:
        return []
    whose = "" if len(coarse) == len(gains) else f" of {nursery.together(coarse)}"
    return [f"The weights{whose} come in steps: too coarse a scale for the {EARLY_LOSS} line of day 2."]
