"""The chart of temperatures, the dam's above all: in words and as what is drawn."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import NamedTuple

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.doing import Doing
from bot.care.figures import Figures, figures, source_in_short
from bot.care.wording import iso, say_time
from bot.charts import Curves
from bot.charts.temperature_curve import degrees, temperature_curve
from bot.reports.answer import Answer
from bot.reports.asked import Asked
from parsers.events.temperature import Temperature

DAYS = 7
"""How far back it goes where no span was asked for: the week in which a dam's temperature is watched most."""
_DAM, _PUPS = figures("dam"), figures("warmth")


class _Usual(NamedTuple):
    """What is usual, where the vet is called, and where that stands written. In Celsius."""

    low: float
    high: float
    call_from: float | None
    emergency_above: float | None
    source: str


def answer(asked: Asked) -> Answer:
    """The temperatures in words: the last, the lowest and the highest, and how many."""
    dog = _dog(asked)
    if dog is None:
        return Answer("Whose temperature? Ask for a chart of mom's temperature, or of one pup's.", about="chart", who=asked.named)
    taken = _taken(asked, dog)
    if not taken:
        return Answer(f"No temperature of {dog.called} was told {_said(asked)}.", about="chart", who=(dog.who,))
    last = taken[-1]
    low, high = min(taken, key=_celsius), max(taken, key=_celsius)
    words = [f"Temperature chart of {dog.called}, {_said(asked)}: {_say(asked, last)}."]
    if len(taken) > 1:
        words.append(f"{len(taken)} readings, the lowest {_say(asked, low)}, the highest {_say(asked, high)}.")
    values: dict[str, JsonValue] = {
        "celsius": _celsius(last),
        "last_at": iso(last.began, asked.nursery.zone),
        "lowest_celsius": _celsius(low),
        "highest_celsius": _celsius(high),
        "readings_count": len(taken),
    }
    return Answer("\n".join([*words, _caption(asked, dog)]), values, "chart", (dog.who,), "chart")


def picture(asked: Asked) -> Curves | None:
    """What is drawn of it."""
    dog = _dog(asked)
    if dog is None:
        return None
    usual = _usual(asked, dog)
    levels = [(usual.call_from, "call the vet"), (usual.emergency_above, "emergency")]
    return temperature_curve(
        asked.nursery,
        dog,
        _taken(asked, dog),
        asked.now,
        title=f"Temperature of {dog.called} {_said(asked)}",
        caption=_caption(asked, dog),
        alt=answer(asked).text,
        usual=(usual.low, usual.high),
        levels=[(celsius, words) for celsius, words in levels if celsius is not None],
    )


def _usual(asked: Asked, dog: Dog) -> _Usual:
    """What is usual for this dog now: a dam's fever begins lower once the first day is over, a pup's usual rises with its age."""
    if dog.who != "dam":
        hot = _PUPS.on_day("hot_above", asked.nursery.age_day(dog, asked.now) or 0)
        low = _PUPS.number("warm_before_a_feed")
        return _Usual(low, low if hot is None else hot, None, None, _source(_PUPS, "hot_above"))
    born = asked.nursery.born
    early = born is not None and asked.now - born <= timedelta(hours=_DAM.number("rise_is_usual_until"))
    fever = _DAM.number("fever_from" if early else "fever_from_after_a_day")
    high_fever = _DAM.number("high_fever_above")
    return _Usual(_DAM.number("usual_low"), _DAM.number("usual_high"), fever, high_fever, _source(_DAM, "usual_high"))


def _source(known: Figures, name: str) -> str:
    return source_in_short(known[name][0].source[0])


def _caption(asked: Asked, dog: Dog) -> str:
    usual, unit = _usual(asked, dog), asked.nursery.temperatures_in
    said = f"Shaded: usual {'for a dam' if dog.who == 'dam' else 'at this age'}, {degrees(usual.low, unit):.1f} to "
    said += f"{degrees(usual.high, unit):.1f} {unit} ({usual.source})."
    if usual.call_from is not None and usual.emergency_above is not None:
        said += f" From {degrees(usual.call_from, unit):.1f} {unit} on call your vet today, above "
        said += f"{degrees(usual.emergency_above, unit):.1f} {unit} at once."
    return said


def _dog(asked: Asked) -> Dog | None:
    if asked.question.who == "dam" or not asked.named:
        return asked.nursery.dam
    return asked.pups[0] if asked.names_one and asked.pups else None


def _taken(asked: Asked, dog: Dog) -> list[Doing]:
    """The temperatures of the span, in the order of their times."""
    return dog.temperatures.between(*_when(asked))


def _when(asked: Asked) -> tuple[datetime, datetime]:
    return (asked.now - timedelta(days=DAYS), asked.now) if asked.question.span is None else (asked.span.start, asked.span.end)


def _said(asked: Asked) -> str:
    return f"in the last {DAYS} days" if asked.question.span is None else asked.span.said


def _celsius(done: Doing) -> float:
    return done.event.celsius if isinstance(done.event, Temperature) else 0.0


def _say(asked: Asked, done: Doing) -> str:
    unit = asked.nursery.temperatures_in
    return f"{degrees(_celsius(done), unit):.1f} {unit} {say_time(done.began, asked.now, asked.nursery.zone)}"
