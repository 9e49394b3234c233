"""`lampwatch figures`: every number that the care rests on, with its unit, its days, how sure it is and where it is from."""

from __future__ import annotations

import json
from collections.abc import Iterator

from bot.care.figures import Figure, every_file, sources


def figure_lines(*, as_json: bool) -> Iterator[str]:
    """A line a figure, file by file; in words with the sources at the end. Raises FiguresError where the data is wrong."""
    for file in every_file():
        if not as_json:
            yield f"{file.file}"
        for name, rows in file.items():
            for row in rows:
                yield _as_json(file.file, name, row) if as_json else f"  {_in_words(name, row)}"
    if not as_json:
        yield from ("sources", *(f"  [{key}] {text}" for key, text in sources().items()))


def _as_json(file: str, name: str, row: Figure) -> str:
    plain = {"file": file, "name": name, **row.model_dump(exclude_none=True)} | {"source": [sources()[key] for key in row.source]}
    return json.dumps(plain, ensure_ascii=False)


def _in_words(name: str, row: Figure) -> str:
    days = "" if row.from_day is None else f", {row.days}"
    keys = f" [{', '.join(row.source)}]" if row.source else ""
    note = f" · {row.note}" if row.note else ""
    return f"{name.replace('_', ' ')}: {row.value:g} {row.unit}{days} · {row.status}{keys}{note}"
