"""An item of a message: a subject, a doing, a measure, a number, a time or a small word, with the words it takes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from parsers.measures import Measure
from parsers.numbers import Number
from parsers.pup_numbers import Subject
from parsers.times import When
from parsers.vocabulary import Tag

Pick = Callable[[int], int]
"""Chooses one of several readings of the same words (0 is the plainest); the reader tries the others in turn."""


@dataclass(slots=True)
class Item:
    """One item: its role and which words it takes; what else is set depends on the role."""

    role: str
    """subject, bare, do, measure, number, time, stop, pause, join, colon, small, unknown, or a part, sign or talk tag."""
    at: int
    length: int
    tags: Sequence[Tag] = ()
    subject: Subject | None = None
    measure: Measure | None = None
    numbers: Sequence[Number] = ()
    when: When | None = None
    text: str = ""
    other: float | None = None
    """The second of two values that were offered (`10 to 15 min`), as the first is stored."""
    place: int = 0
    """Its place among the items of the message."""

    def tag(self, role: str) -> Tag | None:
        """Its tag of a role; None where it has none."""
        for tag in self.tags:
            if tag.role == role:
                return tag
        return None

    def kinds(self) -> dict[str, Tag]:
        """Its doings by kind."""
        return {tag.name: tag for tag in self.tags if tag.role == "do"} if self.tags else {}

    @property
    def end(self) -> int:
        return self.at + self.length
