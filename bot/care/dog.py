"""A dog is all that is known of one pup, or of the dam: names, birth, weights, and the last of each thing done."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from operator import attrgetter
from typing import Any, NamedTuple

from bot.care.choice import Choices
from bot.care.concern import Concern
from bot.care.doing import Doing, Given
from bot.care.due import Due
from bot.care.figures import figures
from bot.care.series import Series
from bot.care.sign_table import is_watched
from bot.care.weighings import Weighing, Weighings
from parsers.events import Who
from parsers.litter_card import DamCard, PupCard

_FIRST_MILK = ("colostrum", "dam's milk")
_RECENT = timedelta(hours=figures("signs").number("remembered_for"))
_began = attrgetter("began")
_MOST = int(figures("signs").number("remembered_at_most"))


class Dues(NamedTuple):
    """What is due of a dog, with what it was worked out from: the choices, the birth, and the moments between which it holds."""

    all: tuple[Due, ...]
    choices: Choices
    birth: datetime | None
    since: datetime
    until: datetime


@dataclass(slots=True)
class Dog:
    """A pup or the dam. Only the fold of the nursery changes one, and only its own copy."""

    who: Who
    names: tuple[str, ...] = ()
    """What the household calls it, the latest first."""
    mark: str | None = None
    """What it is known by since its birth: `white chest`."""
    sex: str | None = None
    born_at: datetime | None = None
    """From the pup's own birth event."""
    birth_grams: float | None = None
    """As told with the birth."""
    died_at: datetime | None = None
    weighings: Weighings = field(default_factory=Weighings)
    temperatures: Series[Doing] = field(default_factory=lambda: Series(_began))
    last: dict[str, Doing] = field(default_factory=dict)
    """The last of each kind of event, by when it began."""
    recent: tuple[Doing, ...] = ()
    """Signs, temperatures, refusals, meals and worrying looks of the last two days, in the order told: warnings look at them together."""
    suckled: Doing | None = None
    """The last nursing or feed that it took by its own strength, so none by tube."""
    had_first_milk: bool = False
    """Whether it ever nursed, or was fed colostrum or its dam's milk."""
    doses: dict[str, Given] = field(default_factory=dict)
    """By drug, in small letters."""
    card: PupCard | DamCard | None = field(default=None, compare=False, repr=False)
    """What the reader may know of it, kept until something of it changes."""
    dues: Dues | None = field(default=None, compare=False, repr=False)
    """What is due of it, kept until something of it changes."""
    concerns: tuple[Choices, datetime | None, tuple[Concern, ...]] | None = field(default=None, compare=False, repr=False)
    """What is worrying about it alone, kept likewise."""
    scaled: tuple[datetime | None, Any] | None = field(default=None, compare=False, repr=False)
    """How it was last weighed (weigh_in.OnTheScale), kept with the birth that it was worked out with."""

    def copy(self) -> Dog:
        """A copy that may be changed."""
        return Dog(
            self.who,
            self.names,
            self.mark,
            self.sex,
            self.born_at,
            self.birth_grams,
            self.died_at,
            self.weighings,
            self.temperatures,
            dict(self.last),
            self.recent,
            self.suckled,
            self.had_first_milk,
            dict(self.doses),
            self.card,
        )

    @property
    def called(self) -> str:
        """How it is spoken of: `Pup 3`, `Pup 3 Olive`, by its mark where it has no name; the dam by her name, else `The dam`."""
        name = self.names[0] if self.names else self.mark
        if self.who == "dam":
            return name or "The dam"
        return f"Pup {self.who} {name}" if name else f"Pup {self.who}"

    @property
    def labelled(self) -> str:
        """What it is called where there is little room: `3 Olive`, `Pup 3`; the dam by her name."""
        name = self.names[0] if self.names else self.mark
        return self.called if self.who == "dam" or not name else f"{self.who} {name}"

    def last_fed(self) -> Doing | None:
        """The last nursing or feed by hand, whichever began later."""
        nursed, fed = self.last.get("nursed"), self.last.get("fed")
        if nursed is None or fed is None:
            return nursed or fed
        return nursed if nursed.began >= fed.began else fed

    def note(self, done: Doing) -> None:
        """Keep a doing as the last of its kind, if it is."""
        kind = done.event.kind
        before = self.last.get(kind)
        if before is None or before.began <= done.began:
            self.last[kind] = done
        if kind == "temperature":
            self.temperatures = self.temperatures.plus(done)
        if is_watched(done.event):
            self.recent = (*(old for old in self.recent[-_MOST:] if done.began - old.began <= _RECENT), done)
        if kind == "nursed" or (kind == "fed" and getattr(done.event, "food", None) in _FIRST_MILK):
            self.had_first_milk = True
        by_itself = kind == "nursed" or (kind == "fed" and getattr(done.event, "by", None) != "tube")
        if by_itself and (self.suckled is None or self.suckled.began <= done.began):
            self.suckled = done

    def weighed(self, at: datetime, grams: float) -> None:
        """Keep a weight, and forget the card that showed the one before."""
        self.weighings = self.weighings.plus(Weighing(at, grams))
        self.card = None
