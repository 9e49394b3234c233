"""The figures: each stands once, says where it comes from, is used, and a wrong entry is named."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import bot
from bot.care.figures import Figure, Figures, FiguresError, every_file, figures, sources
from bot.care.rules import rules

FILES = [file.file for file in every_file()]
ROOT = Path(str(bot.__file__)).parent.parent
TABLES = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "bot/care").glob("*.toml"))
CODE = TABLES + "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "bot").rglob("*.py"))


@pytest.mark.parametrize("file", FILES)
def test_every_figure_says_its_unit_source_and_status(file: str) -> None:
    for name, rows in figures(file).items():
        for row in rows:
            assert row.unit, name
            assert row.source or row.status in ("derived", "common practice, no source", "from memory"), f"{name} is found, but where?"


@pytest.mark.parametrize("file", FILES)
def test_every_figure_is_used_by_code_or_by_a_rule(file: str) -> None:
    in_rules = {name for rule in rules().values() for where, name in rule.figures if where == file}
    assert [name for name in figures(file) if f'"{name}"' not in CODE and name not in in_rules] == []


def test_every_source_is_named_by_a_figure() -> None:
    named = {key for file in FILES for rows in figures(file).values() for row in rows for key in row.source}
    named |= {key for rule in rules().values() for key in rule.source}
    named |= {key for key in sources() if f'source = "{key}"' in TABLES or f'source="{key}"' in CODE}
    assert named == set(sources())


def test_rows_for_days_follow_each_other_without_a_gap() -> None:
    for file in FILES:
        for name, rows in figures(file).items():
            if len(rows) > 1:
                days = [(row.from_day, row.to_day) for row in rows]
                assert [first for first, _ in days[1:]] == [(last or 0) + 1 for _, last in days[:-1]], name


OF_UNITS = {0, 1, 1.8, 2, 10, 24, 60, 100, 1000, 3600}
"""None, one, both and twice (a weight is doubled); tenths; hours of a day, minutes, percent, grams of a kilo, seconds
of an hour, degrees."""
ALLOWED = {
    ("bot/reports/needs.py", 40): "letters that are said whole",
    ("bot/reports/telling.py", 6): "how many things of a kind one line lists",
    ("bot/reports/handover.py", 3): "how many things of a kind one answer lists",
    ("bot/care/sensors.py", 1e-06): "a difference that is only rounding",
    ("bot/care/usual.py", 7): "the days of a week",
    ("bot/reports/answer.py", 12): "the lines of a phone's screen",
    ("bot/reports/asked.py", 6): "the other days of a week",
    ("bot/reports/calendar.py", 7): "the days of a week; how many lines one answer has of what comes",
    ("bot/reports/board.py", 5): "letters of a name in a row",
    ("bot/reports/subscription.py", 15): "how high an event is drawn in a phone's calendar, and how often it is told to look again",
    ("bot/reports/feed_plan.py", 5): "how many pups one answer lists",
    ("bot/reports/night_chart.py", 8): "the hour at which a night ends, as it is drawn",
    ("bot/reports/night_chart.py", 20): "the hour at which a night begins, as it is drawn",
    ("bot/reports/temperature_chart.py", 7): "the days that one chart shows",
    ("bot/reports/weights.py", 20): "how many weights one answer lists",
    ("bot/reports/why.py", 4): "how many dogs' numbers one answer lists",
}
"""Other numbers in code, by file, and why they are none of care."""


def test_no_number_of_care_stands_in_code() -> None:
    found = {
        (path.relative_to(ROOT).as_posix(), node.value)
        for room in ("care", "reports")
        for path in (ROOT / "bot" / room).rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and type(node.value) in (int, float) and node.value not in OF_UNITS
    }
    assert found == set(ALLOWED), "a number of care belongs in bot/care/figures; any other needs its reason here"


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
