"""Log it or check it: whether a reading fits the litter's state, and the sentence that says why not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import IntEnum

from parsers.litter_card import LitterCard
from parsers.measures import say_celsius, say_grams, say_number
from parsers.vocabulary import load

LIMITS: dict[str, float] = {name: entry["value"] for name, entry in load("limits").items()}
"""The limits by name; value, unit, source and status stand in vocabulary/limits.toml."""


class Fit(IntEnum):
    """How well a value fits: `plausible`, `between` (logged, and the reply remarks on it), `implausible` (to be confirmed)."""

    PLAUSIBLE = 0
    BETWEEN = 1
    IMPLAUSIBLE = 2


@dataclass(frozen=True, slots=True)
class Judgement:
    """How a value fits, and where it does not, why."""

    fit: Fit
    why: str = ""


_FINE = Judgement(Fit.PLAUSIBLE)


def _percent(grams: float, last: float) -> float:
    """How much more than the last weight, in percent, without the noise of a division: 216 g on 200 g is 8 exactly."""
    return round((grams / last - 1) * 100, 6)


def weight(card: LitterCard, who: int | str, grams: float, now: datetime) -> Judgement:
    """How a weight in grams fits a pup (or the dam) by its last weight."""
    if who == "dam":
        return _dam_weight(card, grams)
    pup = card.by_number.get(int(who))
    age = card.age_days(now)
    if (age is None or age < LIMITS["first_weeks"]) and not LIMITS["lightest"] <= grams <= LIMITS["heaviest"]:
        return Judgement(
            Fit.IMPLAUSIBLE, f"{_weighing(card, who, grams)} is hardly the weight of a pup in its first two weeks. Is that right?"
        )
    if pup is None or pup.last_grams is None or pup.last_grams <= 0:
        return Judgement(Fit.PLAUSIBLE) if grams > 0 else Judgement(Fit.IMPLAUSIBLE, f"{_weighing(card, who, grams)} is no weight.")
    change = _percent(grams, pup.last_grams)
    hours = (now - pup.last_at).total_seconds() / 3600 if pup.last_at is not None else 0.0
    if hours > LIMITS["weight_far_hours"]:
        most = LIMITS["gain_a_day"] * hours / 24
        fit = Fit.PLAUSIBLE if -LIMITS["loss_in_all"] <= change <= most else Fit.IMPLAUSIBLE
    elif abs(change) > LIMITS["weight_far"]:
        fit = Fit.IMPLAUSIBLE
    elif abs(change) <= LIMITS["weight_near"] and hours <= LIMITS["weight_near_hours"]:
        fit = Fit.PLAUSIBLE
    else:
        fit = Fit.BETWEEN
    if fit is Fit.IMPLAUSIBLE:
        last = say_grams(pup.last_grams, card.weights_in)
        return Judgement(fit, f"{_weighing(card, who, grams)} is far from its last {last}{_other(card, int(who), grams)}. Is that right?")
    return Judgement(fit)


def _weighing(card: LitterCard, who: int | str, grams: float) -> str:
    return f"{say_grams(grams, card.weights_in)} for pup {who}"


def birth_weight(card: LitterCard, who: int, grams: float) -> Judgement:
    """How a newborn's weight fits; no pup has a last weight yet."""
    if LIMITS["lightest"] <= grams <= LIMITS["heaviest"]:
        return _FINE
    return Judgement(Fit.IMPLAUSIBLE, f"{_weighing(card, who, grams)} is hardly the weight of a pup in its first two weeks. Is that right?")


def _other(card: LitterCard, who: int, grams: float) -> str:
    """Name the other pup whose last weight it is near."""
    near = [
        pup for pup in card.living if pup.pup != who and pup.last_grams and abs(_percent(grams, pup.last_grams)) <= LIMITS["other_pup_near"]
    ]
    if not near:
        return ""
    nearest = min(near, key=lambda pup: abs(grams - (pup.last_grams or 0)))
    name = f" {nearest.names[0]}" if nearest.names else ""
    return f", but near pup {nearest.pup}{name} with {say_grams(nearest.last_grams or 0, card.weights_in)}"


def _dam_weight(card: LitterCard, grams: float) -> Judgement:
    last = card.dam.last_grams
    if last is None:
        return _FINE if grams > LIMITS["heaviest"] else Judgement(Fit.BETWEEN)
    if abs(_percent(grams, last)) <= LIMITS["dam_near"]:
        return _FINE
    return Judgement(
        Fit.IMPLAUSIBLE, f"{say_number(round(grams))} g for the dam is far from her last {say_number(round(last))} g. Is that right?"
    )


def body(card: LitterCard, celsius: float) -> Judgement:
    """How a body temperature fits."""
    if LIMITS["body_low"] <= celsius <= LIMITS["body_high"]:
        return _FINE
    return Judgement(Fit.IMPLAUSIBLE, f"{say_celsius(celsius, card.temperatures_in)} is hardly a body temperature. Is that right?")


def nursing(minutes: float) -> Judgement:
    """How long a nursing can be."""
    if 0 < minutes <= LIMITS["longest_nursing"]:
        return _FINE
    return Judgement(Fit.IMPLAUSIBLE, f"Nursed {say_number(minutes)} minutes is very long. Is that right?")


def feed(card: LitterCard, who: int | str, ml: float) -> Judgement:
    """How large a feed can be, by the pup's last weight."""
    pup = card.by_number.get(int(who)) if isinstance(who, int) else None
    if pup is None or pup.last_grams is None or ml <= pup.last_grams * LIMITS["largest_feed"] / 100:
        return _FINE
    return Judgement(Fit.IMPLAUSIBLE, f"{say_number(ml)} ml is more than a tenth of pup {who}'s weight in one feed. Is that right?")


def air(card: LitterCard, celsius: float) -> Judgement:
    """How warm box, incubator or room can be."""
    if celsius <= LIMITS["hottest_air"]:
        return _FINE
    return Judgement(
        Fit.IMPLAUSIBLE, f"{say_celsius(celsius, card.temperatures_in)} is too hot to be true for a box with pups. Is that right?"
    )
