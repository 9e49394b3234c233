"""A command loads what it needs and no more."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

HEAVY = ("aiohttp", "apscheduler", "asyncio", "dateparser", "parsers", "pydantic", "segno", "sqlite_utils", "storage")

_RUN = """
import sys
from bot.__main__ import main
try:
    main(sys.argv[2:])
except SystemExit:
    pass
print("loaded", *(name for name in sys.argv[1].split(",") if name in sys.modules), file=sys.stderr)
"""


@pytest.mark.parametrize("command", [["--help"], ["--version"], ["say", "hi"], ["say", "-", "--json"], ["invite", "Theo"]])
def test_what_talks_to_a_running_bot_or_to_nobody_loads_no_room_of_the_bot(command: list[str], tmp_path: Path) -> None:
    environment = {"XDG_DATA_HOME": str(tmp_path), "PATH": ""}
    ran = subprocess.run(
        [sys.executable, "-c", _RUN, ",".join(HEAVY), *command],
        env=environment, cwd=Path(__file__).parents[2], input=b"", capture_output=True, check=True,
    )  # fmt: skip
    assert ran.stderr.decode().splitlines()[-1].strip() == "loaded"
