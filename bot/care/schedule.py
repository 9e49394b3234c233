"""The schedule of one dog: what is due of it, by its age and by what the household chose."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from bot.care.choice import Choices
from bot.care.dog import Dog
from bot.care.doing import Doing
from bot.care.due import STAGES, Due
from bot.care.figures import figures

_FIGURES = figures("rounds")


def due_of(dog: Dog, choices: Choices, birth: datetime | None) -> tuple[Due, ...]:
    """All that is or will be due of a living dog. It is kept on the dog until the dog, a choice or the birth changes."""
    kept = dog.dues
    if kept is None or kept[0] is not choices or kept[1] != birth:
        kept = dog.dues = (choices, birth, tuple(_work_out(dog, choices, birth)))
    return kept[2]


def interval(choices: Choices, birth: datetime | None, began: datetime) -> float | None:
    """Minutes between nursings for a pup of its age when it began the last one; None: no longer by the clock.

    Where its birth was not told, a pup counts as newborn: better a nudge too many.
    """
    day = 0 if birth is None else max(0, (began - birth).days)
    chosen = choices.every.get("nursing")
    if chosen is not None and _FIGURES.on_day("nursing_interval_by_choice", day) is not None:
        return chosen
    return _FIGURES.on_day("nursing_interval", day)


def _work_out(dog: Dog, choices: Choices, birth: datetime | None) -> Iterator[Due]:
    if dog.died_at is not None:
        return
    last = dog.last_fed()
    if last is not None and dog.who != "dam":
        minutes = interval(choices, birth, last.began)
        if minutes is not None:
            yield Due("nursing", dog.who, last.began + timedelta(minutes=minutes), last, _causes("nursing", dog, last))
    if choices.plan:
        for drug, given in dog.doses.items():
            minutes = choices.plan.get(drug, choices.plan.get(""))
            if minutes is not None:
                last = given.last
                name = str(getattr(last.event, "drug", drug))
                yield Due("dose", dog.who, last.began + timedelta(minutes=minutes), last, _causes(f"dose/{drug}", dog, last), name)


def _causes(care: str, dog: Dog, last: Doing) -> tuple[str, ...]:
    return tuple([f"{care}/{dog.who}/{last.cause}/{stage}" for stage in STAGES])
