"""`lampwatch read`: messages in, their readings out, one JSON object a line; nothing is stored."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any, Literal
from zoneinfo import ZoneInfo

from pydantic import AwareDatetime, BaseModel, ConfigDict, StrictInt, ValidationError

from bot.settings import SetupError
from parsers import LitterCard, explain, read


class Line(BaseModel):
    """One message to read, with what a line of JSON may set for it."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    text: str
    now: AwareDatetime | None = None
    by: str | None = None
    last_who: StrictInt | Literal["dam"] | None = None
    """The pup that the sender named last, within three minutes."""


def load_card(path: Path) -> LitterCard:
    """The litter of LITTER.json; raises SetupError, in one sentence, where it is not as the contract has it."""
    try:
        card = LitterCard.model_validate_json(path.read_bytes())
    except OSError as problem:
        raise SetupError(f"The litter {path} cannot be read ({(problem.strerror or str(problem)).lower()}): check the name.") from None
    except ValidationError as problem:
        raise SetupError(f"The litter {path} is not as it should be: {fault(problem)}.") from None
    try:
        ZoneInfo(card.zone)
    except (LookupError, ValueError, OSError):
        raise SetupError(f"The litter {path} is in the zone {card.zone!r}, which is not known: write it like America/Chicago.") from None
    return card


def read_lines(lines: Iterable[bytes], card: LitterCard, clock: Callable[[], datetime], *, steps: bool) -> Iterator[str]:
    """For each line the JSON of its reading, or with `steps` how it was reached; raises SetupError for a bad line of JSON."""
    for number, raw in enumerate(lines, start=1):
        line = read_line(raw.decode("utf-8", "replace").rstrip("\r\n"), number)
        now = line.now or card.now or clock()
        if steps:
            yield explain(line.text, card, now=now, by=line.by, last_who=line.last_who)
        else:
            reading = read(line.text, card, now=now, by=line.by, last_who=line.last_who)
            yield json.dumps(reading.as_json(), ensure_ascii=False).encode("utf-8", "replace").decode()


def read_line(text: str, number: int) -> Line:
    """A plain line, or one of JSON with a `text`."""
    plain = _object(text)
    if plain is None:
        return Line(text=text)
    try:
        return Line.model_validate(plain)
    except ValidationError as problem:
        raise SetupError(f"Line {number} is not as it should be: {fault(problem)}.") from None


def fault(problem: ValidationError) -> str:
    """The first fault of a JSON object in one clause: where, what is wanted, what was there."""
    first = problem.errors(include_url=False)[0]
    where = ".".join(str(part) for part in first["loc"] if not isinstance(part, str) or part.isidentifier())
    if first["type"] == "extra_forbidden":
        return f"there is no {where!r} in it"
    if first["type"] == "missing":
        return f"{where!r} is missing"
    wanted = first["msg"].removeprefix("Input ").replace("timezone info", "an offset such as -06:00")
    if not where:
        return wanted[:1].lower() + wanted[1:]
    return f"{where!r} {wanted}, not {str(first['input'])[:60]!r}"


def _object(text: str) -> dict[str, Any] | None:
    if not text.lstrip().startswith("{"):
        return None
    try:
        found = json.loads(text)
    except (ValueError, RecursionError):
        return None
    return found if isinstance(found, dict) and "text" in found else None
