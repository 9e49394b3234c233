"""The nursery is all that is known now of one litter, folded from its events."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Literal, Protocol
from zoneinfo import ZoneInfo

from pydantic import BaseModel

from bot.care.cards import dam_card, pup_card
from bot.care.choice import Choice, Choices, Name
from bot.care.concern import SAID_AGAIN_AFTER
from bot.care.dog import Dog
from bot.care.doing import Doing, Given, doing
from bot.care.figures import figures
from bot.care.ready import ticks
from bot.care.wording import say_list
from bot.care.zones import thinks_in_fahrenheit
from parsers.events import Event, Units, Who
from parsers.events.born import Born
from parsers.events.climate import Climate
from parsers.events.dose import Dose
from parsers.events.weight import Weight
from parsers.litter_card import LastLogged, LitterCard, PlannedDose

_TOO_SOON = figures("rounds").number("too_soon")


class Entry(Protocol):
    """An event as the journal keeps it: one that stands, with when it was (first) told and by whom."""

    @property
    def message(self) -> int: ...
    @property
    def told_at(self) -> datetime: ...
    @property
    def by(self) -> str: ...
    @property
    def event(self) -> BaseModel: ...
    @property
    def replaces(self) -> int | None: ...


@dataclass(slots=True)
class Logged:
    """The last message of one person that logged more than notes: what a correction of theirs is about."""

    message: int
    events: tuple[Event, ...]
    card: LastLogged | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True)
class Nursery:
    """All that is known of a litter. A value: `after` gives a new one and leaves this one as it was."""

    zone: ZoneInfo
    pups: Mapping[int, Dog] = field(default_factory=dict)
    """By number, in that order; the dead ones too."""
    dam: Dog = field(default_factory=lambda: Dog("dam"))
    around: Mapping[str, Doing] = field(default_factory=dict)
    """The last of each kind that is of no dog: the box, a visitor, what was cleaned, a note; and the last of each place that was read
    and of each thing that was cleaned (`climate box`, `cleaned bulb`)."""
    box: tuple[Doing, ...] = ()
    """The temperatures of box and incubator as they were read in the last hours, in the order told."""
    ready: Mapping[str, bool] = field(default_factory=dict)
    """What of the list for the way home was ticked, or opened again."""
    choices: Choices = field(default_factory=Choices)
    logged: Mapping[str, Logged] = field(default_factory=dict)
    """By person."""
    count: int = 0
    """How many entries it was folded from."""
    born: datetime | None = None
    """The litter's birth (UTC), as it was told; else that of the first pup whose birth was told."""
    known: datetime | None = None
    """When anything of the litter was first told."""
    _cards: dict[tuple[tuple[str, ...], str | None], LitterCard] = field(default_factory=dict, init=False, compare=False, repr=False)
    """What the reader may look at, by the people there are and the one who speaks."""

    @classmethod
    def fold(cls, entries: Iterable[Entry], zone: ZoneInfo) -> Nursery:
        """The nursery from all standing entries, in the order told. A correction or an undo needs this; all else can use `after`."""
        return _Folding(cls(zone)).take(entries)

    def after(self, entries: Iterable[Entry]) -> Nursery:
        """The nursery once these new entries are known too: the cost is that of the new ones, however long the log."""
        return _Folding(self).take(entries)

    @property
    def living(self) -> tuple[Dog, ...]:
        """The pups that have not died, by number."""
        return tuple([pup for pup in self.pups.values() if pup.died_at is None])

    @property
    def units(self) -> Units:
        """The units that the household thinks in."""
        return Units(self.choices.weights_in, self.temperatures_in)

    @property
    def temperatures_in(self) -> Literal["F", "C"]:
        """As was chosen; until then by the zone."""
        return self.choices.temperatures_in or ("F" if thinks_in_fahrenheit(self.zone.key) else "C")

    def dog(self, who: Who) -> Dog | None:
        """The pup of that number, or the dam; None: there is no such pup."""
        return self.dam if who == "dam" else self.pups.get(who)

    def called(self, who: Who) -> str:
        """How a dog is spoken of: `Pup 3 Olive`."""
        dog = self.dog(who)
        return f"Pup {who}" if dog is None else dog.called

    def together(self, whos: Iterable[Who]) -> str:
        """How several are spoken of: `Pups 1, 2 and 5` where none has a name, else `Pup 1 and Pup 3 Olive`."""
        several = list(whos)
        if len(several) > 1 and all(self.called(who) == f"Pup {who}" for who in several):
            return f"Pups {say_list([str(who) for who in several])}"
        return say_list([self.called(who) for who in several])

    def birth(self, pup: Dog) -> datetime | None:
        """When a pup was born: by its own birth, else the litter's. None: it was not told."""
        return pup.born_at or self.born

    def age_day(self, pup: Dog, moment: datetime) -> int | None:
        """The day of a pup's life at a moment; the first is day 0. None: its birth was not told."""
        birth = self.birth(pup)
        return None if birth is None else max(0, (moment - birth).days)

    def on_duty(self, moment: datetime) -> str | None:
        """Who has the watch; None: nobody."""
        return self.choices.on_duty(moment, self.zone)

    def watch_ends(self, moment: datetime) -> datetime | None:
        """When the watch of who has it now ends; None: nobody has it, or it has no end."""
        return self.choices.watch_ends(moment, self.zone)

    def card(self, people: Sequence[str], by: str | None = None) -> LitterCard:
        """What the reader may look at, for a message by this person. Its parts are kept until they change."""
        key = tuple(people), by
        card = self._cards.get(key)
        if card is None:
            card = self._cards[key] = self._card(key[0], by)
        return card

    def _card(self, people: tuple[str, ...], by: str | None) -> LitterCard:
        logged = self.logged.get(by) if by is not None else None
        return LitterCard(
            zone=self.zone.key,
            weights_in=self.choices.weights_in,
            temperatures_in=self.temperatures_in,
            born=self.born,
            dam=dam_card(self.dam),
            pups=tuple([pup_card(pup) for pup in self.pups.values()]),
            people=people,
            doses=tuple([self._planned(drug, minutes) for drug, minutes in self.choices.plan.items() if drug]),
            last_logged=None if logged is None else _logged_card(logged, by),
        )

    def _planned(self, drug: str, minutes: float) -> PlannedDose:
        given = self.dam.doses.get(drug)
        return PlannedDose(drug=drug, every_minutes=minutes, last_at=None if given is None else given.last.began)


