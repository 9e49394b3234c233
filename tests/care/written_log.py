"""A log for tests: entries as the journal gives them, written down by their time on the wall clock."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from pydantic import BaseModel

from bot.care.choice import Choice
from bot.care.notice import Notice
from bot.care.notices import next_moment, notices
from bot.care.nursery import Nursery
from parsers.events import KINDS, Event

CHICAGO = ZoneInfo("America/Chicago")


@dataclass(frozen=True)
class Told:
    """One entry of the log."""

    id: int
    message: int
    told_at: datetime
    by: str
    event: BaseModel
    replaces: int | None = None


@dataclass
class Log:
    """What was told so far, in a zone; `at` writes a line of it."""

    zone: ZoneInfo = CHICAGO
    entries: list[Told] = field(default_factory=list)

    def moment(self, wall: str) -> datetime:
        """`2026-03-02 03:14` on the wall of this zone, in UTC."""
        return datetime.fromisoformat(wall).replace(tzinfo=self.zone).astimezone(UTC)

    def at(self, wall: str, *events: Event, by: str = "Ines", **sets: Any) -> Log:
        """Tell events, or a choice, at a time."""
        told: Sequence[BaseModel] = events or [Choice.model_validate({"sets": sets, "by": by})]
        message = self.entries[-1].message + 1 if self.entries else 1
        for event in told:
            self.entries.append(Told(len(self.entries) + 1, message, self.moment(wall), by, event))
        return self

    @property
    def now(self) -> datetime:
        """When the last entry was told."""
        return self.entries[-1].told_at

    def nursery(self) -> Nursery:
        return Nursery.fold(self.entries, self.zone)


def event(kind: str, who: int | str | None = None, **fields: Any) -> Event:
    """An event by its kind's name."""
    return KINDS[kind].model_validate(({} if who is None else {"who": who}) | fields)


def tended(*pups: int) -> list[Event]:
    """What a pup needs after a feed was done: nothing of it is due."""
    return [event(kind, pup) for pup in pups for kind in ("cleared", "toilet")]


def litter(pups: int = 5, born: str = "2026-03-01T09:40:00-06:00", zone: ZoneInfo = CHICAGO) -> Log:
    """A litter with its first night's set-up told."""
    log = Log(zone)
    return log.at("2026-03-01 10:30", litter={"pups": pups, "dam": "Juniper", "born": born, "delivery": "c-section"})


@dataclass
class Listening:
    """The bot's side: says what is to be said as time passes, and remembers what it told."""

    log: Log
    told: set[str] = field(default_factory=set)
    said: list[tuple[str, Notice]] = field(default_factory=list)
    now: datetime | None = None
    only: str | None = None
    """The care that is listened for; None: all that is said."""
    heard: datetime | None = None
    """When anyone last wrote, where supervision is listened for."""
    says: str = "nudge"
    """What it listens for; the rest is told too, and passed over here."""

    def until(self, wall: str) -> list[str]:
        """Let time pass, stopping at each moment that has something to say; gives what was said, one line each."""
        end, before = self.log.moment(wall), len(self.said)
        nursery = self.log.nursery()
        now = max(self.now or self.log.entries[0].told_at, self.log.entries[-1].told_at)
        while (moment := next_moment(nursery, self.told, now, self.heard)) is not None and moment <= end:
            now = max(now, moment)
            self.speak(nursery, now)
        self.now = end
        return [line(when, notice) for when, notice in self.said[before:]]

    def off_until(self, wall: str) -> list[str]:
        """Nothing was said until now: the machine was off."""
        self.now = self.log.moment(wall)
        return self.until(wall)

    def speak(self, nursery: Nursery, now: datetime) -> None:
        ready = [notice for notice in notices(nursery, self.told, now, self.heard) if notice.at <= now]
        assert ready, f"the bell was set for {now} and nothing was to be said"
        for notice in ready:
            assert not self.told & set(notice.causes), "a cause was told twice"
            self.told |= set(notice.causes)
            if notice.says == self.says and self.only in (None, notice.about):
                self.said.append((f"{now.astimezone(self.log.zone):%H:%M}", notice))


def line(when: str, notice: Notice) -> str:
    """`05:14 nursing 3,4 routine all`."""
    return f"{when} {notice.about} {','.join(str(who) for who in notice.who)} {notice.urgency} {notice.to}"
