"""What is usual: the gain of a pup by its age, and where its weight stands beside that."""

from __future__ import annotations

from datetime import timedelta
from functools import cache
from typing import Literal

from bot.care.figures import Figure, figures, source_in_short, sources
from bot.care.growth import Growth
from bot.care.wording import say_list

_FIGURES = figures("growth")


def expected_percent(day: int | None) -> tuple[float, float] | None:
    """The usual gain a day at that age, in percent, from and to; None where no figure is published for it."""
    if day is None:
        return None
    low, high = _FIGURES.on_day("expected_low", day), _FIGURES.on_day("expected_high", day)
    return None if low is None or high is None else (low, high)


@cache
def expected_course() -> tuple[tuple[float, float, float], ...]:
    """The usual weight by age in days, from and to, as multiples of the birth weight; as far as figures are published."""
    low = high = 1.0
    course = [(0.0, low, high)]
    day = 0
    while (usual := expected_percent(day)) is not None:
        low, high = low * (1 + usual[0] / 100), high * (1 + usual[1] / 100)
        day += 1
        course.append((float(day), low, high))
    return tuple(course)


def beside_the_usual(growth: Growth) -> Literal["below", "in", "above", ""]:
    """Where a weight stands beside the usual one of its age; empty where its birth, its birth weight or the usual is not known."""
    age = None if growth.age is None else growth.age / timedelta(days=1)
    course = expected_course()
    if age is None or growth.birth_grams is None or not 0 <= age <= course[-1][0]:
        return ""
    (day, low, high), (_, next_low, next_high) = course[int(age)], course[min(int(age) + 1, len(course) - 1)]
    part, times = age - day, growth.latest.grams / growth.birth_grams
    if times < low + (next_low - low) * part:
        return "below"
    return "above" if times > high + (next_high - high) * part else "in"


@cache
def say_expected(*, in_short: bool) -> str:
    """The usual gain in words, with its source: as it is said in chat, or in full."""
    spans = [
        f"{low.value:g} to {high.value:g} % a day in {_weeks(low)}"
        for low, high in zip(_FIGURES["expected_low"], _FIGURES["expected_high"], strict=True)
    ]
    keys = _FIGURES["expected_low"][0].source
    named = "; ".join(source_in_short(key) if in_short else sources()[key] for key in keys)
    return f"the usual gain from birth on, {say_list(spans)} ({named}). A small dip on the first day is usual"


def _weeks(figure: Figure) -> str:
    first, last = (figure.from_day or 0) // 7 + 1, ((figure.to_day or 0) + 1) // 7
    return f"week {first}" if first >= last else f"weeks {first} to {last}"
