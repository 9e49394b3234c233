"""Known misses of the reader: checks that fail until it is mended. One that passes by now fails the run: take it out of the list."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

LISTED = Path(__file__).parent / "not_yet.toml"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Expect each listed check to fail, for the reason that stands beside it."""
    known = {
        f"{file}::{name}": why for file, names in tomllib.loads(LISTED.read_text(encoding="utf-8")).items() for name, why in names.items()
    }
    for item in items:
        if item.path.parent == LISTED.parent and (why := known.get(f"{item.path.stem}::{item.name}")):
            drawn = hasattr(getattr(item, "obj", None), "hypothesis")  # its examples may miss the fault
            item.add_marker(pytest.mark.xfail(reason=why, strict=not drawn))
