"""The feed plan: the dam first, a reason second, then the most for one feed; a cold pup is warmed before anything."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import datetime

from pydantic import JsonValue

from bot.care.dam import needs_now
from bot.care.dog import Dog
from bot.care.feeding import FeedPlan, by_hand_alone, coldness, felt_cold, last_temperature, plan_of
from bot.care.figures import figures
from bot.care.growth import Look, growth
from bot.care.notices import standing
from bot.care.nursery import Nursery
from bot.care.wording import say_reading, say_temperature, say_time, say_weight
from bot.reports.answer import Answer
from bot.reports.asked import Asked
from parsers.measures import say_number

_FEEDING = figures("feeding")
_MOST = _FEEDING.number("most_in_one_feed")
_WARM_TO = figures("warmth").number("warm_before_a_feed")
_WARMING = "{:g} to {:g} h".format(_FEEDING.number("warming_takes_from"), _FEEDING.number("warming_takes_to"))

_DAM_FIRST = (
    "The dam is the first answer: check the latch, nurse longer, look at her milk and her health. "
    "Hand feeding adds to nursing, it does not replace it."
)
_SHOWN = 5
"""Pups that get a line each; the answer stays within a phone's page."""


def answer(asked: Asked) -> Answer:
    """What each pup asked about may be fed by hand; for the dam, what she needs herself."""
    if asked.question.who == "dam":
        return _of_dam(asked)
    pups = [pup for pup in asked.pups if pup.died_at is None]
    if not pups:
        return Answer(asked.no_such_pup if not asked.pups else "No living pup is asked about.", about="feed plan")
    nursery, now = asked.nursery, asked.now
    plans = {int(pup.who): plan_of(nursery, pup, now) for pup in pups}
    stops = {pup.who: line for pup in pups if (line := _stop(nursery, pup, now))}
    lines = [*stops.values(), _DAM_FIRST, _reason(nursery, pups, now)]
    warm = [pup for pup in pups if pup.who not in stops]
    lines += [_line(nursery, pup, plans[int(pup.who)], now) for pup in warm[:_SHOWN]]
    if len(warm) > _SHOWN:
        lines.append(f"{nursery.together(pup.who for pup in warm[_SHOWN:])}: at most {_MOST:g} ml per 100 g in one feed too.")
    lines += _label(nursery)
    if not stops and all(last_temperature(pup, now) is None for pup in pups):
        whose = "its" if len(pups) == 1 else "their"
        lines.append(f"Take {whose} temperature first: no feed below {_warm(nursery)}. Your vet's word goes first.")
    values = {str(pup.who): _values(pup, plans[int(pup.who)], now) for pup in pups}
    flat = values[str(pups[0].who)] if asked.names_one else dict(values)
    return Answer("\n".join(lines), flat, "feed plan", tuple(pup.who for pup in pups) if asked.named else ())


def _stop(nursery: Nursery, pup: Dog, now: datetime) -> str | None:
    """Why a pup must get nothing by mouth, or not yet: an emergency that stands, a temperature, or that it felt cold."""
    emergency = any(notice.urgency == "emergency" and pup.who in notice.who for notice in standing(nursery, now))
    celsius = last_temperature(pup, now)
    cold = None if celsius is None else coldness(celsius)
    read = "" if celsius is None or cold is None else f" ({say_reading(celsius, nursery.temperatures_in)})"
    if cold == "coldest" or emergency:
        first = "Warm it gently against your skin, and call" if cold else "Keep it warm, and call"
        return f"{pup.called}{read}: nothing by mouth now. {first} your vet or the emergency clinic now."
    if cold:
        return f"{pup.called} is too cold to feed{read}: warm it to {_warm(nursery)} first, over {_WARMING}."
    if felt_cold(pup, now):
        return f"{pup.called} was cold: take its temperature, and warm it to {_warm(nursery)} before any feed."
    return None


def _reason(nursery: Nursery, pups: list[Dog], now: datetime) -> str:
    """A reason to feed by hand that stands in the log, else what would be one."""
    found: list[str] = []
    for pup in pups:
        gain = growth(nursery, pup, until=now)
        why = "" if gain is None else _REASONS.get(gain.look, "")
        refused, fed = pup.last.get("refused"), pup.last_fed()
        if refused is not None and (fed is None or fed.began < refused.began):
            why = f"{why} and refused" if why else "refused"
        if why:
            found.append(f"{pup.called}, {why}")
    if not found:
        return "Start it only with a reason (loss, no gain, refusals, your vet's word): I see none in the log."
    return f"A reason is in the log ({'; '.join(found)}): talk it over with your vet today."


