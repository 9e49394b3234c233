"""The bell rings at a moment. It holds no facts: it is given two functions, and asks one of them for the moment, again and again."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from datetime import datetime

from apscheduler.schedulers.asyncio import AsyncIOScheduler
from apscheduler.triggers.date import DateTrigger

SWEEP_SECONDS = 60
"""How often it looks even if no moment was named: a machine that slept, or a clock that was put right, is noticed within a minute."""

_NEXT, _SWEEP = "next", "sweep"


class Bell:
    """Two jobs on the running event loop: the next moment, and a sweep each minute. Both ring the same bell."""

    def __init__(
        self, ring: Callable[[], Awaitable[None]], next_moment: Callable[[], datetime | None], *, sweep_seconds: float = SWEEP_SECONDS
    ) -> None:
        """`ring` says what is due; `next_moment` tells when it should ring next (aware; None: nothing lies ahead)."""
        self._ring = ring
        self._next_moment = next_moment
        self._sweep_seconds = sweep_seconds
        self._sweep: asyncio.TimerHandle | None = None
        # A late job is run, however late (the scheduler's own rule is to drop it after a second), and once for all that were missed.
        # Two at a time, for a ring sets the next one before it has ended, and the next one may be due already.
        self._scheduler = AsyncIOScheduler(timezone="UTC", job_defaults={"coalesce": True, "misfire_grace_time": None, "max_instances": 2})

    def start(self) -> None:
        """Begin, on the running event loop: it rings at once, for what became due while nobody listened."""
        self._scheduler.add_job(self._rung, id=_NEXT, replace_existing=True)
        self._scheduler.start()
        self._sweep_on()

    def set(self) -> None:
        """Ask for the next moment, and ring then; to be called whenever something was heard or said."""
        moment = self._next_moment()
        if moment is not None:
            self._scheduler.add_job(self._rung, DateTrigger(run_date=moment, timezone="UTC"), id=_NEXT, replace_existing=True)
        elif self._scheduler.get_job(_NEXT) is not None:
            self._scheduler.remove_job(_NEXT)

    def stop(self) -> None:
        """Ring no more."""
        if self._sweep is not None:
            self._sweep.cancel()
        if self._scheduler.running:
            self._scheduler.shutdown(wait=False)

    def _sweep_on(self) -> None:
        """The sweep goes by the loop's own count and not by the scheduler, which would wait for hours if the clock were set back."""
        self._sweep = asyncio.get_running_loop().call_later(self._sweep_seconds, self._swept)

    def _swept(self) -> None:
        self._sweep_on()
        if self._scheduler.running:
            self._scheduler.add_job(self._rung, id=_SWEEP, replace_existing=True)

    async def _rung(self) -> None:
        try:
            await self._ring()
        finally:
            self.set()
