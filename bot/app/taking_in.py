"""Takes an exported log into a log: each message at its own time, with its entries, corrections and undos; nothing is doubled."""

from __future__ import annotations

import csv
import io
import json
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

from pydantic import BaseModel

from bot.app.columns import COLUMNS, WITHDRAWN, NotAnEntry, event_of, read
from bot.app.export import FORMAT, VERSION
from bot.settings import SetupError
from storage import Journal, LogLine, NewEvent, NewMessage, Withdrawal

_FRAME = ("message", "litter", "said_at", "said_by", "said", "does")
_WORKED_OUT = ("event", "stands", "replaces", "began")


@dataclass
class Told:
    """One message of an export: when, by whom, in what words, and the entries that it told, as plain data."""

    litter: int | None
    said_at: datetime
    said_by: str
    said: str
    does: str | None = None
    events: list[Mapping[str, Any]] = field(default_factory=list)

    @property
    def content(self) -> tuple[datetime, str, str]:
        """What it is known by: the same words of the same person at the same moment are the same message."""
        return self.said_at, self.said_by, self.said


@dataclass
class TakenIn:
    """What was taken in, or would be."""

    messages: int = 0
    entries: int = 0
    there_already: int = 0
    new_litters: int = 0

    def __str__(self) -> str:
        said = f"{self.messages} messages with {self.entries} entries"
        litters = f", in {self.new_litters} new litter{'' if self.new_litters == 1 else 's'}" if self.new_litters else ""
        again = f"; {self.there_already} messages are in the log already and are left as they are" if self.there_already else ""
        return f"{said}{litters}{again}."


def is_export(data: str) -> bool:
    """Whether a file is an exported log: our JSON, or a table with our columns."""
    head = data.lstrip("\ufeff \r\n\t")
    return head.startswith("{") or head.split("\n", 1)[0].strip().split(",")[:3] == [column.name for column in COLUMNS[:3]]


def messages_of(data: str) -> list[Told]:
    """The messages of an exported log; raises SetupError, in words, where it is not as an export is."""
    head = data.lstrip("\ufeff \r\n\t")
    try:
        return _of_json(json.loads(head)) if head.startswith("{") else _of_table(head)
    except (json.JSONDecodeError, KeyError, TypeError, ValueError) as fault:
        words = str(fault) if isinstance(fault, NotAnEntry) else f"it is no whole export ({fault})"
        raise SetupError(f"Nothing was taken in: {words}.") from None


def _of_json(whole: Mapping[str, Any]) -> list[Told]:
    if whole.get("format") != FORMAT or whole.get("version") != VERSION:
        raise NotAnEntry(f"the file is no “{FORMAT}” of version {VERSION}: export it again with this version of lampwatch")
    return [
        Told(message["litter"], _moment(message["said_at"]), message["said_by"], message["said"], message.get("does"), message["events"])
        for message in whole["messages"]
    ]


def _of_table(data: str) -> list[Told]:
    found: dict[str, Told] = {}
    for number, row in enumerate(csv.DictReader(io.StringIO(data, newline="")), start=2):
        try:
            plain = {name: value for name, cell in row.items() if (value := read(name, cell or "")) is not None}
            told = found.setdefault(row["message"], Told(
                plain.get("litter"), _moment(plain["said_at"]), plain["said_by"], plain.get("said", ""), "log",
            ))  # fmt: skip
            told.events.append({name: value for name, value in plain.items() if name not in _FRAME})
        except (NotAnEntry, KeyError, ValueError) as fault:
            raise NotAnEntry(f"line {number}: {fault}") from None
    return list(found.values())


def _moment(text: str) -> datetime:
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise NotAnEntry(f"{text} has no offset")
    return moment.astimezone(UTC)


def take_in(journal: Journal[BaseModel], told: Sequence[Told]) -> TakenIn:
    """Keep what is not in the log yet, each message with its entries. Raises SetupError where an entry cannot be read.

    It belongs in one transaction with whatever else is to be kept or not at all.
    """
    done = TakenIn()
    there = _there(journal)
    litters: dict[int, int] = {}
    for one in told:
        for line in there.get(one.content, ())[:1]:
            if one.litter is not None and line.message.litter is not None:
                litters.setdefault(one.litter, line.message.litter)
    ids: dict[int, int] = {}
    taken: Counter[tuple[datetime, str, str]] = Counter()
    for one in told:
        place = taken[one.content]
        taken[one.content] += 1
        lines = there.get(one.content, ())
        if place < len(lines):
            done.there_already += 1
            _match(one, lines[place], ids)
            continue
        if one.litter is not None and one.litter not in litters:
            litters[one.litter] = journal.register.add_litter(f"Litter {len(journal.register.litters()) + 1}", one.said_at)
            done.new_litters += 1
        _write(journal, one, litters, ids)
        done.messages += 1
        done.entries += len(one.events)
    return done


def _there(journal: Journal[BaseModel]) -> Mapping[tuple[datetime, str, str], Sequence[LogLine[BaseModel]]]:
    """What people said, by its content."""
    found: dict[tuple[datetime, str, str], list[LogLine[BaseModel]]] = defaultdict(list)
    for line in journal.log():
        if line.message.says is None:
            found[line.message.at, line.message.by, line.message.text].append(line)
    return found


def _match(one: Told, line: LogLine[BaseModel], ids: dict[int, int]) -> None:
    """Which entry of the log is which of the export, for what corrects it."""
    for plain, entry in zip(_told_events(one), line.entries, strict=False):
        if "event" in plain:
            ids[plain["event"]] = entry.id


def _told_events(one: Told) -> Iterator[Mapping[str, Any]]:
    return (plain for plain in one.events if plain.get("kind") != WITHDRAWN)


def _write(journal: Journal[BaseModel], one: Told, litters: Mapping[int, int], ids: dict[int, int]) -> None:
    rows: list[NewEvent[BaseModel] | Withdrawal] = []
    known: list[Mapping[str, Any]] = []
    for plain in one.events:
        replaces = ids.get(plain.get("replaces", 0))
        if plain.get("kind") == WITHDRAWN:
            rows += [] if replaces is None else [Withdrawal(replaces)]  # of an entry that was left out of the export
            continue
        try:
            event = event_of({name: value for name, value in plain.items() if name not in _WORKED_OUT}, one.said_by)
        except NotAnEntry as fault:
            raise SetupError(f"Nothing was taken in: in “{one.said[:60]}” of {one.said_at:%Y-%m-%d %H:%M} UTC, {fault}.") from None
        rows.append(NewEvent(event, replaces))
        known.append(plain)
    message = NewMessage(
        at=one.said_at, by=one.said_by, text=one.said, does=one.does, channel="import",
        litter=None if one.litter is None else litters[one.litter],
    )  # fmt: skip
    kept = journal.write(message, rows)
    for plain, entry in zip(known, kept.entries, strict=True):
        if "event" in plain:
            ids[plain["event"]] = entry.id
