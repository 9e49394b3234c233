"""A talk for tests: a household on a file, its own clock, and a restart whenever one is wanted."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from bot.conversation import Heard, Message, Said
from bot.household import Household, open_household

CHICAGO = ZoneInfo("America/Chicago")


@dataclass
class Talk:
    """A household, and the wall clock by which it is spoken to."""

    path: Path | None = None
    zone: str = CHICAGO.key
    day: str = "2026-03-02"
    house: Household = field(init=False)

    def __post_init__(self) -> None:
        self.house = open_household(self.path, zone=self.zone)

    def at(self, wall: str) -> datetime:
        """`03:14` of the day, or `2026-03-03 03:14`, in UTC."""
        whole = wall if len(wall) > 5 else f"{self.day} {wall}"
        return datetime.fromisoformat(whole).replace(tzinfo=ZoneInfo(self.zone)).astimezone(UTC)

    def hear(self, wall: str, by: str, text: str, client_id: str | None = None) -> Heard:
        """Someone of the household says something."""
        self.house.take_in(by, self.at(wall))
        return self.house.hear(Message(by, text, client_id=client_id), self.at(wall))

    def say(self, wall: str, by: str, text: str) -> str:
        """As `hear`, and all that the bot says to it, in one text."""
        return "\n".join(said.text for said in self.hear(wall, by, text).said)

    def until(self, wall: str) -> list[Said]:
        """What the bot says unasked as the clock runs on."""
        said: list[Said] = []
        clock = self.last
        while (at := self.house.next_notice(clock)) is not None and at <= self.at(wall):
            clock = max(at, clock)
            news = self.house.speak_up(clock)
            assert news, "it named a moment to speak at, and said nothing"
            said += news
        return said

    @property
    def last(self) -> datetime:
        """When the last message was said."""
        return self.house.history(limit=1)[0].at

    def restart(self) -> None:
        """Throw the memory away, and open the household on its file again."""
        assert self.path is not None
        self.house.close()
        self.house = open_household(self.path, zone=self.zone)

    def events(self) -> list[dict[str, object]]:
        """What stands in the log, choices and notes left out, as the contract's objects."""
        return [
            entry.event.model_dump(mode="json", exclude_none=True, by_alias=True)
            for line in self.house.log()
            for entry in line.entries
            if entry.id in line.standing and getattr(entry.event, "kind", "") not in ("choice", "note")
        ]

    def notes(self) -> list[dict[str, object]]:
        """The notes that stand in the log."""
        return [
            entry.event.model_dump(mode="json", exclude_none=True)
            for line in self.house.log()
            for entry in line.entries
            if entry.id in line.standing and getattr(entry.event, "kind", "") == "note"
        ]
