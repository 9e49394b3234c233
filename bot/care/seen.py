"""What is seen of a dog, by the names of signs.toml: signs, looks of what was passed, temperatures out of range, meals not eaten."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from types import MappingProxyType
from typing import NamedTuple

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.doing import Doing
from bot.care.figures import figures
from bot.care.nursery import Nursery
from bot.care.sign_table import look_of
from bot.care.wording import say_reading
from parsers.events.intake import Intake
from parsers.events.sign import Sign
from parsers.events.temperature import Temperature
from parsers.events.toilet import Toilet

_SIGNS, _WARMTH, _DAM = figures("signs"), figures("warmth"), figures("dam")
_STANDS = timedelta(hours=_SIGNS.number("stands"))
_TEMPERATURE_STANDS = timedelta(hours=_SIGNS.number("temperature_stands"))
_NOT_EATING_STANDS = timedelta(hours=_SIGNS.number("not_eating_again"))
_GREEN_UNTIL = timedelta(hours=_SIGNS.number("green_is_usual_until"))
_RISE_UNTIL = timedelta(hours=_DAM.number("rise_is_usual_until"))
_COLD, _COLDER, _COLDEST = _WARMTH.number("warm_before_a_feed"), _WARMTH.number("colder_below"), _WARMTH.number("coldest_below")
_HOTTEST = _WARMTH.number("hottest_from")
_NOTHING: Mapping[str, JsonValue] = MappingProxyType({})


class Seen(NamedTuple):
    """One thing seen."""

    names: tuple[str, ...]
    """What it is, and what else it counts as beside another."""
    said: str
    doing: Doing
    until: datetime
    """It stands until then."""
    spell: int = 0
    """Of a temperature: how often it was ordinary, or turned from cold to hot, before; what comes after is not the same thing again."""
    values: Mapping[str, JsonValue] = _NOTHING


def seen_of(dog: Dog, nursery: Nursery) -> list[Seen]:
    """All that was seen of a dog lately, in the order of time."""
    doings = sorted(dog.recent, key=lambda done: done.began)
    birth = nursery.born if dog.who == "dam" else nursery.birth(dog)
    temperatures = [done for done in doings if isinstance(done.event, Temperature)]
    seen = list(_temperatures(temperatures, birth, nursery))
    for done in doings:
        event = done.event
        if isinstance(event, Sign):
            seen.append(_sign(event, done, dog, temperatures, seen, birth))
        elif isinstance(event, Toilet):
            look = look_of(event)
            if look is not None and dog.who != "dam":
                seen.append(Seen((look,), look, done, _until_the_next(look, done, dog.last.get("toilet"))))
        elif isinstance(event, Intake) and is_no_meal(event):
            eaten = (other.began for other in doings if other.began > done.began and is_meal(other))
            seen.append(Seen(("not eating",), "she ate nothing", done, next(eaten, done.began + _NOT_EATING_STANDS)))
    return seen


def is_no_meal(event: object) -> bool:
    """Whether the dam was offered food and took none."""
    return isinstance(event, Intake) and event.amount == "none" and event.what != "water"


def is_meal(done: Doing) -> bool:
    """Whether the dam ate."""
    return isinstance(done.event, Intake) and done.event.what != "water" and done.event.amount != "none"


def _until_the_next(look: str, done: Doing, last: Doing | None) -> datetime:
    """A look stands until the same is passed again and looks otherwise."""
    until = done.began + _STANDS
    if last is None or last.began <= done.began:
        return until
    again = look_of(last.event)
    return min(until, last.began) if again is not None and again.split()[1] == look.split()[1] else until


def _sign(event: Sign, done: Doing, dog: Dog, temperatures: Sequence[Doing], seen: Sequence[Seen], birth: datetime | None) -> Seen:
    names: tuple[str, ...] = (event.sign,)
    until, spell = done.began + _STANDS, 0
    if event.sign in ("cold", "hot"):  # a later temperature knows better
        until = next((taken.began for taken in temperatures if taken.began > done.began), until)
        before = {id(taken) for taken in temperatures if taken.began <= done.began}
        out = [one for one in seen if id(one.doing) in before]
        spell = max([len(before) - len(out), *(one.spell for one in out)])
    elif event.sign == "not nursing":
        nursed = dog.last.get("nursed")
        until = min(until, nursed.began) if nursed is not None and nursed.began > done.began else until
    elif event.sign == "green discharge" and (birth is None or done.began - birth > _GREEN_UNTIL):
        names = ("late green discharge",)
    return Seen(names, event.sign, done, until, spell)


def _temperatures(taken: Sequence[Doing], birth: datetime | None, nursery: Nursery) -> Iterator[Seen]:
    """The temperatures that are worth a word; each stands until the next one."""
    spell, was_cold = 0, None
    for place, done in enumerate(taken):
        event = done.event
        assert isinstance(event, Temperature)
        age = None if birth is None else done.began - birth
        names = _of_the_dam(event.celsius, age) if event.who == "dam" else _of_a_pup(event.celsius, age)
        if not names:
            spell += 1
            continue
        is_cold = event.celsius < _COLD
        spell += was_cold is not None and was_cold is not is_cold
        was_cold = is_cold
        until = done.began + _TEMPERATURE_STANDS
        if place + 1 < len(taken):
            until = min(until, taken[place + 1].began)
        yield Seen(
            names, f"temperature {say_reading(event.celsius, nursery.temperatures_in)}", done, until, spell, {"celsius": event.celsius}
        )


def _of_a_pup(celsius: float, age: timedelta | None) -> tuple[str, ...]:
    if celsius < _COLD:
        return ("coldest" if celsius < _COLDEST else "colder" if celsius < _COLDER else "cold",)
    day = 0 if age is None else max(0, age.days)  # where the birth was not told, a pup counts as newborn
    above = _WARMTH.on_day("hot_above", day)
    if above is None or celsius <= above:
        return ()
    return ("hottest" if celsius >= _HOTTEST else "hot",)


def _of_the_dam(celsius: float, age: timedelta | None) -> tuple[str, ...]:
    """Where the birth was not told, it counts as more than a day ago."""
    if celsius < _DAM.number("chill_below"):
        return ("chill",)
    after_a_day = age is None or age > _RISE_UNTIL
    high, fever = _DAM.number("high_fever_above"), _DAM.number("fever_from")
    beside = ("feverish",) if celsius > fever else ()
    if celsius > high:
        return ("high fever", *beside)
    if celsius >= (_DAM.number("fever_from_after_a_day") if after_a_day else fever):
        return ("fever", *beside)
    return ()
