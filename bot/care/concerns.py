"""Concerns: all that is worrying, or will be if nothing comes between, of each dog, the litter and the box."""

from __future__ import annotations

from bot.care import birth_weights, box, doses, first_milk, refusals, signs, weigh_in
from bot.care.concern import Concern
from bot.care.dog import Dog
from bot.care.nursery import Nursery


def concerns(nursery: Nursery) -> list[Concern]:
    """Every concern, told or not, of now, before and ahead. Each dog's own are kept on it until it, a choice or a birth changes."""
    choices, born = nursery.choices, nursery.born
    found: list[Concern] = []
    for dog in (nursery.dam, *nursery.living):
        birth = born if dog.who == "dam" else nursery.birth(dog)
        kept = dog.concerns
        if kept is None or kept[0] is not choices or kept[1] != birth:
            kept = dog.concerns = (choices, birth, _own(dog, nursery))
        found += kept[2]
    found += of_weights(nursery)
    if nursery.box:
        found += box.concerns_of(nursery)
    return found


def of_weights(nursery: Nursery) -> list[Concern]:
    """Those that the weights of the living pups come to: all that a weight alone can bring about."""
    born = nursery.born
    scaled = [weigh_in.on_the_scale(pup, pup.born_at or born) for pup in nursery.living]
    weighed = [one for one in scaled if one is not None]
    return [*weigh_in.concerns_of(nursery, weighed), *birth_weights.concerns_of(nursery, weighed)]


def _own(dog: Dog, nursery: Nursery) -> tuple[Concern, ...]:
    return (
        *signs.concerns_of(dog, nursery),
        *refusals.concerns_of(dog, nursery),
        *first_milk.concerns_of(dog, nursery),
        *doses.concerns_of(dog),
    )
