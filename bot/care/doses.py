"""Doses given too soon: logged all the same, and said first. The plan is what the keeper's own vet gave."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import datetime, timedelta

from bot.care.dog import Dog
from bot.care.doing import Given
from bot.care.figures import figures
from bot.care.notice import EVERYONE, Notice
from bot.care.nursery import Nursery
from bot.care.wording import say_span

_STALE = timedelta(hours=figures("rounds").number("left_to_the_handover_after"))


def too_soon(nursery: Nursery, told: Collection[str], now: datetime) -> Iterator[Notice]:
    """A warning for each drug whose last dose came within half of its plan's interval of another, until it was said."""
    for dog in (nursery.dam, *nursery.living):
        for drug, given in dog.doses.items():
            if given.too_soon_after is not None and now - given.told_at <= _STALE:
                cause = f"dose too soon/{drug}/{dog.who}/{given.told_at.isoformat()}"
                if cause not in told:
                    yield _warning(nursery, dog, drug, given, cause, now)


def _warning(nursery: Nursery, dog: Dog, drug: str, given: Given, cause: str, now: datetime) -> Notice:
    apart, every = given.too_soon_after or 0, given.every or 0
    name = str(getattr(given.last.event, "drug", drug))
    whom = "the dam" if dog.called == "The dam" else dog.called
    return Notice(
        says="warning",
        about="dose too soon",
        who=(dog.who,),
        at=given.told_at,
        urgency="soon",
        text=f"Too soon: this {name} for {whom} came {say_span(apart)} from another, and your vet's plan is every {say_span(every)}. "
        "It is logged. Call your vet before you give more.",
        to=nursery.on_duty(max(given.told_at, now)) or EVERYONE,
        causes=(cause,),
        values={"minutes_apart": apart, "every_minutes": every},
    )
