"""Every transcript under demo_transcripts runs as it is written: each line of the bot, word for word, at its minute."""

from __future__ import annotations

import io
import json
from datetime import datetime
from pathlib import Path

import pytest

from bot.transcript import faults, parse, replay, run_replay
from parsers.events import KINDS

FOLDER = Path(__file__).parent.parent / "demo_transcripts"
FILES = sorted(FOLDER.rglob("*.txt"))


@pytest.mark.parametrize("file", FILES, ids=[file.relative_to(FOLDER).as_posix() for file in FILES])
def test_a_transcript_runs_as_it_is_written(file: Path) -> None:
    transcript = parse(file.read_text(encoding="utf-8"), name=file.name)
    assert faults(transcript, replay(transcript, bot_lines_too=True)) == []


def test_each_kind_of_event_has_a_transcript_of_its_own() -> None:
    assert {file.stem for file in FOLDER.glob("one_for_each_kind/*.txt")} == set(KINDS)


SAMPLE = """The first night round.

--- 2026-03-02 America/Chicago ---

[03:14] ines: pup 3 212 g nursed 15 min cleared
[03:14] bot: Pup 3: 212 g, nursed 15 min, cleared.
"""


def written(tmp_path: Path, text: str) -> Path:
    file = tmp_path / "night.txt"
    file.write_text(text, encoding="utf-8")
    return file


def test_json_lines_say_what_the_bot_said_whatever_is_written_there(tmp_path: Path) -> None:
    out = io.StringIO()
    file = written(tmp_path, SAMPLE.replace("cleared.", "something else."))
    assert run_replay(file, as_json=True, out=out) == 0
    assert [json.loads(line) for line in out.getvalue().splitlines()] == [
        {
            "at": "2026-03-02T03:14:00-06:00",
            "to": "ines",
            "says": "reply",
            "about": None,
            "who": [3],
            "urgency": None,
            "text": "Pup 3: 212 g, nursed 15 min, cleared.",
            "does": "log",
            "values": {},
        }
    ]


def test_the_clock_runs_on_until_the_time_that_is_given(tmp_path: Path) -> None:
    out = io.StringIO()
    until = datetime.fromisoformat("2026-03-02T06:00:00-06:00")
    assert run_replay(written(tmp_path, SAMPLE), as_json=True, until=until, out=out) == 0
    nudges = [said for line in out.getvalue().splitlines() if (said := json.loads(line))["says"] == "nudge"]
    assert [(said["at"], said["about"], said["who"], said["urgency"], said["to"]) for said in nudges if said["about"] == "nursing"] == [
        ("2026-03-02T04:59:00-06:00", "nursing", [3], "routine", "all"),
        ("2026-03-02T05:29:00-06:00", "nursing", [3], "soon", "all"),
        ("2026-03-02T05:59:00-06:00", "nursing", [3], "soon", "all"),
    ]


def test_check_passes_what_is_right_and_names_what_is_not(tmp_path: Path) -> None:
    err = io.StringIO()
    assert run_replay(written(tmp_path, SAMPLE), check=True, err=err) == 0
    assert run_replay(written(tmp_path, SAMPLE.replace("cleared.", "bathed.")), check=True, err=err) == 1
    assert err.getvalue() == (
        "night.txt: line 6: different\n  wanted: Pup 3: 212 g, nursed 15 min, bathed.\n  said:   Pup 3: 212 g, nursed 15 min, cleared.\n"
    )


def test_accept_writes_the_true_lines_and_then_it_is_right(tmp_path: Path) -> None:
    file = written(tmp_path, SAMPLE.replace("cleared.", "bathed."))
    assert run_replay(file, accept=True) == 0
    assert file.read_text(encoding="utf-8") == SAMPLE
    assert run_replay(file, check=True) == 0


def test_without_a_choice_the_true_transcript_is_printed_and_the_file_stays(tmp_path: Path) -> None:
    out = io.StringIO()
    wrong = SAMPLE.replace("cleared.", "bathed.")
    file = written(tmp_path, wrong)
    assert run_replay(file, out=out) == 0
    assert out.getvalue() == SAMPLE
    assert file.read_text(encoding="utf-8") == wrong


@pytest.mark.parametrize("text", ["", "only prose\n", "[03:14] ines: pup 3 212 g\n", "--- 2026-03-02 Nowhere ---\n[03:14] ines: a\n"])
def test_what_cannot_be_run_ends_with_a_sentence_and_two(tmp_path: Path, text: str) -> None:
    err = io.StringIO()
    assert run_replay(written(tmp_path, text), check=True, err=err) == 2
    assert err.getvalue().strip()


def test_a_file_that_is_not_there_ends_with_a_sentence_and_two(tmp_path: Path) -> None:
    err = io.StringIO()
    assert run_replay(tmp_path / "none.txt", err=err) == 2
    assert "check the name" in err.getvalue()


def test_the_same_transcript_says_the_same_each_time(tmp_path: Path) -> None:
    file = FOLDER / "two_keepers.txt"
    first, second = io.StringIO(), io.StringIO()
    assert run_replay(file, as_json=True, out=first) == run_replay(file, as_json=True, out=second) == 0
    assert first.getvalue() == second.getvalue()
