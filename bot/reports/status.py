"""Status: how a pup, the dam or the whole litter is, from what was logged."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from pydantic import JsonValue

from bot.care.dam import needs_now
from bot.care.dog import Dog
from bot.care.due import Due
from bot.care.growth import Growth, growth, litter_values
from bot.care.nudge import due_values
from bot.care.nursery import Nursery
from bot.care.rounds import due
from bot.care.wording import iso, say_change, say_hours, say_percent, say_span, say_time, say_weight
from bot.reports.answer import Answer
from bot.reports.asked import Asked, start_of_day
from bot.reports.looks import say_look

_TOLD = ("nursed", "fed", "refused", "cleared", "toilet", "temperature", "sign", "placed", "note")
"""The kinds that a pup's status tells the last of, in this order; its weight and its doses are told apart."""
_TOLD_OF_THE_DAM = ("temperature", "intake", "toilet", "sign", "note")


def answer(asked: Asked) -> Answer:
    """How those asked about are: age, weight and gain, the last of each care, what is due."""
    nursery, now, pups = asked.nursery, asked.now, asked.pups
    dues = due(nursery)
    if asked.question.who == "dam":
        return _of_dam(nursery, dues, now)
    if not pups:
        return Answer(asked.no_such_pup, about="status")
    if asked.names_one:
        return _of_pup(nursery, pups[0], dues, now)
    return _of_litter(asked, dues)


def _of_pup(nursery: Nursery, pup: Dog, dues: Sequence[Due], now: datetime) -> Answer:
    if pup.died_at is not None:
        text = f"{pup.called} died {say_time(pup.died_at, now, nursery.zone)}. I am sorry."
        return Answer(text, {"died_at": iso(pup.died_at, nursery.zone)}, "status", (pup.who,))
    gain = growth(nursery, pup, until=now)
    mine = [one for one in dues if one.who == pup.who]
    birth = nursery.birth(pup)
    age = "" if birth is None else f", {say_span((now - birth).total_seconds() / 60)} old"
    lines = [f"{pup.called}{age}: {_weight(nursery, gain, now)}."]
    done = [_done(nursery, pup, kind, now) for kind in _TOLD if kind in pup.last]
    if done:
        lines.append(f"Last: {'; '.join(done)}.")
    else:
        lines.append("No care of this pup is in the log yet.")
    lines += _due(nursery, mine, now)
    return Answer("\n".join(lines), _values(nursery, pup, gain, mine), "status", (pup.who,))


def _of_dam(nursery: Nursery, dues: Sequence[Due], now: datetime) -> Answer:
    dam = nursery.dam
    mine = [one for one in dues if one.who == "dam"]
    weighing = dam.weighings.latest()
    done = [_done(nursery, dam, kind, now) for kind in _TOLD_OF_THE_DAM if kind in dam.last]
    done += [f"{given.last.event.say(nursery.units)}, {say_time(given.last.began, now, nursery.zone)}" for given in dam.doses.values()]
    lines = [f"{dam.called}: {'; '.join(done)}." if done else f"{dam.called}: nothing is in the log yet."]
    values = due_values(mine, nursery.zone, flat=True)
    if weighing is not None:
        lines.append(f"Weight {say_weight(weighing.grams, nursery.units)}, {say_time(weighing.at, now, nursery.zone)}.")
        values["grams"] = weighing.grams
    lines += _due(nursery, mine, now)
    need = needs_now(nursery, now)
    if need is not None:
        few = "" if need.pups_counted == len(nursery.living) else f", worked out for {need.pups_counted} pups, as far as the formula goes"
        lines.append(f"She needs about {need.kcal_per_day:.0f} kcal and {need.water_ml_per_day:.0f} ml of water a day{few}.")
        values |= {"kcal_per_day": need.kcal_per_day, "water_ml_per_day": need.water_ml_per_day}
    return Answer("\n".join(lines), values, "status", ("dam",))


def _of_litter(asked: Asked, dues: Sequence[Due]) -> Answer:
    nursery, now, pups = asked.nursery, asked.now, asked.pups
    today = start_of_day(nursery, now)
    gains = {pup.who: growth(nursery, pup, until=now) for pup in pups}
    lines: list[str] = []
    values: dict[str, JsonValue] = {}
    for pup in pups:
        mine = [one for one in dues if one.who == pup.who]
        lines.append(_line(nursery, pup, gains[pup.who], mine, now))
        values[str(pup.who)] = _values(nursery, pup, gains[pup.who], mine)
    not_weighed = [int(pup.who) for pup in pups if (gain := gains[pup.who]) is None or gain.latest.at < today]
    values |= litter_values([gain for gain in gains.values() if gain is not None], not_weighed)
    if not_weighed:
        lines.append(f"Not weighed today: {nursery.together(not_weighed)}.")
    if not asked.named:
        lines += _due(nursery, [one for one in dues if one.who == "dam"], now)
        if (watch := nursery.on_duty(now)) is not None:
            lines.append(f"{watch} has the watch.")
    return Answer("\n".join(lines), values, "status", tuple(pup.who for pup in pups) if asked.named else ())


def _line(nursery: Nursery, pup: Dog, gain: Growth | None, dues: Sequence[Due], now: datetime) -> str:
    if pup.died_at is not None:
        return f"{pup.called} died {say_time(pup.died_at, now, nursery.zone)}."
    fed = pup.last_fed()
    last = "not nursed or fed yet" if fed is None else f"last {fed.event.kind} {say_time(fed.began, now, nursery.zone)}"
    said = [one for one in dues if one.at < now] or dues[:1]
    return f"{pup.called}: {_weight(nursery, gain, now)}, {last}{''.join(f', {_when(nursery, one, now)}' for one in said)}."


def _weight(nursery: Nursery, gain: Growth | None, now: datetime) -> str:
    """`218 g (+6 g, +2.8 % in 24 h)`, when where it was not today, and why it needs a look."""
    if gain is None:
        return "not weighed yet"
    said = say_weight(gain.latest.grams, nursery.units)
    if gain.gain_g is not None and gain.gain_percent is not None and gain.hours is not None:
        said += f" ({say_change(gain.gain_g, nursery.units)}, {say_percent(gain.gain_percent)} in {say_hours(gain.hours)})"
    if gain.latest.at < start_of_day(nursery, now):
        said += f", weighed {say_time(gain.latest.at, now, nursery.zone)}"
    return f"{said}, {say_look(gain.look)}" if gain.look else said


def _done(nursery: Nursery, dog: Dog, kind: str, now: datetime) -> str:
    done = dog.last[kind]
    return f"{done.event.say(nursery.units)}, {say_time(done.began, now, nursery.zone)}"


def _due(nursery: Nursery, dues: Sequence[Due], now: datetime) -> list[str]:
    if not dues:
        return []
    said = "; ".join(_when(nursery, one, now) for one in dues)
    return [f"{said[:1].upper()}{said[1:]}."]


def _when(nursery: Nursery, one: Due, now: datetime) -> str:
    what = one.drug or one.care
    if one.at < now:
        return f"{what} overdue by {say_span((now - one.at).total_seconds() / 60)}"
    return f"{what} due {say_time(one.at, now, nursery.zone)}"


def _values(nursery: Nursery, pup: Dog, gain: Growth | None, dues: Sequence[Due]) -> dict[str, JsonValue]:
    values: dict[str, JsonValue] = {} if gain is None else {"grams": gain.latest.grams, **gain.values(nursery.zone)}
    fed = pup.last_fed()
    if fed is not None:
        values["last_at"] = iso(fed.began, nursery.zone)
    return values | due_values(dues, nursery.zone, flat=True)
