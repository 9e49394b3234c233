"""What the bot said, held against what it had to say: each due care of each dog, each time."""

from __future__ import annotations

import tempfile
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field, fields
from datetime import datetime, timedelta
from pathlib import Path

from bot.conversation import Said
from tests.simulation.contract import Contract, Key, Must
from tests.simulation.machine import Machine
from tests.simulation.story import Who, story

LATE = timedelta(seconds=60)
_BY_THE_CLOCK = ("weighing", "dam check", "first milk")


@dataclass
class Counts:
    """The counts of one or several simulated litters."""

    due: int = 0
    said: int = 0
    missing: int = 0
    double: int = 0
    late: int = 0
    early: int = 0
    otherwise: int = 0
    """Said at another stage, or to someone else."""
    misread: int = 0
    clock_warnings: int = 0
    outages: int = 0
    restarts: int = 0
    suspends: int = 0
    clock_steps: int = 0
    faults: list[str] = field(default_factory=list)

    def add(self, other: Counts) -> None:
        """Count these too."""
        for one in fields(self):
            setattr(self, one.name, getattr(self, one.name) + getattr(other, one.name))

    def __str__(self) -> str:
        return ", ".join(f"{getattr(self, one.name):,} {one.name.replace('_', ' ')}" for one in fields(self) if one.name != "faults")


def simulate(seed: int, weeks: float = 4, *, thin: int = 1) -> Counts:
    """Run the bot through a story, and the contract, and compare."""
    told = story(seed, weeks)
    with tempfile.TemporaryDirectory() as folder:
        machine = Machine(told, Path(folder) / "lampwatch.db", thin)
        machine.run()
    contract = Contract(told, [(at, said.at) for at, said in machine.said if said.says == "warning"])
    contract.run()
    counts = Counts(outages=told.outages, restarts=told.restarts, suspends=told.suspends, clock_steps=told.clock_steps)
    counts.misread, counts.faults = len(machine.misread), [f"{seed}: misread {one}" for one in machine.misread]
    counts.clock_warnings = sum(said.about == "clock" for _, said in machine.said)
    _compare(contract.musts, [one for at, said in machine.said for one in _told(at, said)], counts, f"{seed}: ")
    return counts


def _told(at: datetime, said: Said) -> Iterator[Must]:
    """A nudge as the bot said it, taken apart by dog."""
    for who in said.who if said.says == "nudge" else ():
        values = said.values if len(said.who) == 1 else said.values[str(who)]
        since = values["due_at"] if said.about in _BY_THE_CLOCK else values["last_at"]
        yield Must(at, (str(said.about), who, datetime.fromisoformat(since)), str(said.urgency), said.to)


def _compare(musts: list[Must], told: list[Must], counts: Counts, seed: str) -> None:
    wanted, given = _by_key(musts), _by_key(told)
    counts.due, counts.said = len(musts), len(told)
    for key in sorted(wanted.keys() | given.keys(), key=lambda key: (key[2], key[0], str(key[1]))):
        must, did = wanted.get(key, []), given.get(key, [])
        if len(must) > len(did):
            counts.missing += len(must) - len(did)
        elif len(must) < len(did):
            counts.double += len(did) - len(must)
        pairs = list(zip(must, did, strict=False))
        late = sum(one.at - other.at > LATE for other, one in pairs)
        early = sum(other.at - one.at > LATE for other, one in pairs)
        otherwise = sum((one.urgency, one.to) != (other.urgency, other.to) for other, one in pairs)
        counts.late, counts.early, counts.otherwise = counts.late + late, counts.early + early, counts.otherwise + otherwise
        if len(must) != len(did) or late or early or otherwise:
            counts.faults.append(f"{seed}{key[0]} of {key[1]} since {key[2]:%m-%d %H:%M:%S}: must {_say(must)}; was {_say(did)}")


def _by_key(musts: list[Must]) -> dict[Key, list[Must]]:
    found: dict[tuple[str, Who, datetime], list[Must]] = defaultdict(list)
    for must in musts:
        found[must.key].append(must)
    return found


def _say(musts: list[Must]) -> str:
    return ", ".join(f"{one.at:%m-%d %H:%M:%S} {one.urgency} {one.to}" for one in musts) or "nothing"
