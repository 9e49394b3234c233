"""What stands on the sheet for the vet or the new owner, read back from the PDF itself."""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader

from bot.app.export import opened
from bot.app.serve import DATABASE
from bot.conversation import Message
from bot.drawing.paper import print_sheet
from bot.household import open_household
from bot.sheets import Sheet
from bot.sheets.compose import CAUTION, Wanted, compose
from bot.sheets.told import MOST_ROWS, say_age
from tests.app.sixteen_days import NAMES, grow
from tests.care.shepherds import on_day, shepherds, table
from tests.care.written_log import Log, event, litter

SAID = (
    "calcium every 2 and a half hours", "mom calcium 2 clicks", "pup 4 limp", "pup 3 green stool", "mom ate half", "the vet is 555 0134",
    "note: <b>pup 2</b> & <font color=red>x</font> sleeps by the warm end", "they're Maltese",
)  # fmt: skip
EVER = datetime.min.replace(tzinfo=UTC)
NOW = datetime(2026, 3, 18, 8, 14, tzinfo=UTC)


def pdf(sheet: Sheet) -> PdfReader:
    return PdfReader(io.BytesIO(bytes_of(sheet)))


@cache
def bytes_of(sheet: Sheet) -> bytes:
    return print_sheet(sheet)


def printed(log: Log, wall: str, *pups: int, each_pup: bool = False) -> Sheet:
    nursery, until = log.nursery(), log.moment(wall)
    return compose(nursery, log.entries, Wanted(EVER, until, pups or None, each_pup), "Ines")


@cache
def pages(sheet: Sheet) -> list[str]:
    """The words of each page, as a reader of the PDF gets them, on one line."""
    return [" ".join(page.extract_text().split()) for page in pdf(sheet).pages]


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Sheet:
    """The sheet of a litter of six, with something of everything."""
    data = tmp_path_factory.mktemp("sheet") / "data"
    grow(data, NOW - timedelta(hours=1))
    household = open_household(data / DATABASE, zone="America/Chicago")
    for words in SAID:
        assert household.hear(Message("Ines", words), NOW - timedelta(minutes=5)).kept
    one = household.conversations[0]
    sheet = compose(one.nursery, one.entries, Wanted(EVER, NOW, each_pup=True), "Ines")
    household.close()
    return sheet


def test_the_first_page_says_of_which_litter_it_is_from_when_and_what_to_look_at(whole: Sheet) -> None:
    first = pages(whole)[0]
    assert "Juniper's litter From 2 Mar," in first
    assert "18 Mar, 3:14 am, 2026. Printed for Ines; times in America/Chicago." in first
    assert "Breed Maltese" in first
    assert "by c-section; 2 weeks 2 days old" in first
    assert "Pups 6 living" in first
    assert "Vet 555 0134" in first
    assert "To look at now Pup 4 Pip:" in first
    for name in NAMES:
        assert name in first


def test_every_part_is_there_with_times_and_who_told_it(whole: Sheet) -> None:
    text = " ".join(pages(whole))
    parts = "The litter, Growth, Growth chart, Weights by day, Feeds by day, Signs, Temperatures, Doses given, Notes, Who logged"
    for title in parts.split(", "):
        assert title in text
    assert "Day 1 blue 2 Olive 3 Moss 4 Pip 5 Fern 6 Tansy" in text
    assert "17 Mar 532 g 405 g 509 g 332 g 532 g 512 g" in text
    assert re.search(r"18 Mar 1 1 1 1 1 1 \+ 9 ml in 1", text)
    assert "18 Mar, 3:09 am 4 Pip limp Ines" in text
    assert "3 Moss pooped, green stool Ines" in text
    assert "The vet's plan, as the keeper told it: calcium every 2 h 30 min." in text
    assert "18 Mar, 3:09 am Juniper calcium 2 clicks Ines" in text


def test_what_people_typed_is_printed_as_it_was_typed(whole: Sheet) -> None:
    assert "<b>pup 2</b> & <font color=red>x</font> sleeps by the warm end" in " ".join(pages(whole))


def test_every_page_has_its_number_and_the_caution(whole: Sheet) -> None:
    found = pages(whole)
    for number, text in enumerate(found, start=1):
        assert f"page {number} of {len(found)}" in text
        assert CAUTION in text


