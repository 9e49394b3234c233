"""A medicine or supplement was given, as the keeper's own vet planned it."""

from typing import Literal

from parsers.events.base import Event, Number, Units, Who

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
        if self.unit is None:
            return f"{self.drug} {amount}"
        plural = "s" if self.amount != 1 and self.unit not in ("ml", "mg", "g") else ""
        return f"{self.drug} {amount} {self.unit}{plural}"
