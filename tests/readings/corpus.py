"""The labelled messages: what a keeper wrote, for which litter, and what it means by the reading contract."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from parsers import LitterCard

HERE = Path(__file__).parent
NOT_YET = HERE / "not_yet.jsonl"
"""Messages that are known to be read otherwise than they are meant, each with the reason."""
MESSAGE_KEYS = {"litter", "text", "now", "by", "last_who", "last_logged", "note", "want"}
WANT_KEYS = {"does", "events", "about", "fix", "setup", "unread", "options"}


@dataclass(frozen=True)
class Labelled:
    """One message, with what it means."""

    file: str
    line: int
    litter: str
    text: str
    want: dict[str, Any]
    now: str | None
    by: str | None
    last_who: Any
    last_logged: dict[str, Any] | None
    rule: str

    @property
    def key(self) -> tuple[str, str, str]:
        """What tells one message from all others: the litter, the words, the moment if it is its own."""
        return (self.litter, self.text, self.now or "")

    @property
    def place(self) -> str:
        """File and line, for a report."""
        return f"{self.file}:{self.line}"

    def card(self) -> LitterCard:
        """The litter as it stands when this message comes."""
        return _with_last_logged(self.litter, json.dumps(self.last_logged) if self.last_logged else None)

    def moment(self) -> datetime:
        """When this message comes: its own `now`, or the litter's."""
        if self.now:
            return datetime.fromisoformat(self.now)
        now = self.card().now
        if now is None:
            raise ValueError(f"{self.place}: neither the message nor the litter {self.litter} has a `now`: give one of them")
        return now


@cache
def _litter(name: str) -> str:
    path = HERE / "litters" / f"{name}.json"
    if not path.exists():
        raise ValueError(f"there is no litter {name!r}: write {path.relative_to(HERE.parent.parent)}")
    return path.read_text(encoding="utf-8")


@cache
def _with_last_logged(name: str, last_logged: str | None) -> LitterCard:
    plain = json.loads(_litter(name))
    if last_logged:
        plain["last_logged"] = json.loads(last_logged)
    return LitterCard.model_validate(plain)


def tuned_files() -> list[Path]:
    """The files that the reader may be tuned on."""
    return sorted(path for path in HERE.glob("*.jsonl") if path != NOT_YET)


def held_out_files() -> list[Path]:
    """The files that are looked at only to measure."""
    return sorted((HERE / "held_out").glob("*.jsonl"))


def load(paths: list[Path]) -> Iterator[Labelled]:
    """Every message of these files in order; a line that is not as it should be raises ValueError with its place."""
    for path in paths:
        name = str(path.relative_to(HERE)) if path.is_relative_to(HERE) else path.name
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
            if line.strip():
                yield _labelled(name, number, line)


def _labelled(file: str, number: int, line: str) -> Labelled:
    try:
        plain = json.loads(line)
    except json.JSONDecodeError as wrong:
        raise ValueError(f"{file}:{number} is not JSON: {wrong}") from wrong
    odd = sorted(set(plain) - MESSAGE_KEYS) + sorted(f"want.{key}" for key in set(plain.get("want", {})) - WANT_KEYS)
    missing = {"litter", "text", "want"} - set(plain)
    if odd or missing or "does" not in plain["want"]:
        raise ValueError(f"{file}:{number}: unknown keys {odd}, missing keys {sorted(missing)}, or no `does` in `want`")
    return Labelled(
        file=file,
        line=number,
        litter=plain["litter"],
        text=plain["text"],
        want=plain["want"],
        now=plain.get("now"),
        by=plain.get("by"),
        last_who=plain.get("last_who"),
        last_logged=plain.get("last_logged"),
        rule=plain.get("note", ""),
    )


def not_yet() -> dict[tuple[str, str, str], str]:
    """The known misses: each message's key with the reason why it is not read yet."""
    if not NOT_YET.exists():
        return {}
    lines = [json.loads(line) for line in NOT_YET.read_text(encoding="utf-8").splitlines() if line.strip()]
    return {(line["litter"], line["text"], line.get("now") or ""): line["why"] for line in lines}
