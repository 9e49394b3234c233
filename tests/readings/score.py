"""Reads the labelled messages and prints how many are read as they were meant, and which are not.

python -m tests.readings.score                       the tuned part, shares by file
python -m tests.readings.score --show wrong          ... and every message that is silently wrong
python -m tests.readings.score --show all a_fed.jsonl
python -m tests.readings.score --held-out            the held-out part: shares only, unless --show
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from parsers import read
from tests.readings.corpus import HERE, Labelled, held_out_files, load, not_yet, tuned_files
from tests.readings.judge import VERDICTS, Verdict, judge

SHOWN: dict[str, tuple[Verdict, ...]] = {name: (name,) for name in VERDICTS if name != "exact"} | {
    "all": tuple(name for name in VERDICTS if name != "exact")
}


@dataclass(frozen=True)
class Scored:
    """One message, what became of it, and why that is not what was meant."""

    message: Labelled
    got: dict[str, Any]
    verdict: Verdict
    why: str


def score(message: Labelled) -> Scored:
    """Read one labelled message and judge the reading; a reader that raises has lost it."""
    try:
        reading = read(message.text, message.card(), now=message.moment(), by=message.by, last_who=message.last_who).as_json()
    except Exception as fault:  # noqa: BLE001 - whatever the reader raises is a finding, and the others still count
        return Scored(message, {"does": "raises", "events": []}, "lost", f"raises {type(fault).__name__}: {fault}")
    verdict, why = judge(message.want, reading)
    return Scored(message, reading, verdict, why)


def score_files(paths: list[Path]) -> list[Scored]:
    """Score every message of these files."""
    return [score(message) for message in load(paths)]


def shares(scored: list[Scored]) -> dict[Verdict, float]:
    """The share of each verdict, in percent."""
    counts = Counter(each.verdict for each in scored)
    return {verdict: 100 * counts[verdict] / max(1, len(scored)) for verdict in VERDICTS}


def table(scored: list[Scored]) -> str:
    """The shares by file and in all, as a text table."""
    files = sorted({each.message.file for each in scored})
    width = max([len(file) for file in files] + [8])
    lines = [f"{'file':<{width}} {'count':>6} " + " ".join(f"{verdict:>8}" for verdict in VERDICTS)]
    for name in [*files, "in all"]:
        part = [each for each in scored if name in ("in all", each.message.file)]
        lines.append(f"{name:<{width}} {len(part):>6} " + " ".join(f"{share:>7.1f}%" for share in shares(part).values()))
    return "\n".join(lines)


def _report(each: Scored, known: dict[tuple[str, str, str], str]) -> str:
    message = each.message
    clock = f" now {message.now}" if message.now else ""
    lines = [f"{message.place} {each.verdict}: {message.text!r} ({message.litter}{clock})", f"    {each.why}"]
    lines += [f"    want {json.dumps(message.want)}", f"    got  {json.dumps(each.got)}"]
    if message.rule:
        lines.append(f"    rule {message.rule}")
    if message.key in known:
        lines.append(f"    known: {known[message.key]}")
    return "\n".join(lines)


def main(arguments: list[str] | None = None) -> int:
    """Print the shares, and the messages asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.readings.score", description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("files", nargs="*", metavar="FILE", help="names in tests/readings, or paths; default: all of the tuned part")
    parser.add_argument("--held-out", action="store_true", help="measure the held-out part instead")
    parser.add_argument("--show", choices=sorted(SHOWN), help="print each message of this verdict with what was meant and read")
    wanted = parser.parse_args(arguments)
    paths = held_out_files() if wanted.held_out else tuned_files()
    if wanted.files:
        known_paths = {path.name: path for path in paths} | {path.stem: path for path in paths}
        paths = [known_paths.get(name) or _path(name) for name in wanted.files]
    try:
        scored = score_files(paths)
    except ValueError as wrong:
        print(wrong, file=sys.stderr)
        return 2
    if wanted.show:
        known = not_yet()
        for each in scored:
            if each.verdict in SHOWN[wanted.show]:
                print(_report(each, known), end="\n\n")
    print(table(scored))
    return 0


def _path(name: str) -> Path:
    path = Path(name) if Path(name).exists() else HERE / name
    if not path.exists():
        raise SystemExit(f"there is no file {name}: give one of {', '.join(each.name for each in tuned_files())}")
    return path.resolve()


if __name__ == "__main__":
    sys.exit(main())
