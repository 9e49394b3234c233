"""The growth chart: how pups grow against their birth weight, in words and as what is drawn."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.growth import Growth, growth, litter_values
from bot.care.usual import beside_the_usual, say_expected
from bot.care.wording import say_change, say_hours, say_percent, say_time, say_weight
from bot.charts import Curves
from bot.charts.growth_curves import Unit, growth_curves
from bot.reports.answer import Answer
from bot.reports.asked import Asked, start_of_day
from bot.reports.looks import say_look

MOST_LINES = 10
"""Pups that have a line each; of a larger litter those that are as usual share one."""
_PLACES = {"below": "below the shaded range", "in": "in the shaded range", "above": "above the shaded range"}


def answer(asked: Asked) -> Answer:
    """The chart in words: each pup's weight, what it gained since birth, and where it stands beside what is usual."""
    pups = asked.pups
    if not pups:
        return Answer(asked.no_such_pup, about="chart", who=asked.named)
    start, end = _when(asked)
    found = {int(pup.who): growth(asked.nursery, pup, since=start, until=end) for pup in pups}
    gains = {number: gain for number, gain in found.items() if gain is not None}
    today = start_of_day(asked.nursery, asked.now)
    not_weighed = [number for number, gain in found.items() if gain is None or gain.latest.at < today]
    if not gains:
        none = f"{asked.nursery.together(found)} {'has' if len(found) == 1 else 'have'} not been weighed"
        when = " yet" if asked.question.span is None else f" {asked.span.said}"
        return Answer(f"There is no chart to draw: {none}{when}.", {"not_weighed": list(not_weighed)}, "chart", asked.named)
    if asked.names_one:
        pup = pups[0]
        return Answer(
            _of_one(asked, pup, gains[int(pup.who)]), gains[int(pup.who)].values(asked.nursery.zone), "chart", (pup.who,), "chart"
        )
    values: dict[str, JsonValue] = {str(number): gain.values(asked.nursery.zone) for number, gain in gains.items()}
    values |= litter_values(gains.values(), not_weighed)
    lines = ["Growth chart, % of birth weight:", *_lines(asked, gains), f"Shaded: {say_expected(in_short=True)}."]
    return Answer("\n".join(lines), values, "chart", asked.named, "chart")


def picture(asked: Asked) -> Curves | None:
    """What is drawn of it."""
    nursery, pups = asked.nursery, asked.pups
    start, end = _when(asked)
    whose = pups[0].called if asked.names_one and pups else f"{nursery.choices.dam}'s litter" if nursery.choices.dam else "the litter"
    unit: Unit = nursery.units.weights_in if asked.names_one else "%"
    title = f"Growth of {whose} until {_date(asked, end)}"
    return growth_curves(nursery, pups, start, end, unit=unit, title=title, alt=answer(asked).text)


def _date(asked: Asked, moment: datetime) -> str:
    wall = moment.astimezone(asked.nursery.zone)
    return f"{wall.day} {wall:%b}"


def _when(asked: Asked) -> tuple[datetime, datetime]:
    """The time that is shown: all of it, where none was asked for."""
    if asked.question.span is None:
        return datetime.min.replace(tzinfo=UTC), asked.now
    return asked.span.start, asked.span.end


def _lines(asked: Asked, gains: Mapping[int, Growth]) -> list[str]:
    nursery = asked.nursery
    shown, as_usual = dict(gains), []
    if len(gains) > MOST_LINES:
        as_usual = [number for number, gain in gains.items() if not gain.look and beside_the_usual(gain) in ("in", "")]
        shown = {number: gain for number, gain in gains.items() if number not in as_usual}
    lines = [f"{nursery.called(number)}: {_stands(asked, gain)}." for number, gain in shown.items()]
    return [*lines, f"{nursery.together(as_usual)}: {_PLACES['in']}."] if as_usual else lines


def _stands(asked: Asked, gain: Growth) -> str:
    """`243 g, +18.3 % since birth, in the shaded range`."""
    said = [say_weight(gain.latest.grams, asked.nursery.units)]
    if gain.since_birth_percent is not None and gain.reference is not None:
        said.append(f"{say_percent(gain.since_birth_percent)} since birth")
    elif gain.reference is None:
        said.append("the first weight")
    if gain.doubled_at is not None:
        said.append("doubled")
    place = beside_the_usual(gain)
    if place and gain.reference is not None:
        said.append(_PLACES[place])
    if gain.look:
        said.append(say_look(gain.look))
    if asked.now - gain.latest.at > timedelta(days=1):
        said.append(f"weighed {say_time(gain.latest.at, asked.now, asked.nursery.zone)}")
    return ", ".join(said)


def _of_one(asked: Asked, pup: Dog, gain: Growth) -> str:
    nursery, now = asked.nursery, asked.now
    units = nursery.units
    start, end = _when(asked)
    weighed = pup.weighings.between(start, end)
    lines = [f"Growth chart of {pup.called}: {_stands(asked, gain)}."]
    if gain.gain_g is not None and gain.gain_percent is not None and gain.hours is not None:
        lines.append(f"{say_change(gain.gain_g, units)} ({say_percent(gain.gain_percent)}) in {say_hours(gain.hours)}.")
    lowest = min(weighed, key=lambda one: one.grams)
    if len(weighed) > 1:
        first = f"from {say_weight(weighed[0].grams, units)}"
        dip = (
            ""
            if lowest in (weighed[0], weighed[-1])
            else f", lowest {say_weight(lowest.grams, units)} {say_time(lowest.at, now, nursery.zone)}"
        )
        lines.append(f"{len(weighed)} weights, {first} {say_time(weighed[0].at, now, nursery.zone)}{dip}.")
    if gain.doubled_at is not None:
        lines.append(f"Doubled its birth weight {say_time(gain.doubled_at, now, nursery.zone)}.")
    return "\n".join([*lines, f"Shaded: {say_expected(in_short=True)}."])
