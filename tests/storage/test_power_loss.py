"""A program that is killed in the middle of writing loses nothing that it had acknowledged, and leaves no half of a message."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

import storage
from storage.backup import problems
from tests.storage.told import open_journal

HOME = Path(storage.__file__).parents[1]


@pytest.mark.parametrize("acknowledged_before_the_kill", [1, 57, 1200])
def test_a_kill_in_the_middle_loses_no_acknowledged_row(path: Path, acknowledged_before_the_kill: int) -> None:
    writer = subprocess.Popen([sys.executable, "-m", "tests.storage.steady_writer", str(path)], cwd=HOME, stdout=subprocess.PIPE, text=True)
    assert writer.stdout is not None
    with writer, writer.stdout as said:
        acknowledged = [int(said.readline()) for _ in range(acknowledged_before_the_kill)]
        writer.kill()
        acknowledged += [int(line) for line in said.read().splitlines() if line]
    last = acknowledged[-1]
    assert list(range(1, last + 1)) == acknowledged

    assert problems(path) == []
    journal = open_journal(path)
    texts = [line.text for line in journal.history(1, limit=10**6)]
    kept = len(texts) // 2
    assert kept in (last, last + 1), "more than the one message in flight differs"
    assert [f"{what} {n}" for n in range(1, kept + 1) for what in ("message", "reply")] == texts
    assert dict.fromkeys(range(1, kept + 1), 2) == Counter(entry.event.who for entry in journal.entries(1))
    journal.close()
