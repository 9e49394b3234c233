"""The cards of the pups and the dam: the little that the reader may know of each."""

from __future__ import annotations

from bot.care.dog import Dog
from parsers.litter_card import DamCard, PupCard


def pup_card(pup: Dog) -> PupCard:
    """What the reader may know of a pup; kept on it until something of it changes."""
    if not isinstance(pup.card, PupCard):
        weighing = pup.weighings.latest()
        pup.card = PupCard(
            pup=int(pup.who),
            names=pup.names if pup.mark is None else (*pup.names, pup.mark),
            sex="m" if pup.sex == "m" else "f" if pup.sex == "f" else None,
            last_grams=None if weighing is None else weighing.grams,
            last_at=None if weighing is None else weighing.at,
            died=pup.died_at,
        )
    return pup.card


def dam_card(dam: Dog) -> DamCard:
    """What the reader may know of the dam; kept on her until something of her changes."""
    if not isinstance(dam.card, DamCard):
        weighing = dam.weighings.latest()
        dam.card = DamCard(
            names=dam.names,
            last_grams=None if weighing is None else weighing.grams,
            last_at=None if weighing is None else weighing.at,
        )
    return dam.card
