"""How long one message takes to read: the whole corpus, a ramble of 5,000 words, and how the time grows with length."""

from __future__ import annotations

import time
from collections.abc import Iterator

from parsers import LitterCard, read
from tests.bench.figures import line, median, milliseconds, percentile
from tests.readings.corpus import held_out_files, load, tuned_files

ROUNDS = 5
P50_SECONDS = 0.0005
P99_SECONDS = 0.003
RAMBLE_WORDS = 5_000
RAMBLE_SECONDS = 0.050
ODD = {
    "100 kB without a space": "a" * 100_000,
    "1,000 bytes of NUL": "\0" * 1000,
    "1,000 emoji": "🐕" * 1000,
    "1,000 words from right to left": "שלום " * 1000,
    "1,000 numbers": "7 " * 1000,
}
ODD_SECONDS = 0.100
GROWTH_AT_MOST = 2.6
"""Twice the words may take this many times as long, and still be called linear: the rest is noise of short measurements."""


def report() -> Iterator[str]:
    """The figures of reading, a line each."""
    messages = list(load(tuned_files() + held_out_files()))
    cases = [(message.text, message.card(), message.moment(), message.by, message.last_who) for message in messages]
    for text, card, now, by, last_who in cases:
        read(text, card, now=now, by=by, last_who=last_who)
    best = [float("inf")] * len(cases)
    every: list[float] = []
    for _ in range(ROUNDS):
        for index, (text, card, now, by, last_who) in enumerate(cases):
            started = time.perf_counter()
            read(text, card, now=now, by=by, last_who=last_who)
            taken = time.perf_counter() - started
            best[index] = min(best[index], taken)
            every.append(taken)
    p50, p99 = median(every), percentile(every, 99)
    yield line(f"read, p50 of {len(cases)} messages x {ROUNDS} (ms)", milliseconds(p50), "< 0.5", held=p50 < P50_SECONDS)
    yield line("read, p99 (ms)", milliseconds(p99), "< 3", held=p99 < P99_SECONDS)
    slowest = max(range(len(cases)), key=best.__getitem__)
    yield line(f"... the slowest, best of its rounds: {messages[slowest].place} (ms)", milliseconds(best[slowest]))
    yield from _rambles(cases[0][1])
    for name, text in ODD.items():
        started = time.perf_counter()
        read(text, cases[0][1], now=cases[0][2])
        taken = time.perf_counter() - started
        yield line(f"read, {name} (ms)", milliseconds(taken), "< 100", held=taken < ODD_SECONDS)


def _rambles(card: LitterCard) -> Iterator[str]:
    messages = [message for message in load(tuned_files()) if message.card() is card] or list(load(tuned_files()))
    words = " ".join(message.text for message in messages).split()
    words *= 1 + RAMBLE_WORDS // len(words)
    now = messages[0].moment()
    times = {}
    for count in (RAMBLE_WORDS // 4, RAMBLE_WORDS // 2, RAMBLE_WORDS):
        text = " ".join(words[:count])
        taken = []
        for _ in range(3):
            started = time.perf_counter()
            read(text, messages[0].card(), now=now)
            taken.append(time.perf_counter() - started)
        times[count] = min(taken)
    ramble = times[RAMBLE_WORDS]
    yield line(f"read, a ramble of {RAMBLE_WORDS} words (ms)", milliseconds(ramble), "< 50", held=ramble < RAMBLE_SECONDS)
    growth = (ramble / times[RAMBLE_WORDS // 4]) ** 0.5
    yield line("... each doubling of its words takes", f"{growth:.2f} x", "linear: 2", held=growth < GROWTH_AT_MOST)
