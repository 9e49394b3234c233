"""A choice is what the household told the bot about itself in chat: names, units, intervals, the watch, a snooze; kept as an event."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, time, timedelta, tzinfo
from types import MappingProxyType
from typing import Any, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field

from parsers.events import Who

CARES = ("nursing", "clearing", "toilet", "weighing", "first milk", "dose", "dam check", "temperature", "supervision")
"""All care that is spoken of unasked."""
CARE_OF_KIND = {"nursed": "nursing", "fed": "nursing", "cleared": "clearing", "weight": "weighing"}
"""The care that an event ends, by the event's kind; other kinds share their name with their care."""


def care_named(word: str) -> str:
    """The care that a choice speaks of, whether it named the care (`clearing`) or the event (`cleared`)."""
    return CARE_OF_KIND.get(word, word)


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="ignore")


class Name(_Part):
    """A pup is called so."""

    pup: int
    as_: str = Field(alias="as")


class Every(_Part):
    """How often a care, or a drug of the vet's plan, is due. No minutes: as the table has it."""

    care: str = "nursed"
    minutes: float | None = Field(default=None, gt=0)
    drug: str | None = None


class Snooze(_Part):
    """Nudges rest for so long; `who` where only a pup's."""

    minutes: float = Field(ge=0)
    who: Who | tuple[int, ...] | None = None


class Shift(_Part):
    """A watch that comes back every day, by the clock on the wall; over midnight where `to` is before `from`."""

    who: str
    start: time = Field(alias="from")
    end: time = Field(alias="to")

    def covers(self, wall: time) -> bool:
        """Whether this shift has the watch at that time of the day."""
        if self.start < self.end:
            return self.start <= wall < self.end
        return wall >= self.start or wall < self.end


class Reminders(_Part):
    """Whether a care (`all`: every one; of doses also a single drug) is spoken of unasked."""

    care: str
    on: bool
    drug: str | None = None


class Phone(_Part):
    """A number to call."""

    of: Literal["vet", "emergency"]
    number: str
    name: str | None = None


class Formula(_Part):
    """What the label of the milk replacer says."""

    kcal_per_ml: float


class Litter(_Part):
    """What was said of the litter as a whole."""

    pups: int | None = None
    dam: str | None = None
    born: AwareDatetime | None = None
    delivery: Literal["c-section", "natural"] | None = None


class Sets(BaseModel):
    """All that one message sets, by the names of the reader's `setup`. What this version does not know is kept and passed over."""

    model_config = ConfigDict(frozen=True, extra="allow")

    name: Name | tuple[Name, ...] | None = None
    every: Every | tuple[Every, ...] | None = None
    snooze: Snooze | None = None
    on_duty: str | None = None
    until: AwareDatetime | None = None
    """The end of the watch that `on_duty` begins; None: until the next watch is told."""
    roster: tuple[Shift, ...] | None = None
    weights_in: Literal["g", "oz"] | None = None
    temperatures_in: Literal["F", "C"] | None = None
    reminders: Reminders | tuple[Reminders, ...] | None = None
    phone: Phone | tuple[Phone, ...] | None = None
    formula: Formula | None = None
    adult_grams: float | None = None
    breed: str | None = None
    litter: Litter | None = None


