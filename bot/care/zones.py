"""Which zones think in Fahrenheit, until the household says otherwise."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files


@cache
def thinks_in_fahrenheit(zone: str) -> bool:
    """Whether a time zone (by its IANA name) is one of the United States."""
    data = tomllib.loads(files(__package__).joinpath("zones.toml").read_text(encoding="utf-8"))
    return zone in data["united_states"] or zone.startswith(tuple(data["united_states_prefixes"]))
