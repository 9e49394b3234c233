"""A litter card is the little that the reader may know of a litter: who there is, last weights, units, zone, people."""

from __future__ import annotations

from collections.abc import Hashable
from datetime import datetime
from functools import cached_property
from typing import Any, Literal
from zoneinfo import ZoneInfo

from pydantic import AwareDatetime, BaseModel, ConfigDict


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class PupCard(_Part):
    """One pup: its number, its names and marks, and its last weight in grams."""

    pup: int
    names: tuple[str, ...] = ()
    sex: Literal["m", "f"] | None = None
    last_grams: float | None = None
    last_at: AwareDatetime | None = None
    died: AwareDatetime | None = None


class DamCard(_Part):
    """The dam: what she is called, and her last weight in grams."""

    names: tuple[str, ...] = ()
    last_grams: float | None = None
    last_at: AwareDatetime | None = None


class PlannedDose(_Part):
    """A drug on the dam's plan, as the keeper's own vet gave it: how often (minutes) and when last."""

    drug: str
    every_minutes: float
    last_at: AwareDatetime | None = None


class LastLogged(_Part):
    """What a correction is about: the sender's last message that logged, as the contract's event objects."""

    by: str | None = None
    events: tuple[dict[str, Any], ...] = ()


class LitterCard(_Part):
    """The state the reader may look at (LITTER.json of the contract)."""

    now: AwareDatetime | None = None
    zone: str = "UTC"
    weights_in: Literal["g", "oz"] = "g"
    temperatures_in: Literal["F", "C"] = "C"
    born: AwareDatetime | None = None
    dam: DamCard = DamCard()
    pups: tuple[PupCard, ...] = ()
    people: tuple[str, ...] = ()
    doses: tuple[PlannedDose, ...] = ()
    last_logged: LastLogged | None = None

    @cached_property
    def tz(self) -> ZoneInfo:
        """The litter's time zone."""
        return ZoneInfo(self.zone)

    @cached_property
    def living(self) -> tuple[PupCard, ...]:
        """The pups that have not died, by number."""
        return tuple(sorted((pup for pup in self.pups if pup.died is None), key=lambda pup: pup.pup))

    @cached_property
    def by_number(self) -> dict[int, PupCard]:
        """Every pup, the dead ones too, by its number."""
        return {pup.pup: pup for pup in self.pups}

    @cached_property
    def called(self) -> Hashable:
        """Who there is and what they are called: with it alone change the subjects that a message can have."""
        pups = tuple((pup.pup, pup.names, pup.sex, pup.died) for pup in self.pups)
        return (pups, self.dam.names, self.people, self.zone, self.born, self.weights_in)

    def age_days(self, now: datetime) -> float | None:
        """The litter's age in days at `now`; None where the birth is not known."""
        return None if self.born is None else (now - self.born).total_seconds() / 86_400
