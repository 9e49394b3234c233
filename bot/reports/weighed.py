"""A weight with what was gained, in the cells of a line: `219 g,` `+7 g` `(+3.3 %)` `in 16 h`."""

from __future__ import annotations

from datetime import datetime

from bot.care.growth import Growth
from bot.care.nursery import Nursery
from bot.care.wording import say_change, say_hours, say_percent, say_time, say_weight
from bot.reports.asked import start_of_day


def weighed(nursery: Nursery, gain: Growth) -> list[str]:
    """The weight alone where there is nothing to compare it with."""
    weight = say_weight(gain.latest.grams, nursery.units)
    if gain.gain_g is None or gain.gain_percent is None or gain.hours is None:
        return [weight]
    return [f"{weight},", say_change(gain.gain_g, nursery.units), f"({say_percent(gain.gain_percent)})", f"in {say_hours(gain.hours)}"]


def weighed_when(nursery: Nursery, gain: Growth, now: datetime) -> list[str]:
    """The same, and the time where it was not today."""
    cells = weighed(nursery, gain)
    if gain.latest.at < start_of_day(nursery, now):
        cells[-1] += f", weighed {say_time(gain.latest.at, now, nursery.zone)}"
    return cells
