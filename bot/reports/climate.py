"""Climate: how warm the box should be at this age, what was last read and when, and why the pups decide before the number."""

from __future__ import annotations

from datetime import timedelta

from pydantic import JsonValue

from bot.care.climate import Range, box_range, last_reading, litter_day
from bot.care.figures import figures
from bot.care.wording import iso, say_range, say_reading, say_time
from bot.reports.answer import Answer
from bot.reports.asked import Asked

_FIGURES = figures("climate")


def _percent(low: str, high: str) -> str:
    return f"{_FIGURES.number(low):g} to {_FIGURES.number(high):g} % humidity"


_OLD = timedelta(hours=_FIGURES.number("reading_is_old_after"))
_HUMIDITY = _percent("humidity_low", "humidity_high")
_HUMIDITY_TOLD = _percent("humidity_lowest_told", "humidity_highest_told")
_MARGIN = _FIGURES.number("box_margin")
_COOLEST = _FIGURES.number("coolest_told_for_newborns")


def answer(asked: Asked) -> Answer:
    """The range of the box for today, the last readings, and what the pups themselves say."""
    nursery = asked.nursery
    day = litter_day(nursery, asked.now)
    box = box_range(day)
    values: dict[str, JsonValue] = {"box_low_c": box.low_c, "box_high_c": box.high_c}
    when = "before the birth" if nursery.born is None else f"on day {day}"
    lines = [
        f"Box {when}: {_said(box, asked)} where the pups lie, and a cool side that the dam can lie on.",
        *_readings(asked, box, values),
        "The pups decide before the number: a tight, noisy pile is cold; spread out and restless is hot; a loose, quiet pile is right.",
        f"An incubator: as warm, with {_HUMIDITY}. UC Davis and clinics' sheets; sources differ ({_differ(asked, box)}{_HUMIDITY_TOLD}).",
    ]
    return Answer("\n".join(lines), values, "climate")


def _readings(asked: Asked, box: Range, values: dict[str, JsonValue]) -> list[str]:
    """The last reading of each place, the box first, judged unless it is of the room; its figures go into `values`."""
    nursery, now = asked.nursery, asked.now
    lines: list[str] = []
    for place in ("box", "incubator", "room"):
        found = last_reading(nursery, place)
        if found is None:
            continue
        reading, done = found
        values[f"{place}_at"] = iso(done.began, nursery.zone)
        said: list[str] = []
        judged = ""
        if reading.celsius is not None:
            values[f"{place}_c"] = reading.celsius
            said.append(say_reading(reading.celsius, nursery.temperatures_in))
            judged = "" if place == "room" else f": {_judged(box.off_by(reading.celsius), asked)}"
        if reading.humidity is not None:
            values[f"{place}_humidity_percent"] = reading.humidity
            said.append(f"{reading.humidity:g} % humidity")
        ago = now - done.began
        if ago > _OLD:
            judged = ", too long ago to count: read it again"
        lines.append(f"{place.capitalize()} last read {' and '.join(said)}, {say_time(done.began, now, nursery.zone)}{judged}.")
    if "box_at" in values:
        values["last_at"] = values["box_at"]
    else:
        least, _, _, unit = _said(box, asked).split()
        lines.insert(0, f"The box was not read yet: tell me, like “box {least} {unit}”.")
    return lines


def _said(box: Range, asked: Asked) -> str:
    return say_range(box.low_c, box.high_c, asked.nursery.temperatures_in)


def _judged(off: float, asked: Asked) -> str:
    """Whether a reading that is outside the range by so much is right, and what to do where it is not."""
    if not off:
        return "right for their age"
    by = f"{abs(off) * 1.8 if asked.nursery.temperatures_in == 'F' else abs(off):.1f}".removesuffix(".0")
    by += f" {asked.nursery.temperatures_in}"
    if abs(off) <= _MARGIN:
        return f"only {by} {'below' if off < 0 else 'above'} the range"
    return f"{by} too cold, warm it slowly" if off < 0 else f"{by} too hot, cool it and give them room to move away"


def _differ(asked: Asked, box: Range) -> str:
    """For the newest pups, where it matters most, how far apart the sources are."""
    return f"{say_range(_COOLEST, box.high_c, asked.nursery.temperatures_in)} for newborns, " if box == box_range(0) else ""
