"""The running bot: message to reply over a real WebSocket, beside the bare floor; its start, its memory, short and long logs."""

from __future__ import annotations

import asyncio
import tempfile
from collections.abc import AsyncIterator
from contextlib import AsyncExitStack
from datetime import datetime, timedelta
from pathlib import Path

from bot.app.serve import DATABASE
from bot.clock import now
from bot.conversation import Message
from bot.household import open_household
from parsers.events import KINDS, Event
from parsers.events.cleared import Cleared
from parsers.events.nursed import Nursed
from parsers.events.weight import Weight
from storage import Journal, NewEvent, NewMessage
from tests.bench.figures import line, median, milliseconds, percentile
from tests.bench.servers import Page, Server, join_token, page, start_bot, start_floor

ZONE = "America/Chicago"
PUPS = 5
AGE = timedelta(days=18)
WARM_UP, ROUNDS, STARTS = 40, 400, 3
RATIO_AT_MOST = 2.0
GROWTH_AT_MOST = 1.3
START_SECONDS = {0: 2.0, 100: 2.0, 100_000: 4.0}
COLD_SECONDS = 0.100
"""A reply that takes longer is felt as a wait; the first one after a start counts too."""
IDLE_SECONDS, IDLE_MEGABYTES = 4.0, 120.0
FIRST_GRAMS, LAST_GRAMS = 200.0, 520.0


def fill(data: Path, events: int, moment: datetime) -> None:
    """Make a household with a litter of five, and a log of so many events, evenly over its days: weighed, nursed, cleared."""
    data.mkdir(parents=True)
    born = moment - AGE
    household = open_household(data / DATABASE, zone=ZONE)
    household.take_in("Ines", born)
    said = f"new litter of {PUPS} from Juniper, c-section at {born.astimezone(household.zone):%H:%M}"
    for text in (said, "use grams"):
        heard = household.hear(Message("Ines", text), born + timedelta(minutes=1))
        assert heard.kept, heard
    household.close()
    journal = Journal(data / DATABASE, KINDS)
    (litter,) = (each.id for each in journal.register.litters())
    messages = max(1, events // 3)
    apart = (AGE - timedelta(hours=2)) / messages
    with journal.together():
        for number in range(messages):
            pup, at = 1 + number % PUPS, born + timedelta(hours=1) + apart * number
            grams = round(FIRST_GRAMS + (LAST_GRAMS - FIRST_GRAMS) * number / messages, 1)
            meant: tuple[Event, ...] = (Weight(who=pup, grams=grams), Nursed(who=pup, minutes=15), Cleared(who=pup))
            message = NewMessage(at=at, by="Ines", text=f"pup {pup} {grams} g nursed 15 min cleared", litter=litter, does="log")
            reply = NewMessage(
                at=at, by="bot", text=f"Pup {pup}: {grams} g, nursed 15 min, cleared.", litter=litter, says="reply", to="Ines"
            )
            journal.write(message, [NewEvent(each) for each in meant], [reply])
    journal.close()


def _words(number: int) -> str:
    return f"pup {1 + number % PUPS} {LAST_GRAMS + number % 7} g nursed 15 min cleared"


async def _timed_start(data: Path) -> float:
    taken = []
    for _ in range(STARTS):
        server = await start_bot(data)
        taken.append(server.started)
        server.stop()
    return min(taken)


async def report() -> AsyncIterator[str]:
    """The figures of the running bot, a line each."""
    with tempfile.TemporaryDirectory(prefix="lampwatch-bench-", dir=Path.cwd()) as folder:
        # In this folder, not in the temporary one: that may lie in memory, where a FULL commit costs nothing.
        root, moment = Path(folder), now()
        stores = {0: root / "empty", 100: root / "short", 100_000: root / "long"}
        stores[0].mkdir()
        for count in (100, 100_000):
            fill(stores[count], count, moment)
        for count, data in stores.items():
            started = await _timed_start(data)
            bar = START_SECONDS[count]
            yield line(f"start to serving, {count:,} events (s, best of {STARTS})", f"{started:.2f}", f"< {bar:.0f}", held=started < bar)
        servers: list[Server] = []
        try:
            floor = await start_floor(root)
            servers.append(floor)
            bots = {count: await start_bot(data) for count, data in stores.items()}
            servers += bots.values()
            async for each in _measured(floor, bots):
                yield each
        finally:
            for server in servers:
                server.stop()


async def _measured(floor: Server, bots: dict[int, Server]) -> AsyncIterator[str]:
    await asyncio.sleep(IDLE_SECONDS)
    for count, bot in bots.items():
        held = bot.resident_megabytes()
        yield line(f"idle memory, {count:,} events (MB)", f"{held:.0f}", "< 120", held=held < IDLE_MEGABYTES)
    async with AsyncExitStack() as stack:
        bare = await stack.enter_async_context(page(floor))
        pages = {count: await stack.enter_async_context(page(bot, join_token(bot))) for count, bot in bots.items()}
        for count in (100, 100_000):
            cold, _ = await pages[count].say("pup 1 nursed 10")
            yield line(f"the first message after a start, {count:,} events (ms)", milliseconds(cold), "< 100", held=cold < COLD_SECONDS)
        await pages[0].say(f"new litter of {PUPS} from Juniper, c-section at 9:40")
        await pages[0].say("use grams")
        floors, replies = await _interleaved(bare, pages)
    bottom = median(floors)
    yield line("floor: bare echo and one bare FULL commit, p50 (ms)", milliseconds(bottom))
    for count, taken in replies.items():
        p50 = median(taken)
        yield line(f"message to reply, {count:,} events behind it, p50 (ms)", milliseconds(p50))
        yield line("... as a ratio to the floor", f"{p50 / bottom:.2f} x", "<= 2", held=p50 / bottom <= RATIO_AT_MOST)
        yield line("... p99 (ms)", milliseconds(percentile(taken, 99)))
    growth = median(replies[100_000]) / median(replies[100])
    yield line("message to reply, 100,000 events to 100", f"{growth:.2f} x", "<= 1.3", held=growth <= GROWTH_AT_MOST)


async def _interleaved(bare: Page, pages: dict[int, Page]) -> tuple[list[float], dict[int, list[float]]]:
    """Turn by turn, so that whatever slows the machine slows all of them."""
    floors: list[float] = []
    replies: dict[int, list[float]] = {count: [] for count in pages}
    for number in range(WARM_UP + ROUNDS):
        floors.append(await bare.echo(_words(number)))
        for count, opened in pages.items():
            words = _words(number) if count else f"pup {1 + number % PUPS} {FIRST_GRAMS + number % 7} g nursed 15 min cleared"
            taken, reply = await opened.say(words)
            assert "nursed 15 min, cleared" in reply, f"the bot did not read the message, so this measures nothing: {reply}"
            replies[count].append(taken)
    return floors[WARM_UP:], {count: taken[WARM_UP:] for count, taken in replies.items()}
