"""The figures: each stands once, says where it comes from, is used, and a wrong entry is named."""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path

import pytest

import bot
from bot.care.figures import Figure, Figures, FiguresError, figures, sources

FOLDER = files("bot.care").joinpath("figures")
FILES = sorted(file.name.removesuffix(".toml") for file in FOLDER.iterdir() if file.name.endswith(".toml") and file.name != "sources.toml")
CODE = "\n".join(path.read_text(encoding="utf-8") for path in Path(str(bot.__file__)).parent.rglob("*.py"))


@pytest.mark.parametrize("file", FILES)
def test_every_figure_says_its_unit_source_and_status(file: str) -> None:
    for name, rows in figures(file).items():
        for row in rows:
            assert row.unit, name
            assert row.source or row.status in ("derived", "common practice, no source", "from memory"), f"{name} is found, but where?"


@pytest.mark.parametrize("file", FILES)
def test_every_figure_is_used(file: str) -> None:
    assert [name for name in figures(file) if f'"{name}"' not in CODE] == []


def test_every_source_is_named_by_a_figure() -> None:
    named = {key for file in FILES for rows in figures(file).values() for row in rows for key in row.source}
    assert named == set(sources())


def test_rows_for_days_follow_each_other_without_a_gap() -> None:
    for file in FILES:
        for name, rows in figures(file).items():
            if len(rows) > 1:
                days = [(row.from_day, row.to_day) for row in rows]
                assert [first for first, _ in days[1:]] == [(last or 0) + 1 for _, last in days[:-1]], name


def test_no_figure_of_the_contract_stands_in_code() -> None:
    """The numbers of care live in the data: code has none but 0, 1, 2 and what units are made of (24 h, 60 min, 1000 g, 12 o'clock)."""
    allowed = {"0", "0.0", "1", "2", "24", "60", "100", "1000", "3600", "10"}
    for path in Path(str(bot.__file__)).parent.joinpath("care").glob("*.py"):
        bare = re.sub(r'"""[\s\S]*?"""|"[^"\n]*"|#.*', "", path.read_text(encoding="utf-8"))
        assert set(re.findall(r"(?<![\w.])\d+(?:\.\d+)?", bare)) <= allowed, path.name


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: figures("rounds").number("no such"), "figures/rounds.toml has no [no such]"),
        (lambda: figures("rounds").number("nursing_interval"), "has rows for days"),
        (lambda: figures("rounds")["no such"], "add it with value, unit, source and status"),
    ],
)
def test_a_missing_figure_is_named_with_its_file(ask, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(FiguresError, match=re.escape(words)):
        ask()


def test_a_figure_counts_for_its_days_only() -> None:
    rows = (Figure(value=3, unit="h", source=[], status="derived", from_day=2, to_day=4),)
    table = Figures("made_up", {"x": rows})
    assert [table.on_day("x", day) for day in (1, 2, 4, 5)] == [None, 3, 3, None]
