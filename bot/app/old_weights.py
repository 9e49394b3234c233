"""Old weights of a spreadsheet become entries of a log: each on its pup, at its time, and none twice."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from pydantic import BaseModel

from bot.app.dates_in_cells import NotRead
from bot.app.weights_table import NOON, Weighed
from bot.care.choice import Choice
from bot.care.dog import Dog
from bot.care.nursery import Nursery
from bot.care.wording import say_list
from parsers.events.weight import Weight

SAME_GRAMS = 0.06
"""Weights of one pup at one time that differ by less are the same weight, written in another unit."""
_PUP = re.compile(r"(?:pup|puppy|p|no|nr|#)?[ .#]*(\d{1,2})", re.I)


@dataclass(frozen=True)
class Plan:
    """What is to be kept: how the pups of the file are called here, the new weights, what was set up with them."""

    pups: dict[str, int]
    new: tuple[Weight, ...]
    choice: Choice | None
    there_already: int
    otherwise: tuple[str, ...]
    """A sentence for each weight that differs from what the log has for that very moment: the log's stands."""

    @property
    def lines(self) -> list[str]:
        """The plan in words."""
        called = ", ".join(f"{name} is pup {number}" for name, number in self.pups.items() if name != str(number))
        said = [f"{len(self.new)} weight{'' if len(self.new) == 1 else 's'}" + (f" ({called})" if called else "") + "."]
        if self.new:
            first, last = (moment.at for moment in (self.new[0], self.new[-1]) if moment.at is not None)
            said.append(f"From {first:%Y-%m-%d %H:%M} to {last:%Y-%m-%d %H:%M}.")
        if self.there_already:
            said.append(f"{self.there_already} are in the log already and are left as they are.")
        return said + list(self.otherwise)


def plan(weighed: Sequence[Weighed], nursery: Nursery, now: datetime) -> Plan:
    """What these weights come to in that litter. Raises NotRead where a pup is not known, or a time cannot be."""
    pups = _pups(weighed, nursery)
    new: list[Weight] = []
    there_already, otherwise = 0, []
    for one in weighed:
        number = pups[one.pup]
        pup = nursery.pups.get(number)
        at = _moment(one, nursery, pup, now)
        known = [] if pup is None else _around(one, pup, at, nursery.zone)
        if any(abs(grams - one.grams) <= SAME_GRAMS for grams in known):
            there_already += 1
        elif known and one.clock is not None:
            otherwise.append(f"Line {one.line}: pup {number} has {known[0]:g} g at that time, and the file {one.grams:g} g: left as it is.")
        else:
            new.append(Weight(who=number, grams=one.grams, at=at))
    new.sort(key=lambda event: (event.at or now, event.who))
    return Plan(pups, tuple(new), _choice(pups, nursery), there_already, tuple(otherwise))


def _pups(weighed: Sequence[Weighed], nursery: Nursery) -> dict[str, int]:
    """The number of each pup that the file names. In a litter of which nothing is known they are numbered as they come."""
    called = dict.fromkeys(one.pup for one in weighed)
    names = {name.casefold(): int(pup.who) for pup in nursery.pups.values() for name in (*pup.names, pup.mark or "") if name}
    found: dict[str, int] = {}
    for name in called:
        written = _PUP.fullmatch(name.strip())
        number = names.get(name.strip().casefold()) or (int(written[1]) if written else None)
        if number is None and not nursery.pups:
            number = next(free for free in range(1, len(called) + 1) if free not in found.values())
        if number is None or (nursery.pups and number not in nursery.pups):
            line = next(one.line for one in weighed if one.pup == name)
            there = say_list([pup.called for pup in nursery.pups.values()])
            raise NotRead(f"line {line}: there is no pup “{name}” in this litter ({there}): call it so in the chat first, or mend the file")
        found[name] = number
    if len(set(found.values())) < len(found):
        raise NotRead(f"two names of the file are the same pup: {', '.join(f'{name} is pup {number}' for name, number in found.items())}")
    return found


def _moment(one: Weighed, nursery: Nursery, pup: Dog | None, now: datetime) -> datetime:
    """When it was weighed, on the litter's own clock: at noon where only the day is known, but not before its birth nor after now."""
    at = datetime.combine(one.day, one.clock or NOON, nursery.zone).astimezone(UTC)
    birth = nursery.birth(pup) if pup is not None else nursery.born
    if one.clock is None:
        if birth is not None and _day(birth, nursery.zone) == one.day:
            at = max(at, birth)
        if _day(now, nursery.zone) == one.day:
            at = min(at, now)
    if at > now:
        raise NotRead(f"line {one.line}: {at.astimezone(nursery.zone):%Y-%m-%d %H:%M} has not come yet")
    if birth is not None and at < birth:
        raise NotRead(f"line {one.line}: {at.astimezone(nursery.zone):%Y-%m-%d %H:%M} is before the birth of pup {one.pup}")
    return at.astimezone(nursery.zone)


def _day(moment: datetime, zone: ZoneInfo) -> object:
    return moment.astimezone(zone).date()


def _around(one: Weighed, pup: Dog, at: datetime, zone: ZoneInfo) -> list[float]:
    """The pup's weights of that minute; of that day, where the file has no time."""
    if one.clock is None:
        midnight = datetime(one.day.year, one.day.month, one.day.day, tzinfo=zone)
        return [known.grams for known in pup.weighings.between(midnight, midnight + timedelta(days=1)) if _day(known.at, zone) == one.day]
    return [known.grams for known in pup.weighings.between(at, at + timedelta(minutes=1))]


def _choice(pups: dict[str, int], nursery: Nursery) -> Choice | None:
    """The pups of a litter of which nothing was known: how many, and what they are called."""
    if nursery.pups:
        return None
    names = [{"pup": number, "as": name} for name, number in pups.items() if not _PUP.fullmatch(name.strip())]
    sets: dict[str, object] = {"litter": {"pups": max(pups.values())}} | ({"name": names} if names else {})
    return Choice.model_validate({"sets": sets, "by": "import"})


def rows(plan: Plan) -> list[BaseModel]:
    """The events to be kept, the set-up first."""
    return [*([plan.choice] if plan.choice is not None and plan.new else []), *plan.new]
