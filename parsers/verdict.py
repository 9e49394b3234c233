"""The events of one reading of a message, and how far they can be trusted."""

from __future__ import annotations

from dataclasses import dataclass, field

from parsers.events import Event
from parsers.plausibility import Fit


@dataclass(slots=True)
class Verdict:
    """The events of one reading, and how far they can be trusted."""

    events: list[Event] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    fit: Fit = Fit.PLAUSIBLE
    missing_who: bool = False
    choices: list[tuple[list[Event], list[Event]]] = field(default_factory=list)
    """Events of which two values were offered, and the same with the other value: `nursed 10 to 15 min`."""
    spans: list[tuple[int, int]] = field(default_factory=list)
    whos: list[int | str] = field(default_factory=list)
    between: int = 0
    empty: set[str] = field(default_factory=set)
    """Kinds that were logged without the number they can have: nursed for how long?"""
    left: int = 0
    """How many items no event accounts for."""

    @property
    def rank(self) -> tuple[int, int, int, int]:
        """The lower the likelier: nothing in doubt, then how it fits, then how many words are left over."""
        return (len(self.doubts) > 0, int(self.missing_who) + int(self.fit), self.left, len(self.doubts))
