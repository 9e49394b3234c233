"""The data home is where the log is kept as a rule; it is found without loading the settings, which take longer than a message."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

FILE_NAME = "lampwatch.toml"
"""The settings file that is read from the data directory where no other is named."""


class SetupError(Exception):
    """The bot cannot start as it is set up; the message is one sentence for the person: what is wrong and what to do."""


def data_home(environ: Mapping[str, str] = os.environ) -> Path:
    """The user's own data directory for lampwatch: under `XDG_DATA_HOME`, else under `~/.local/share`."""
    base = environ.get("XDG_DATA_HOME", "")
    home = Path(base) if base and Path(base).is_absolute() else Path("~/.local/share").expanduser()
    return home / "lampwatch"
