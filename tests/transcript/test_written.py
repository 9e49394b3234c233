"""A transcript as it is written: its days, its lines, and what it may not hold."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from bot.transcript.written import Day, Line, Off, TranscriptError, parse, write_line

CHICAGO = ZoneInfo("America/Chicago")

NIGHT = """The first night round.

--- 2026-03-02 America/Chicago ---

[03:14] ines: pup 3 212 g nursed 15 min cleared
[03:14] bot: Pup 3: 212 g, nursed 15 min, cleared.
    an indented line goes on with the line above

    but not after an empty one
[23:50] theo: (voice) pup 4 two oh one
[00:10] ines: who's next?
--- off until 05:30 ---
"""


def at(text: str) -> datetime:
    return datetime.fromisoformat(text).astimezone(UTC)


def test_everything_that_is_not_a_line_or_a_day_is_prose() -> None:
    assert [type(step) for step in parse(NIGHT).steps] == [Day, Line, Line, Line, Line, Off]


def test_a_line_has_its_moment_its_speaker_and_its_words() -> None:
    line = parse(NIGHT).lines[0]
    assert (line.at, line.by, line.text) == (at("2026-03-02T03:14:00-06:00"), "ines", "pup 3 212 g nursed 15 min cleared")


def test_an_indented_line_goes_on_with_the_line_above() -> None:
    assert parse(NIGHT).lines[1].text == "Pup 3: 212 g, nursed 15 min, cleared.\nan indented line goes on with the line above"


def test_a_spoken_message_is_its_text() -> None:
    line = parse(NIGHT).lines[2]
    assert (line.text, line.spoken) == ("pup 4 two oh one", True)


def test_an_earlier_time_is_on_the_next_day() -> None:
    assert parse(NIGHT).lines[3].at == at("2026-03-03T00:10:00-06:00")


def test_off_until_is_the_next_such_time() -> None:
    off = parse(NIGHT).steps[-1]
    assert isinstance(off, Off)
    assert off.at == at("2026-03-03T05:30:00-06:00")


def test_a_day_moves_on_to_it_and_keeps_the_zone_where_none_is_named() -> None:
    lines = parse("--- 2026-03-02 America/Chicago ---\n[20:00] ines: a\n--- 2026-03-05 ---\n[01:00] ines: b\n").lines
    assert lines[1].at == at("2026-03-05T01:00:00-06:00")


def test_in_the_night_in_which_an_hour_comes_twice_the_second_one_can_be_written() -> None:
    lines = parse("--- 2026-11-01 America/Chicago ---\n[01:50] ines: a\n[01:10] ines: b\n[00:30] ines: c\n").lines
    assert [line.at for line in lines] == [
        at("2026-11-01T01:50:00-05:00"),
        at("2026-11-01T01:10:00-06:00"),
        at("2026-11-02T00:30:00-06:00"),
    ]


def test_lines_of_the_same_minute_stay_in_their_order() -> None:
    lines = parse("--- 2026-03-02 UTC ---\n[03:14] ines: a\n[03:14] theo: b\n").lines
    assert [(line.by, line.at) for line in lines] == [("ines", at("2026-03-02T03:14:00Z")), ("theo", at("2026-03-02T03:14:00Z"))]


def test_a_line_without_words_is_an_empty_message() -> None:
    assert parse("--- 2026-03-02 UTC ---\n[03:14] ines:\n    pup 3\n").lines[0].text == "pup 3"


@pytest.mark.parametrize(
    ("text", "remedy"),
    [
        ("[03:14] ines: pup 3 212 g\n", "line 1: no day yet. Write one above it"),
        ("--- 2026-03-02 ---\n", "line 1: the first day needs a zone"),
        ("--- 2026-03-02 Mars/Olympus ---\n", "line 1: there is no time zone 'Mars/Olympus'"),
        ("--- 2026-13-02 UTC ---\n", "line 1: 2026-13-02 is no day of the calendar"),
        ("--- 2026-03-02 UTC ---\n[25:14] ines: a\n", "line 2: 25:14 is no time of day"),
        ("--- 2026-03-02 UTC ---\n[03:14] ines: a\n--- 2026-02-27 ---\n", "line 3: 2026-02-27 is before the line above"),
    ],
)
def test_what_cannot_be_run_is_named_with_its_line_and_the_remedy(text: str, remedy: str) -> None:
    with pytest.raises(TranscriptError) as told:
        parse(text)
    assert remedy in str(told.value)


def test_a_line_is_written_as_it_is_read() -> None:
    rows = write_line(at("2026-03-02T03:14:00-06:00"), "bot", "Which one?\n1. Pup 3\n\n2. Pup 4", CHICAGO)
    assert rows == ["[03:14] bot: Which one?", "    1. Pup 3", "    2. Pup 4"]
    again = parse("\n".join(["--- 2026-03-02 America/Chicago ---", *rows])).lines
    assert [line.text for line in again] == ["Which one?\n1. Pup 3\n2. Pup 4"]