class Choice(BaseModel):
    """The event: who chose what. `sets` is the reader's `setup.sets`; raises pydantic's ValidationError where a known part is malformed."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    kind: Literal["choice"] = "choice"
    sets: Sets
    by: str
    at: AwareDatetime | None = None

    def as_json(self) -> dict[str, Any]:
        """The choice as plain data, as it was told."""
        return self.model_dump(mode="json", exclude_unset=True, by_alias=True) | {"kind": self.kind}


@dataclass(frozen=True, slots=True)
class Quiet:
    """A snooze as it runs: from, until, and for whom (None: for all)."""

    start: datetime
    end: datetime
    who: tuple[Who, ...] | None

    def covers(self, who: Who) -> bool:
        """Whether it is this pup's nudges (or the dam's) that rest."""
        return self.who is None or who in self.who


@dataclass(frozen=True, slots=True)
class Watch:
    """A watch taken by hand; without an end it holds until the next one is taken."""

    who: str
    start: datetime
    end: datetime | None


_QUIET_KEPT = timedelta(days=2)
"""How long an ended snooze is remembered: longer than anything that it could have moved stays worth saying."""


def _nothing() -> Mapping[str, Any]:
    return MappingProxyType({})


@dataclass(frozen=True)
class Choices:
    """All choices in force, the latest of each."""

    weights_in: Literal["g", "oz"] = "g"
    temperatures_in: Literal["F", "C"] | None = None
    """None until it was said: the zone then decides."""
    every: Mapping[str, float] = field(default_factory=_nothing)
    """Minutes by care."""
    since: Mapping[str, datetime] = field(default_factory=_nothing)
    """When the interval of a care was chosen (UTC): what was never done before counts from there."""
    plan: Mapping[str, float] = field(default_factory=_nothing)
    """Minutes by drug (in small letters), as the keeper's vet planned it."""
    quiet: tuple[Quiet, ...] = ()
    watch: Watch | None = None
    roster: tuple[Shift, ...] = ()
    silent: frozenset[str] = frozenset()
    """Care that is not spoken of unasked; a single drug as `dose/calcium`."""
    phones: Mapping[str, Phone] = field(default_factory=_nothing)
    kcal_per_ml: float | None = None
    adult_grams: float | None = None
    breed: str | None = None
    pups: int | None = None
    dam: str | None = None
    born: datetime | None = None
    delivery: Literal["c-section", "natural"] | None = None

    def after(self, choice: Choice, told_at: datetime) -> Choices:
        """The choices in force once this one was made. Pup names are the pups' own, and are left to the nursery."""
        sets = choice.sets
        plain = {name: getattr(sets, name) for name in ("weights_in", "temperatures_in", "adult_grams", "breed")}
        changes: dict[str, Any] = {name: value for name, value in plain.items() if value is not None}
        if sets.every is not None:
            every, plan, since = dict(self.every), dict(self.plan), dict(self.since)
            for one in _each(sets.every):
                table, key = (plan, (one.drug or "").casefold()) if one.care == "dose" else (every, care_named(one.care))
                if one.minutes is None:
                    table.pop(key, None)
                else:
                    table[key] = one.minutes
                    since[key] = told_at
            changes |= {"every": every, "plan": plan, "since": since}
        if sets.snooze is not None:
            who = None if sets.snooze.who is None else _each(sets.snooze.who)
            rest = Quiet(told_at, told_at + timedelta(minutes=sets.snooze.minutes), who)
            changes["quiet"] = (*(old for old in self.quiet if old.end > told_at - _QUIET_KEPT), rest)
        if "on_duty" in sets.model_fields_set:
            end = None if sets.until is None else sets.until.astimezone(UTC)
            changes["watch"] = None if sets.on_duty is None else Watch(sets.on_duty, told_at, end)
        if sets.roster is not None:
            changes["roster"] = sets.roster
        for reminder in _each(sets.reminders):
            changes["silent"] = _silent(changes.get("silent", self.silent), reminder)
        for phone in _each(sets.phone):
            changes["phones"] = {**changes.get("phones", self.phones), phone.of: phone}
        if sets.formula is not None:
            changes["kcal_per_ml"] = sets.formula.kcal_per_ml
        if sets.litter is not None:
            said = sets.litter
            changes |= {name: value for name in ("pups", "dam", "delivery") if (value := getattr(said, name)) is not None}
            if said.born is not None:
                changes["born"] = said.born.astimezone(UTC)
        return replace(self, **changes)

    def silences(self, care: str, drug: str | None = None) -> bool:
        """Whether nudges of a care, or of a drug, were stopped."""
        return care in self.silent or (drug is not None and f"{care}/{drug.casefold()}" in self.silent)

    def on_duty(self, moment: datetime, zone: tzinfo) -> str | None:
        """Who has the watch: the one taken by hand while it holds, else the roster's; None: nobody."""
        if self.watch is not None and (self.watch.end is None or moment < self.watch.end):
            return self.watch.who
        shift = self._shift(moment, zone)
        return None if shift is None else shift.who

    def watch_ends(self, moment: datetime, zone: tzinfo) -> datetime | None:
        """When the watch that holds at a moment ends; None: nobody has it, or it holds until the next one is told."""
        if self.watch is not None and (self.watch.end is None or moment < self.watch.end):
            return self.watch.end
        shift = self._shift(moment, zone)
        if shift is None:
            return None
        local = moment.astimezone(zone)
        day = local.date() if local.time() < shift.end else local.date() + timedelta(days=1)
        return datetime.combine(day, shift.end, zone).astimezone(UTC)

    def _shift(self, moment: datetime, zone: tzinfo) -> Shift | None:
        wall = moment.astimezone(zone).time()
        return next((shift for shift in self.roster if shift.covers(wall)), None)


def _silent(silent: frozenset[str], reminder: Reminders) -> frozenset[str]:
    """What is silent once a reminder was stopped or started. Whoever stops the temperatures does not wait for the dam's check either."""
    care = care_named(reminder.care)
    if reminder.drug is not None and not reminder.on:
        return silent | {f"{care}/{reminder.drug.casefold()}"}
    cares = set(CARES) if care == "all" else {care, "dam check"} if care == "temperature" else {care}
    if not reminder.on:
        return silent | cares
    drugs = {key for key in silent if "/" in key and key.partition("/")[0] in cares}
    return silent - cares - (drugs if reminder.drug is None else {f"{care}/{reminder.drug.casefold()}"})


def _each(given: Any) -> tuple[Any, ...]:
    return () if given is None else given if isinstance(given, tuple) else (given,)
