"""Growth is how a pup gains: from a day before, from birth, and when it had doubled."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from typing import Literal

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.figures import figures
from bot.care.nursery import Nursery
from bot.care.weighings import Weighing, Weighings
from bot.care.wording import iso

_FIGURES = figures("growth")


def _hours(name: str) -> timedelta:
    return timedelta(hours=_FIGURES.number(name))


_REFERENCE, _NEAREST, _FARTHEST = _hours("reference"), _hours("reference_nearest"), _hours("reference_farthest")
_BIRTH_WEIGHT_WITHIN = _hours("birth_weight_within")
_FIRST_DIP_UNTIL, _FIRST_DIP = _hours("first_dip_until"), -_FIGURES.number("first_dip_less_than")
_EARLY_FROM, _EARLY_UNTIL, _EARLY_LOSS = _hours("early_loss_from"), _hours("early_loss_until"), _FIGURES.number("early_loss")
_GREAT_UNTIL, _GREAT_LOSS = _hours("great_loss_until"), _FIGURES.number("great_loss")
_NO_GAIN_AFTER, _COARSE_NO_GAIN = _hours("no_gain_after"), _hours("no_gain_on_a_coarse_scale")
_NO_GAIN_NEAREST = _FIGURES.number("no_gain_reference_nearest")
_NO_GAIN_FARTHEST = _FIGURES.number("no_gain_reference_farthest")
_ROUNDING = _FIGURES.number("whole_ounce_within")

Look = Literal["", "first dip", "early loss", "great loss", "below birth weight", "no gain", "no gain yet", "unclear"]
"""What a keeper should look at. `first dip` is usual and said calmly; `unclear` is a change that the scale cannot show; `no gain yet`
is none against a weight of too few hours, or too many, to be sure."""
LOSSES: tuple[Look, ...] = ("early loss", "great loss", "below birth weight")


@dataclass(frozen=True, slots=True)
class Growth:
    """How a pup stands at one weighing. Grams, hours and percent, unrounded; None where there is nothing to compare with."""

    latest: Weighing
    reference: Weighing | None
    birth_grams: float | None
    doubled_at: datetime | None
    step: float | None
    """The step of a coarse scale in grams."""
    age: timedelta | None
    two_days_before: Weighing | None
    """What a coarse scale is judged by; None for a fine one."""

    @property
    def gain_g(self) -> float | None:
        """Latest weight minus the reference."""
        return None if self.reference is None else self.latest.grams - self.reference.grams

    @property
    def gain_percent(self) -> float | None:
        """The gain over the reference."""
        return None if self.reference is None else (self.latest.grams - self.reference.grams) / self.reference.grams * 100

    @property
    def hours(self) -> float | None:
        """How far back the reference is."""
        return None if self.reference is None else (self.latest.at - self.reference.at).total_seconds() / 3600

    @property
    def per_day_percent(self) -> float | None:
        """The gain as it would be over 24 h at the same rate; None for weighings so close that it is beyond any number."""
        if self.reference is None or not self.hours:
            return None
        try:
            return (math.pow(self.latest.grams / self.reference.grams, 24 / self.hours) - 1) * 100
        except OverflowError:  # weighed twice within seconds: that is no rate
            return None

    @property
    def since_birth_percent(self) -> float | None:
        """The latest weight against the birth weight."""
        return None if self.birth_grams is None else (self.latest.grams - self.birth_grams) / self.birth_grams * 100

    @property
    def look(self) -> Look:
        """Whether this pup needs a look, and why; a change of one step of a coarse scale or less is no change."""
        return self.loss or self.stall

    @property
    def loss(self) -> Look:
        """What there is to say of a weight under the birth weight."""
        return _loss(self)

    @property
    def stall(self) -> Look:
        """What there is to say of a pup that does not gain."""
        return _gain(self)

    def values(self, zone: tzinfo) -> dict[str, JsonValue]:
        """The figures by their names, times in the litter's zone; one that cannot be had is left out."""
        named: Mapping[str, float | None] = {
            "gain_g": self.gain_g,
            "gain_percent": self.gain_percent,
            "hours": self.hours,
            "per_day_percent": self.per_day_percent,
            "since_birth_percent": self.since_birth_percent,
        }
        values: dict[str, JsonValue] = {name: value for name, value in named.items() if value is not None}
        if self.doubled_at is not None:
            values["doubled_at"] = iso(self.doubled_at, zone)
        return values


