"""Rules say why the bot speaks: one sentence for each warning, nudge and answer, made from the figures it rests on, and their sources."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files

from pydantic import BaseModel, ConfigDict, ValidationError

from bot.care.figures import Figure, FiguresError, every_file, figures, source_in_short, sources
from bot.care.wording import say_list, say_span, say_weight
from parsers.events import Units
from parsers.measures import celsius_to_fahrenheit

_NAMED = re.compile(r"\{(\w+)\.(\w+)\}")
"""A figure in a sentence: {growth.no_gain_after}."""
_FOUND = ("found", "found second-hand")
_SOURCES = 2
"""How many sources are named: the first that the data names are the best; `lampwatch figures` has them all."""


class Rule(BaseModel):
    """Why something is said. `says` names its figures as {file.name}; `source` has keys of sources.toml beyond those of the figures."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    says: str
    source: list[str] = []
    status: str = ""
    """Of a rule without figures, or with more to it than they say: whose choice it is."""

    @property
    def figures(self) -> tuple[tuple[str, str], ...]:
        """The figures it rests on: file and name of each."""
        return tuple(_NAMED.findall(self.says))

    def sentence(self, units: Units, day: int | None = None) -> str:
        """The rule in words, with its figures in the household's units: those for that day of a pup's life, or for all."""
        return _NAMED.sub(lambda found: _said(figures(found[1])[found[2]], units, day), self.says)

    def origin(self, units: Units, day: int | None = None) -> str:
        """Where it is from: the sources, and which of its figures have none that says them."""
        rows = [row for file, name in self.figures for row in _of_day(figures(file)[name], day)]
        keys = dict.fromkeys([*self.source, *(key for row in rows for key in row.source)])
        parts = [f"Source: {'; '.join([source_in_short(key) for key in keys][:_SOURCES])}."] if keys else []
        if self.status:
            parts.append(f"{self.status[:1].upper()}{self.status[1:]}.")
        unsourced: dict[str, list[str]] = {}
        for row in rows:
            if row.status not in _FOUND:
                unsourced.setdefault(row.status, []).append(_value(row, units))
        for status, values in unsourced.items():
            parts.append(f"{_STATUS.get(status, status).capitalize()}: {say_list(list(dict.fromkeys(values)))}.")
        return " ".join(parts)


_STATUS = {"derived": "our own reading of it (derived)"}


@cache
def rules() -> Mapping[str, Rule]:
    """Every rule by the `about` of its warning or nudge, or by the topic of its answer. Raises FiguresError where the data is wrong."""
    text = files(__package__).joinpath("rules.toml").read_text(encoding="utf-8")
    try:
        given = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FiguresError(f"rules.toml is not TOML: {error}") from error
    found: dict[str, Rule] = {}
    for about, row in given.items():
        try:
            found[about] = rule = Rule.model_validate(row)
        except ValidationError as error:
            first = error.errors()[0]
            raise FiguresError(f"rules.toml [{about}] {'.'.join(map(str, first['loc']))}: {first['msg']}. A rule has says") from error
        for file, name in rule.figures:
            _ = figures(file)[name]
        for key in rule.source:
            if key not in sources():
                raise FiguresError(f"rules.toml [{about}] names the source {key!r}: add it to figures/sources.toml")
    return found


def check_figures() -> None:
    """Look through all figures and rules at once, so that a wrong one is found when the bot starts. Raises FiguresError."""
    _ = list(every_file()), rules()


def _of_day(rows: Sequence[Figure], day: int | None) -> Sequence[Figure]:
    """The row of that day of life; all rows where no day is told, or none is of it."""
    return [row for row in rows if day is not None and (row.from_day or 0) <= day and (row.to_day is None or day <= row.to_day)] or rows


def _said(rows: Sequence[Figure], units: Units, day: int | None) -> str:
    """One figure, or all of its rows with their days."""
    now = _of_day(rows, day)
    if len(now) == 1:
        return _value(now[0], units)
    return say_list([f"{_value(row, units)} ({row.days})" for row in now])


def _value(row: Figure, units: Units) -> str:
    """The value as it is said in a sentence that says the rest: `48 h`, `10 %`, `97 F`; a loss without its sign."""
    unit, _, more = row.unit.partition(" ")
    match unit:
        case "min":
            return say_span(row.value)
        case "C" if more:
            return f"{row.value * 1.8:g} F" if units.temperatures_in == "F" else f"{row.value:g} C"
        case "C" if units.temperatures_in == "F":
            return f"{round(celsius_to_fahrenheit(row.value), 1):g} F"
        case "C":
            return f"{row.value:g} C"
        case "g":
            return say_weight(row.value, units)
        case "h" | "ml" | "kcal" | "days":
            return f"{row.value:g} {unit}"
        case "%":
            return f"{abs(row.value):g} %"
        case "of":
            return f"{row.value * 100:g} %"
        case _:
            return f"{row.value:g}"
