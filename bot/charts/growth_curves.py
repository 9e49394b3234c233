"""The growth chart: the weights of pups by their age, over the gain that is expected."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Literal

from bot.care.dog import Dog
from bot.care.growth import birth_weight
from bot.care.nursery import Nursery
from bot.care.usual import expected_course, say_expected
from bot.care.weighings import Weighing
from bot.care.wording import say_weight
from bot.charts.axes import age_axis, days
from bot.charts.chart import Axis, Band, Curve, Curves
from parsers.measures import GRAMS_PER_OUNCE

Unit = Literal["%", "g", "oz"]

POINTS = 160
"""Points on one curve: about as many as a phone can tell apart. Of more weighings the last of each short while is drawn."""
_SHORTEST = 1.0
"""Days that the axis shows at least."""
_ROOM_ABOVE, _ROOM_BELOW = 0.12, 0.06
"""Of the height, left free above and below the weights."""


def growth_curves(
    nursery: Nursery, pups: Sequence[Dog], start: datetime, end: datetime, *, unit: Unit, title: str, alt: str
) -> Curves | None:
    """The chart of these pups between two moments; None where none of them was weighed then.

    In percent, 100 is the birth weight, or a pup's first weight where its birth weight is not known. Ages count from each pup's own
    birth; where no birth was told, from the first weight of them all.
    """
    weighed = [(pup, found) for pup in pups if (found := pup.weighings.between(start, end))]
    if not weighed:
        return None
    origin = min(first.at for pup, _ in weighed if (first := pup.weighings.first()) is not None)
    births = {pup.who: nursery.birth(pup) for pup, _ in weighed}
    curves = []
    for pup, found in weighed:
        zero = births[pup.who] or origin
        by = _divisor(nursery, pup, unit)
        points = tuple([(days(one.at - zero), one.grams / by) for one in _thinned(found)])
        curves.append(Curve(label=_label(nursery, pup, found[-1], alone=len(weighed) == 1), place=int(pup.who), points=points))
    x = _ages(curves, "birth" if any(births.values()) else "the first weight")
    band = _band(nursery, [pup for pup, _ in weighed], x, unit)
    return Curves(
        title=title, caption=_caption(nursery, [pup for pup, _ in weighed], unit, band), alt=alt, x=x,
        y=_heights(curves, unit), curves=tuple(curves), band=band,
    )  # fmt: skip


def base_weight(nursery: Nursery, pup: Dog) -> float | None:
    """What a pup's percents are of: its birth weight, else its first weight; None: it was never weighed."""
    first = pup.weighings.first()
    return birth_weight(pup, nursery.birth(pup)) or (None if first is None else first.grams)


def _divisor(nursery: Nursery, pup: Dog, unit: Unit) -> float:
    if unit == "%":
        return (base_weight(nursery, pup) or 1) / 100
    return GRAMS_PER_OUNCE if unit == "oz" else 1


def _thinned(weighings: Sequence[Weighing]) -> list[Weighing]:
    """No more weighings than can be told apart: of each short while the last one, and always the first and the last of all."""
    if len(weighings) <= POINTS:
        return list(weighings)
    first, last = weighings[0].at, weighings[-1].at
    ends = [bisect_right(weighings, first + (last - first) * part / (POINTS - 2), key=lambda one: one.at) for part in range(1, POINTS - 1)]
    return [weighings[0], *(weighings[end - 1] for end in dict.fromkeys(ends) if end > 1)]


def _label(nursery: Nursery, pup: Dog, last: Weighing, *, alone: bool) -> str:
    """What stands at the end of a curve: `3 Olive`; of one pup alone, its weight."""
    if alone:
        return say_weight(last.grams, nursery.units)
    return pup.labelled


def _ages(curves: Iterable[Curve], since: str) -> Axis:
    ages = [x for curve in curves for x, _ in curve.points]
    low = min(0.0, *ages) if min(ages) < _SHORTEST else min(ages)
    return age_axis(low, max(*ages, low + _SHORTEST), since)


def _heights(curves: Iterable[Curve], unit: Unit) -> Axis:
    heights = [y for curve in curves for _, y in curve.points]
    low, high = min(heights), max(heights)
    if unit == "%":
        low, high = min(low, 100.0), max(high, 100.0)
    room = max(high - low, 0.08 * high)
    label = {"%": "% of birth weight", "g": "grams", "oz": "ounces"}[unit]
    return Axis(low=low - _ROOM_BELOW * room, high=high + _ROOM_ABOVE * room, label=label)


def _band(nursery: Nursery, pups: Sequence[Dog], x: Axis, unit: Unit) -> Band | None:
    """The gain that is expected from birth on: of all pups in percent, of one in its own weight."""
    known = [pup for pup in pups if nursery.birth(pup) is not None and birth_weight(pup, nursery.birth(pup)) is not None]
    if not known or (unit != "%" and len(pups) > 1):
        return None
    birth = birth_weight(pups[0], nursery.birth(pups[0])) or 0
    times = 100.0 if unit == "%" else birth / _divisor(nursery, pups[0], unit)
    points = [(day, times * low, times * high) for day, low, high in expected_course() if day <= x.high + 1]
    return Band(label="usual", points=tuple(points)) if points[-1][0] > x.low else None


def _caption(nursery: Nursery, pups: Sequence[Dog], unit: Unit, band: Band | None) -> str:
    said = [f"Shaded: {say_expected(in_short=False)}."] if band is not None else []
    if unit == "%":
        first = [pup.who for pup in pups if birth_weight(pup, nursery.birth(pup)) is None]
        if first:
            said.append(f"{nursery.together(first)}: % of the first weight, since no birth weight was told.")
    return " ".join(said)
