"""The same 200 held-out messages through this reader, through sentence templates (hassil) and through a grammar (lark)."""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from parsers import LitterCard, read
from tests.bench.comparison import grammar, templates
from tests.bench.figures import median, milliseconds, percentile
from tests.readings.corpus import Labelled, held_out_files, load
from tests.readings.judge import VERDICTS, judge

COUNT = 200
SEED = 7
Reads = Callable[[str, datetime, Any], dict[str, Any]]


@dataclass
class Rival:
    """One way of reading, with what came of it."""

    name: str
    build: Callable[[LitterCard], Reads]
    verdicts: list[str] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)
    build_seconds: list[float] = field(default_factory=list)

    def row(self) -> str:
        """One line of the table."""
        shares = " ".join(f"{100 * self.verdicts.count(verdict) / len(self.verdicts):>7.1f}%" for verdict in VERDICTS)
        p50, p99, build = median(self.seconds), percentile(self.seconds, 99), median(self.build_seconds)
        times = " ".join(f"{milliseconds(each):>9}" for each in (p50, p99, build))
        return f"{self.name:<28} {shares} {times}"


def _ours(card: LitterCard) -> Reads:
    return lambda text, now, last_who: read(text, card, now=now, last_who=last_who).as_json()


def compare() -> list[Rival]:
    """Read the same messages each way; what needs building for a litter is built once, and timed apart."""
    rivals = [
        Rival("lampwatch", _ours),
        Rival("sentence templates (hassil)", templates.reader),
        Rival("grammar (lark LALR)", grammar.reader),
    ]
    messages = sorted(load(held_out_files()), key=lambda message: message.key)
    chosen = random.Random(SEED).sample(messages, min(COUNT, len(messages)))
    for rival in rivals:
        _read_all(rival, chosen)
    return rivals


def _read_all(rival: Rival, messages: list[Labelled]) -> None:
    built: dict[str, Reads] = {}
    for message in messages:
        key = f"{message.litter} {message.last_logged}" if rival.name == "lampwatch" else message.litter
        if key not in built:
            started = time.perf_counter()
            built[key] = rival.build(message.card())
            built[key]("warm up", message.moment(), None)
            rival.build_seconds.append(time.perf_counter() - started)
        started = time.perf_counter()
        got = built[key](message.text, message.moment(), message.last_who)
        rival.seconds.append(time.perf_counter() - started)
        rival.verdicts.append(judge(message.want, {"unread": ""} | got)[0])


def report() -> str:
    """The table side by side."""
    head = f"{'':<28} " + " ".join(f"{verdict:>8}" for verdict in VERDICTS) + f" {'p50 ms':>9} {'p99 ms':>9} {'build ms':>9}"
    return "\n".join([head, *(rival.row() for rival in compare())])
