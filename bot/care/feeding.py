"""Feeding by hand: how much a pup needs a day, the most for one feed, and when it must not be fed at all. Pure."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.figures import figures
from bot.care.nursery import Nursery
from bot.care.wording import say_reading, say_temperature
from parsers.events.fed import Fed
from parsers.events.nursed import Nursed
from parsers.events.temperature import Temperature
from parsers.measures import say_number

_NUMBER = figures("feeding").number
_WARMTH = figures("warmth").number
_ROUNDS = figures("rounds")
_TOO_MUCH = _NUMBER("too_much_in_one_feed")
_COUNTS_FOR = timedelta(hours=_WARMTH("last_temperature_counts_for"))
_BY_HAND_ALONE = timedelta(hours=_NUMBER("by_hand_alone_after"))


@dataclass(frozen=True, slots=True)
class FeedPlan:
    """What one pup needs, unrounded. What needs the milk's energy is None where the label's was not told."""

    grams: float
    kcal_per_day_low: float
    kcal_per_day_high: float
    ml_per_feed_max: float
    ml_per_day_low: float | None = None
    ml_per_day_high: float | None = None
    feeds_per_day_low: float | None = None
    feeds_per_day_high: float | None = None

    def values(self) -> dict[str, JsonValue]:
        """The figures by name."""
        return {name: value for name in self.__slots__ if (value := getattr(self, name)) is not None}


def ration(grams: float, kcal_per_100_g: float, kcal_per_ml: float) -> tuple[float, float]:
    """Energy (kcal) and milk (ml) for a day, at so much energy for each 100 g of the pup and in each ml of the milk."""
    kcal = grams / 100 * kcal_per_100_g
    return kcal, kcal / kcal_per_ml


def feeds_needed(ml: float, ml_per_feed: float) -> int:
    """In how many feeds so much milk goes, none larger than the stomach takes. A hair's breadth of arithmetic makes no feed more."""
    return math.ceil(round(ml / ml_per_feed, _PLACES))


_PLACES = 10


def feed_plan(grams: float, kcal_per_ml: float | None, day: int) -> FeedPlan:
    """The plan for a pup of that weight on a day of its life, with the label's energy of the milk.

    It is fed at least as often as the table lets a pup of its age nurse; an interval that the household chose for its reminders does
    not count here, for a stomach does not grow by it.
    """
    low, high, most = _NUMBER("energy_low"), _NUMBER("energy_high"), grams / 100 * _NUMBER("most_in_one_feed")
    bare = FeedPlan(grams, grams / 100 * low, grams / 100 * high, most)
    if not kcal_per_ml:
        return bare
    (kcal_low, ml_low), (kcal_high, ml_high) = ration(grams, low, kcal_per_ml), ration(grams, high, kcal_per_ml)
    interval = _ROUNDS.on_day("nursing_interval", day)
    least = 0 if interval is None else 24 * 60 / interval
    feeds_low, feeds_high = max(feeds_needed(ml_low, most), least), max(feeds_needed(ml_high, most), least)
    return FeedPlan(grams, kcal_low, kcal_high, most, ml_low, ml_high, feeds_low, feeds_high)


def plan_of(nursery: Nursery, pup: Dog, now: datetime) -> FeedPlan | None:
    """The plan for a pup by its last weight; None where it was not weighed. Where its birth was not told it counts as newborn."""
    weighing = pup.weighings.latest(now)
    if weighing is None:
        return None
    return feed_plan(weighing.grams, nursery.choices.kcal_per_ml, nursery.age_day(pup, now) or 0)


Cold = Literal["cold", "coldest"]
"""`cold`: warm it first. `coldest`: an emergency, nothing by mouth."""


def last_temperature(pup: Dog, now: datetime) -> float | None:
    """The pup's last temperature in Celsius, where it is new enough to say something about a feed."""
    done = pup.last.get("temperature")
    if done is None or not isinstance(done.event, Temperature) or abs(now - done.began) > _COUNTS_FOR:
        return None
    return done.event.celsius


def felt_cold(pup: Dog, now: datetime) -> bool:
    """Whether the pup was last said to be cold, as lately as a temperature counts, and not measured since."""
    sign, measured = pup.last.get("sign"), pup.last.get("temperature")
    if sign is None or getattr(sign.event, "sign", "") != "cold" or now - sign.began > _COUNTS_FOR:
        return False
    return measured is None or measured.began < sign.began


def coldness(celsius: float) -> Cold | None:
    """Whether a pup of that temperature is too cold for a feed."""
    if celsius < _WARMTH("coldest_below"):
        return "coldest"
    return "cold" if celsius < _WARMTH("warm_before_a_feed") else None


def by_hand_alone(pup: Dog, now: datetime) -> bool:
    """Whether a pup lives on what it is fed by hand: it was fed, and has not nursed for a day (or never)."""
    nursed, fed = pup.last.get("nursed"), pup.last.get("fed")
    return fed is not None and (nursed is None or now - nursed.began > _BY_HAND_ALONE) and now - fed.began <= _BY_HAND_ALONE


def over_comfort(ml: float, grams: float) -> bool:
    """Whether a feed is more than a stomach holds in comfort."""
    return ml > grams / 100 * _TOO_MUCH


def caution(nursery: Nursery, fed: Fed | Nursed, now: datetime) -> str | None:
    """What a keeper should hear of a feed or a nursing just told, by the nursery that knows it: too cold a pup, too much at once."""
    pup = nursery.pups.get(fed.who) if fed.who != "dam" else None
    if pup is None:
        return None
    began = now if fed.at is None else fed.at
    said: list[str] = []
    celsius = last_temperature(pup, began)
    cold = None if celsius is None else coldness(celsius)
    read = "cold" if celsius is None else say_reading(celsius, nursery.temperatures_in)
    if cold is not None or (celsius is None and felt_cold(pup, began)):
        warm = f"Warm it to {say_temperature(_WARMTH('warm_before_a_feed'), nursery.temperatures_in)} first."
        act = "Nothing more by mouth, warm it against your skin, call your vet now." if cold == "coldest" else warm
        said.append(f"{pup.called} was {read}: a cold gut cannot take milk. {act}")
    weighing = pup.weighings.latest(began) or pup.weighings.latest()
    ml = fed.ml if isinstance(fed, Fed) else None
    if ml is not None and weighing is not None and over_comfort(ml, weighing.grams):
        said.append(
            f"{say_number(ml)} ml is more than the stomach of {pup.called} holds in comfort "
            f"({_TOO_MUCH:g} ml per 100 g): feed less and more often, head level, and watch its nose."
        )
    return " ".join(said) or None
