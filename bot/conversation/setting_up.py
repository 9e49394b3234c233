"""What is set up by chat: who may, what cannot be, and each choice said back in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from bot.care.choice import Every, Litter, Name, Phone, Reminders, Sets, Snooze, care_named
from bot.care.nursery import Nursery
from bot.care.wording import say_list, say_span, say_time
from bot.conversation.watches import say_roster, say_watch
from parsers.measures import say_number

FOR_ALL = frozenset({"snooze", "on_duty", "until"})
"""What everyone of the household may set; all else is for keepers (care contract)."""
HOUSEHOLDS_OWN = frozenset({"invite"})
"""What the household sets and the litter does not keep."""

_CARE = {
    "nursed": "nursing", "fed": "feeding", "cleared": "clearing", "clearing": "clearing", "toilet": "toilet", "weight": "weighing",
    "temperature": "temperatures",
}  # fmt: skip


@dataclass(frozen=True)
class Sorted:
    """A set-up sorted into what is kept and what is refused, with a sentence for each refusal and each thing to know."""

    kept: Mapping[str, Any]
    said: tuple[str, ...]


def sort_out(sets: Mapping[str, Any], nursery: Nursery, *, keeper: bool, keepers: Sequence[str], people: Sequence[str]) -> Sorted:
    """What of a set-up may stand: not what is for keepers only, nor a name that cannot be a pup's."""
    kept: dict[str, Any] = dict(sets)
    refused: list[str] = []
    if not keeper and any(name not in FOR_ALL for name in sets):
        kept = {name: value for name, value in kept.items() if name in FOR_ALL}
        refused.append(only_keepers(keepers))
    strangers: list[str] = []
    if kept.get("on_duty") is not None:
        kept["on_duty"] = _known(str(kept["on_duty"]), people, strangers)
    if "roster" in kept:
        kept["roster"] = [{**shift, "who": _known(str(shift["who"]), people, strangers)} for shift in _each(kept["roster"])]
    said = [
        f"{name} is not in the household yet, so until “invite {name}” such nudges go to everyone." for name in dict.fromkeys(strangers)
    ]
    if "name" in kept:
        names = []
        for name in _each(kept["name"]):
            problem = _name_trouble(name, nursery)
            if problem:
                refused.append(problem)
            else:
                names.append(name)
        kept["name"] = names
        if not names:
            del kept["name"]
    return Sorted(kept, (*refused, *said))


def only_keepers(keepers: Sequence[str]) -> str:
    """What is said to someone who asks for what is for keepers only."""
    return f"Only a keeper can change that ({' or '.join(keepers) or 'the keeper'}); nothing of it was changed."


def say_sets(sets: Sets, before: Nursery, nursery: Nursery, now: datetime) -> list[str]:
    """Each choice as a sentence; `nursery` knows them already, `before` does not."""
    said: list[str] = []
    if sets.litter is not None:
        said.append(say_litter(sets.litter, nursery, now))
    said += [_named(name, before) for name in _parts(sets.name, Name)]
    said += [_every(every) for every in _parts(sets.every, Every)]
    if sets.snooze is not None:
        said.append(_snooze(sets.snooze, nursery, now))
    if sets.roster is not None:
        said.append(say_roster(nursery, now))
    elif "on_duty" in sets.model_fields_set:
        said.append(say_watch(nursery, now))
    if sets.weights_in is not None:
        said.append(f"Weights in {'ounces' if sets.weights_in == 'oz' else 'grams'}.")
    if sets.temperatures_in is not None:
        said.append(f"Temperatures in {'Fahrenheit' if sets.temperatures_in == 'F' else 'Celsius'}.")
    said += [_reminder(reminder) for reminder in _parts(sets.reminders, Reminders)]
    said += [_phone(phone) for phone in _parts(sets.phone, Phone)]
    if sets.formula is not None:
        said.append(f"Formula: {say_number(sets.formula.kcal_per_ml)} kcal in a ml, by its label.")
    if sets.adult_grams is not None:
        said.append(f"Grown weight: about {say_number(round(sets.adult_grams / 1000, 2))} kg.")
    if sets.breed is not None:
        said.append(f"Breed: {sets.breed}.")
    if zone := (sets.model_extra or {}).get("zone"):
        said.append(f"Time zone: {zone}.")
    return said