def growth(nursery: Nursery, pup: Dog, *, since: datetime | None = None, until: datetime | None = None) -> Growth | None:
    """A pup's growth at its latest weighing, or at its latest between two moments; None where there is none."""
    latest = pup.weighings.latest(until)
    if latest is None or (since is not None and latest.at < since):
        return None
    return grown(pup, nursery.birth(pup), latest)


def grown(pup: Dog, birth: datetime | None, latest: Weighing) -> Growth:
    """A pup's growth at one of its weighings."""
    birth_grams = birth_weight(pup, birth)
    doubled_at = None if birth_grams is None else pup.weighings.first_at_or_above(2 * birth_grams)
    step = pup.weighings.step()
    return Growth(
        latest=latest,
        reference=reference(pup.weighings, latest),
        birth_grams=birth_grams,
        doubled_at=doubled_at if doubled_at is not None and doubled_at <= latest.at else None,
        step=step,
        age=None if birth is None else latest.at - birth,
        two_days_before=None if step is None else pup.weighings.latest(latest.at - _COARSE_NO_GAIN),
    )


def birth_weight(pup: Dog, birth: datetime | None) -> float | None:
    """The weight told with the birth, or the first one soon enough after it."""
    if pup.birth_grams is not None:
        return pup.birth_grams
    first = pup.weighings.first()
    if birth is None or first is None or first.at - birth > _BIRTH_WEIGHT_WITHIN:
        return None
    return first.grams


def reference(weighings: Weighings, latest: Weighing) -> Weighing | None:
    """What a weight is compared with: the one nearest to a day before it, else the one before it; None: there is no earlier one."""
    day_before = latest.at - _REFERENCE
    beside = (weighings.from_on(day_before), weighings.latest(day_before))
    near = [one for one in beside if one is not None and _NEAREST <= latest.at - one.at <= _FARTHEST]
    if near:
        return min(near, key=lambda one: abs(one.at - day_before))
    return weighings.before(latest.at)


def litter_values(gains: Iterable[Growth], not_weighed: Iterable[int]) -> dict[str, JsonValue]:
    """The litter's own figures: mean and range of the gains, and who was not weighed."""
    compared = [gain for gain in gains if gain.gain_g is not None]
    values: dict[str, JsonValue] = {}
    grams = [gain.gain_g for gain in compared if gain.gain_g is not None]
    percents = [gain.gain_percent for gain in compared if gain.gain_percent is not None]
    if grams:
        values["mean_gain_g"] = sum(grams) / len(grams)
        values["mean_gain_percent"] = sum(percents) / len(percents)
        values["min_gain_g"] = min(grams)
        values["max_gain_g"] = max(grams)
    values["not_weighed"] = list(not_weighed)
    return values


def _loss(growth: Growth) -> Look:
    percent, age = growth.since_birth_percent, growth.age
    if percent is None or growth.birth_grams is None or age is None or percent >= 0:
        return ""
    if growth.step is not None and growth.birth_grams - growth.latest.grams <= growth.step + _ROUNDING:
        return ""
    if age <= _GREAT_UNTIL:
        if percent <= _GREAT_LOSS:
            return "great loss"
        if _EARLY_FROM <= age <= _EARLY_UNTIL and percent <= _EARLY_LOSS:
            return "early loss"
        return "first dip" if age <= _FIRST_DIP_UNTIL and percent > _FIRST_DIP else ""
    return "below birth weight"


def _gain(growth: Growth) -> Look:
    gain = growth.gain_g
    if gain is None:
        return ""
    past_the_dip = growth.age is None or growth.age > _NO_GAIN_AFTER
    if growth.step is not None and abs(gain) <= growth.step + _ROUNDING:
        before = growth.two_days_before
        stood_still = before is not None and growth.latest.grams <= before.grams + _ROUNDING
        return "no gain" if stood_still and past_the_dip else "unclear"
    if gain > 0:
        return ""
    hours = growth.hours or 0
    return "no gain" if past_the_dip and _NO_GAIN_NEAREST <= hours <= _NO_GAIN_FARTHEST else "no gain yet"
