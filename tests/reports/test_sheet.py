"""The sheet in words: of whom, what it holds, how to get it; and what is printed of it."""

from __future__ import annotations

from dataclasses import replace

from bot.reports import sheet
from tests.care.shepherds import on_day, shepherds
from tests.care.written_log import Log, litter
from tests.reports.asking import ask, asked

LOG = shepherds()


def test_it_says_of_whom_it_is_what_it_holds_and_how_to_get_it() -> None:
    answer = ask(LOG, on_day(22, "12:00"), "sheet")
    assert answer.text.startswith("A sheet of the litter (6 pups), 21 days 16 h old: growth with its chart, feeds, signs, ")
    assert "lampwatch export --pdf" in answer.text
    assert answer.shows == "sheet"
    assert len(answer.text.splitlines()) <= 12


def test_of_a_pup_it_is_that_pups_page() -> None:
    assert ask(LOG, on_day(22, "12:00"), "sheet", who=3).text.startswith("A sheet of Pup 3 orange, 21 days 16 h old:")
    assert [page.title for page in sheet.printed(asked(LOG, on_day(22), "sheet", who=(3, 4))).pages] == ["Pup 3 orange", "Pup 4 purple"]
    assert [page.title for page in sheet.printed(asked(LOG, on_day(22), "sheet")).pages] == ["The litter"]
    assert [page.title for page in sheet.printed(asked(litter(), "2026-03-02 10:00", "sheet", who="dam")).pages] == ["Juniper's litter"]


def test_a_page_for_each_pup_where_the_words_want_one() -> None:
    question = replace(asked(LOG, on_day(22), "sheet"), words="a sheet with a page per pup please")
    assert len(sheet.printed(question).pages) == 7


def test_a_span_is_said_and_kept_to() -> None:
    assert ", this week: growth" in ask(LOG, on_day(22, "12:00"), "sheet", span="week").text
    (page,) = sheet.printed(asked(LOG, on_day(22, "12:00"), "sheet", span="week")).pages
    weights = next(block.table for block in page.blocks if block.title == "Weights by day")
    assert weights is not None
    assert len(weights.rows) == 7


def test_where_there_is_nothing_to_print_that_is_said() -> None:
    assert ask(Log(), "2026-03-02 12:00", "sheet").text == "Nothing is in the log yet, so there is nothing to print."
    answer = ask(litter(2), "2026-03-02 12:00", "sheet", who=7)
    assert (answer.text, answer.shows) == ("There is no pup 7 in this litter.", "")