def say_litter(litter: Litter, nursery: Nursery, now: datetime) -> str:
    """What was told of the litter, in one sentence."""
    delivery = {None: "", "c-section": "by c-section", "natural": "naturally"}[litter.delivery]
    born = "" if litter.born is None else f"born {say_time(litter.born, now, nursery.zone)}"
    birth = " ".join(part for part in (born, delivery) if part)
    if litter.pups is None and litter.dam is not None:
        return f"The dam is {litter.dam}{f'; {birth}' if birth else ''}."
    pups = "" if litter.pups is None else f"{litter.pups} pup{'' if litter.pups == 1 else 's'}"
    said = ", ".join(part for part in (f"{pups} from {litter.dam}" if litter.dam else pups, birth) if part)
    return f"{said[:1].upper()}{said[1:]}."


def say_units(nursery: Nursery) -> str:
    """The units and the zone in force, and how to change them."""
    weights = "ounces" if nursery.choices.weights_in == "oz" else "grams"
    other = "grams" if nursery.choices.weights_in == "oz" else "ounces"
    warmth, cooler = ("Fahrenheit", "celsius") if nursery.temperatures_in == "F" else ("Celsius", "fahrenheit")
    return f"Weights in {weights}, temperatures in {warmth}, times in {nursery.zone.key} (to change: “use {other}”, “use {cooler}”)."


def _named(name: Name, before: Nursery) -> str:
    called = name.as_.casefold()
    others = [pup.who for pup in before.pups.values() if pup.who != name.pup and called in {old.casefold() for old in pup.names}]
    return f"Pup {name.pup} is {name.as_}{f', no longer pup {others[0]}' if others else ''}."


def _every(every: Every) -> str:
    what = (every.drug or "dose").capitalize() if every.care == "dose" else _CARE.get(every.care, every.care).capitalize()
    if every.minutes is None:
        return f"{what}: as usual."
    plan = ", as your vet planned it" if every.care == "dose" else ""
    return f"{what}: a reminder every {say_span(every.minutes)} to whoever has the watch{plan}."


def _snooze(snooze: Snooze, nursery: Nursery, now: datetime) -> str:
    until = _clock(now + timedelta(minutes=snooze.minutes), now, nursery)
    whom = "" if snooze.who is None else f" for {_whom(snooze.who)}"
    return f"No nudges{whom} to anyone until {until}. Warnings still come."


def _clock(moment: datetime, now: datetime, nursery: Nursery) -> str:
    """A moment ahead; within half a day the clock time says it all."""
    return say_time(moment, moment if moment - now < timedelta(hours=12) else now, nursery.zone)


def _whom(who: object) -> str:
    if who == "dam":
        return "the dam"
    numbers = who if isinstance(who, tuple) else (who,)
    return f"pup{'' if len(numbers) == 1 else 's'} {say_list([str(number) for number in numbers])}"


def _reminder(reminder: Reminders) -> str:
    if reminder.care == "all":
        return "All reminders are on." if reminder.on else "No more reminders; warnings still come. “Start the reminders” brings them back."
    care = reminder.drug or care_named(reminder.care)
    return (
        f"Reminders for {care} are on." if reminder.on else f"No more reminders for {care}. “Start the {care} reminders” brings them back."
    )


def _phone(phone: Phone) -> str:
    return f"{'The vet' if phone.of == 'vet' else 'The emergency clinic'}: {phone.name + ', ' if phone.name else ''}{phone.number}."


def _name_trouble(name: Mapping[str, Any], nursery: Nursery) -> str | None:
    called = str(name["as"]).casefold()
    if nursery.pups and name["pup"] not in nursery.pups:
        return f"There is no pup {name['pup']} in this litter, so nobody was named {name['as']}."
    if called in {"dam", "mom", "mum", "mama"} or called in {old.casefold() for old in nursery.dam.names}:
        return f"{name['as']} is the dam, so pup {name['pup']} was not named."
    return None


def _known(name: str, people: Iterable[str], strangers: list[str]) -> str:
    """The name as the household has it; one that it does not have is added to the strangers."""
    known = next((person for person in people if person.casefold() == name.casefold()), None)
    if known is None:
        strangers.append(name)
    return known or name


def _each(given: Any) -> list[Mapping[str, Any]]:
    return list(given) if isinstance(given, list | tuple) else [given]


def _parts(given: object, kind: type[Any]) -> list[Any]:
    return [part for part in (given if isinstance(given, tuple) else (given,)) if isinstance(part, kind)]
