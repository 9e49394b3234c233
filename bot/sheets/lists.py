"""The tables and lists of a sheet: weights by day, gains, feeds, signs with times, temperatures, doses, notes, who logged."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from bot.care.dog import Dog
from bot.care.doing import Doing
from bot.care.growth import birth_weight, growth
from bot.care.wording import say_change, say_hours, say_percent, say_span, say_weight
from bot.sheets.sheet import Block, Table
from bot.sheets.told import Told
from parsers.events import Who
from parsers.events.born import Born
from parsers.events.fed import Fed
from parsers.events.nursed import Nursed
from parsers.events.toilet import Toilet
from parsers.events.weight import Weight
from parsers.measures import say_number

NOT_A_SIGN = (None, "normal", "mustard", "brown")
"""Looks of what was passed that are as they should be; any other is listed beside the signs."""


def gains(told: Told, pups: Sequence[Dog]) -> Block | None:
    """Each pup's weights in one row: at birth, last, over the last day, since birth, doubled."""
    units = told.nursery.units
    rows = []
    for pup in pups:
        gain = growth(told.nursery, pup, until=told.end)
        if gain is None:
            continue
        born = birth_weight(pup, told.nursery.birth(pup))
        day = ""
        if gain.gain_g is not None and gain.gain_percent is not None and gain.hours is not None:
            day = f"{say_change(gain.gain_g, units)} ({say_percent(gain.gain_percent)}) in {say_hours(gain.hours)}"
        rows.append((
            pup.called,
            {"m": "male", "f": "female"}.get(pup.sex or "", ""),
            "" if born is None else say_weight(born, units),
            f"{say_weight(gain.latest.grams, units)}, {told.stamp(gain.latest.at)}",
            day,
            "" if gain.since_birth_percent is None else say_percent(gain.since_birth_percent),
            "" if gain.doubled_at is None else told.stamp(gain.doubled_at),
        ))  # fmt: skip
    if not rows:
        return None
    header = ("Pup", "Sex", "At birth", "Last weight", "Last gain", "Since birth", "Doubled")
    return Block(title="Growth", table=Table(header=header, rows=tuple(rows), wide=(1.3, 0.6, 0.8, 1.8, 1.8, 0.9, 1.2)))


def weights_by_day(told: Told, pups: Sequence[Dog]) -> Block | None:
    """The last weight of each day."""
    units = told.nursery.units

    def last(_: Dog, done: Sequence[Doing]) -> str:
        weighed = [event.grams for one in done if isinstance(event := one.event, Weight | Born) and event.grams is not None]
        return say_weight(weighed[-1], units) if weighed else ""

    return told.by_day("Weights by day", "The last weight of each day.", pups, last, "weight", "born")


def feeds_by_day(told: Told, pups: Sequence[Dog]) -> Block | None:
    """How often each pup nursed, and how much it was fed by hand."""

    def feeds(_: Dog, done: Sequence[Doing]) -> str:
        nursed = sum(isinstance(one.event, Nursed) for one in done)
        by_hand = [one.event for one in done if isinstance(one.event, Fed)]
        known = sum(event.ml or 0 for event in by_hand)
        hand = "" if not by_hand else f"{say_number(round(known, 1))} ml in {len(by_hand)}" if known else f"{len(by_hand)} by hand"
        return " + ".join(part for part in (str(nursed) if nursed else "", hand) if part)

    words = "How often each nursed, and what it was fed by hand: “8 + 12 ml in 3” is eight nursings and three feeds of 12 ml together."
    return told.by_day("Feeds by day", words, pups, feeds, "nursed", "fed")


def signs(told: Told, who: Sequence[Who]) -> Block | None:
    """Signs of trouble, refused feeds, and what was passed that did not look as it should."""
    seen = [
        done
        for done in told.of("sign", "refused", "toilet", "died", who=who)
        if not isinstance(done.event, Toilet) or done.event.look not in NOT_A_SIGN
    ]
    return told.listed("Signs", "Seen", seen, lambda done: done.event.say(told.nursery.units))


def temperatures(told: Told, who: Sequence[Who]) -> Block | None:
    """Body temperatures."""
    return told.listed("Temperatures", "Taken", told.of("temperature", who=who), lambda done: done.event.say(told.nursery.units))


def doses(told: Told, who: Sequence[Who]) -> Block | None:
    """Medicines and supplements given, and the plan as the keeper told it."""
    block = told.listed("Doses given", "Given", told.of("dose", who=who), lambda done: done.event.say(told.nursery.units))
    plan = [f"{drug or 'doses'} every {say_span(minutes)}" for drug, minutes in told.nursery.choices.plan.items()]
    if block is None or not plan:
        return block
    return block.model_copy(update={"words": " ".join([f"The vet's plan, as the keeper told it: {', '.join(plan)}.", block.words]).strip()})


def intakes(told: Told) -> Block | None:
    """What the dam ate and drank."""
    return told.listed("What the dam ate and drank", "Taken", told.of("intake"), lambda done: done.event.say(told.nursery.units))


def notes(told: Told, who: Sequence[Who] | None) -> Block | None:
    """Notes, word for word."""
    return told.listed("Notes", "Note", told.of("note", who=who), lambda done: str(getattr(done.event, "text", "")))


def who_logged(told: Told) -> Block | None:
    """Who told how many entries."""
    counts = Counter(done.by for done in told.doings)
    if not counts:
        return None
    return Block(title="Who logged", words=", ".join(f"{name} {count}" for name, count in counts.most_common()) + " entries.")
