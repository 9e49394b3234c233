"""A doing is one event as care counts it: placed in time, with who told it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from parsers.events import Event
from parsers.events.nursed import Nursed


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
    if told_at.tzinfo is not UTC:
        told_at = told_at.astimezone(UTC)
    minutes = event.minutes if isinstance(event, Nursed) else None
    length = _NO_TIME if minutes is None else timedelta(minutes=minutes)
    if event.at is None:
        return Doing(event, told_at - length, told_at, told_at, by)
    began = event.at.astimezone(UTC)
    return Doing(event, began, began + length, told_at, by)


_NO_TIME = timedelta(0)


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
    others: tuple[datetime, ...] = ()
    """When doses shortly before it were told that were too soon as well."""
