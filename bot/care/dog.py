"""A dog is all that is known of one pup, or of the dam: names, birth, weights, and the last of each thing done."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from bot.care.choice import Choices
from bot.care.weighings import Weighing, Weighings
from parsers.events import Event, Who
from parsers.litter_card import DamCard, PupCard

if TYPE_CHECKING:
    from bot.care.due import Due


@dataclass(frozen=True, slots=True)
class Doing:
    """One event as care counts it: when it began and ended (UTC), when we were told, and by whom."""

    event: Event
    began: datetime
    ended: datetime
    told_at: datetime
    by: str

    @property
    def cause(self) -> str:
        """The doing's own name in time: it stays when its length is corrected, and changes when its time is."""
        return (self.told_at if self.event.at is None else self.began).isoformat(timespec="seconds")


def doing(event: Event, told_at: datetime, by: str) -> Doing:
    """Place an event in time. Without `at` it happened when told, and a nursing began its minutes before; with `at` it began then."""
    length = timedelta(minutes=getattr(event, "minutes", None) or 0)
    told_at = told_at.astimezone(UTC)
    if event.at is None:
        return Doing(event, told_at - length, told_at, told_at, by)
    began = event.at.astimezone(UTC)
    return Doing(event, began, began + length, told_at, by)


@dataclass(frozen=True, slots=True)
class Given:
    """The last dose of a drug, and whether the one told last was too soon beside another, by the plan of that time."""

    last: Doing
    told_at: datetime
    """When the dose that was told last was told; it is not `last` where it was told late."""
    too_soon_after: float | None = None
    """Minutes between the two; None where they were far enough apart, or no plan was told."""
    every: float | None = None
    """Minutes of the plan."""


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
    last: dict[str, Doing] = field(default_factory=dict)
    """The last of each kind of event, by when it began."""
    doses: dict[str, Given] = field(default_factory=dict)
    """By drug, in small letters."""
    card: PupCard | DamCard | None = field(default=None, compare=False, repr=False)
    """What the reader may know of it, kept until something of it changes."""
    dues: tuple[Choices, datetime | None, tuple[Due, ...]] | None = field(default=None, compare=False, repr=False)
    """What is due of it, kept with the choices and the birth that it was worked out with."""

    def copy(self) -> Dog:
        """A copy that may be changed."""
        return replace(self, last=dict(self.last), doses=dict(self.doses), dues=None)

    @property
    def called(self) -> str:
        """How it is spoken of: `Pup 3`, `Pup 3 Olive`; the dam by her name, else `The dam`."""
        name = self.names[0] if self.names else None
        if self.who == "dam":
            return name or "The dam"
        return f"Pup {self.who} {name}" if name else f"Pup {self.who}"

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

    def weighed(self, at: datetime, grams: float) -> None:
        """Keep a weight, and forget the card that showed the one before."""
        self.weighings = self.weighings.plus(Weighing(at, grams))
        self.card = None
