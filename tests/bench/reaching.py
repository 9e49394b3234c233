"""From the moment that something is due to bytes on the push endpoint and on every open page; and what the bell costs while nothing is.

In processor time, of the bot and of all ends together, so that what else the machine does counts for nothing.
"""

from __future__ import annotations

import asyncio
import json
import os
import re
import tempfile
import time
from collections.abc import AsyncIterator
from pathlib import Path

from aiohttp import ClientSession, web
from aiohttp.test_utils import TestServer

from bot.app.running import Running
from bot.app.ways import KEY, Further
from bot.channels.push import Push
from bot.clock import now
from bot.conversation import Message
from tests.bench.figures import line, milliseconds, percentile
from tests.bench.servers import start_bot
from tests.bench.serving import fill
from tests.channels.house import HeldClock
from tests.channels.test_push import CONTACT, PushService

DEVICES, ROUNDS = 10, 25
"""So many phones and as many open pages, of twenty people."""
OUT_SECONDS = 0.200
IDLE_SECONDS, IDLE_PERCENT = 60.0, 0.5
LITTER = "new litter of 5 from Juniper, c-section at 2:00 am"
CARE = "all nursed 15 cleared stimulated"


class Taken:
    """A push service that notes when the first bytes of each push reached it."""

    def __init__(self) -> None:
        self.at: list[float] = []

    async def take(self, request: web.Request) -> web.Response:
        """Take one."""
        self.at.append(time.process_time())
        await request.read()
        return web.Response(status=201)


async def report() -> AsyncIterator[str]:
    """The figures, a line each."""
    with tempfile.TemporaryDirectory(prefix="lampwatch-bench-") as folder:
        first, pushed, shown = await _out(Path(folder))
        yield line("due to push endpoint, the first after a start, the last phone", milliseconds(first), "ms")
        for what, taken in (("push endpoint", pushed), ("open page", shown)):
            slow = percentile(taken, 99)
            held = slow < OUT_SECONDS
            yield line(
                f"due to {what}, {DEVICES} phones and {DEVICES} pages, p99", milliseconds(slow), f"< {OUT_SECONDS * 1000:.0f} ms", held=held
            )
        fill(Path(folder) / "idle", 3_000, now())
        percent = await _idle(Path(folder) / "idle")
        yield line(f"idle, of one core over {IDLE_SECONDS:.0f} s", f"{percent:.3f} %", f"< {IDLE_PERCENT} %", held=percent < IDLE_PERCENT)


async def _out(folder: Path) -> tuple[float, list[float], list[float]]:
    """As many people with an open page as others with a phone: seconds until the bytes are there, of each device and round."""
    clock, taken = HeldClock(), Taken()
    running = Running(None, "America/Chicago", clock, ways=lambda house, clock: Further(Push(house, clock, folder / KEY, CONTACT)))
    app = web.Application()
    app.router.add_post("/{phone}", taken.take)
    service, page = TestServer(app), TestServer(running.web.application())
    async with service, page, ClientSession() as browser:
        sessions = [_join(running, f"Page{number}") for number in range(DEVICES)]
        for number in range(DEVICES):
            subscription = PushService(service).subscribe(f"phone{number}")
            running.household.set_reach_of(_join(running, f"Phone{number}"), json.dumps(subscription))
        for words in (LITTER, "skip all"):
            await running.hear(Message("Page0", words))
        lines = [await browser.ws_connect(page.make_url("/socket"), headers={"Cookie": f"lampwatch={one}"}) for one in sessions]
        shown: list[float] = []
        pushed: list[float] = []
        all_shown = asyncio.Event()
        first = 0.0
        due_at = 0.0

        async def watch(number: int) -> None:
            async for message in lines[number]:
                if any(one.get("says") == "nudge" for one in message.json().get("lines", [])):
                    shown.append(time.process_time() - due_at)
                    if len(shown) % DEVICES == 0:
                        all_shown.set()

        watching = [asyncio.create_task(watch(number)) for number in range(DEVICES)]
        for turn in range(ROUNDS + 1):
            await running.hear(Message("Page0", CARE))
            await running.settled()
            clock.on(hours=2)
            taken.at.clear()
            all_shown.clear()
            due_at = time.process_time()
            await running.speak_up()
            await running.settled()
            await asyncio.wait_for(all_shown.wait(), DEVICES)
            out = [at - due_at for at in taken.at]
            assert len(out) >= DEVICES, "every phone was pushed to"
            if turn == 0:
                first = max(out)
                shown.clear()
            else:
                pushed += out
        await running.web.close()
        await asyncio.gather(*watching)
        running.stop()
    return first, pushed, shown


def _join(running: Running, name: str) -> str:
    household, moment = running.household, running.clock()
    return household.join(household.invite("lampwatch", name, moment), name, moment)


async def _idle(data: Path) -> float:
    """The share of one core that a served bot takes while nobody speaks."""
    server = await start_bot(data)
    try:
        await asyncio.sleep(5)  # the warm-up after a start
        before = _spent(server.process.pid)
        await asyncio.sleep(IDLE_SECONDS)
        return (_spent(server.process.pid) - before) / IDLE_SECONDS * 100
    finally:
        server.stop()


def _spent(pid: int) -> float:
    """The processor time of a process, in seconds."""
    fields = re.sub(r"^.*\) ", "", Path(f"/proc/{pid}/stat").read_text(encoding="ascii")).split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")
