"""Status: how a pup, the dam or the whole litter is, from what was logged."""

from __future__ import annotations

from dataclasses import replace

from bot.care.dam import needs_now
from bot.care.nudge import due_values
from bot.care.nursery import Nursery
from bot.care.wording import say_time, say_weight
from bot.reports.answer import Answer, on_a_screen
from bot.reports.asked import Asked
from bot.reports.litter_status import litter_status
from bot.reports.needs import Need, needs, say_dues, say_worry
from bot.reports.pup_status import pup_status, say_last
from bot.reports.what_if import what_if

_TOLD_OF_THE_DAM = ("temperature", "intake", "toilet", "sign", "note")


def answer(asked: Asked) -> Answer:
    """How those asked about are, the worst first."""
    nursery, pups = asked.nursery, asked.pups
    if not pups and asked.question.who != "dam":
        return Answer(asked.no_such_pup, about="status")
    if not asked.names_one:
        return litter_status(asked)
    (need,) = needs(nursery, pups or [nursery.dam], asked.now)
    found = pup_status(need, nursery) if pups else _of_dam(need, nursery)
    judged, figures = what_if(asked, need.dog)
    if not judged or need.dog.died_at is not None:
        return found
    return replace(found, text=on_a_screen([*judged, *found.text.split("\n")]), values={**found.values, **figures})


def _of_dam(need: Need, nursery: Nursery) -> Answer:
    dam, now = need.dog, need.now
    done = say_last(nursery, dam, _TOLD_OF_THE_DAM, now)
    lines = [f"{say_worry(one)}." for one in need.worries] + say_dues(nursery, need.late, now)
    lines.append(f"{dam.called}: {'; '.join(done)}." if done else f"{dam.called}: nothing is in the log yet.")
    values = due_values(need.dues, nursery.zone, flat=True)
    weighing = dam.weighings.latest()
    if weighing is not None:
        lines.append(f"Weight {say_weight(weighing.grams, nursery.units)}, {say_time(weighing.at, now, nursery.zone)}.")
        values["grams"] = weighing.grams
    lines += say_dues(nursery, need.ahead, now)
    food = needs_now(nursery, now)
    if food is not None:
        few = "" if food.pups_counted == len(nursery.living) else f", worked out for {food.pups_counted} pups, as far as the formula goes"
        lines.append(f"She needs about {food.kcal_per_day:.0f} kcal and {food.water_ml_per_day:.0f} ml of water a day{few}.")
        values |= {"kcal_per_day": food.kcal_per_day, "water_ml_per_day": food.water_ml_per_day}
    return Answer(on_a_screen(lines), values, "status", ("dam",))
