"""How long things take, beside their bars: `python -m tests.bench [read] [answer] [chart] [serve] [reach] [compare]` (none: all)."""

from __future__ import annotations

import argparse
import asyncio
import sys
from collections.abc import AsyncIterator

from tests.bench import answers, charts, comparison, reaching, reading, serving

PARTS = ("read", "answer", "chart", "serve", "reach", "compare")


async def _print(report: AsyncIterator[str]) -> bool:
    held = True
    async for each in report:
        print(each, flush=True)
        held = held and not each.endswith("OVER THE BAR")
    return held


def main() -> int:
    """Print the figures; exit code 1 where one is over its bar."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"which: {', '.join(PARTS)}")
    parts = parser.parse_args().parts or PARTS
    if unknown := set(parts) - set(PARTS):
        parser.error(f"there is no part {', '.join(sorted(unknown))}: choose from {', '.join(PARTS)}")
    held = True
    if "read" in parts:
        for each in reading.report():
            print(each, flush=True)
            held = held and not each.endswith("OVER THE BAR")
    if "answer" in parts:
        for each in answers.report():
            print(each, flush=True)
            held = held and not each.endswith("OVER THE BAR")
    if "chart" in parts:
        for each in charts.report():
            print(each, flush=True)
            held = held and not each.endswith("OVER THE BAR")
    if "serve" in parts:
        held = asyncio.run(_print(serving.report())) and held
    if "reach" in parts:
        held = asyncio.run(_print(reaching.report())) and held
    if "compare" in parts:
        print(f"\nthe same {comparison.COUNT} held-out messages, each way of reading (shares; time a message)")
        print(comparison.report(), flush=True)
    return 0 if held else 1


if __name__ == "__main__":
    sys.exit(main())
