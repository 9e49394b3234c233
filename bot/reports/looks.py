"""Why a pup needs a look at its weight, in words: calm where it is usual, and to the vet where it is not."""

from __future__ import annotations

from bot.care.figures import figures
from bot.care.growth import Look

_FIGURES = figures("growth")
EARLY_LOSS = f"{-_FIGURES.number('early_loss'):g} %"
"""The line of day 2, as it is said."""
_GREAT_LOSS = f"{-_FIGURES.number('great_loss'):g} %"

_WORDS: dict[Look, str] = {
    "": "",
    "first dip": "a small dip on the first day is usual",
    "early loss": f"needs a look: {EARLY_LOSS} or more below birth weight on day 2, call your vet today",
    "great loss": f"needs a look: {_GREAT_LOSS} or more below birth weight, call your vet today",
    "below birth weight": "needs a look: below birth weight, call your vet today",
    "no gain": "needs a look: no gain, call your vet today",
    "no gain yet": "needs a look: no gain yet, weigh again soon",
    "unclear": "too small a change for this scale to show",
}


def say_look(look: Look) -> str:
    """The words for it; none where all is well."""
    return _WORDS[look]
