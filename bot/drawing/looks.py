"""How charts look: in the dark, by day, and on paper. Every curve has its colour, its dash and its marker, so that it needs no colour."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Variant = Literal["dark", "light", "paper"]

MARKERS = ("o", "s", "^", "D", "v", "P", "X", "*", "<", "h")
"""By the number of the pup."""
DASHES: tuple[tuple[float, ...], ...] = ((), (5.0, 1.6), (1.6, 1.4), (6.0, 1.6, 1.6, 1.6))
"""On and off, in widths of the line; none: unbroken."""


@dataclass(frozen=True)
class Look:
    """The colours of one variant: those of the page that it stands on, and of the curves, which are also told apart without colour."""

    ground: str
    ink: str
    faint: str
    rule: str
    band: str
    alarm: str
    colours: tuple[str, ...]

    def colour(self, place: int) -> str:
        """The colour of a pup's curve."""
        return self.colours[(place - 1) % len(self.colours)]


def marker(place: int) -> str:
    """The marker of a pup's curve: ten pups have ten."""
    return MARKERS[(place - 1) % len(MARKERS)]


def dash(place: int) -> tuple[float, ...]:
    """The dash of a pup's curve; an eleventh pup has another than the first, whose marker it shares."""
    return DASHES[(place - 1) % len(DASHES)]


_BY_DAY = ("#075a94", "#8f3500", "#27221a", "#b04aa0", "#00806a", "#8a7a00")

LOOKS: Mapping[Variant, Look] = {
    "dark": Look(
        ground="#12100c", ink="#e9dfcd", faint="#b3a78f", rule="#3a3328", band="#3b3524", alarm="#ff8f7a",
        colours=("#62b8f0", "#f0a03c", "#f4ecdc", "#e79bd8", "#3fc9a0", "#e8d84a"),
    ),
    "light": Look(
        ground="#faf6ec", ink="#27221a", faint="#655c4b", rule="#d9cfba", band="#e8dfc6", alarm="#a6230f", colours=_BY_DAY,
    ),
    "paper": Look(ground="#ffffff", ink="#000000", faint="#444444", rule="#c8c8c8", band="#e6e6e6", alarm="#8f1500", colours=_BY_DAY),
}  # fmt: skip