class _Folding:
    """One pass over entries: copies what it changes, once, and gives a new nursery."""

    def __init__(self, start: Nursery) -> None:
        self._start = start
        self._pups = dict(start.pups)
        self._dam = start.dam
        self._around = dict(start.around)
        self._box = start.box
        self._ready = start.ready
        self._choices = start.choices
        self._logged = dict(start.logged)
        self._notes: tuple[int, tuple[Event, ...]] = (0, ())
        """Notes that opened the message under way, by its id: they become part of what it logged once it logs something."""
        self._mine: set[Who] = set()

    def take(self, entries: Iterable[Entry]) -> Nursery:
        count, known = self._start.count, self._start.known
        for entry in entries:
            count += 1
            known = known or entry.told_at
            event = entry.event
            if isinstance(event, Event):
                self._event(event, entry)
            elif isinstance(event, Choice):
                self._choose(event, entry.told_at)
        return Nursery(
            zone=self._start.zone,
            pups=self._pups if self._pups.keys() == self._start.pups.keys() else dict(sorted(self._pups.items())),
            dam=self._dam,
            around=self._around,
            ready=self._ready,
            box=self._box,
            choices=self._choices,
            logged=self._logged,
            count=count,
            known=known,
            born=self._choices.born or min([pup.born_at for pup in self._pups.values() if pup.born_at], default=None),
        )

    def _event(self, event: Event, entry: Entry) -> None:
        self._log(event, entry)
        done = doing(event, entry.told_at, entry.by)
        who: Who | None = getattr(event, "who", None)
        if who is None:
            if isinstance(event, Climate) and event.place != "room" and event.celsius is not None:
                self._box = (*(old for old in self._box if done.began - old.began <= SAID_AGAIN_AFTER), done)
            if ticked := ticks(event):
                self._ready = {**self._ready, **ticked}
            for name in _names(event):
                before = self._around.get(name)
                if before is None or before.began <= done.began:
                    self._around[name] = done
            return
        dog = self._dog(who)
        dog.note(done)
        if isinstance(event, Weight):
            dog.weighed(done.began, event.grams)
        elif isinstance(event, Dose):
            self._dose(dog, event.drug.casefold(), done)
        elif isinstance(event, Born):
            _born(dog, event, done.began)
        elif event.kind == "died":
            dog.died_at, dog.card = done.began, None

    def _dose(self, dog: Dog, drug: str, done: Doing) -> None:
        before = dog.doses.get(drug)
        if before is None:
            dog.doses[drug] = Given(done, done.told_at)
            return
        apart = abs((done.began - before.last.began).total_seconds()) / 60
        every = self._choices.plan.get(drug, self._choices.plan.get(""))
        too_soon = every is not None and apart <= _TOO_SOON * every
        last = done if before.last.began <= done.began else before.last
        others = before.others if before.too_soon_after is None else (*before.others, before.told_at)
        near = tuple(other for other in others if done.told_at - other <= SAID_AGAIN_AFTER)
        dog.doses[drug] = Given(last, done.told_at, apart if too_soon else None, every, near)

    def _log(self, event: Event, entry: Entry) -> None:
        """Keep the sender's last message that logged more than notes: it is what `undo` and `no, 221` are about."""
        before = self._logged.get(entry.by)
        if before is not None and before.message == entry.message:
            self._logged[entry.by] = Logged(entry.message, (*before.events, event))
            return
        notes = self._notes[1] if self._notes[0] == entry.message else ()
        if event.kind == "note":
            self._notes = (entry.message, (*notes, event))
        else:
            self._logged[entry.by] = Logged(entry.message, (*notes, event))

    def _choose(self, choice: Choice, told_at: datetime) -> None:
        self._choices = self._choices.after(choice, told_at.astimezone(UTC))
        sets = choice.sets
        if sets.litter is not None and sets.litter.dam is not None:
            self._dog("dam").names = (sets.litter.dam,)
            self._dam.card = None
        if sets.litter is not None and sets.litter.pups is not None:
            self._count_pups(sets.litter.pups)
        for name in () if sets.name is None else sets.name if isinstance(sets.name, tuple) else (sets.name,):
            self._name(name)

    def _count_pups(self, count: int) -> None:
        """So many pups there are; of those counted before and now too many, only such go of which nothing was ever told."""
        for number in [number for number, pup in self._pups.items() if number > count and not pup.last and not pup.names]:
            del self._pups[number]
        for number in range(1, count + 1):
            self._dog(number)

    def _name(self, name: Name) -> None:
        same = name.as_.casefold()
        for number in list(self._pups):
            if any(old.casefold() == same for old in self._pups[number].names):
                dog = self._dog(number)
                dog.names, dog.card = tuple(old for old in dog.names if old.casefold() != same), None
        dog = self._dog(name.pup)
        dog.names, dog.card = (name.as_, *dog.names), None

    def _dog(self, who: Who) -> Dog:
        """The dog, as a copy that this fold may change."""
        if who == "dam":
            if who not in self._mine:
                self._mine.add(who)
                self._dam = self._dam.copy()
            return self._dam
        dog = self._pups.get(who)
        if dog is None or who not in self._mine:
            self._mine.add(who)
            dog = self._pups[who] = Dog(who) if dog is None else dog.copy()
        return dog


def _names(event: Event) -> tuple[str, ...]:
    """Under which names an event of no dog is the last one."""
    thing = getattr(event, "place", None) or getattr(event, "item", None)
    return (event.kind,) if thing is None else (event.kind, f"{event.kind} {thing}")


def _born(dog: Dog, event: Born, at: datetime) -> None:
    dog.born_at, dog.sex, dog.mark, dog.card = at, event.sex or dog.sex, event.mark or dog.mark, None
    if event.grams is not None:
        dog.birth_grams = event.grams
        dog.weighed(at, event.grams)


def _logged_card(logged: Logged, by: str | None) -> LastLogged:
    if logged.card is None:
        logged.card = LastLogged(by=by, events=tuple(event.as_json() for event in logged.events))
    return logged.card
