"""An event is one thing that happened to a pup, the dam or the box; every kind registers itself here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, ClassVar, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, StrictFloat, StrictInt

from parsers.measures import say_celsius, say_grams, say_number

Who = StrictInt | Literal["dam"]
"""A pup's number, or the dam."""

Number = Annotated[StrictFloat | StrictInt, Field()]
"""A plain number; its unit is in the field's name."""

KINDS: dict[str, type[Event]] = {}
"""Every kind of event by its name, filled as the modules of this package are imported."""


@dataclass(frozen=True)
class Units:
    """The units a litter's keepers think in, for reading back."""

    weights_in: Literal["g", "oz"] = "g"
    temperatures_in: Literal["F", "C"] = "C"

    def grams(self, grams: float) -> str:
        """Say a weight, so that reading it again gives the same grams."""
        return say_grams(grams, self.weights_in)

    def celsius(self, celsius: float) -> str:
        """Say a temperature, so that reading it again gives the same degrees."""
        return say_celsius(celsius, self.temperatures_in)

    @staticmethod
    def number(value: float) -> str:
        """Say a number without a needless `.0`."""
        return say_number(value)


def make(kind: str, **fields: Any) -> Event:
    """An event of a kind by its name; raises KeyError for a kind that no file of this package tells of."""
    return KINDS[kind](**fields)


class Event(BaseModel):
    """The common part of all events: a frozen record, refused when a field is unknown or of the wrong type."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, populate_by_name=True)

    kind: str
    at: AwareDatetime | None = None
    """When it happened, where the words gave a time other than now."""

    reads_back_whole: ClassVar[bool] = False
    """True where `say` names its own subject (the box, a visitor), so no `Pup 3:` goes before it."""

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs: Any) -> None:
        name = cls.model_fields["kind"].default
        if name in KINDS:
            raise TypeError(f"two kinds of event are called {name!r}: {KINDS[name].__module__} and {cls.__module__}")
        KINDS[name] = cls

    def say(self, units: Units) -> str:
        """The event in the reader's own language, without its subject and its time."""
        raise NotImplementedError

    def as_json(self) -> dict[str, Any]:
        """The contract's object for this event: fields that were not said are left out."""
        return self.model_dump(mode="json", exclude_none=True, by_alias=True)
