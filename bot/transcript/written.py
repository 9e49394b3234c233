"""A transcript as it is written: prose, days, people's lines and the bot's lines, each at its moment.

The first night round.                                  <- prose: anything that is not one of the forms below

--- 2026-03-02 America/Chicago ---                      <- sets the day and the zone, and moves on to it
[03:14] ines: pup 3 212 g nursed 15 min cleared         <- a person's line
[03:14] bot: Pup 3: 212 g, nursed 15 min, cleared.      <- what the bot must say, at that minute
    an indented line goes on with the line above
--- off until 05:30 ---                                 <- the machine was off from the line above until then
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

BOT = "bot"
"""The speaker whose lines are what the bot must say."""

_DAY = re.compile(r"---\s*(\d{4}-\d{2}-\d{2})(?:\s+([A-Za-z][\w+\-/]*))?\s*---")
_OFF = re.compile(r"---\s*off until\s+(\d{1,2}:\d{2})\s*---")
_LINE = re.compile(r"\[(\d{1,2}:\d{2})\]\s*([^:\[\]]+?)\s*:(?:\s+(.*)|\s*)")
_VOICE = re.compile(r"\(voice\)\s*")


class TranscriptError(Exception):
    """A transcript that cannot be run: which line, what is wrong, what to write instead."""


@dataclass(frozen=True)
class Day:
    """From here on it is this day in this zone."""

    row: int
    at: datetime
    """The day's first moment."""
    zone: ZoneInfo


@dataclass(frozen=True)
class Off:
    """The machine was off until `at`: the clock jumps."""

    row: int
    at: datetime


@dataclass(frozen=True)
class Line:
    """One line of chat: who said what, when. `rows` are the rows of the file that it covers, from 0."""

    row: int
    rows: int
    at: datetime
    by: str
    text: str
    spoken: bool = False
    """True where the words were spoken and not typed; they are replayed as their text."""


Step = Day | Off | Line


@dataclass(frozen=True)
class Transcript:
    """A whole transcript: its rows as they stand in the file, and its steps in the order of time."""

    rows: tuple[str, ...]
    steps: tuple[Step, ...]

    @property
    def lines(self) -> tuple[Line, ...]:
        """The lines of chat alone."""
        return tuple(step for step in self.steps if isinstance(step, Line))


def parse(text: str, *, name: str = "the transcript") -> Transcript:
    """Read a transcript; raises TranscriptError with the line, the fault and the remedy."""
    rows = tuple(text.splitlines())
    steps: list[Step] = []
    clock: datetime | None = None
    zone: ZoneInfo | None = None
    open_line = False
    for row, words in enumerate(rows):
        where = f"{name}, line {row + 1}"
        if found := _DAY.fullmatch(words.strip()):
            day, zone = _day(found, zone, where)
            start = datetime.combine(day, time(), tzinfo=zone).astimezone(UTC)
            if clock is not None and start + timedelta(days=1) <= clock:
                raise TranscriptError(f"{where}: {day} is before the line above. Lines go on in time; put this day further up.")
            clock = start if clock is None else max(clock, start)
            steps.append(Day(row, clock, zone))
            open_line = False
        elif found := _OFF.fullmatch(words.strip()):
            clock = _next(found[1], clock, zone, where)
            steps.append(Off(row, clock))
            open_line = False
        elif found := _LINE.fullmatch(words.rstrip()):
            clock = _next(found[1], clock, zone, where)
            said = found[3] or ""
            spoken = _VOICE.match(said)
            steps.append(Line(row, 1, clock, found[2], said[spoken.end() :] if spoken else said, spoken is not None))
            open_line = True
        elif open_line and words[:1].isspace() and words.strip() and isinstance(last := steps[-1], Line):
            steps[-1] = replace(last, rows=last.rows + 1, text=f"{last.text}\n{words.strip()}".lstrip("\n"))
        else:
            open_line = False
    return Transcript(rows, tuple(steps))


def write_line(at: datetime, by: str, text: str, zone: ZoneInfo) -> list[str]:
    """One line of chat as rows of a transcript; further lines of the text are indented."""
    first, *more = [part for part in text.splitlines() if part.strip()] or [""]
    return [f"[{at.astimezone(zone):%H:%M}] {by}: {first}", *(f"    {part.strip()}" for part in more)]


def _day(found: re.Match[str], zone: ZoneInfo | None, where: str) -> tuple[date, ZoneInfo]:
    try:
        day = date.fromisoformat(found[1])
    except ValueError as wrong:
        raise TranscriptError(f"{where}: {found[1]} is no day of the calendar. Write it as 2026-03-02.") from wrong
    if found[2]:
        try:
            zone = ZoneInfo(found[2])
        except (OSError, ValueError, LookupError) as wrong:
            raise TranscriptError(f"{where}: there is no time zone {found[2]!r}. Write one as America/Chicago.") from wrong
    if zone is None:
        raise TranscriptError(f"{where}: the first day needs a zone. Write it as --- {found[1]} America/Chicago ---")
    return day, zone


def _next(hhmm: str, clock: datetime | None, zone: ZoneInfo | None, where: str) -> datetime:
    """The first moment, not before `clock`, at which the clocks on the wall show `hhmm`.

    An earlier time than the line above is so on the next day; but in the night in which an hour comes twice,
    01:10 after 01:50 is the second 01:10.
    """
    if clock is None or zone is None:
        raise TranscriptError(f"{where}: no day yet. Write one above it, as --- 2026-03-02 America/Chicago ---")
    try:
        wall = time.fromisoformat(hhmm.zfill(5))
    except ValueError as wrong:
        raise TranscriptError(f"{where}: {hhmm} is no time of day. Write it as 03:14.") from wrong
    floor = clock.replace(second=0, microsecond=0)
    today = clock.astimezone(zone).date()
    for days in range(3):
        for fold in (0, 1):
            at = datetime.combine(today + timedelta(days=days), wall.replace(fold=fold), tzinfo=zone).astimezone(UTC)
            if at >= floor:
                return max(at, clock)
    raise AssertionError("within two days every time of day comes again")
