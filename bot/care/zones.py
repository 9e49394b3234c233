"""Which zones think in Fahrenheit, until the household says otherwise, and which print on Letter paper."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files


@cache
def thinks_in_fahrenheit(zone: str) -> bool:
    """Whether a time zone (by its IANA name) is one of the United States."""
    return _is_in(zone, "united_states")


@cache
def prints_on_letter(zone: str) -> bool:
    """Whether paper is Letter there; elsewhere it is A4."""
    return _is_in(zone, "united_states") or _is_in(zone, "letter_elsewhere")


def _is_in(zone: str, region: str) -> bool:
    data = tomllib.loads(files(__package__).joinpath("zones.toml").read_text(encoding="utf-8"))
    return zone in data[region] or zone.startswith(tuple(data[f"{region}_prefixes"]))
