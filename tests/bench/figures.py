"""Medians and percentiles of measured times, and how they are printed."""

from __future__ import annotations

from collections.abc import Sequence


def percentile(values: Sequence[float], percent: float) -> float:
    """The value that `percent` of the values do not pass (nearest rank)."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(len(ordered) * percent / 100))]


def median(values: Sequence[float]) -> float:
    """The middle value."""
    return percentile(values, 50)


def milliseconds(seconds: float) -> str:
    """Seconds as milliseconds, to three places."""
    return f"{seconds * 1000:.3f}"


def line(what: str, value: str, bar: str = "", *, held: bool | None = None) -> str:
    """One figure with its bar, and whether it is held."""
    verdict = "" if held is None else "  ok" if held else "  OVER THE BAR"
    return f"{what:<62} {value:>14}  {bar}{verdict}"
