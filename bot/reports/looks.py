"""Why a pup needs a look at its weight, in words: calm where it is usual, and to the vet where it is not."""

from __future__ import annotations

from bot.care.figures import figures
from bot.care.growth import Look

_FIGURES = figures("growth")
EARLY_LOSS = f"{-_FIGURES.number('early_loss'):g} %"
"""The line of day 2, as it is said."""
_GREAT_LOSS = f"{-_FIGURES.number('great_loss'):g} %"

_SERIOUS: dict[Look, str] = {
    "early loss": f"{EARLY_LOSS} or more below birth weight on day 2",
    "great loss": f"{_GREAT_LOSS} or more below birth weight",
    "below birth weight": "below birth weight",
    "no gain": "no gain",
}
_CALM: dict[Look, str] = {
    "first dip": "a small dip on the first day is usual",
    "no gain yet": "needs a look: no gain yet, weigh again soon",
    "unclear": "too small a change for this scale to show",
}


def is_serious(look: Look) -> bool:
    """Whether a vet is to be called today for it, unless the whole litter's weights are in doubt."""
    return look in _SERIOUS


def say_look(look: Look) -> str:
    """The words for it; none where all is well."""
    return f"needs a look: {_SERIOUS[look]}" if look in _SERIOUS else say_calm_look(look)


def say_calm_look(look: Look) -> str:
    """The words for what is no warning."""
    return _CALM.get(look, "")
