"""The chart of body temperatures, of the dam or of one pup."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from bot.care.dog import Dog
from bot.care.doing import Doing
from bot.care.nursery import Nursery
from bot.charts.axes import clock_axis, days
from bot.charts.chart import Axis, Band, Curve, Curves, Level
from parsers.events.temperature import Temperature
from parsers.measures import celsius_to_fahrenheit

DAMS_PLACE = 1
"""The dam's curve looks like a first pup's: she is never on a chart with pups."""
_ROOM = 0.3
"""Degrees Celsius left free above and below."""


def degrees(celsius: float, unit: str) -> float:
    """A temperature in the household's unit."""
    return celsius_to_fahrenheit(celsius) if unit == "F" else celsius


def temperature_curve(
    nursery: Nursery,
    dog: Dog,
    taken: Sequence[Doing],
    now: datetime,
    *,
    title: str,
    caption: str,
    alt: str,
    usual: tuple[float, float] | None = None,
    levels: Sequence[tuple[float, str]] = (),
) -> Curves | None:
    """The chart of these temperatures, until now; None where there are none.

    `usual` and `levels` are in Celsius; the first level is always on the chart, a further one where the temperatures come near it.
    """  # fmt: skip
    unit = nursery.temperatures_in
    found = sorted([(one.began, one.event.celsius) for one in taken if isinstance(one.event, Temperature)])
    if not found:
        return None
    start = found[0][0]
    points = tuple([(days(at - start), degrees(celsius, unit)) for at, celsius in found])
    x = clock_axis(start, max(found[-1][0], now), nursery.zone)
    shown = [celsius for _, celsius in found] + list(usual or ()) + [celsius for celsius, _ in levels[:1]]
    y = Axis(low=degrees(min(shown) - _ROOM, unit), high=degrees(max(shown) + _ROOM, unit), label=f"°{unit}")
    band = None
    if usual is not None:
        low, high = (degrees(celsius, unit) for celsius in usual)
        band = Band(label="usual", points=((x.low, low, high), (x.high, low, high)))
    return Curves(
        title=title, caption=caption, alt=alt, x=x, y=y, band=band,
        curves=(Curve(label=f"{points[-1][1]:.1f} {unit}", place=DAMS_PLACE if dog.who == "dam" else int(dog.who), points=points),),
        levels=tuple([Level(y=degrees(celsius, unit), label=words) for celsius, words in levels]),
    )  # fmt: skip
