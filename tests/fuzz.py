"""Fuzzing the reader: `python -m tests.fuzz --minutes 10`; no message may raise, break the contract's shape, or take longer than the bar.

With atheris (the extra `fuzz`) the bytes are guided by which lines of the reader they reach; without it they are drawn at random.
Guiding makes the reader several times slower, so a message that is over the bar is timed again by a process without it: its time counts.
What fails is printed with its litter, shortest first, and the exit code is 1. The same seed draws the same messages.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import subprocess
import sys
import time
import traceback
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cache

from parsers import LitterCard, Reading, read
from parsers.lexicon import lexicon, trade_words
from tests.parsers.litters import HOUSES, NOW
from tests.readings.corpus import load, tuned_files

BAR_SECONDS = 0.05
"""CPU time for a message of up to 5,000 words (the bar of a ramble); most take a hundredth of it."""
TIMES = 5
"""How often a message over the bar is timed again: the first of a sort makes patterns ready, and a machine has other things to do."""
WORDS_AT_MOST = 400
GLUE = [" ", " ", " ", " ", ", ", ". ", "\n", "", "-", ": ", "? ", "'s "]
MARKS = [*",.?!:;-/()#%@'\"½°…\n\0🐶", "\u202e", "\u200b", "e\u0301"]
FIGURES = (
    "0 1 2 3 5 12 212 2124 3212 7.4 7,4 2:31 25:99 1/2 212g 7oz 1lb 96.4 1e9 99999999999999 to for won oh two twelve hundred point half"
).split()
SUBJECTS = "pup p3 #3 blue olive pip mom juniper all both he she them rest others but except".split()
LASTS: list[int | str | None] = [None, 1, 3, "dam", 99]


@dataclass
class Found:
    """What went wrong so far: one message for each way of failing, the shortest."""

    failures: dict[str, tuple[str, str, str]] = field(default_factory=dict)
    messages: int = 0
    slowest: tuple[float, str] = (0.0, "")

    def failed(self, how: str, text: str, house: str, more: str) -> None:
        kept = self.failures.get(how)
        if kept is None or len(text) < len(kept[0]):
            self.failures[how] = (text, house, more)

    def report(self) -> str:
        lines = [f"{self.messages:,} messages; the slowest took {self.slowest[0] * 1000:.1f} ms: {self.slowest[1][:120]!r}"]
        for how, (text, house, more) in sorted(self.failures.items(), key=lambda each: len(each[1][0])):
            lines += [f"\n{how}", f"  message {text!r}", f"  litter  {house}", *(f"  {line}" for line in more.splitlines()[-6:])]
        return "\n".join([*lines, "", f"{len(self.failures)} ways of failing" if self.failures else "nothing failed"])


class Writer:
    """Writes messages from a source of choices: messages of the corpus, words of the trade, marks, figures, and any characters."""

    def __init__(self, choose: Callable[[int], int]) -> None:
        self._choose = choose
        self._messages = [message.text for message in load(tuned_files())]
        self._words = sorted(lexicon().known | trade_words())
        self._pools: list[Sequence[str]] = [self._words, self._words, FIGURES, SUBJECTS, MARKS, self._messages]

    def message(self) -> str:
        """One message: words at random, or a message of the corpus with words put in, left out and slipped."""
        count = [1, 3, 8, 20, WORDS_AT_MOST][self._choose(5)]
        if self._choose(2):
            words = self._messages[self._choose(len(self._messages))].split(" ")
            for _ in range(1 + self._choose(4)):
                self._change(words)
        else:
            words = [self._word() for _ in range(1 + self._choose(count))]
        return "".join(word + GLUE[self._choose(len(GLUE))] for word in words)

    def _word(self) -> str:
        pool = self._choose(len(self._pools) + 1)
        if pool == len(self._pools):
            return chr([0x80, 0x300, 0x2FFF, 0xD7FF, 0x1F9FF][self._choose(5)] - self._choose(0x80))
        return self._pools[pool][self._choose(len(self._pools[pool]))]

    def _change(self, words: list[str]) -> None:
        place = self._choose(len(words) + 1)
        how = self._choose(4)
        if how == 0 or place == len(words):
            words.insert(place, self._word())
        elif how == 1:
            words[place : place + 1] = [words[place]] * (1 + self._choose(3))
        elif how == 2:
            word = words[place]
            at = self._choose(len(word) + 1)
            words[place] = word[:at] + word[at + 1 :]
        else:
            words[place : place + 2] = reversed(words[place : place + 2])


def check(text: str, house: str, card: LitterCard, last_who: int | str | None, found: Found) -> None:
    """Read one message and note what is wrong with its reading."""
    found.messages += 1
    started = time.process_time()
    try:
        reading = read(text, card, now=NOW, by="Ines", last_who=last_who)  # type: ignore[arg-type]
        seconds = time.process_time() - started
        json.dumps(reading.as_json(), allow_nan=False)
    except Exception as error:  # noqa: BLE001 - any exception at all is what is looked for
        place = traceback.extract_tb(error.__traceback__)[-1]
        found.failed(f"{type(error).__name__} in {place.name}, {place.filename.rpartition('/')[2]}", text, house, traceback.format_exc())
        return
    if seconds > BAR_SECONDS:
        seconds = _plain_seconds(text, house, last_who)
    if seconds > found.slowest[0]:
        found.slowest = (seconds, text)
    if seconds > BAR_SECONDS:
        found.failed("over the bar of time", text, house, f"{seconds * 1000:.0f} ms")
    wrong = _wrong(reading, text)
    if wrong:
        found.failed(wrong, text, house, json.dumps(reading.as_json()))


def best_seconds(text: str, house: str, last_who: int | str | None) -> float:
    """The CPU time that a message takes in this process, the best of a few."""
    best = float("inf")
    for _ in range(TIMES):
        started = time.process_time()
        read(text, HOUSES[house], now=NOW, by="Ines", last_who=last_who)  # type: ignore[arg-type]
        best = min(best, time.process_time() - started)
    return best


@cache
def _timekeeper() -> subprocess.Popen[str]:
    """A process that reads messages as everyone's does, with nothing watching it, and answers each with its time."""
    return subprocess.Popen([sys.executable, "-m", "tests.fuzz", "--keep-time"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)


def _plain_seconds(text: str, house: str, last_who: int | str | None) -> float:
    keeper = _timekeeper()
    assert keeper.stdin is not None
    assert keeper.stdout is not None
    print(json.dumps([text, house, last_who]), file=keeper.stdin, flush=True)
    return float(keeper.stdout.readline())


def _keep_time() -> int:
    for line in sys.stdin:
        print(best_seconds(*json.loads(line)), flush=True)  # noqa: T201 - the answer
    return 0


def _wrong(reading: Reading, text: str) -> str:
    """What of the contract's shape a reading breaks; empty for nothing."""
    if reading.text != text:
        return "the text is not the message"
    if reading.does == "check" and not reading.why:
        return "a check without its reason"
    if reading.does == "log" and not reading.events:
        return "a log of nothing"
    if reading.does == "note" and [event.kind for event in reading.events] != ["note"]:
        return "a note that is not one note"
    if reading.options and reading.options[0] != reading.events:
        return "the events are not the first option"
    return ""


def main(arguments: Sequence[str] | None = None) -> int:
    """Fuzz for some minutes and print what was found; 1 where anything failed."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("--minutes", type=float, default=10)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--plain", action="store_true", help="draw at random, also where atheris is installed")
    parser.add_argument("--keep-time", action="store_true", help="time the messages of the standard input, a line of JSON each")
    asked = parser.parse_args(arguments)
    if asked.keep_time:
        return _keep_time()
    found = Found()
    guided = None if asked.plain else _guided()
    if guided is not None:
        guided(found, asked.minutes, asked.seed)
    until = time.monotonic() + asked.minutes * 60
    draw = random.Random(asked.seed)
    writer = Writer(draw.randrange)
    while time.monotonic() < until:
        _one(writer, draw.randrange, found)
    return _end(found)


def _end(found: Found) -> int:
    print(found.report(), flush=True)  # noqa: T201 - a report is printed
    return 1 if found.failures else 0


def _one(writer: Writer, choose: Callable[[int], int], found: Found) -> None:
    house = sorted(HOUSES)[choose(len(HOUSES))]
    check(writer.message(), house, HOUSES[house], LASTS[choose(len(LASTS))], found)


def _guided() -> Callable[[Found, float, int], None] | None:
    """The run with atheris, which never returns; None where atheris is not installed."""
    try:
        import atheris
    except ImportError:
        return None

    def run(found: Found, minutes: float, seed: int) -> None:
        source: list[atheris.FuzzedDataProvider] = []

        def choose(choices: int) -> int:
            return int(source[-1].ConsumeIntInRange(0, choices - 1))

        writer = Writer(choose)

        def one(data: bytes) -> None:
            if time.monotonic() > until:
                os._exit(_end(found))  # the fuzzer itself would end without a report
            source[:] = [atheris.FuzzedDataProvider(data)]
            _one(writer, choose, found)

        atheris.instrument_all()  # takes half a minute, which is not fuzzing
        until = time.monotonic() + minutes * 60
        atheris.Setup([sys.argv[0], f"-seed={seed}", "-max_len=2000", "-len_control=0", "-verbosity=0"], one)
        atheris.Fuzz()

    return run


if __name__ == "__main__":
    sys.exit(main())
