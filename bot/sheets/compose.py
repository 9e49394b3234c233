"""Puts a sheet together: the litter and its dam first, then, where it is asked for, a page for each pup."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from bot.care.dog import Dog
from bot.care.notices import standing
from bot.care.nursery import Entry, Nursery
from bot.care.wording import say_list
from bot.care.zones import prints_on_letter
from bot.charts.growth_curves import Unit, growth_curves
from bot.sheets import lists
from bot.sheets.sheet import Block, Page, Sheet
from bot.sheets.told import Told, say_age
from parsers.events import Who

CAUTION = (
    "Kept by the household. It is a log, not a diagnosis: figures called usual are published ones, "
    "and doses are those that the keeper told, as their own vet planned them."
)


@dataclass(frozen=True)
class Wanted:
    """What is to be on the sheet: from and until when, whose page alone (None: the litter's), and whether each pup has a page too."""

    start: datetime
    end: datetime
    pups: tuple[Who, ...] | None = None
    each_pup: bool = False


def compose(nursery: Nursery, entries: Iterable[Entry], wanted: Wanted, by: str = "") -> Sheet:
    """The sheet. `by` is who had it printed."""
    told = Told.between(nursery, entries, wanted.start, wanted.end)
    alone = [pup for pup in nursery.pups.values() if wanted.pups is not None and pup.who in wanted.pups]
    pages = [] if alone else [_litter(told, by)]
    pages += [_pup(told, pup, by) for pup in alone or (nursery.pups.values() if wanted.each_pup else ())]
    return Sheet(
        name=_file_name(told, alone),
        paper="Letter" if prints_on_letter(nursery.zone.key) else "A4",
        caution=CAUTION,
        pages=tuple(pages),
    )


def _file_name(told: Told, alone: Sequence[Dog]) -> str:
    dam = told.nursery.choices.dam
    called = "-".join(pup.called for pup in alone) if alone else f"{dam} litter" if dam else "litter"
    return re.sub(r"[^a-z0-9]+", "-", f"{called} {told.day(told.end).isoformat()}".lower()).strip("-")


def _printed(told: Told, by: str) -> str:
    first = min((done.began for done in told.doings), default=told.end)
    whom = f" for {by}" if by else " from the log"
    years = dict.fromkeys(str(told.day(moment).year) for moment in (max(first, told.start), told.end))
    span = f"From {told.stamp(max(first, told.start))} to {told.stamp(told.end)}, {' to '.join(years)}"
    return f"{span}. Printed{whom}; times in {told.nursery.zone.key}."


def _litter(told: Told, by: str) -> Page:
    nursery = told.nursery
    pups = list(nursery.pups.values())
    everyone: list[Who] = ["dam", *(int(pup.who) for pup in pups)]
    warned = standing(nursery, told.end)
    blocks = [
        Block(title="The litter", facts=tuple(_facts(told))),
        Block(title="To look at now", words="\n".join(notice.text for notice in warned)) if warned else None,
        lists.gains(told, pups),
        _chart(told, pups, "%"),
        lists.weights_by_day(told, pups),
        lists.feeds_by_day(told, pups),
        lists.signs(told, everyone),
        lists.temperatures(told, everyone),
        lists.doses(told, everyone),
        lists.intakes(told),
        lists.notes(told, None),
        lists.who_logged(told),
    ]
    title = f"{nursery.choices.dam}'s litter" if nursery.choices.dam else "The litter"
    return Page(title=title, under=_printed(told, by), blocks=tuple([block for block in blocks if block is not None]))


def _facts(told: Told) -> Iterable[tuple[str, str]]:
    """What was told of the litter; what was not is not there."""
    nursery, choices = told.nursery, told.nursery.choices
    if choices.dam:
        weighed = nursery.dam.weighings.latest(told.end)
        yield "Dam", choices.dam + ("" if weighed is None else f", {nursery.units.grams(weighed.grams)} on {told.stamp(weighed.at)}")
    if choices.breed:
        yield "Breed", choices.breed
    if nursery.born is not None:
        how = {None: "", "c-section": " by c-section", "natural": " naturally"}[choices.delivery]
        yield "Born", f"{told.stamp(nursery.born)}{how}; {say_age(nursery.born, told.end)} old"
    died = [pup for pup in nursery.pups.values() if pup.died_at is not None and pup.died_at <= told.end]
    if nursery.pups:
        gone = "" if not died else "; " + say_list([f"{pup.called} died {told.stamp(pup.died_at)}" for pup in died if pup.died_at])
        yield "Pups", f"{len(nursery.pups) - len(died)} living{gone}"
    if choices.adult_grams:
        yield "Grown weight", f"about {nursery.units.grams(choices.adult_grams)}"
    if choices.kcal_per_ml:
        yield "Formula", f"{choices.kcal_per_ml:g} kcal in a ml, by its label"
    for phone in choices.phones.values():
        yield "Vet" if phone.of == "vet" else "Emergency clinic", ", ".join(part for part in (phone.name, phone.number) if part)


def _chart(told: Told, pups: Sequence[Dog], unit: Unit) -> Block | None:
    drawn = growth_curves(told.nursery, pups, told.start, told.end, unit=unit, title="", alt="The weights are in the tables.")
    return None if drawn is None else Block(title="Growth chart", chart=drawn)


def _pup(told: Told, pup: Dog, by: str) -> Page:
    nursery = told.nursery
    birth = nursery.birth(pup)
    facts = [
        ("Sex", {"m": "male", "f": "female"}.get(pup.sex or "", "")),
        ("Known by", say_list([*pup.names, *([pup.mark] if pup.mark else [])])),
        ("Born", "" if birth is None else f"{told.stamp(birth)}; {say_age(birth, told.end)} old"),
        ("Died", "" if pup.died_at is None else told.stamp(pup.died_at)),
        ("Dam", nursery.choices.dam or ""),
        ("Breed", nursery.choices.breed or ""),
    ]
    who: list[Who] = [pup.who]
    blocks = [
        Block(title="The pup", facts=tuple([(name, said) for name, said in facts if said])),
        lists.gains(told, [pup]),
        _chart(told, [pup], nursery.units.weights_in),
        lists.weights_by_day(told, [pup]),
        lists.feeds_by_day(told, [pup]),
        lists.signs(told, who),
        lists.temperatures(told, who),
        lists.doses(told, who),
        lists.notes(told, who),
    ]
    return Page(title=pup.called, under=_printed(told, by), blocks=tuple([block for block in blocks if block is not None]))
