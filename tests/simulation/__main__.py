"""A long run by hand: `python -m tests.simulation --weeks 4 --seeds 20`; prints the counts, and the first of what differs."""

from __future__ import annotations

import argparse
import sys
import time

from tests.simulation.compare import Counts, simulate


def main() -> int:
    """Simulate so many litters; 1 where anything differs."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulation", description=__doc__)
    parser.add_argument("--weeks", type=float, default=4)
    parser.add_argument("--seeds", type=int, default=20)
    parser.add_argument("--first", type=int, default=0, help="the first seed")
    parser.add_argument("--thin", type=int, default=1, help="make one sweep in so many while all is well")
    parser.add_argument("--show", type=int, default=20, help="how many differences to show")
    asked = parser.parse_args()
    counts = Counts()
    for seed in range(asked.first, asked.first + asked.seeds):
        began = time.process_time()
        one = simulate(seed, asked.weeks, thin=asked.thin)
        counts.add(one)
        print(f"seed {seed}, {time.process_time() - began:.0f} s: {one}", flush=True)
    print(f"\nall: {counts}", *counts.faults[: asked.show], sep="\n")
    return 1 if counts.faults else 0


if __name__ == "__main__":
    sys.exit(main())
