"""The status of one pup: its weight and gain, what is worrying, what is overdue, the last of each care, what is next."""

from __future__ import annotations

from datetime import datetime

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.growth import Growth, growth
from bot.care.nudge import due_values
from bot.care.nursery import Nursery
from bot.care.wording import iso, say_span, say_time
from bot.reports.answer import Answer, on_a_screen
from bot.reports.looks import say_calm_look
from bot.reports.needs import Need, say_dues, say_worry
from bot.reports.weighed import weighed_when

_TOLD = ("nursed", "fed", "refused", "cleared", "toilet", "temperature", "sign", "placed", "note")
"""The kinds that a pup's status tells the last of, in this order; its weight and its doses are told apart."""


def pup_status(need: Need, nursery: Nursery) -> Answer:
    """How a pup is."""
    pup, now = need.dog, need.now
    if pup.died_at is not None:
        text = f"{pup.called} died {say_time(pup.died_at, now, nursery.zone)}. I am sorry."
        return Answer(text, {"died_at": iso(pup.died_at, nursery.zone)}, "status", (pup.who,))
    gain, birth = growth(nursery, pup, until=now), nursery.birth(pup)
    age = "" if birth is None else f", {say_span((now - birth).total_seconds() / 60)} old"
    done = say_last(nursery, pup, _TOLD, now)
    lines = [
        f"{pup.called}{age}: {_weighed(nursery, gain, now)}.",
        *[f"{say_worry(one)}." for one in need.worries],
        *say_dues(nursery, need.late, now),
        f"Last: {'; '.join(done)}." if done else "No care of this pup is in the log yet.",
        *say_dues(nursery, need.ahead, now),
    ]
    return Answer(on_a_screen(lines), pup_values(nursery, need, gain), "status", (pup.who,))


def pup_values(nursery: Nursery, need: Need, gain: Growth | None) -> dict[str, JsonValue]:
    """The figures of a pup's status: weight and growth, when it was last nursed or fed, what is due first."""
    values: dict[str, JsonValue] = {} if gain is None else {"grams": gain.latest.grams, **gain.values(nursery.zone)}
    values |= due_values(need.dues, nursery.zone, flat=True)
    fed = need.dog.last_fed()
    return values if fed is None else values | {"last_at": iso(fed.began, nursery.zone)}


def _weighed(nursery: Nursery, gain: Growth | None, now: datetime) -> str:
    if gain is None:
        return "not weighed yet"
    look = f", {said}" if (said := say_calm_look(gain.look)) else ""
    return f"{' '.join(weighed_when(nursery, gain, now))}{look}"


def say_last(nursery: Nursery, dog: Dog, kinds: tuple[str, ...], now: datetime) -> list[str]:
    """The last of each of these kinds, and of each drug, with its time."""
    done = [dog.last[kind] for kind in kinds if kind in dog.last] + [given.last for given in dog.doses.values()]
    return [f"{one.event.say(nursery.units)}, {say_time(one.began, now, nursery.zone)}" for one in done]
