"""A spreadsheet of older weights, as people keep them: dates, pups and weights in any of the usual shapes.

Rows of date, pup and weight, or a row a date with a column a pup. Nothing is guessed: what the file does not say (the unit, whether 3/4 is
in March or in April) is a question to the person; what cannot be right is said with its line.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from typing import Literal

from bot.app.dates_in_cells import NotRead, Order, clock_of, day_of, slashed, split
from parsers.measures import GRAMS_PER_OUNCE, tidy

Unit = Literal["g", "oz"]

NOON = time(12)
"""Where a row has no time of day."""
LIGHTEST, HEAVIEST = 20.0, 20_000.0
"""Grams beyond which a number is no pup's weight but a slip, or another column: the lightest toy breeds, the heaviest at twelve weeks."""

_POUND = 16 * GRAMS_PER_OUNCE
_GRAMS = {
    **dict.fromkeys(("g", "gr", "gram", "grams", "gramm"), 1.0),
    **dict.fromkeys(("kg", "kilo", "kilos"), 1000.0),
    **dict.fromkeys(("oz", "ounce", "ounces"), GRAMS_PER_OUNCE),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), _POUND),
}
"""Grams in each unit."""
_HEADERS = {
    "date": ("date", "day", "datum", "when", "weighed", "weighed on", "date weighed", "fecha", "timestamp", "date time"),
    "time": ("time", "hour", "at", "uhrzeit", "zeit", "hora"),
    "pup": ("pup", "puppy", "name", "id", "number", "no", "nr", "collar", "who", "welpe", "pup name", "puppy name", "pup no", "dog"),
    "weight": ("weight", "wt", "grams", "gewicht", "peso", "g", "gram", "oz", "ounces", "kg", "lb", "lbs", "mass"),
}
_NUMBER = re.compile(r"(-?\d+(?:[.,]\d+)?)\s*([a-z]*)", re.I)
_POUNDS = re.compile(r"(\d+)\s*(?:lbs?|pounds?)\.?\s*(\d+(?:[.,]\d+)?)?\s*(?:oz|ounces?)?", re.I)


@dataclass(frozen=True)
class Weighed:
    """One weight of the file."""

    line: int
    day: date
    clock: time | None
    pup: str
    """As the file calls it."""
    grams: float


@dataclass(frozen=True)
class Question:
    """What the file does not say: what to ask, the answers, and the option of the command that answers it beforehand."""

    asks: str
    answers: tuple[str, ...]
    option: str


def read_weights(data: str, *, unit: Unit | None = None, order: Order | None = None, birth: date | None = None) -> list[Weighed] | Question:
    """The weights of a file, or the first question that it leaves open. `birth` is what plain day numbers count from.

    Raises NotRead, with the line and a sentence, where it holds anything that cannot be a weight, a date or a pup.
    """
    rows = _rows(data)
    cells = _cells(rows)
    if not cells:
        raise NotRead("no weight was found: the file needs a column of dates, one of pups, and one of weights (or a column for each pup)")
    if unit is None and any(_unit_of(cell.weight) is None and cell.unit is None for cell in cells):
        return Question("Are the weights without a unit grams or ounces?", ("g", "oz"), "--unit")
    ambiguous = _ambiguous(cells)
    if order is None and ambiguous is not None:
        return Question(f"Is {ambiguous} the day first or the month first?", ("dmy", "mdy"), "--dates")
    return [_weighed(cell, unit, order or _order(cells), birth) for cell in cells]


@dataclass(frozen=True)
class _Cell:
    """One weight as it stands in the file."""

    line: int
    when: str
    clock: str
    pup: str
    weight: str
    unit: float | None
    """Grams in the unit that the column names."""


def _rows(data: str) -> list[tuple[int, list[str]]]:
    """The rows with their numbers, without remarks and empty lines."""
    lines = data.lstrip("\ufeff").splitlines()
    kept = [(number, line) for number, line in enumerate(lines, start=1) if line.strip() and not line.lstrip().startswith("#")]
    if not kept:
        raise NotRead("the file is empty")
    separator = max(";\t,", key=lambda sign: (kept[0][1].count(sign), sign != ","))
    if kept[0][1].count(separator) == 0:
        raise NotRead("the file has one column only: save the spreadsheet as CSV, with its columns")
    return [(number, [cell.strip() for cell in next(csv.reader(io.StringIO(line), delimiter=separator))]) for number, line in kept]


