"""Readable views of the log for any SQLite browser: `standing_events`, and one view a kind with the model's fields as columns."""

from __future__ import annotations

from collections.abc import Mapping

from pydantic import BaseModel

from storage.library import Database

STANDING = """
CREATE VIEW standing_events as
select event.id, event.message, event.litter, event.kind, coalesce(event.at, event.told_at) as at, event.told_at, message."by" as told_by,
       event.who, event.body, event.replaces
from events as event join messages as message on message.id = event.message
where event.kind <> 'withdrawn' and not exists (select 1 from events as later where later.replaces = event.id)
"""

COLUMNS = ("id", "litter", "at", "who")
"""The columns of every kind, before its own fields."""

LAST_COLUMNS = ("told_at", "told_by", "message")
"""The columns of every kind, after its own fields."""


def make_views(database: Database, kinds: Mapping[str, type[BaseModel]]) -> None:
    """Make the views fit these kinds; a file whose views already fit is not written to (it keeps their text from CREATE VIEW on).

    Raises ValueError where a kind has the name of a table, for its view would hide it.
    """
    wanted = {"standing_events": STANDING.strip()} | {kind: view_of(kind, model) for kind, model in kinds.items()}
    present: dict[str, str] = dict(database.execute("select name, sql from sqlite_master where type = 'view'").fetchall())
    if present == wanted:
        return
    tables = {name for (name,) in database.execute("select name from sqlite_master where type = 'table'").fetchall()}
    if hidden := sorted(tables & set(wanted)):
        raise ValueError(f"a kind of event may not have the name of a table: {', '.join(hidden)}")
    with database.atomic():
        for name in present:
            database.execute(f"drop view {quoted(name)}")
        for sql in wanted.values():
            database.execute(sql)


def view_of(kind: str, model: type[BaseModel]) -> str:
    """The SQL of one kind's view. A field that has the name of a common column is shown as `<kind>_<field>`."""
    own = []
    for name, field in model.model_fields.items():
        if name in ("kind", "at", "who"):
            continue
        key = field.serialization_alias or field.alias or name
        column = f"{kind}_{key}" if key in COLUMNS + LAST_COLUMNS else key
        own.append(f"json_extract(body, {literal(f'$.{quoted(key)}')}) as {quoted(column)}")
    columns = ", ".join([*COLUMNS, *own, *LAST_COLUMNS])
    return f"CREATE VIEW {quoted(kind)} as select {columns} from standing_events where kind = {literal(kind)}"  # noqa: S608 (names from the program itself, quoted)


def quoted(name: str) -> str:
    """A name as SQL writes it."""
    return '"' + name.replace('"', '""') + '"'


def literal(text: str) -> str:
    """A text as SQL writes it."""
    return "'" + text.replace("'", "''") + "'"
