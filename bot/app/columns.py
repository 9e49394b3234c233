"""The columns of an exported log: what each holds, how an event becomes a row of them, and a row an event again."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import BaseModel, ValidationError

from bot.care.choice import Choice
from parsers.events import KINDS

Sort = Literal["integer", "number", "boolean", "datetime", "string"]
"""The types of the Table Schema standard."""


@dataclass(frozen=True)
class Column:
    """One column of the table."""

    name: str
    sort: Sort
    what: str


FIRST = (
    Column("began", "datetime", "When it happened, or began, as it is counted. Worked out; not read when the table is imported."),
    Column("who", "string", "The pup's number, or dam; empty where it is of none."),
    Column("kind", "string", "What sort of entry it is: a kind of event, choice (something set up), or withdrawn (an undo)."),
    Column("stands", "boolean", "False where it was corrected or taken back since."),
)
"""What is looked for first."""
FIELDS = (
    Column("grams", "number", "Weight in grams (weight, born)."),
    Column("minutes", "number", "How long it nursed."),
    Column("ml", "number", "Millilitres fed by hand."),
    Column("food", "string", "What was fed."),
    Column("by", "string", "By what it was fed: nipple, bottle, tube, syringe, dropper, pan."),
    Column("with", "string", "With what nose and mouth were cleared: bulb, aspirator."),
    Column("urine", "boolean", "Whether urine came."),
    Column("stool", "boolean", "Whether stool came."),
    Column("look", "string", "How it looked."),
    Column("celsius", "number", "Degrees Celsius, of a body or of the air."),
    Column("humidity", "number", "Percent."),
    Column("sign", "string", "The sign that was seen."),
    Column("drug", "string", "What was given, as the keeper calls it."),
    Column("amount", "string", "How much of it, as the keeper told it; of food or water: none, little, half, most, all."),
    Column("unit", "string", "The unit of the amount."),
    Column("what", "string", "What the dam took: food or water."),
    Column("place", "string", "Where: incubator, box, dam, room."),
    Column("item", "string", "What was cleaned."),
    Column("sex", "string", "m or f."),
    Column("mark", "string", "What the pup is known by."),
    Column("stillborn", "boolean", "True where that was said."),
    Column("name", "string", "Who visited."),
    Column("text", "string", "A note, word for word."),
    Column("sets", "string", "What was set up, as JSON (choice)."),
)
"""What some kinds have; empty where it was not said."""
LAST = (
    Column("said_at", "datetime", "When it was told."),
    Column("said_by", "string", "Who told it."),
    Column("said", "string", "The message, word for word."),
    Column("at", "datetime", "The time that the words gave, where they gave another than the moment of the message."),
    Column("litter", "integer", "The litter it is of."),
    Column("message", "integer", "The message that told it; what one message told shares it."),
    Column("event", "integer", "The entry's own number."),
    Column("replaces", "integer", "The entry that it corrects, or takes back (kind withdrawn)."),
)
"""How it came into the log."""
COLUMNS = (*FIRST, *FIELDS, *LAST)
WITHDRAWN = "withdrawn"

_SORTS = {column.name: column.sort for column in COLUMNS}
_RISKY = ("=", "+", "-", "@", "\t", "\r", "'")
"""A spreadsheet would take a text that begins so for a formula: it is written behind an apostrophe, which is taken away again."""


class NotAnEntry(ValueError):
    """A row cannot be read as an entry; the message says why."""


def table_schema(path: str) -> dict[str, object]:
    """The columns as the Table Schema standard writes them, for the table of that name."""
    fields = [{"name": column.name, "type": column.sort, "description": column.what} for column in COLUMNS]
    for field in fields:
        if field["type"] == "datetime":
            field["format"] = "any"  # ISO 8601 with the offset of the wall clock
    return {
        "$schema": "https://datapackage.org/profiles/2.0/tableschema.json",
        "title": f"The columns of {path}",
        "fields": fields,
        "primaryKey": ["event"],
        "foreignKeys": [{"fields": ["replaces"], "reference": {"resource": "", "fields": ["event"]}}],
        "missingValues": [""],
    }


def fields_of(event: BaseModel) -> dict[str, Any]:
    """What an event says, by column; what was not said is not there."""
    plain = event.model_dump(mode="json", exclude_none=True, exclude_unset=True, by_alias=True) | {"kind": getattr(event, "kind", "")}
    if isinstance(event, Choice):
        del plain["by"]  # who told it stands in its own column
    return plain


def event_of(plain: Mapping[str, Any], said_by: str) -> BaseModel:
    """The event of what it says, told by someone. Raises NotAnEntry where it is none that this version knows."""
    kind = str(plain.get("kind", ""))
    given = {**plain, "by": said_by} if kind == "choice" else dict(plain)
    kinds: Mapping[str, type[BaseModel]] = {**KINDS, "choice": Choice}
    model = kinds.get(kind)
    if model is None:
        raise NotAnEntry(f"the kind “{kind}” is not known to this version")
    try:
        return model.model_validate_json(json.dumps(given))
    except ValidationError as error:
        first = error.errors()[0]
        raise NotAnEntry(f"{'.'.join(str(part) for part in first['loc'])}: {first['msg'].lower()}") from None


def written(value: Any) -> str:
    """A value as it stands in a cell."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict | list):
        return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    if isinstance(value, str):
        return f"'{value}" if value.startswith(_RISKY) else value
    return repr(value) if isinstance(value, float) else str(value)


def read(name: str, cell: str) -> Any:
    """A cell as the value that it was written from; None for an empty one. Raises NotAnEntry where it cannot be one."""
    if cell == "":
        return None
    try:
        match _SORTS.get(name):
            case "integer":
                return int(cell)
            case "number":
                number = float(cell)
                return int(number) if cell.lstrip("-").isdigit() else number
            case "boolean":
                return {"true": True, "false": False}[cell.lower()]
    except (KeyError, ValueError):
        raise NotAnEntry(f"{name} is “{cell}”, which is no {_SORTS[name]}") from None
    text = cell.removeprefix("'")
    if name == "sets":
        return json.loads(text)
    if name == "who":
        return text if text == "dam" else int(text)
    if name == "amount":
        return _amount(text)
    return text


def _amount(text: str) -> float | int | str:
    """A number where it is one (a dose), else a word (half a bowl)."""
    try:
        return int(text)
    except ValueError:
        try:
            return float(text)
        except ValueError:
            return text
