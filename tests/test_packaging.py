"""The wheel is built, put into a bare environment, and reads a message there, with nothing of the checkout in sight."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import venv
import zipfile
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest

ROOT = Path(__file__).parent.parent
PACKAGES = ("bot", "parsers", "storage")
LITTER = {
    "now": "2026-03-02T03:14:00-06:00",
    "zone": "America/Chicago",
    "weights_in": "g",
    "born": "2026-03-01T09:40:00-06:00",
    "dam": {"names": ["Juniper", "mom", "dam"]},
    "pups": [{"pup": pup, "last_grams": 205.0 + pup, "last_at": "2026-03-02T01:05:00-06:00"} for pup in (1, 2, 3)],
    "people": ["Ines"],
}


def _environment() -> dict[str, str]:
    """An environment that knows nothing of this checkout."""
    return {key: value for key, value in os.environ.items() if not key.startswith("PYTHON") and key != "VIRTUAL_ENV"}


def _run(command: list[str | Path], *, cwd: Path, words: str = "") -> str:
    """Run a command and give what it printed."""
    done = subprocess.run(command, cwd=cwd, env=_environment(), input=words, capture_output=True, text=True, timeout=600, check=False)
    assert done.returncode == 0, f"{command} ended with {done.returncode}:\n{done.stdout}\n{done.stderr}"
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    _run([sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", folder, ROOT], cwd=folder)
    (built,) = folder.glob("lampwatch-*.whl")
    return built


@pytest.fixture(scope="module")
def bare(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of commands of an environment that holds the wheel and what it asks for, nothing else."""
    folder = tmp_path_factory.mktemp("bare")
    venv.create(folder, with_pip=True)
    _run([folder / "bin" / "python", "-m", "pip", "install", "--quiet", "--disable-pip-version-check", wheel], cwd=folder)
    return folder / "bin"


def test_the_wheel_holds_the_three_packages_and_every_data_file_of_theirs(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    ours = {
        path.relative_to(ROOT).as_posix()
        for package in PACKAGES
        for path in (ROOT / package).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert ours
    assert ours - names == set()


def test_the_wheel_carries_the_demo_transcripts_and_no_tests(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    transcripts = {f"bot/{path.relative_to(ROOT).as_posix()}" for path in (ROOT / "demo_transcripts").rglob("*.txt")}
    assert transcripts
    assert transcripts - names == set()
    assert {name.split("/")[0] for name in names if ".dist-info/" not in name} == set(PACKAGES)


def test_a_message_is_read_in_a_bare_environment(bare: Path, tmp_path: Path) -> None:
    (tmp_path / "litter.json").write_text(json.dumps(LITTER), encoding="utf-8")
    printed = _run(
        [bare / "lampwatch", "read", "--litter", "litter.json", "--json"], cwd=tmp_path, words="pup 3 212 g nursed 15 min cleared\n"
    )
    reading = json.loads(printed)
    assert reading["does"] == "log"
    assert {event["kind"] for event in reading["events"]} == {"weight", "nursed", "cleared"}
    assert reading["unread"] == ""


def test_a_shipped_transcript_is_replayed_in_a_bare_environment(bare: Path, tmp_path: Path) -> None:
    find = "import bot, pathlib; print(*sorted((pathlib.Path(bot.__file__).parent / 'demo_transcripts').rglob('*.txt')), sep='\\n')"
    shipped = _run([bare / "python", "-c", find], cwd=tmp_path).splitlines()
    assert shipped
    _run([bare / "lampwatch", "replay", shipped[0], "--check"], cwd=tmp_path)


def test_the_bare_environment_holds_no_tool_of_the_tests(bare: Path, tmp_path: Path) -> None:
    listed = {line.split("==")[0].lower() for line in _run([bare / "python", "-m", "pip", "freeze"], cwd=tmp_path).splitlines()}
    assert listed & {"pytest", "hypothesis", "hassil", "lark", "playwright", "mypy"} == set()


def test_the_first_line_of_the_readme_gives_a_page_that_answers(tmp_path: Path) -> None:
    line = re.search(r"^    (python3 -m venv .*lampwatch serve)$", (ROOT / "README.md").read_text(encoding="utf-8"), re.M)
    assert line
    checkout = tmp_path / "checkout"
    shutil.copytree(
        ROOT, checkout, ignore=shutil.ignore_patterns(".venv", ".git", "__pycache__", ".*_cache", ".hypothesis", "lampwatch-bench-*")
    )
    command = f"{line[1]} --data '{tmp_path}/data' --port 0"
    bot = subprocess.Popen(
        ["bash", "-c", command], cwd=checkout, env=_environment(), stdout=subprocess.PIPE, text=True, start_new_session=True
    )
    assert bot.stdout is not None
    try:
        address = next(found[0] for printed in bot.stdout if (found := re.search(r"http://[\w.:\[\]]+\d", printed)))
        with pytest.raises(HTTPError, match="401") as answer:
            urlopen(address, timeout=10)
        assert "This device has not joined." in answer.value.read().decode()
    finally:
        os.killpg(bot.pid, signal.SIGINT)
        bot.wait(10)
        bot.stdout.close()