def _cells(rows: Sequence[tuple[int, list[str]]]) -> list[_Cell]:
    head = [_plain(cell) for cell in rows[0][1]]
    named = {role: next((place for place, cell in enumerate(head) if _is(role, cell)), None) for role in _HEADERS}
    if all(place is None for place in named.values()):
        named, body = {"date": 0, "time": None, "pup": 1, "weight": 2}, rows  # no header: date, pup, weight
    else:
        body = rows[1:]
    if named["date"] is None:
        raise NotRead("line 1: no column is called date or day, so it is not clear when the pups were weighed")
    if named["pup"] is not None and named["weight"] is not None:
        return [_long(number, row, named, _unit_in(head[named["weight"]])) for number, row in body if any(row)]
    return [
        _Cell(number, _at(row, named["date"]), _at(row, named["time"]), name, _at(row, place), _unit_in(_plain(name)))
        for number, row in body
        for place, name in enumerate(rows[0][1])
        if place not in (named["date"], named["time"]) and name and not _is_summary(name) and _at(row, place)
    ]


def _long(number: int, row: list[str], named: Mapping[str, int | None], unit: float | None) -> _Cell:
    cell = _Cell(number, _at(row, named["date"]), _at(row, named["time"]), _at(row, named["pup"]), _at(row, named["weight"]), unit)
    for what, said in (("date", cell.when), ("pup", cell.pup), ("weight", cell.weight)):
        if not said:
            raise NotRead(f"line {number}: there is no {what}")
    return cell


def _at(row: list[str], place: int | None) -> str:
    return row[place] if place is not None and place < len(row) else ""


def _plain(header: str) -> str:
    """A header in small letters, its unit set off: `Weight (g)` is `weight g`."""
    return " ".join(re.sub(r"[^\w%]+", " ", header.casefold()).split()).replace("_", " ")


def _is(role: str, header: str) -> bool:
    words = header.split()
    bare = " ".join(word for word in words if word not in _GRAMS) or header
    return header in _HEADERS[role] or bare in _HEADERS[role]


def _is_summary(header: str) -> bool:
    """A column that someone worked out, of no pup: a mean, a total, a remark."""
    return bool(set(_plain(header).split()) & {"mean", "average", "avg", "total", "sum", "notes", "note", "remarks", "comment", "comments"})


def _unit_in(header: str) -> float | None:
    return next((_GRAMS[word] for word in header.split() if word in _GRAMS), None)


def _unit_of(weight: str) -> float | None:
    found = _NUMBER.fullmatch(weight.strip().rstrip("."))
    if _POUNDS.fullmatch(weight.strip()):
        return 1.0
    return _GRAMS.get(found[2].casefold()) if found and found[2] else None


def _weighed(cell: _Cell, unit: Unit | None, order: Order | None, birth: date | None) -> Weighed:
    when, clock = split(cell.when, cell.clock)
    grams = _grams(cell, unit)
    if not LIGHTEST <= grams <= HEAVIEST:
        raise NotRead(f"line {cell.line}: “{cell.weight}” would be {grams:g} g, which is no weight of a pup")
    return Weighed(cell.line, day_of(cell.line, when, order, birth), clock_of(cell.line, clock), cell.pup, grams)


def _grams(cell: _Cell, unit: Unit | None) -> float:
    text = cell.weight.strip().rstrip(".")
    if pounds := _POUNDS.fullmatch(text):
        return tidy((16 * float(pounds[1]) + _decimal(pounds[2] or "0")) * GRAMS_PER_OUNCE)
    found = _NUMBER.fullmatch(text)
    if found is None or (found[2] and found[2].casefold() not in _GRAMS):
        raise NotRead(f"line {cell.line}: “{cell.weight}” is no weight")
    named = _GRAMS[found[2].casefold()] if found[2] else cell.unit
    return tidy(_decimal(found[1]) * (named or (GRAMS_PER_OUNCE if unit == "oz" else 1.0)))


def _decimal(text: str) -> float:
    """A number with a point or a comma before its decimals. `1,205` and `1.205` are read as they stand: a pup's grams need no thousands."""
    return float(text.replace(",", "."))


def _ambiguous(cells: Iterable[_Cell]) -> str | None:
    """A date that can be read in two ways, where no other date of the file decides which is meant; None where all is clear."""
    dates = [found for cell in cells if (found := slashed(split(cell.when, "")[0])) is not None]
    if any(int(found[1]) > 12 or int(found[2]) > 12 for found in dates):
        return None
    return next((found[0] for found in dates if found[1] != found[2]), None)


def _order(cells: Iterable[_Cell]) -> Order | None:
    """Which comes first, as the dates that can be read in one way only show."""
    found = [found for cell in cells if (found := slashed(split(cell.when, "")[0])) is not None]
    day_first = next((one for one in found if int(one[1]) > 12), None)
    month_first = next((one for one in found if int(one[2]) > 12), None)
    if day_first is not None and month_first is not None:
        raise NotRead(f"{day_first[0]} has the day first and {month_first[0]} the month: write all dates in one way, best as 2026-03-24")
    return "mdy" if month_first is not None else "dmy"
