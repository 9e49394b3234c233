"""A transcript: a conversation written down with its times, run against a virtual clock (the contract is in DEVELOPERS.md)."""

from __future__ import annotations

import json
import sys
import tempfile
from datetime import datetime
from pathlib import Path
from typing import TextIO
from zoneinfo import ZoneInfo

from bot.household import open_household
from bot.transcript.judge import faults, rewritten
from bot.transcript.replay import Bot, Spoken, run
from bot.transcript.written import Day, Line, Off, Transcript, TranscriptError, parse, write_line

__all__ = ["Day", "Line", "Off", "Spoken", "Transcript", "TranscriptError", "faults", "parse", "replay", "run_replay", "write_line"]


def replay(transcript: Transcript, *, until: datetime | None = None, bot_lines_too: bool = False) -> list[Spoken]:
    """Run a transcript in a temporary store of its own: no household's data, no network, no real clock."""
    with tempfile.TemporaryDirectory(prefix="lampwatch-replay-") as folder:

        def open_bot(zone: ZoneInfo) -> Bot:
            return open_household(Path(folder) / "log.db", zone=zone.key)

        return run(transcript, open_bot, until=until, bot_lines_too=bot_lines_too)


def run_replay(
    file: Path,
    *,
    check: bool = False,
    accept: bool = False,
    as_json: bool = False,
    until: datetime | None = None,
    out: TextIO | None = None,
    err: TextIO | None = None,
) -> int:
    """`lampwatch replay`: print the transcript as the bot makes it, or check it, accept it, or print JSON lines.

    Gives the exit code: 0 all well, 1 a line of the bot that is missing, extra, late or different, 2 a transcript that cannot be run.
    """
    out, err = out or sys.stdout, err or sys.stderr
    try:
        transcript = parse(file.read_text(encoding="utf-8"), name=file.name)
    except OSError as problem:
        print(f"The transcript {file} cannot be read ({problem.strerror}): check the name.", file=err)
        return 2
    except UnicodeDecodeError:
        print(f"The transcript {file} is not plain text (UTF-8): save it as that.", file=err)
        return 2
    except TranscriptError as problem:
        print(problem, file=err)
        return 2
    if not transcript.lines:
        print(f"{file.name} holds no line of chat. Write one as [03:14] ines: pup 3 212 g", file=err)
        return 2
    if until is not None and until.tzinfo is None:
        print(f"--until {until.isoformat()} has no offset: write it as 2026-03-02T06:00:00-06:00", file=err)
        return 2
    spoken = replay(transcript, until=until, bot_lines_too=not as_json)
    if as_json:
        for one in spoken:
            print(json.dumps(one.said.as_json(one.zone), ensure_ascii=False), file=out)
        return 0
    if accept:
        file.write_text(rewritten(transcript, spoken), encoding="utf-8")
    if check and not accept:
        wrong = faults(transcript, spoken)
        for fault in wrong:
            print(f"{file.name}: {fault}", file=err)
        return 1 if wrong else 0
    if not accept:
        print(rewritten(transcript, spoken), end="", file=out)
    return 0
