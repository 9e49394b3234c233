"""`lampwatch export`: the log as a sheet for the vet (PDF), as a table (CSV, with its columns described beside it), or whole (JSON)."""

from __future__ import annotations

import csv
import io
import json
import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from bot.app.columns import COLUMNS, WITHDRAWN, fields_of, table_schema, written
from bot.app.serve import DATABASE
from bot.app.showing import FOLDER
from bot.care.doing import doing
from bot.clock import zone_guess
from bot.household import Household, open_household
from bot.settings import SetupError, load
from bot.sheets.compose import Wanted, compose
from parsers.events import Event
from storage import LogLine, StorageError

FORMAT, VERSION = "lampwatch log", 1
"""What a JSON export says it is; a reader of another version is told so."""


@dataclass(frozen=True)
class Only:
    """What of the log is exported: everything, where nothing is said."""

    litter: int | None = None
    pup: int | None = None
    since: date | None = None
    """By the litter's own days."""
    each_pup: bool = False
    """Whether the sheet has a page for each pup."""


def export(directory: Path, form: str, only: Only, to: str | None, *, now: datetime, say: Callable[[str], None]) -> bytes | None:
    """Write the export to a file, and say where; with `-`, give it. Raises SetupError where there is nothing to be exported."""
    os.environ.setdefault("MPLCONFIGDIR", str(directory / FOLDER))  # where the drawing library keeps what it knows of the fonts
    with opened(directory) as household:
        name, data, schema = _FORMS[form](household, only, now)
        if to == "-":
            return data
        path = Path(to) if to else Path(name)
        try:
            path.write_bytes(data)
            if schema is not None:
                beside = path.with_suffix(".schema.json")
                beside.write_bytes(_json(schema(path.name)))
                say(f"{beside} says what each column holds.")
        except OSError as problem:
            raise SetupError(f"{path} cannot be written ({(problem.strerror or str(problem)).lower()}): name another with --to.") from None
        say(f"Written: {path}")
        return None


@contextmanager
def opened(directory: Path) -> Iterator[Household]:
    """The household of a directory that has a log; raises SetupError, in words, where there is none or it cannot be read."""
    path = directory / DATABASE
    if not path.exists():
        raise SetupError(f"There is no log in {directory}: name its directory with --data.")
    try:
        household = open_household(path, zone=zone_of(directory))
    except StorageError as problem:
        raise SetupError(str(problem)) from None
    try:
        yield household
    finally:
        household.close()


def zone_of(directory: Path) -> str:
    """The zone of a directory's settings, else the machine's; a litter that was told another has that."""
    return load(data=str(directory)).zone or zone_guess()


def _start(household: Household, only: Only) -> datetime:
    """The midnight at which the export begins."""
    if only.since is None:
        return datetime.min.replace(tzinfo=UTC)
    return datetime(only.since.year, only.since.month, only.since.day, tzinfo=household.zone).astimezone(UTC)


def _pdf(household: Household, only: Only, now: datetime) -> tuple[str, bytes, None]:
    conversations = household.conversations
    if only.litter is not None:
        conversations = tuple(one for one in conversations if one.litter == only.litter)
    if not conversations:
        raise SetupError("There is no such litter in the log." if only.litter is not None else "There is no litter in the log yet.")
    if len(conversations) > 1:
        names = ", ".join(f"{one.litter} ({one.name})" for one in conversations)
        raise SetupError(f"Which litter? Name it with --litter: {names}.")
    one = conversations[0]
    if only.pup is not None and only.pup not in one.nursery.pups:
        raise SetupError(f"There is no pup {only.pup} in {one.name}.")
    from bot.drawing.paper import print_sheet  # late: it loads what draws

    pups = None if only.pup is None else (only.pup,)
    sheet = compose(one.nursery, one.entries, Wanted(_start(household, only), now, pups, only.each_pup))
    return f"{sheet.name}.pdf", print_sheet(sheet), None


def _csv(household: Household, only: Only, now: datetime) -> tuple[str, bytes, Callable[[str], object]]:
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, [column.name for column in COLUMNS], lineterminator="\r\n")
    writer.writeheader()
    for line in _lines(household, only):
        for event in line.events:
            writer.writerow({name: written(value) for name, value in (line.plain | event).items()})
    return f"log-{now.astimezone(household.zone):%Y-%m-%d}.csv", out.getvalue().encode(), table_schema


def _whole(household: Household, only: Only, now: datetime) -> tuple[str, bytes, None]:
    lines = [line.plain | {"events": line.events} for line in _lines(household, only, silent_too=True)]
    whole = {
        "format": FORMAT,
        "version": VERSION,
        "exported_at": now.astimezone(household.zone).isoformat(),
        "zone": household.zone.key,
        "columns": {column.name: column.what for column in COLUMNS},
        "messages": lines,
    }
    return f"log-{now.astimezone(household.zone):%Y-%m-%d}.json", _json(whole), None


def _json(plain: object) -> bytes:
    return (json.dumps(plain, ensure_ascii=False, indent=1) + "\n").encode()


_FORMS: dict[str, Callable[[Household, Only, datetime], tuple[str, bytes, Callable[[str], object] | None]]] = {
    "pdf": _pdf,
    "csv": _csv,
    "json": _whole,
}


@dataclass(frozen=True)
class _Line:
    plain: dict[str, Any]
    events: list[dict[str, Any]]


def _lines(household: Household, only: Only, *, silent_too: bool = False) -> Iterator[_Line]:
    """What people said, oldest first, each with its entries; what meant no entry only where that is wanted too."""
    undone: dict[int, list[tuple[int, int]]] = {}
    for number, asked_by, replaces in household.withdrawals():
        undone.setdefault(asked_by, []).append((number, replaces))
    start = _start(household, only)
    for line in household.log():
        message = line.message
        if message.says is not None or message.at < start or (only.litter is not None and message.litter != only.litter):
            continue
        events = _events(line, undone.get(message.id, ()), household, only)
        if events or (silent_too and only.pup is None):
            plain = {
                "message": message.id,
                "litter": message.litter,
                "said_at": message.at.astimezone(household.zone).isoformat(),
                "said_by": message.by,
                "said": message.text,
            }
            yield _Line(plain | ({"does": message.does} if silent_too and message.does else {}), events)


def _events(line: LogLine[BaseModel], undone: Sequence[tuple[int, int]], household: Household, only: Only) -> list[dict[str, Any]]:
    found = []
    for entry in line.entries:
        event = entry.event
        if only.pup is not None and getattr(event, "who", None) != only.pup:
            continue
        row: dict[str, Any] = {"event": entry.id, "stands": entry.id in line.standing}
        if entry.replaces is not None:
            row["replaces"] = entry.replaces
        if isinstance(event, Event):
            row["began"] = doing(event, entry.told_at, entry.by).began.astimezone(household.zone).isoformat()
        found.append(row | fields_of(event))
    if only.pup is None:
        found += [{"event": number, "stands": False, "replaces": replaces, "kind": WITHDRAWN} for number, replaces in undone]
    return sorted(found, key=lambda row: int(row["event"]))
