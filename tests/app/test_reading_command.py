"""`lampwatch read`: a reading for each line, and one sentence for what is wrong; like the help it loads no server and no database."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from bot.__main__ import main
from bot.app.read import load_card, read_lines
from bot.clock import now
from bot.settings import SetupError
from tests.app.served import ROOT, environment, run

LITTER = {
    "now": "2026-03-02T03:14:00-06:00",
    "zone": "America/Chicago",
    "weights_in": "g",
    "temperatures_in": "F",
    "born": "2026-03-01T09:40:00-06:00",
    "dam": {"names": ["Juniper", "mom"], "last_grams": 11800},
    "pups": [
        {"pup": 1, "names": ["blue"], "sex": "m", "last_grams": 205, "last_at": "2026-03-02T01:05:00-06:00"},
        {"pup": 2, "names": ["Olive"], "sex": "f", "last_grams": 188, "last_at": "2026-03-02T01:07:00-06:00"},
        {"pup": 3, "names": [], "last_grams": 210, "last_at": "2026-03-02T01:09:00-06:00"},
    ],
    "people": ["Ines", "Theo"],
}
HEAVY = ["aiohttp", "apscheduler", "sqlite3", "sqlite_utils", "segno", "storage"]


@pytest.fixture
def litter(tmp_path: Path) -> str:
    path = tmp_path / "litter.json"
    path.write_text(json.dumps(LITTER))
    return str(path)


def test_each_line_has_its_reading_in_order(litter: str) -> None:
    done = run("read", "--litter", litter, "--json", given="pup 3 212 g nursed 15 min cleared\nthanks!\nolive cleared")
    readings = [json.loads(line) for line in done.stdout.splitlines()]
    assert (done.returncode, done.stderr) == (0, "")
    assert [reading["text"] for reading in readings] == ["pup 3 212 g nursed 15 min cleared", "thanks!", "olive cleared"]
    assert readings[0] == {
        "text": "pup 3 212 g nursed 15 min cleared",
        "does": "log",
        "events": [
            {"kind": "weight", "who": 3, "grams": 212.0},
            {"kind": "nursed", "who": 3, "minutes": 15},
            {"kind": "cleared", "who": 3},
        ],
        "assumed": [],
        "unread": "",
    }
    assert readings[1]["does"] == "note"


def test_without_json_it_prints_the_same(litter: str) -> None:
    words = "pup 3 212 g\n"
    assert run("read", "--litter", litter, given=words).stdout == run("read", "--litter", litter, "--json", given=words).stdout


def test_a_line_of_json_sets_clock_sender_and_the_pup_named_last(litter: str) -> None:
    line = {"text": "212 at 2:50", "now": "2026-03-02T03:00:00-06:00", "by": "Ines", "last_who": 3}
    (reading,) = [json.loads(line) for line in run("read", "--litter", litter, given=json.dumps(line)).stdout.splitlines()]
    assert reading["does"] == "log"
    assert reading["events"][0]["who"] == 3
    assert reading["assumed"]


def test_a_plain_line_may_begin_like_json(litter: str) -> None:
    done = run("read", "--litter", litter, given='{pup 3 212 g}\n{"pup": 3}\n')
    assert [json.loads(line)["text"] for line in done.stdout.splitlines()] == ["{pup 3 212 g}", '{"pup": 3}']


@pytest.mark.parametrize("words", [b"\xff\xfe", b"\x00\x00", b"", b"\xe2\x80\xa8 pup 3", b'{"text": "\\ud800"}', b"[" * 5000])
def test_each_odd_line_has_one_line_of_answer(litter: str, words: bytes) -> None:
    answers = list(read_lines([words + b"\n", b"pup 3 212 g\r\n"], load_card(Path(litter)), now, steps=False))
    assert len(answers) == 2
    assert not any("\n" in answer for answer in answers)
    assert json.loads(answers[1])["text"] == "pup 3 212 g"


def test_explain_shows_the_steps(litter: str) -> None:
    done = run("read", "--litter", litter, "--explain", given="pup 3 212 g nursed 15 min cleared\n")
    assert done.returncode == 0
    assert len(done.stdout.splitlines()) > 3
    assert "212" in done.stdout


@pytest.mark.parametrize(
    ("file", "said"),
    [
        ("{", "invalid JSON"),
        ("[]", "object"),
        ('{"pups": [{}]}', "'pups.0.pup' is missing"),
        ('{"zone": "Mars/Olympus"}', "'Mars/Olympus', which is not known"),
        ('{"zone": "../etc"}', "which is not known"),
        ('{"born": "2026-03-01T09:40:00"}', "'born'"),
        ('{"colour": 3}', "there is no 'colour' in it"),
        ('{"weights_in": "stone"}', "'weights_in' should be"),
    ],
)
def test_what_is_wrong_with_a_litter_is_said_in_one_sentence(tmp_path: Path, file: str, said: str) -> None:
    path = tmp_path / "litter.json"
    path.write_text(file)
    with pytest.raises(SetupError) as fault:
        load_card(path)
    assert said in str(fault.value)
    assert str(path) in str(fault.value)
    assert "\n" not in str(fault.value)


def test_a_litter_that_is_not_there_ends_with_one_clear_sentence() -> None:
    done = run("read", "--litter", "/nowhere/litter.json")
    assert done.returncode == 2
    assert done.stderr == "The litter /nowhere/litter.json cannot be read (no such file or directory): check the name.\n"


@pytest.mark.parametrize(
    "line", ['{"text": "x", "now": "2026-03-02T03:14:00"}', '{"text": 3}', '{"text": "x", "who": 3}', '{"text": "x", "last_who": "blue"}']
)
def test_a_wrong_line_of_json_is_named(litter: str, line: str) -> None:
    answers = read_lines([b"pup 3 212 g\n", line.encode()], load_card(Path(litter)), now, steps=False)
    assert next(answers)
    with pytest.raises(SetupError, match=r"^Line 2 is not as it should be: ") as fault:
        next(answers)
    assert "\n" not in str(fault.value)


def test_a_wrong_line_ends_the_command_with_2_after_what_came_before_it(litter: str) -> None:
    done = run("read", "--litter", litter, given='pup 3 212 g\n{"text": 3}\n')
    assert (done.returncode, len(done.stdout.splitlines()), len(done.stderr.splitlines())) == (2, 1, 1)


def loaded_by(*arguments: str) -> set[str]:
    """The modules in memory after a command."""
    code = (
        "import atexit, sys\n"
        "atexit.register(lambda: print(*sys.modules, file=sys.stderr))\n"
        f"from bot.__main__ import main\nsys.exit(main({list(arguments)!r}))"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, input="", capture_output=True, text=True, env=environment(None))
    return set(done.stderr.split())


def test_the_help_loads_nothing_that_it_does_not_need() -> None:
    loaded = loaded_by("--help")
    assert "argparse" in loaded
    assert not loaded & {*HEAVY, "pydantic", "parsers", "dateparser"}


def test_reading_loads_no_server_no_scheduler_and_no_database(litter: str) -> None:
    loaded = loaded_by("read", "--litter", litter)
    assert "parsers" in loaded
    assert not loaded & set(HEAVY)


def test_saying_loads_no_server_no_scheduler_and_no_database(tmp_path: Path) -> None:
    assert not loaded_by("say", "pup 3 212", "--data", str(tmp_path)) & {*HEAVY, "parsers"}


@pytest.mark.parametrize("command", ["serve", "read", "replay", "say", "invite", "log", "doctor"])
def test_each_command_explains_itself(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main([command, "--help"])
    assert end.value.code == 0
    assert f"lampwatch {command}" in capsys.readouterr().out


@pytest.mark.parametrize(
    "arguments", [[], ["nonsense"], ["say"], ["read"], ["replay", "x", "--until", "2026-03-02"], ["replay", "x", "--check", "--json"]]
)
def test_a_command_line_that_is_none_ends_with_2(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main(arguments)
    assert end.value.code == 2
    assert capsys.readouterr().err


def test_the_version_is_told() -> None:
    done = run("--version")
    assert (done.returncode, done.stdout.split()[0].rstrip(",")) == (0, "lampwatch")
