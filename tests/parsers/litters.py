"""The litters that the reader's tests speak of: invented, in grams or ounces, Fahrenheit or Celsius, with names and without."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from parsers import LitterCard

NOW = datetime.fromisoformat("2026-03-04T03:14:00-06:00")
"""A Wednesday night, two and a half days after the birth."""
BORN = datetime.fromisoformat("2026-03-01T15:40:00-06:00")
WEIGHTS = {1: 205, 2: 188, 3: 212, 4: 199, 5: 176}
"""Last weights in grams, all taken two hours before NOW."""
_NAMES = {1: ["blue"], 2: ["Olive"], 4: ["Pip", "white chest"]}


def litter(
    *, weights_in: str = "g", temperatures_in: str = "F", named: bool = True, grams: dict[int, float] | None = None, **more: Any
) -> LitterCard:
    """Five pups and their dam Juniper; `grams` replaces the last weights, `more` any other field of the card."""
    weights = dict(WEIGHTS) if grams is None else grams
    pups = [
        {
            "pup": pup,
            "names": _NAMES.get(pup, []) if named else [],
            "sex": "m" if pup % 2 else "f",
            "last_grams": weights.get(pup),
            "last_at": (NOW - timedelta(hours=2)).isoformat() if pup in weights else None,
        }
        for pup in WEIGHTS
    ]
    card = {
        "now": NOW.isoformat(),
        "zone": "America/Chicago",
        "weights_in": weights_in,
        "temperatures_in": temperatures_in,
        "born": BORN.isoformat(),
        "dam": {"names": ["Juniper", "mom", "dam", "mama"] if named else [], "last_grams": 11_800},
        "pups": pups,
        "people": ["Ines", "Theo"],
        "doses": [{"drug": "calcium", "every_minutes": 150}],
    }
    return LitterCard.model_validate(card | more)


HOUSES = {
    "grams and Fahrenheit, with names": litter(),
    "ounces and Fahrenheit, with names": litter(weights_in="oz"),
    "grams and Celsius, without names": litter(temperatures_in="C", named=False),
    "ounces and Celsius, without names": litter(weights_in="oz", temperatures_in="C", named=False),
}
"""One litter as four households keep it."""
