"""Birth weights: the pups that were born small, beside their litter or for their breed."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta
from functools import cache, partial
from importlib.resources import files
from typing import Literal

from pydantic import BaseModel, ConfigDict, JsonValue

from bot.care.concern import Concern, Words
from bot.care.figures import figures
from bot.care.growth import birth_weight
from bot.care.nursery import Nursery
from bot.care.weigh_in import OnTheScale
from bot.care.wording import say_weight
from parsers.events import Units

_FIGURES = figures("growth")
_SMALL = _FIGURES.number("small_at_birth") / 100
_FROM_PUPS = int(_FIGURES.number("small_at_birth_from_pups"))
_UNTIL = timedelta(days=_FIGURES.number("small_at_birth_until"))

Class = Literal["normal", "low", "very_low"]


class Breed(BaseModel):
    """The birth-weight classes of one breed, in grams."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    normal: float
    very_low: float
    died_percent: Mapping[Class, float]
    """How many of each class died in their first 21 days."""
    also: tuple[str, ...] = ()

    def classed(self, grams: float) -> Class:
        """The class of a birth weight."""
        return "very_low" if grams < self.very_low else "low" if grams < self.normal else "normal"


@cache
def breeds() -> Mapping[str, Breed]:
    """The breeds of the table, by name in small letters."""
    data = tomllib.loads(files(__package__).joinpath("birth_classes.toml").read_text(encoding="utf-8"))
    rows = {name: Breed.model_validate(row) for name, row in data.items()}
    return {called.casefold(): row for name, row in rows.items() for called in (name, *row.also)}


def concerns_of(nursery: Nursery, weighed: Sequence[OnTheScale]) -> Iterator[Concern]:
    """The living pups that were small at birth. Where the breed was not told, or has no table, only the litter counts."""
    births = {one.who: grams for one in weighed if (grams := one.growth.birth_grams) is not None}
    if not births:
        return
    for pup in nursery.pups.values():  # the dead count for the mean
        if pup.died_at is not None and (grams := birth_weight(pup, nursery.birth(pup))) is not None:
            births[pup.who] = grams
    mean = sum(births.values()) / len(births) if len(births) >= _FROM_PUPS else None
    breed = breeds().get((nursery.choices.breed or "").casefold())
    if breed is None and (mean is None or min(births.values()) > _SMALL * mean):
        return
    for one in weighed:
        grams = births.get(one.who)
        if grams is None:
            continue
        of_breed = "normal" if breed is None else breed.classed(grams)
        beside = mean is not None and grams <= _SMALL * mean
        if of_breed != "normal" or beside:
            yield _small(nursery, one, grams, mean if beside else None, breed, of_breed)


def _small(nursery: Nursery, one: OnTheScale, grams: float, mean: float | None, breed: Breed | None, of_breed: Class) -> Concern:
    first = one.pup.weighings.first() or one.growth.latest
    return Concern(
        about="small at birth",
        who=(one.who,),
        urgency="vet today" if of_breed == "very_low" else "soon",
        seen_at=first.at,
        at=first.at,
        until=first.at + _UNTIL,
        cause=f"small at birth/{one.who}/{first.at.isoformat()}",
        alone=True,
        words=partial(_words, grams, mean, breed, of_breed, nursery.units),
    )


def _words(grams: float, mean: float | None, breed: Breed | None, of_breed: Class, units: Units) -> Words:
    values: dict[str, JsonValue] = {"birth_grams": grams}
    seen = f"{say_weight(grams, units)} at birth"
    if mean is not None:
        values |= {"mean_birth_grams": mean, "percent_of_mean": grams / mean * 100}
        seen += f", {grams / mean * 100:.0f} % of the litter's mean"
    why, source = "Far lighter than its littermates it is easily pushed off", "dohvh_493"
    if breed is not None and of_breed != "normal":
        died = breed.died_percent[of_breed]
        values |= {"birth_weight_class": of_breed.replace("_", " "), "died_percent": died}
        seen += f", in the {of_breed.replace('_', ' ')} class of its breed"
        why, source = f"Of such pups {died:g} % died in their first three weeks", "mugnier20"
    return Words("keep warm, put to the fullest teat first, weigh twice a day", seen, why=why, source=source, values=values)
