"""A journal in memory and one in a file: what holds for one must hold for the other."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from storage import Journal
from tests.storage.told import NIGHT, Fact, open_journal


@pytest.fixture(params=["in memory", "in a file"])
def journal(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Journal[Fact]]:
    opened = open_journal(None if request.param == "in memory" else tmp_path / "log.db")
    yield opened
    opened.close()


@pytest.fixture
def litter(journal: Journal[Fact]) -> int:
    return journal.register.add_litter("Juniper", NIGHT)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "log.db"
