"""Figures are every number that the care rests on: each stands once, in figures/*.toml, with its unit, its source and how sure it is."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from typing import Literal

from pydantic import BaseModel, ConfigDict, ValidationError

from bot.data_home import SetupError

Status = Literal["found", "found second-hand", "derived", "common practice, no source", "from memory"]
"""`found`: read in the source · `found second-hand`: read in a page that quotes it · `derived`: our arithmetic or our choice between
sources · the others say what they are."""

_NOT_FIGURES = ("sources",)


class FiguresError(SetupError):
    """The data of the figures is wrong, so the bot cannot start: which file, which key, what to do."""


class Figure(BaseModel):
    """One number with its unit and its source; with days, the number for those days of a pup's life."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    value: float
    unit: str
    source: list[str]
    """Keys of sources.toml."""
    status: Status
    note: str = ""
    from_day: int | None = None
    to_day: int | None = None
    """The last day that counts."""

    @property
    def days(self) -> str:
        """Its days of a pup's life in words: `days 0 to 6`, `from day 28`."""
        return f"from day {self.from_day or 0}" if self.to_day is None else f"days {self.from_day or 0} to {self.to_day}"


class Figures(Mapping[str, tuple[Figure, ...]]):
    """The figures of one file, by name; a name has one row, or one for each span of days."""

    def __init__(self, file: str, rows: Mapping[str, tuple[Figure, ...]]) -> None:
        self.file = file
        """Its name, without the ending."""
        self._rows = dict(rows)
        self._by_day: dict[tuple[str, int], float | None] = {}

    def __getitem__(self, name: str) -> tuple[Figure, ...]:
        if name not in self._rows:
            raise FiguresError(f"figures/{self.file}.toml has no [{name}]: add it with value, unit, source and status")
        return self._rows[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)

    def number(self, name: str) -> float:
        """The value of a figure that holds for every age, in the unit that its row names."""
        rows = self[name]
        if len(rows) != 1 or rows[0].from_day is not None:
            raise FiguresError(f"figures/{self.file}.toml [{name}] has rows for days: ask for it by day")
        return rows[0].value

    def on_day(self, name: str, day: int) -> float | None:
        """The value for that day of a pup's life; None where the table has no row for it."""
        if (name, day) not in self._by_day:
            rows = (row for row in self[name] if (row.from_day or 0) <= day and (row.to_day is None or day <= row.to_day))
            self._by_day[name, day] = next((row.value for row in rows), None)
        return self._by_day[name, day]


@cache
def figures(file: str) -> Figures:
    """The figures of figures/<file>.toml. Raises FiguresError, naming file and key, where the data is wrong."""
    rows: dict[str, tuple[Figure, ...]] = {}
    for name, given in _read(file).items():
        try:
            rows[name] = tuple(Figure.model_validate(row) for row in (given if isinstance(given, list) else [given]))
        except ValidationError as error:
            first = error.errors()[0]
            where = ".".join(str(part) for part in first["loc"])
            fault = f"figures/{file}.toml [{name}] {where}: {first['msg']}"
            raise FiguresError(f"{fault}. A figure has value, unit, source and status") from error
        for key in (key for row in rows[name] for key in row.source):
            if key not in sources():
                raise FiguresError(f"figures/{file}.toml [{name}] names the source {key!r}: add it to figures/sources.toml")
    return Figures(file, rows)


@cache
def sources() -> Mapping[str, str]:
    """What each source key stands for."""
    return {key: str(text) for key, text in _read("sources").items()}


def every_file() -> Iterator[Figures]:
    """All files of figures, by name. Raises FiguresError where one is wrong: looked at once, when the bot starts."""
    names = sorted(one.name for one in files(__package__).joinpath("figures").iterdir())
    for name, _, ending in (name.rpartition(".") for name in names):
        if ending == "toml" and name not in _NOT_FIGURES:
            yield figures(name)


@cache
def source_in_short(key: str) -> str:
    """A source as it is named in chat. Raises FiguresError for a key that is not known."""
    if key not in sources():
        raise FiguresError(f"the source {key!r} is not known: add it to figures/sources.toml")
    short = tomllib.loads(files(__package__).joinpath("sources_in_short.toml").read_text(encoding="utf-8"))
    return str(short.get(key) or sources()[key].partition(":")[0])


def _read(file: str) -> dict[str, object]:
    text = files(__package__).joinpath("figures", f"{file}.toml").read_text(encoding="utf-8")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FiguresError(f"figures/{file}.toml is not TOML: {error}") from error
