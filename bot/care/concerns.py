"""Concerns: all that is worrying, or will be if nothing comes between, of each dog, the litter and the box."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from bot.care import box, doses, refusals, signs
from bot.care.concern import Concern
from bot.care.dog import Dog
from bot.care.nursery import Nursery


def concerns(nursery: Nursery) -> Iterator[Concern]:
    """Every concern, told or not, of now, before and ahead. Each dog's own are kept on it until it, a choice or a birth changes."""
    own = chain.from_iterable(_own(dog, nursery) for dog in (nursery.dam, *nursery.living))
    return chain(own, box.concerns_of(nursery)) if nursery.box else own


def _own(dog: Dog, nursery: Nursery) -> tuple[Concern, ...]:
    choices = nursery.choices
    birth = nursery.born if dog.who == "dam" else nursery.birth(dog)
    kept = dog.concerns
    if kept is None or kept[0] is not choices or kept[1] != birth:
        found = (*signs.concerns_of(dog, nursery), *refusals.concerns_of(dog, nursery), *doses.concerns_of(dog))
        kept = dog.concerns = (choices, birth, found)
    return kept[2]
