"""What the tests of the storage room tell it: kinds and messages of their own, since the room knows none of the bot's."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field

from storage import Journal, NewEvent, NewMessage

NIGHT = datetime(2026, 3, 2, 3, 14, tzinfo=UTC)


class Fact(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    kind: str
    at: AwareDatetime | None = None
    who: int | str | None = None


class Weighed(Fact):
    kind: Literal["weighed"] = "weighed"
    grams: float


class Cleared(Fact):
    kind: Literal["cleared"] = "cleared"
    with_: str | None = Field(default=None, alias="with")
    by: str | None = None


class Chosen(Fact):
    kind: Literal["chosen"] = "chosen"
    sets: dict[str, object]


KINDS: dict[str, type[Fact]] = {"weighed": Weighed, "cleared": Cleared, "chosen": Chosen}


def open_journal(path: Path | None = None) -> Journal[Fact]:
    return Journal(path, KINDS)


def browse(journal: Journal[Fact], sql: str) -> list[dict[str, object]]:
    """What a statement says of the journal's file, as a person with an SQLite browser would see it."""
    cursor = journal._database.execute(sql)
    names = [column[0] for column in cursor.description or ()]
    return [dict(zip(names, row, strict=True)) for row in cursor]


def minutes_later(minutes: float) -> datetime:
    return NIGHT + timedelta(minutes=minutes)


def message(text: str, litter: int | None, *, at: datetime = NIGHT, by: str = "ines", client_id: str | None = None) -> NewMessage:
    return NewMessage(at=at, by=by, text=text, litter=litter, client_id=client_id)


def reply(text: str, litter: int | None, *, at: datetime = NIGHT, to: str = "ines") -> NewMessage:
    return NewMessage(at=at, by="bot", text=text, litter=litter, to=to, says="reply", does="log", who=(3,))


def nudge(text: str, litter: int | None, *causes: str, at: datetime = NIGHT) -> NewMessage:
    return NewMessage(at=at, by="bot", text=text, litter=litter, to="all", says="nudge", about="nursing", owed=True, causes=causes)


def weighed(who: int, grams: float, *, replaces: int | None = None, at: datetime | None = None) -> NewEvent[Fact]:
    return NewEvent(Weighed(who=who, grams=grams, at=at), replaces)


def standing(journal: Journal[Fact], litter: int) -> list[Fact]:
    return [entry.event for entry in journal.entries(litter)]
