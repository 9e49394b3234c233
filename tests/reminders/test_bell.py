"""The bell rings at the moment it is told, however late, and holds no facts."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta

from bot.clock import now
from bot.reminders import Bell

SOON = timedelta(milliseconds=30)
PATIENCE = 5.0
"""Seconds; a bell that works rings in a fraction of one."""


class Ringing:
    """Counts the rings, and gives the moments at which to ring, one after the other."""

    def __init__(self, *moments: datetime | None) -> None:
        self.rings = 0
        self._moments = list(moments)
        self._rung = asyncio.Event()

    async def ring(self) -> None:
        self.rings += 1
        self._rung.set()

    def next_moment(self) -> datetime | None:
        return self._moments.pop(0) if self._moments else None

    async def until(self, rings: int) -> None:
        while self.rings < rings:
            self._rung.clear()
            await asyncio.wait_for(self._rung.wait(), PATIENCE)


@contextmanager
def started(
    ring: Callable[[], Awaitable[None]], next_moment: Callable[[], datetime | None], *, sweep_seconds: float = 3600
) -> Iterator[Bell]:
    bell = Bell(ring, next_moment, sweep_seconds=sweep_seconds)
    bell.start()
    try:
        yield bell
    finally:
        bell.stop()


async def test_it_rings_at_once_when_it_starts_for_what_became_due_meanwhile() -> None:
    ringing = Ringing()
    with started(ringing.ring, ringing.next_moment):
        await ringing.until(1)


async def test_it_rings_at_each_moment_and_asks_for_the_next() -> None:
    ringing = Ringing(now() + SOON, now() + 2 * SOON)
    with started(ringing.ring, ringing.next_moment):
        await ringing.until(3)


async def test_a_moment_that_is_long_past_still_rings() -> None:
    ringing = Ringing(now() - timedelta(hours=7))
    with started(ringing.ring, ringing.next_moment):
        await ringing.until(2)


async def test_a_later_moment_takes_the_place_of_the_one_that_was_set() -> None:
    far = now() + timedelta(hours=2)
    ringing = Ringing(far, now() + SOON)
    with started(ringing.ring, ringing.next_moment) as bell:
        await ringing.until(1)
        await asyncio.sleep(0)  # lets the ring end, which asks for the moment that is far
        bell.set()
        await ringing.until(2)


async def test_the_sweep_rings_though_no_moment_was_named() -> None:
    ringing = Ringing()
    with started(ringing.ring, ringing.next_moment, sweep_seconds=0.02):
        await ringing.until(4)


async def test_a_ring_that_fails_is_not_the_last_one() -> None:
    ringing = Ringing(now() + SOON)

    async def fails_first() -> None:
        await ringing.ring()
        if ringing.rings == 1:
            raise RuntimeError("the first ring fails")

    with started(fails_first, ringing.next_moment):
        await ringing.until(2)


async def test_nothing_rings_once_it_is_stopped() -> None:
    ringing = Ringing()
    with started(ringing.ring, ringing.next_moment) as bell:
        await ringing.until(1)
        bell.stop()
    bell.stop()
    assert ringing.rings == 1
