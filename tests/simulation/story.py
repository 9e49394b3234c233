"""A story is four weeks as they happened: what two people said of a litter, and what befell the machine that the bot runs on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from random import Random
from typing import Literal
from zoneinfo import ZoneInfo

Who = int | str
PUPS = tuple(range(1, 9))
INES, THEO = "Ines", "Theo"
NO_TIME = timedelta()
LATE_BY = (0.5, 0.8, 0.95, 1.0, 1.1, 1.3, 1.6, 2.2)
"""When a round comes, in intervals after the one before."""
EARLIEST = datetime.min.replace(tzinfo=UTC)
IN_1970 = datetime(1970, 1, 1, 0, 3, tzinfo=UTC)
PLACES = (
    ("America/Chicago", "2026-02-24"),
    ("Europe/Berlin", "2026-10-12"),
    ("Europe/Berlin", "2026-03-14"),
    ("America/Chicago", "2026-10-16"),
)
"""Where and on which day a litter is born: four weeks in which the clocks go forward, or back."""


@dataclass(frozen=True)
class Fact:
    """What a message means, as the oracle takes it. `who` is () for the litter as a whole, None for every living pup."""

    kind: str
    who: tuple[Who, ...] | None = None
    minutes: float = 0
    ago: float = 0
    """Minutes before the message at which it began, where the message says so."""
    value: str = ""


@dataclass(frozen=True)
class Say:
    """Someone says something."""

    by: str
    text: str
    facts: tuple[Fact, ...] = ()


@dataclass(frozen=True)
class Trouble:
    """The machine goes off or on, falls asleep or wakes, or has its clock set. `ahead`: by how much the clock is wrong from then on."""

    kind: Literal["off", "on", "sleep", "wake", "set"]
    ahead: timedelta = NO_TIME


@dataclass(frozen=True)
class Step:
    """One thing that happens, at its true moment; a message that waited for the machine was said so much earlier."""

    at: datetime
    what: Say | Trouble
    waited: timedelta = NO_TIME


@dataclass
class Story:
    """All of it, in order."""

    zone: str
    born: datetime
    steps: list[Step] = field(default_factory=list)
    end: datetime = IN_1970
    outages: int = 0
    restarts: int = 0
    suspends: int = 0
    clock_steps: int = 0


def story(seed: int, weeks: float) -> Story:
    """The story of a seed; the same seed tells the same story."""
    random = Random(seed)
    zone, day = PLACES[seed % len(PLACES)]
    born = (
        datetime.fromisoformat(f"{day} {random.randrange(24):02}:{random.randrange(60):02}").replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)
    )
    told = Story(zone, born, end=born + timedelta(weeks=weeks))
    troubles = list(_troubles(random, told))
    says = sorted(_Household(random, told).talk(), key=lambda one: one[0])
    told.steps = sorted([*troubles, *_delivered(random, says, troubles)], key=lambda step: step.at)
    return told


# What befalls the machine


def _troubles(random: Random, told: Story) -> Iterator[Step]:
    at = told.born + _seconds(random.uniform(1, 10) * 3600)
    while (at := at + _seconds(random.expovariate(1 / 14) * 3600 + 1800)) < told.end - timedelta(hours=40):
        kind = random.choices(("restart", "off", "sleep", "set", "wrong at the start"), (3, 5, 4, 4, 4))[0]
        if kind == "restart":
            told.restarts += 1
            yield from _off(at, at := at + timedelta(seconds=random.randrange(5, 50)))
        elif kind == "off":
            told.outages += 1
            yield from _off(at, at := at + _how_long(random))
        elif kind == "sleep":
            told.suspends += 1
            yield Step(at, Trouble("sleep"))
            yield Step(at := at + _how_long(random), Trouble("wake"))
        elif kind == "set":
            told.clock_steps += 2
            ahead = _wrong(random)
            yield Step(at, Trouble("set", ahead))
            at += _seconds(random.uniform(300, 4 * 3600))
            if random.random() < 0.3:
                told.restarts += 1
                yield from _off(at, at := at + timedelta(seconds=40), ahead)
                at += _seconds(random.uniform(60, 3600))
            yield Step(at, Trouble("set"))
        else:
            told.outages += 1
            told.clock_steps += 2
            begin, at = at, at + _how_long(random)
            ahead = IN_1970 - at if random.random() < 0.5 else _wrong(random)
            yield from _off(begin, at, ahead)
            yield Step(at := at + _seconds(random.uniform(30, 3600)), Trouble("set"))


def _off(begin: datetime, end: datetime, ahead: timedelta = NO_TIME) -> Iterator[Step]:
    yield Step(begin, Trouble("off"))
    yield Step(end, Trouble("on", ahead))


def _how_long(random: Random) -> timedelta:
    return _seconds(random.choices((random.uniform(60, 1800), random.uniform(1800, 5 * 3600), random.uniform(6, 30) * 3600), (5, 4, 1))[0])


def _wrong(random: Random) -> timedelta:
    """By some hours, in either direction."""
    return _seconds(random.choice((-1, 1)) * random.uniform(600, 5 * 3600))


def _seconds(seconds: float) -> timedelta:
    return timedelta(seconds=int(seconds))


def _delivered(random: Random, says: list[tuple[datetime, Say]], troubles: list[Step]) -> Iterator[Step]:
    """Messages as they arrive: those said while the machine was off or asleep wait on their phones, and come once it is there again.

    They come in the order said; but a mere remark may come from another phone a little after the rest.
    """
    there = [(step.at, step.what.kind not in ("off", "sleep")) for step in troubles if isinstance(step.what, Trouble)]
    place, latest = 0, EARLIEST
    for said_at, say in says:
        while place < len(there) and there[place][0] <= said_at:
            place += 1
        at = said_at
        if place and not there[place - 1][1]:
            at = there[place][0] + timedelta(seconds=random.randrange(1, 20))
        at = max(at, latest + timedelta(seconds=1))
        latest = at
        if at - said_at >= timedelta(minutes=1) and not say.facts:
            at += timedelta(seconds=random.randrange(40))
        yield Step(at, say, at - said_at if at - said_at >= timedelta(minutes=1) else NO_TIME)


# What the household says


class _Household:
    """Two people who sleep too little: rounds that are late, clearings that are forgotten, a snooze now and then."""

    def __init__(self, random: Random, told: Story) -> None:
        self._random = random
        self._told = told
        self._living = list(PUPS)
        self._dies_at = told.born + _seconds(random.uniform(2, 30) * 86400)
        self._grams = {pup: random.uniform(300, 400) for pup in PUPS}

    def talk(self) -> Iterator[tuple[datetime, Say]]:
        born, zone = self._told.born, ZoneInfo(self._told.zone)
        at = born + timedelta(minutes=10)
        local = f"{born.astimezone(zone):%I:%M %p}".lower()
        yield at, Say(INES, f"new litter of 8 from Juniper, c-section at {local}", (Fact("litter"),))
        yield at + timedelta(minutes=1), Say(INES, "Theo 10 pm to 4 am, Ines 4 am to 10 am", (Fact("roster"),))
        yield at + timedelta(minutes=2), Say(INES, "calcium every 4 hours", (Fact("plan", (), 240, value="calcium"),))
        at += _seconds(self._random.uniform(20, 240) * 60)
        while at < self._told.end:
            yield from self._round(at)
            day = (at - born) / timedelta(days=1)
            usual = 120 if day < 7 else 180 if day < 14 else 240
            at += timedelta(minutes=int(usual * self._random.choice(LATE_BY)), seconds=self._random.randrange(60))
        yield from self._by_the_day()

    def _round(self, at: datetime) -> Iterator[tuple[datetime, Say]]:
        """One round: all at once, or in two halves; then cleared and stimulated, or not."""
        random = self._random
        halves: list[tuple[int, ...] | None] = [None]
        if random.random() < 0.5:
            cut = random.randrange(1, 8)
            halves = [PUPS[:cut], PUPS[cut:]]
        for half in halves:
            if half is not None:
                half = tuple(pup for pup in half if pup != 6 or at < self._dies_at)
                if not half:
                    continue
            yield self._fed(at, half)
            at += timedelta(minutes=random.randrange(1, 25), seconds=random.randrange(60))
        for kind, words in (("cleared", "all cleared"), ("toilet", "all peed")):
            if random.random() < 0.45:
                at += timedelta(minutes=random.randrange(0, 60), seconds=random.randrange(1, 60))
                yield at, self._say(words, Fact(kind))

    def _fed(self, at: datetime, who: tuple[int, ...] | None) -> tuple[datetime, Say]:
        random = self._random
        whom = "all" if who is None else f"pup {who[0]}" if len(who) == 1 else f"pups {', '.join(map(str, who[:-1]))} and {who[-1]}"
        minutes = random.randrange(5, 25)
        ago = random.choice((20, 45, 100, 170)) if random.random() < 0.15 and at - self._told.born > timedelta(hours=6) else 0
        words, facts = f"{whom} nursed {minutes}", [Fact("nursed", who, minutes, ago)]
        if ago:
            words += f", {ago} minutes ago"
        elif random.random() < 0.3:
            words, facts = f"{words}, cleared and peed", [*facts, Fact("cleared", who), Fact("toilet", who)]
        return at, self._say(words, *facts)

    def _by_the_day(self) -> Iterator[tuple[datetime, Say]]:
        """What comes at its hour or at any hour: the scale, the dam, a choice, a remark."""
        random, end = self._random, self._told.end
        if self._dies_at < end:
            yield self._dies_at, Say(INES, "pup 6 died", (Fact("died", (6,)),))
        day = self._told.born.astimezone(ZoneInfo(self._told.zone)).replace(hour=0, minute=0, second=0)
        while (day := day + timedelta(days=1)).astimezone(UTC) < end - timedelta(days=1):
            for hour in (8, 20) if random.random() < 0.6 else (8,):
                if random.random() < 0.8:
                    at = (day + timedelta(hours=hour, seconds=random.randrange(-7200, 7200))).astimezone(UTC)
                    yield at, self._weighed(at)
            if random.random() < 0.6:
                at = (day + timedelta(seconds=random.randrange(86400))).astimezone(UTC)
                yield at, self._say(f"mom temp {random.uniform(100.5, 102):.1f}", Fact("temperature", ("dam",)))
            for _ in range(4):
                at = day.astimezone(UTC) + timedelta(seconds=random.randrange(86400))
                yield at, self._say("mom calcium 1 click", Fact("dose", ("dam",), value="calcium"))
            for _ in range(5):
                at = day.astimezone(UTC) + timedelta(seconds=random.randrange(86400))
                yield from self._aside(at)

    def _weighed(self, at: datetime) -> Say:
        pups = tuple(pup for pup in PUPS if pup != 6 or at < self._dies_at)
        grown = 1.055 ** ((at - self._told.born) / timedelta(days=1))
        return self._say(", ".join(f"{pup} {self._grams[pup] * grown:.0f}" for pup in pups), Fact("weight", pups))

    def _aside(self, at: datetime) -> Iterator[tuple[datetime, Say]]:
        random = self._random
        pup, minutes = random.choice((1, 2, 3, 4, 5, 7, 8)), random.choice((15, 30, 45, 90))
        later = at + timedelta(minutes=random.randrange(60, 900))
        kind = random.choice(
            ("snooze", "snooze", "snooze one", "watch", "watch until", "box", "box", "dam", "talk", "talk", "every", "stop", "undo")
        )
        if kind == "snooze":
            yield at, self._say(f"snooze {minutes}", Fact("snooze", (), minutes))
        elif kind == "snooze one":
            yield at, self._say(f"snooze pup {pup} {minutes}", Fact("snooze", (pup,), minutes))
        elif kind == "watch":
            yield at, Say(INES, f"{THEO} has the watch", (Fact("watch", (), value=THEO),))
        elif kind == "watch until":
            yield at, Say(INES, "I'm on until 4 am", (Fact("watch until", (), 4, value=INES),))
        elif kind == "box":
            yield at, self._say("all back in the box", Fact("placed", value="box"))
        elif kind == "dam":
            yield at, self._say(f"pup {pup} back with mom", Fact("placed", (pup,), value="dam"))
        elif kind == "talk":
            yield at, self._say("thanks, all quiet here")
        elif kind == "every":
            hours = random.choice((1.5, 2, 3))
            yield at, Say(INES, f"remind me every {hours * 60:.0f} minutes", (Fact("every", (), hours * 60),))
        elif kind == "stop":
            care = random.choice(("clearing", "nursing", "toilet", "weighing", "supervision"))
            yield at, Say(INES, f"stop the {care} reminders", (Fact("stop", (), value=care),))
            yield later, Say(INES, f"start the {care} reminders", (Fact("start", (), value=care),))
        else:
            yield at, Say(THEO, f"pup {pup} nursed 9", (Fact("nursed", (pup,), 9),))
            yield at + timedelta(seconds=1), Say(THEO, "undo", (Fact("undo", ()),))

    def _say(self, text: str, *facts: Fact) -> Say:
        return Say(self._random.choice((INES, THEO)), text, facts)
