"""A medicine or supplement was given, as the keeper's own vet planned it."""

from typing import Literal

from parsers.events.base import Event, Number, Units, Who
from parsers.vocabulary import load

_LISTED = frozenset(load("parts")["drug"])
"""Drugs that are known by their name; any other is one behind `gave` alone."""

DoseUnit = Literal["click", "ml", "mg", "g", "tablet", "unit", "drop", "pump"]


class Dose(Event):
    """A dose given; the amount is what the keeper said, never ours."""

    kind: Literal["dose"] = "dose"
    who: Who
    drug: str
    amount: Number | None = None
    unit: DoseUnit | None = None

    def say(self, units: Units) -> str:
        if self.amount is None:
            return f"gave {self.drug}"
        amount = units.number(self.amount)
        drug = self.drug if self.drug in _LISTED else f"gave {self.drug}"
        if self.unit is None:
            return f"{drug} {amount}"
        plural = "s" if self.amount != 1 and self.unit not in ("ml", "mg", "g") else ""
        return f"{drug} {amount} {self.unit}{plural}"
