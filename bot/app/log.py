"""`lampwatch log`: prints what was said, one message a line, whether a bot runs or not."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from zoneinfo import ZoneInfo

from pydantic import BaseModel

from bot.app.serve import DATABASE
from bot.care.choice import Choice
from bot.clock import zone_guess
from bot.household import open_household
from bot.settings import SetupError
from storage import Entry, LogLine, StorageError


def log_lines(directory: Path, *, as_json: bool) -> Iterator[str]:
    """Every message of the log in the order kept; raises SetupError where there is none, or none that can be read."""
    path = directory / DATABASE
    if not path.exists():
        raise SetupError(f"There is no log in {directory}: name its directory with --data.")
    try:
        household = open_household(path, zone=zone_guess())
        try:
            for line in household.log():
                yield _as_json(line, household.zone) if as_json else _in_words(line, household.zone)
        finally:
            household.close()
    except StorageError as problem:
        raise SetupError(str(problem)) from None


def _as_json(line: LogLine[BaseModel], zone: ZoneInfo) -> str:
    """One message as the reading contract has it: `events` that stand, `setup` that was told, and beside them what was corrected since."""
    message = line.message
    plain: dict[str, object] = {"at": message.at.astimezone(zone).isoformat(), "by": message.by, "text": message.text}
    events = [entry for entry in line.entries if not isinstance(entry.event, Choice)]
    plain["events"] = [_event(entry) for entry in events if entry.id in line.standing]
    if corrected := [_event(entry) for entry in events if entry.id not in line.standing]:
        plain["corrected"] = corrected
    told = [entry.event.as_json()["sets"] for entry in line.entries if isinstance(entry.event, Choice) and entry.id in line.standing]
    if told:
        plain["setup"] = {"sets": {name: value for sets in told for name, value in sets.items()}}
    if message.says is not None:
        plain |= {"says": message.says, "to": message.to}
    return json.dumps(plain | {"id": message.id, "litter": message.litter}, ensure_ascii=False)


def _event(entry: Entry[BaseModel]) -> dict[str, object]:
    return entry.event.model_dump(mode="json", exclude_none=True, by_alias=True)


def _in_words(line: LogLine[BaseModel], zone: ZoneInfo) -> str:
    message = line.message
    gone = len(line.entries) - len(line.standing)
    first, *more = (_harmless(row) for row in message.text.split("\n"))
    note = f"  ({gone} of its entries corrected or undone since)" if gone else ""
    return "\n".join([f"{message.at.astimezone(zone):%Y-%m-%d %H:%M}  {message.by}: {first}", *(f"    {words}" for words in more)]) + note


def _harmless(words: str) -> str:
    """Words without the signs that would steer a terminal or turn its line round; the log itself holds them as they came."""
    return "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in words)