_REASONS: Mapping[Look, str] = {
    "early loss": "weight loss",
    "great loss": "weight loss",
    "below birth weight": "below its birth weight",
    "no gain": "no gain",
}
"""Looks at a weight that are a reason to feed by hand."""


def _line(nursery: Nursery, pup: Dog, plan: FeedPlan | None, now: datetime) -> str:
    if plan is None:
        return f"{pup.called}: weigh it first, the plan goes by its weight."
    weighing = pup.weighings.latest(now)
    weighed = "" if weighing is None else f", {say_time(weighing.at, now, nursery.zone)}"
    said = f"{pup.called} ({say_weight(plan.grams, nursery.units)}{weighed}): at most {_at_most(plan.ml_per_feed_max)} ml in one feed"
    if not by_hand_alone(pup, now):
        return f"{said} ({_MOST:g} ml per 100 g); let the weight steer, not a daily total."
    if plan.ml_per_day_low is None or plan.ml_per_day_high is None:
        return f"{said}; by hand alone {_span(plan.kcal_per_day_low, plan.kcal_per_day_high)} kcal a day."
    feeds = _span(plan.feeds_per_day_low or 0, plan.feeds_per_day_high or 0)
    return f"{said}; by hand alone {_span(plan.ml_per_day_low, plan.ml_per_day_high)} ml a day in {feeds} feeds, and the weight steers."


def _label(nursery: Nursery) -> list[str]:
    """The label's energy, or the question for it; and that the sources disagree by a factor of two."""
    number = _FEEDING.number
    low, high = number("energy_lowest_told"), number("energy_highest_told")
    differ = f"sources differ on the need ({low:.0f} to {high:.0f} kcal per 100 g a day)"
    if nursery.choices.kcal_per_ml is not None:
        return [f"Reckoned with {say_number(nursery.choices.kcal_per_ml)} kcal per ml from the label; {differ}."]
    least, most = number("milk_energy_low"), number("milk_energy_high")
    return [
        f"How many kcal per ml does the label of the milk say? Labels differ ({least:g} to {most:g}), so I assume none: "
        f"“the formula is 0.9 kcal per ml”. Also, {differ}."
    ]


def _values(pup: Dog, plan: FeedPlan | None, now: datetime) -> dict[str, JsonValue]:
    values = {} if plan is None else plan.values()
    celsius = last_temperature(pup, now)
    return values if celsius is None else values | {"celsius": celsius}


def _warm(nursery: Nursery) -> str:
    return say_temperature(_WARM_TO, nursery.temperatures_in)


def _at_most(ml: float) -> str:
    """A most, rounded down to the tenth: what is said is never more than what was worked out."""
    return f"{math.floor(ml * 10 + 1 / 1000) / 10:g}"


def _span(low: float, high: float) -> str:
    low, high = round(low), round(high)
    return f"{low}" if low == high else f"{low} to {high}"


def _of_dam(asked: Asked) -> Answer:
    nursery = asked.nursery
    need = needs_now(nursery, asked.now)
    called = nursery.dam.called
    if need is None:
        return Answer(_dam_unknown(nursery), about="feed plan", who=("dam",))
    few = "" if need.pups_counted == len(nursery.living) else f", reckoned for {need.pups_counted} pups, as far as the formula goes"
    text = (
        f"{called} needs about {need.kcal_per_day:.0f} kcal and {need.water_ml_per_day:.0f} ml of water a day{few}.\n"
        "Often and little at first, water always at hand. No vitamins, minerals or calcium but as your vet planned them.\n"
        "By the lactation formula of NRC and Small Animal Clinical Nutrition; her weight and her body say whether it is enough."
    )
    return Answer(text, {"kcal_per_day": need.kcal_per_day, "water_ml_per_day": need.water_ml_per_day}, "feed plan", ("dam",))


def _dam_unknown(nursery: Nursery) -> str:
    """Why there is no figure for the dam, and what would give one."""
    if nursery.dam.weighings.latest() is None:
        return "What she needs goes by her weight: tell me, like “mom 11.8 kg”."
    if nursery.born is None or not nursery.living:
        return "What she needs goes by her pups and their age: tell me how many there are and when they were born."
    return "From the fifth week on no figure is published: as the pups eat by themselves she needs less. Go by her body and your vet."
