"""The dam: what she needs to eat and drink while she nurses."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from bot.care.figures import figures
from bot.care.nursery import Nursery

_FIGURES = figures("dam")


@dataclass(frozen=True, slots=True)
class Needs:
    """Energy and water for a day, unrounded."""

    kcal_per_day: float
    water_ml_per_day: float
    pups_counted: int
    """Fewer than the litter where it is larger than the formula goes."""


def needs(grams: float, pups: int, day: int) -> Needs | None:
    """What a dam of that weight with so many pups needs on a day of their lives; None where no figure is published for the day."""
    number = _FIGURES.number
    lactation = _FIGURES.on_day("lactation", day)
    if lactation is None:
        return None
    kg = grams / 1000
    counted = min(pups, int(number("most_pups")))
    first = min(counted, int(number("first_pups")))
    for_pups = number("for_each_of_the_first_pups") * first + number("for_each_further_pup") * (counted - first)
    kcal = number("maintenance") * kg ** number("maintenance_power") + kg * for_pups * lactation
    return Needs(kcal, kcal * number("water"), counted)


def needs_now(nursery: Nursery, now: datetime) -> Needs | None:
    """The dam's needs today; None where her weight or the birth was not told, or there is no pup at her side."""
    weighing = nursery.dam.weighings.latest()
    if weighing is None or nursery.born is None or not nursery.living:
        return None
    return needs(weighing.grams, len(nursery.living), max(0, (now - nursery.born).days))
