"""A chart as data: frozen, whole, and plain enough to be handed to another process as JSON."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class Axis(_Part):
    """A stretch of numbers, what they are, and where marks with words stand on it (none: the drawing chooses)."""

    low: float
    high: float
    label: str
    ticks: tuple[tuple[float, str], ...] = ()


class Curve(_Part):
    """One line: its points in order, and the words at its end. The place gives it its colour, dash and marker."""

    label: str
    place: int
    """Its own number among those that may stand on such charts: pup 3 looks the same on each."""
    points: tuple[tuple[float, float], ...]


class Band(_Part):
    """What is usual: a shaded stretch, by x from low to high."""

    label: str
    points: tuple[tuple[float, float, float], ...]


class Level(_Part):
    """A line across, such as a temperature from which the vet is called."""

    y: float
    label: str


class Mark(_Part):
    """Something done, from a moment on until another; the same where it took no time. `kind` is a place in the chart's kinds."""

    kind: int
    start: float
    end: float


class Row(_Part):
    """What was done to one pup."""

    label: str
    marks: tuple[Mark, ...]


class _Picture(_Part):
    title: str
    caption: str
    """What the shading means and where it comes from."""
    alt: str
    """The same in words."""
    x: Axis


class Curves(_Picture):
    """Lines over time, over what is usual."""

    form: Literal["curves"] = "curves"
    y: Axis
    curves: tuple[Curve, ...]
    band: Band | None = None
    levels: tuple[Level, ...] = ()


Shape = Literal["nursed", "fed", "refused", "cleared", "stool", "urine"]
"""How a mark looks: each has a shape of its own, whatever its colour."""


class Timeline(_Picture):
    """Who was tended, with what, when: a row a pup."""

    form: Literal["timeline"] = "timeline"
    kinds: tuple[Shape, ...]
    """What the marks of each kind stand for; it is said beside the chart."""
    rows: tuple[Row, ...]


Chart = Annotated[Curves | Timeline, Field(discriminator="form")]
"""Any of them."""
