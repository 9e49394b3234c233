"""Doses given too soon: logged all the same, and said first. The plan is what the keeper's own vet gave."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from functools import partial

from bot.care.concern import Concern, Words
from bot.care.dog import Dog
from bot.care.doing import Given
from bot.care.figures import figures
from bot.care.nursery import Nursery
from bot.care.wording import say_span

_STANDS = timedelta(hours=figures("rounds").number("left_to_the_handover_after"))


def concerns_of(dog: Dog) -> Iterator[Concern]:
    """Each drug whose last dose came within half of its plan's interval of another."""
    for drug, given in dog.doses.items():
        if given.too_soon_after is None or given.every is None:
            continue
        yield Concern(
            about="dose too soon",
            who=(dog.who,),
            kind=drug,
            urgency="soon",
            seen_at=given.told_at,
            at=given.told_at,
            until=given.told_at + _STANDS,
            cause=_cause(drug, dog, given.told_at),
            near=tuple(_cause(drug, dog, told_at) for told_at in given.others),
            alone=True,
            words=partial(_words, drug, given, given.too_soon_after, given.every),
        )


def _words(drug: str, given: Given, minutes_apart: float, every_minutes: float) -> Words:
    name = str(getattr(given.last.event, "drug", drug))
    return Words(
        "give no more before you have called your vet",
        f"this {name} came {say_span(minutes_apart)} from another, and your vet's plan is every {say_span(every_minutes)}; it is logged",
        values={"minutes_apart": minutes_apart, "every_minutes": every_minutes},
    )


def _cause(drug: str, dog: Dog, told_at: datetime) -> str:
    return f"dose too soon/{drug}/{dog.who}/{told_at.isoformat()}"


def just_given_too_soon(nursery: Nursery, now: datetime) -> bool:
    """Whether a dose that was told at this very moment was too soon: the reply says so first, however often it was warned of."""
    return any(
        given.too_soon_after is not None and given.told_at == now for dog in (nursery.dam, *nursery.living) for given in dog.doses.values()
    )
