"""An answer is what the bot says to a question: words, and the figures that the words show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from pydantic import JsonValue

from parsers.events import Who

LINES = 12
"""The most lines of an answer: what a phone shows at once."""


@dataclass(frozen=True, slots=True)
class Answer:
    """Something said."""

    text: str
    values: Mapping[str, JsonValue] = field(default_factory=dict)
    """The figures, unrounded, by name with the unit in the name; for several pups under each one's number, the litter's own beside them."""
    about: str = ""
    """The topic."""
    who: tuple[Who, ...] = ()
    """Whom it speaks of; empty for the litter as a whole."""
    shows: Literal["", "chart", "sheet"] = ""
    """What may be looked at beside the words, where there is anything."""


def in_lines(lines: Sequence[str], most: int) -> list[str]:
    """No more than so many lines: what is too much, the least that matters, shares the last one."""
    return [*lines] if len(lines) <= most else [*lines[: most - 1], " ".join(lines[most - 1 :])]


def on_a_screen(lines: Sequence[str]) -> str:
    """Lines as a text no longer than a phone's screen."""
    return "\n".join(in_lines(lines, LINES))
