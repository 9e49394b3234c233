"""Supervision: pups that are with the dam, while nobody has written for long. In their first two weeks they are not left alone with her."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from bot.care.dog import Dog
from bot.care.due import STAGES, Due
from bot.care.figures import figures
from bot.care.nursery import Nursery
from parsers.events.placed import Placed

_FIGURES = figures("rounds")
_SILENCE = timedelta(minutes=_FIGURES.number("supervision_after"))


def dues(nursery: Nursery, heard: datetime | None) -> Iterator[Due]:
    """A look at each pup that is with her, due so long after the last message from anyone; None: nobody ever wrote.

    It is no answer to `who's due`: whoever asks has written just then.
    """
    if heard is None:
        return
    at = heard + _SILENCE
    for pup in nursery.living:
        if is_with_the_dam(pup) and _FIGURES.on_day("supervision_days", nursery.age_day(pup, at) or 0) is not None:
            cause = f"supervision/{pup.who}/{heard.isoformat(timespec='seconds')}"
            yield Due("supervision", pup.who, at, tuple([f"{cause}/{stage}" for stage in STAGES]), "seen", heard)


def is_with_the_dam(pup: Dog) -> bool:
    """Whether it was last placed with her, or nursed and not placed elsewhere since."""
    placed, nursed = pup.last.get("placed"), pup.last.get("nursed")
    if placed is None:
        return nursed is not None
    if isinstance(placed.event, Placed) and placed.event.place == "dam":
        return True
    return nursed is not None and nursed.began > placed.began
