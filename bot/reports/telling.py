"""Telling is what happened in a stretch of time, said line by line; where there is nothing to tell there is no line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from bot.care.doing import Doing
from bot.care.nursery import Nursery
from bot.care.wording import say_list, say_time
from bot.reports.happened import Happened
from parsers.events import Who
from parsers.events.note import Note

_SHOWN = 6
"""How many things of a kind one line lists."""
_TIMES = {1: "once", 2: "twice"}


@dataclass(frozen=True, slots=True)
class Telling:
    """Says what happened to these pups, and to the dam where she is asked about."""

    nursery: Nursery
    found: Happened
    pups: Sequence[int]
    dam: bool
    now: datetime

    def who_logged(self) -> str:
        """How many entries each person made: `Theo logged 46 and Ana 3`."""
        said = [f"{by} logged {count}" if place == 0 else f"{by} {count}" for place, (by, count) in enumerate(self.found.by.most_common())]
        return f"{say_list(said)}." if said else "nothing was logged."

    def births_and_deaths(self) -> list[str]:
        """The hardest news, and the best."""
        everyone = len(self.pups) == len(self.nursery.living)
        whos = [who for who in self.found.dogs if who is not None and (everyone or who in self.pups)]
        said = [f"{self.nursery.called(who)} died {self._when(done)}" for who, done in self._all(whos, "died")]
        said += [f"{self.nursery.called(who)} was born {self._when(done)}" for who, done in self._all(whos, "born")]
        return _line("", said)

    def signs(self) -> list[str]:
        """Signs, with their times."""
        return self._listed("Seen", self._all([*self.pups, *self._dams], "sign"))

    def feeds(self) -> list[str]:
        """How often each was nursed, who declined, and what was fed by hand."""
        if not self.pups:
            return []
        nursed = self._by_times(lambda who: self.found.tally(who).times["nursed"], none="not")
        declined = self._by_times(lambda who: self.found.tally(who).times["refused"])
        by_hand = [
            f"{self.nursery.called(who)} {tally.ml:g} ml in {tally.times['fed']} feed{'s' if tally.times['fed'] > 1 else ''}"
            for who in self.pups
            if (tally := self.found.tally(who)).times["fed"]
        ]
        return [" ".join([*_line("Nursed", nursed), *_line("Declined", declined), *_line("By hand", by_hand)])]

    def passed(self) -> list[str]:
        """Who passed stool and urine, and who neither."""
        if not any(self.found.tally(who).times["toilet"] for who in self.pups):
            return []
        stool = [who for who in self.pups if self.found.tally(who).times["stool"]]
        urine = [who for who in self.pups if self.found.tally(who).times["urine"]]
        neither = [who for who in self.pups if who not in {*stool, *urine}]
        parts = [f"{what} {self._whose(whos)}" for what, whos in (("stool", stool), ("urine", urine), ("neither", neither)) if whos]
        return _line("Passed", parts)

    def temperatures(self) -> list[str]:
        """The last temperature of each pup that was taken."""
        last = {who: taken[-1] for who in self.pups if (taken := self.found.tally(who).timed.get("temperature"))}
        return _line("Temperatures", [f"{self.nursery.called(who)} {self._said(done).removeprefix('temp ')}" for who, done in last.items()])

    def given(self) -> list[str]:
        """Every dose, with its time; of the dam, what she ate and her temperatures too."""
        hers = self._all(self._dams, "dose", "intake", "temperature")
        return self._listed("Given", self._all(self.pups, "dose")) + self._listed(self.nursery.dam.called, hers, named=False)

    def the_rest(self) -> list[str]:
        """Where pups were put last, the last of the box, of who came, and of the notes."""
        placed = [done for _, done in self._all(self.pups, "placed")][-1:]
        around = self.found.tally(None).timed
        last = [around[kind][-1] for kind in ("climate", "visitor", "note") if kind in around]
        return _line("Last", [self._said(done) for done in (*placed, *last)])

    @property
    def _dams(self) -> tuple[Who, ...]:
        return ("dam",) if self.dam else ()

    def _all(self, whos: Iterable[Who], *kinds: str) -> list[tuple[Who, Doing]]:
        return sorted(
            ((who, done) for who in whos for kind in kinds for done in self.found.tally(who).timed.get(kind, ())),
            key=lambda each: each[1].began,
        )

    def _listed(self, heading: str, done: Sequence[tuple[Who, Doing]], *, named: bool = True) -> list[str]:
        """Each with its time, and whose it is; the last of them where there are too many."""
        earlier = [f"{len(done) - _SHOWN} earlier"] if len(done) > _SHOWN else []
        shown = [f"{f'{self.nursery.called(who)} ' if named else ''}{self._said(one)}" for who, one in done[-_SHOWN:]]
        return _line(heading, [*earlier, *shown])

    def _by_times(self, count: Callable[[Who], int], *, none: str = "") -> list[str]:
        """`not Pup 4`, `once Pup 3`, `4 times Pups 1 and 2`: those of the same count together, the fewest first."""
        counts: dict[int, list[Who]] = {}
        for who in self.pups:
            counts.setdefault(count(who), []).append(who)
        words = {0: none} | _TIMES
        told = ((words.get(times, f"{times} times"), whos) for times, whos in sorted(counts.items()))
        return [f"{often} {self._whose(whos)}" for often, whos in told if often]

    def _whose(self, whos: Sequence[Who]) -> str:
        return "all" if len(whos) == len(self.pups) > 1 else self.nursery.together(whos)

    def _said(self, done: Doing) -> str:
        said = f"“{done.event.text}”" if isinstance(done.event, Note) else done.event.say(self.nursery.units)
        return f"{said} {self._when(done)}"

    def _when(self, done: Doing) -> str:
        return say_time(done.began, self.now, self.nursery.zone)


def _line(heading: str, parts: Sequence[str]) -> list[str]:
    return [f"{f'{heading}: ' if heading else ''}{'; '.join(parts)}."] if parts else []
