"""The first milk: a newborn that has neither nursed nor had colostrum is asked for early, and is the vet's after hours."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from bot.care.concern import Concern, Words
from bot.care.dog import Dog
from bot.care.figures import figures
from bot.care.nursery import Nursery
from bot.care.wording import iso, say_span, say_temperature

_FIGURES = figures("rounds")
_SOON = timedelta(hours=_FIGURES.number("first_milk_soon"))
_AGAIN = timedelta(hours=_FIGURES.number("first_milk_again"))
_VET = timedelta(hours=_FIGURES.number("first_milk_vet"))
_STALE = timedelta(hours=_FIGURES.number("left_to_the_handover_after"))
_HALVED = f"{_FIGURES.number('first_milk_halved_by'):g} h"
_GONE = f"{_FIGURES.number('first_milk_gone_by'):g} h"
_WARM_TO = figures("warmth").number("warm_before_a_feed")


def moments(birth: datetime) -> tuple[datetime, datetime]:
    """When it is asked for, and when again."""
    return birth + _SOON, birth + _AGAIN


def vet_at(birth: datetime) -> datetime:
    """When it is the vet's: the warning then takes the place of the nudges."""
    return birth + _VET


def too_late(birth: datetime) -> datetime:
    """From when nothing is said of it any more: what it could have given is gone."""
    return vet_at(birth) + _STALE


def concerns_of(pup: Dog, nursery: Nursery) -> Iterator[Concern]:
    """The warning, from the hour of the vet on, while no first milk is in the log."""
    birth = nursery.birth(pup)
    if pup.who == "dam" or birth is None or pup.had_first_milk or pup.died_at is not None:
        return
    yield Concern(
        about="first milk",
        who=(pup.who,),
        urgency="vet today",
        seen_at=vet_at(birth),
        at=vet_at(birth),
        until=too_late(birth),
        cause=f"first milk/{pup.who}/{birth.isoformat(timespec='seconds')}",
        words=lambda: _words(nursery, birth),
    )


def _words(nursery: Nursery, birth: datetime) -> Words:
    warm = say_temperature(_WARM_TO, nursery.temperatures_in)
    return Words(
        f"warm first if under {warm}, then put to a teat that gives milk",
        f"no nursing or colostrum logged in the first {say_span(_VET.total_seconds() / 60)}",
        why=f"Its protection is halved by {_HALVED}, nearly gone by {_GONE}. If they nursed, say when",
        source="mila14",
        values={"born_at": iso(birth, nursery.zone)},
    )
