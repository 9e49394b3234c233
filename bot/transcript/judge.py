"""What the bot said is held against what the transcript says that it must say; or written into it."""

from __future__ import annotations

from collections.abc import Iterator
from zoneinfo import ZoneInfo

from bot.transcript.replay import Spoken
from bot.transcript.written import BOT, Day, Line, Transcript, write_line


def faults(transcript: Transcript, spoken: list[Spoken]) -> list[str]:
    """One sentence for each line of the bot that is missing, extra, late, early or different; empty where all is well."""
    return [fault for zone, written, true in _stretches(transcript, spoken) for fault in _faults(zone, written, true)]


def rewritten(transcript: Transcript, spoken: list[Spoken]) -> str:
    """The transcript with the bot's true lines in place of those written in it; all other rows stand as they are."""
    instead: dict[int, list[str]] = {}
    below: dict[int, list[str]] = {}
    gone: set[int] = set()
    steps = transcript.steps
    for zone, written, true in _stretches(transcript, spoken):
        left = list(written)
        for line in written:
            gone.update(range(line.row, line.row + line.rows))
        for one in true:
            rows = write_line(one.said.at, BOT, one.said.text, zone)
            match = next((line for line in left if _minute(line, zone) == _minute(one, zone)), None)
            if match is not None:
                place = match.row
                instead[place] = rows
                del left[: left.index(match) + 1]
            else:
                step = steps[one.after]
                place = max([_last_row(step), *(line.row for line in written if line.row in instead)])
                below.setdefault(place, []).extend(rows)
    out: list[str] = []
    for number, words in enumerate(transcript.rows):
        if number in instead:
            out += instead[number]
        elif number not in gone:
            out.append(words)
        out += below.get(number, [])
    return "\n".join(out) + "\n"


def _stretches(transcript: Transcript, spoken: list[Spoken]) -> Iterator[tuple[ZoneInfo, list[Line], list[Spoken]]]:
    """For each step that is not the bot's: the lines written for the bot below it, and what the bot said after it."""
    zone: ZoneInfo | None = None
    steps = transcript.steps
    for index, step in enumerate(steps):
        if isinstance(step, Day):
            zone = step.zone
        if isinstance(step, Line) and step.by == BOT:
            continue
        assert zone is not None  # a transcript that parses has its day first
        written: list[Line] = []
        for later in steps[index + 1 :]:
            if not isinstance(later, Line) or later.by != BOT:
                break
            written.append(later)
        yield zone, written, [one for one in spoken if one.after == index]


def _faults(zone: ZoneInfo, written: list[Line], true: list[Spoken]) -> Iterator[str]:
    wanted, got = list(written), list(true)
    for line in list(wanted):  # first what is right, in order
        one = next((one for one in got if _minute(one, zone) == _minute(line, zone) and _plain(one.said.text) == _plain(line.text)), None)
        if one is not None:
            wanted.remove(line)
            got.remove(one)
    if not wanted and not got and [_plain(line.text) for line in written] != [_plain(one.said.text) for one in true]:
        yield f"line {written[0].row + 1}: the bot says these lines in another order: {' / '.join(_plain(one.said.text) for one in true)}"
    for line in wanted:
        same_text = next((one for one in got if _plain(one.said.text) == _plain(line.text)), None)
        same_time = next((one for one in got if _minute(one, zone) == _minute(line, zone)), None)
        if same_text is not None:
            got.remove(same_text)
            word = "late" if same_text.said.at > line.at else "early"
            came, due = _minute(same_text, zone)[-5:], _minute(line, zone)[-5:]
            yield f"line {line.row + 1}: {word}: it came at {came}, not at {due}: {_plain(line.text)}"
        elif same_time is not None:
            got.remove(same_time)
            yield f"line {line.row + 1}: different\n  wanted: {_plain(line.text)}\n  said:   {_plain(same_time.said.text)}"
        else:
            yield f"line {line.row + 1}: missing at {_minute(line, zone)[-5:]}: {_plain(line.text)}"
    for one in got:
        row = f"below line {written[-1].row + 1}" if written else "where no line of the bot is written"
        yield f"extra at {_minute(one, zone)[-5:]}, {row}: {_plain(one.said.text)}"


def _minute(one: Line | Spoken, zone: ZoneInfo) -> str:
    """The minute by the wall clock, with the offset, so that the two hours of an autumn night stay apart."""
    at = one.at if isinstance(one, Line) else one.said.at
    return at.astimezone(zone).strftime("%Y-%m-%d %z %H:%M")


def _plain(text: str) -> str:
    """A text as the transcript can hold it: no blank rows, no space around a row."""
    return "\n".join(row.strip() for row in text.splitlines() if row.strip())


def _last_row(step: object) -> int:
    return step.row + step.rows - 1 if isinstance(step, Line) else getattr(step, "row", 0)
