"""`lampwatch figures` lists every number of the care; a wrong one stops the bot with one clear sentence."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from bot.__main__ import main
from bot.care.figures import every_file

ROOT = Path(__file__).parents[2]


def test_every_figure_is_listed_with_its_days_its_status_and_its_source(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["figures", "--json"]) == 0
    listed = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [(one["file"], one["name"]) for one in listed] == [
        (file.file, name) for file in every_file() for name, rows in file.items() for _ in rows
    ]
    first = next(one for one in listed if one["name"] == "nursing_interval")
    assert (first["value"], first["unit"], first["from_day"], first["to_day"], first["status"]) == (120, "min", 0, 6, "found")
    assert first["source"][0].startswith("UC Davis")


def test_in_words_the_sources_stand_at_the_end(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["figures"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert (
        "  early loss: -4 % of the birth weight · found [mila15] · Growth from birth to day 2 at or below this went with more deaths."
        in lines
    )
    assert any(line.startswith("  [mila15] Mila H et al. 2015") for line in lines[lines.index("sources") :])


@pytest.mark.parametrize("command", ["serve", "figures"])
def test_a_wrong_figure_stops_the_bot_with_one_sentence_that_names_it(command: str, tmp_path: Path) -> None:
    shutil.copytree(ROOT / "bot", tmp_path / "bot")
    for package in ("parsers", "storage"):
        (tmp_path / package).symlink_to(ROOT / package)
    growth = tmp_path / "bot" / "care" / "figures" / "growth.toml"
    growth.write_text(growth.read_text(encoding="utf-8").replace("value = -4.0", 'value = "four"'), encoding="utf-8")
    more = ["--data", str(tmp_path / "data"), "--port", "0"] if command == "serve" else []
    ran = subprocess.run(
        [sys.executable, "-m", "bot", command, *more], cwd=tmp_path, capture_output=True, check=False, text=True, timeout=60
    )
    assert ran.returncode == 2
    assert ran.stderr.startswith("figures/growth.toml [early_loss] value: ")
    assert len(ran.stderr.splitlines()) == 1