def test_each_pup_has_a_page_of_its_own_where_that_is_asked_for(whole: Sheet) -> None:
    assert [page.title for page in whole.pages] == [
        "Juniper's litter",
        *(f"Pup {number} {name}" for number, name in enumerate(NAMES, start=1)),
    ]
    assert any(text.startswith("Pup 3 Moss From") for text in pages(whole))


def test_the_same_log_gives_the_same_bytes(whole: Sheet) -> None:
    assert bytes_of(whole) == print_sheet(Sheet.model_validate_json(whole.model_dump_json()))


def test_charts_are_pictures_on_it(whole: Sheet) -> None:
    images = [image for page in pdf(whole).pages for image in page.images]
    assert len(images) == 7  # the litter's, and one a pup


def test_one_pup_alone_has_its_own_sheet_and_nothing_of_the_others() -> None:
    sheet = printed(shepherds(), on_day(30), 3)
    text = " ".join(pages(sheet))
    assert sheet.name == "pup-3-orange-2019-04-18"
    assert "Pup 3 orange" in text
    assert "emerald" not in text


def test_the_weights_of_a_published_litter_are_on_it_day_by_day() -> None:
    text = " ".join(pages(printed(shepherds(), on_day(50))))
    for day, row in table().items():
        if day <= 50:
            ounces = [f"{row[name]:g} oz" for name in ("pink", "emerald", "orange", "purple", "yellow", "blue") if row[name] is not None]
            assert f"{' '.join(ounces)}" in text, day


@pytest.mark.parametrize(
    ("zone", "paper", "wide"), [("America/Chicago", "Letter", 612), ("America/Toronto", "Letter", 612), ("Europe/London", "A4", 595)]
)
def test_the_paper_is_that_of_the_zone(zone: str, paper: str, wide: int) -> None:
    from zoneinfo import ZoneInfo

    log = Log(ZoneInfo(zone)).at("2026-03-01 10:30", litter={"pups": 2, "born": "2026-03-01T09:40:00+00:00"})
    sheet = printed(log, "2026-03-02 10:00")
    assert sheet.paper == paper
    assert round(float(pdf(sheet).pages[0].mediabox.width)) == wide


def test_a_litter_of_which_nothing_was_told_but_its_pups_is_printed() -> None:
    assert "Pups 2 living" in pages(printed(litter(2), "2026-03-02 10:00"))[0]


def test_a_long_list_prints_its_latest_and_says_so() -> None:
    log = litter(1)
    for number in range(MOST_ROWS + 50):
        log.at(f"2026-03-{2 + number // 24:02} {number % 24:02}:00", event("note", 1, text=f"note {number}"))
    text = " ".join(pages(printed(log, "2026-03-20 10:00")))
    assert f"The latest {MOST_ROWS} of {MOST_ROWS + 50}" in text
    assert f"note {MOST_ROWS + 49} " in text
    assert "note 49 " not in text


def test_a_pup_that_died_stays_on_it_with_its_time() -> None:
    log = litter(2).at("2026-03-01 11:00", event("weight", 1, grams=205.0), event("weight", 2, grams=150.0))
    log.at("2026-03-02 04:00", event("died", 2))
    text = " ".join(pages(printed(log, "2026-03-02 10:00", each_pup=True)))
    assert "1 living; Pup 2 died 2 Mar, 4:00 am" in text
    assert "Died 2 Mar, 4:00 am" in text


def test_ages_are_said_in_weeks_and_days() -> None:
    born = datetime(2026, 3, 1, tzinfo=UTC)
    said = [say_age(born, born + timedelta(days=days)) for days in (0, 1, 7, 16)]
    assert said == ["0 days", "1 day", "1 week", "2 weeks 2 days"]


def test_the_command_writes_the_sheet_of_a_log(tmp_path: Path) -> None:
    from bot.app.export import Only, export

    grow(tmp_path / "data", NOW)
    said: list[str] = []
    export(tmp_path / "data", "pdf", Only(each_pup=True), str(tmp_path / "a.pdf"), now=NOW, say=said.append)
    assert said == [f"Written: {tmp_path / 'a.pdf'}"]
    with opened(tmp_path / "data") as household:
        assert len(PdfReader(tmp_path / "a.pdf").pages) > len(household.conversations[0].nursery.pups)
