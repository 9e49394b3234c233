"""A sheet as data: frozen, whole, and plain enough to be handed to another process as JSON. All of it is text, none of it markup."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict

from bot.charts import Chart

Paper = Literal["A4", "Letter"]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Table(_Part):
    """Rows under a header that is repeated on every page. `wide` says how wide each column is against the others."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wide: tuple[float, ...]


class Block(_Part):
    """A part of a page under a title of its own: words, facts, a chart, a table, in this order, as far as there are any."""

    title: str
    words: str = ""
    facts: tuple[tuple[str, str], ...] = ()
    """A name and what it is."""
    chart: Chart | None = None
    table: Table | None = None


class Page(_Part):
    """What begins on a page of its own, and may go on over several."""

    title: str
    under: str
    """A line under the title."""
    blocks: tuple[Block, ...]


class Sheet(_Part):
    """All that is printed."""

    name: str
    """What the file is called, in small letters and hyphens."""
    paper: Paper
    caution: str
    """Stands at the foot of every page, before its number."""
    pages: tuple[Page, ...]
