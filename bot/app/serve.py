"""`lampwatch serve`: starts the bot on its data directory, says where its page is and how to join, and stops it in order."""

from __future__ import annotations

import asyncio
import errno
import fcntl
import gc
import logging
import os
import signal
import tempfile
from collections.abc import AsyncIterator, Callable, Coroutine, Iterator
from contextlib import asynccontextmanager, contextmanager, suppress
from datetime import datetime
from importlib.util import find_spec
from pathlib import Path

from aiohttp import web

from bot.app.address import home_address, page_at, picture
from bot.app.demo import STORY, Telling, first_zone, night
from bot.app.running import Running
from bot.app.ways import ways_of
from bot.care.rules import check_figures
from bot.channels.broker import listen
from bot.channels.notify import Notify
from bot.channels.terminal import TerminalChannel
from bot.clock import Clock, StoryClock, now, zone_guess
from bot.household import open_household
from bot.settings import Settings, SetupError
from bot.transcript import Transcript
from parsers import LitterCard, read
from storage import StorageError

DATABASE = "lampwatch.db"
"""The log's name in the data directory."""
EVERYWHERE = "0.0.0.0"
"""The address that stands for all of the machine's own: the page is meant for every device at home."""
LOCK = "lampwatch.lock"
"""Held while a bot runs in a data directory."""
SECONDS_TO_STOP = 0.4
"""How long requests are given to end when the bot stops, after its pages were closed; all in all a stop takes less than two seconds.
The log needs none: each write is finished before the next begins."""

_log = logging.getLogger(__name__)

Say = Callable[[str], None]
"""Prints a line for the person at the terminal."""


def serve(settings: Settings, *, demo: bool, say: Say) -> int:
    """Run the bot until it is told to stop; raises SetupError where it cannot start as it is set up."""
    check_figures()
    logging.basicConfig(level=logging.WARNING, format="%(levelname)s %(name)s: %(message)s")
    if not demo:
        with held(settings.directory):
            asyncio.run(_run(settings, say, None))
        return 0
    if settings.data and (settings.directory / DATABASE).exists():
        raise SetupError(
            f"{settings.directory} holds a log, and a demo writes into none: leave --data away, and it makes a place of its own."
        )
    with tempfile.TemporaryDirectory(prefix="lampwatch-demo-") as folder:
        of_its_own = settings.model_copy(update={"data": settings.data or folder})
        with held(of_its_own.directory):
            asyncio.run(_run(of_its_own, say, night()))
    return 0


async def _run(settings: Settings, say: Say, told: Transcript | None) -> None:
    stop = asyncio.Event()
    for sign in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        asyncio.get_running_loop().add_signal_handler(sign, stop.set)
    clock: Clock = StoryClock(told.steps[0].at) if told else now
    zone = first_zone(told) if told else settings.zone or zone_guess()
    if settings.broker and find_spec("aiomqtt") is None:
        raise SetupError("The settings name a broker, for which an extra is needed: pip install '.[mqtt]'  in the folder of lampwatch.")
    if settings.notify and not Notify.is_possible():
        raise SetupError(
            "The settings name services to notify, for which an extra is needed: pip install '.[notify]'  in the folder of lampwatch."
        )
    try:
        running = Running(settings.directory / DATABASE, zone, clock, story=STORY if told else "", ways=ways_of(settings))
    except StorageError as problem:
        raise SetupError(str(problem)) from None
    try:
        async with _page(running, settings), _terminal(running, settings.directory), _meanwhile() as begin:
            running.start()
            for line in _welcome(running, settings, demo=told is not None):
                say(line)
            begin(_warm_up(clock()))
            if settings.broker:
                begin(listen(settings.broker, running.sense_by_broker))
            if told and isinstance(clock, StoryClock):
                begin(_tell(running, told, clock))
            await stop.wait()
            await running.web.close()
    finally:
        running.stop()


def _welcome(running: Running, settings: Settings, *, demo: bool) -> Iterator[str]:
    """What the person at the terminal reads: where the page is, and how to join."""
    link = running.link(running.household.invite("lampwatch", None, running.clock()))
    if demo:
        yield "A demo: a made-up night of a made-up kennel, kept nowhere. It begins when you open the page."
    yield f"The page:  {running.web.address}"
    yield f"The log:   {settings.directory / DATABASE}"
    yield ""
    yield "Join with a phone on the same network: this link joins one device, once, within 24 hours."
    yield link
    yield ""
    yield picture(link)
    yield ""
    yield "Ctrl-C stops the bot; what was said is kept."


@asynccontextmanager
async def _page(running: Running, settings: Settings) -> AsyncIterator[None]:
    """Serve the page."""
    runner = web.AppRunner(running.web.application(), access_log=None, shutdown_timeout=SECONDS_TO_STOP, handle_signals=False)
    await runner.setup()
    try:
        site = web.TCPSite(runner, settings.address or EVERYWHERE, settings.port)
        try:
            await site.start()
        except OSError as problem:
            raise SetupError(_no_port(settings, problem)) from None
        running.web.address = page_at(home_address(settings.address), runner.addresses[0][1])
        yield
    finally:
        with suppress(TimeoutError):
            await asyncio.wait_for(runner.cleanup(), 2 * SECONDS_TO_STOP)


def _no_port(settings: Settings, problem: OSError) -> str:
    if problem.errno == errno.EADDRINUSE:
        return f"Port {settings.port} is used by another program: stop that one, or choose another port with --port."
    if problem.errno == errno.EACCES:
        return f"This user may not use port {settings.port}: choose one from 1024 on with --port."
    if problem.errno == errno.EADDRNOTAVAIL:
        return f"{settings.address} is no address of this machine: correct or remove  address  in lampwatch.toml."
    return f"The page cannot be served on port {settings.port} ({(problem.strerror or str(problem)).lower()}): choose another with --port."


@asynccontextmanager
async def _terminal(running: Running, directory: Path) -> AsyncIterator[None]:
    """Answer commands on the same machine."""
    terminal = TerminalChannel(directory, running.answer)
    await terminal.start()
    try:
        yield
    finally:
        await terminal.stop()


@asynccontextmanager
async def _meanwhile() -> AsyncIterator[Callable[[Coroutine[None, None, None]], None]]:
    """Gives a way to begin something beside the serving; what fails is logged, and what still goes on at the end is ended."""
    tasks: list[asyncio.Task[None]] = []

    async def logged(work: Coroutine[None, None, None]) -> None:
        try:
            await work
        except Exception:  # noqa: BLE001 (whatever it was, the bot serves on, and it is logged)
            _log.exception("Something beside the serving failed; the bot goes on.")

    def begin(work: Coroutine[None, None, None]) -> None:
        tasks.append(asyncio.create_task(logged(work)))

    try:
        yield begin
    finally:
        for task in tasks:
            task.cancel()


async def _warm_up(moment: datetime) -> None:
    """Read a message of every sort, so that the first real ones need not wait until the vocabulary is made ready.

    Between them the bot serves. What is there at the end stays for good, so that no later search for garbage looks through it.
    """
    try:
        for text in _SORTS:
            await asyncio.to_thread(read, text, LitterCard(), now=moment)
    finally:
        gc.collect()
        gc.freeze()
        gc.enable()


_SORTS = ("pup 1 212 g nursed 15 min at 3:10 am, mom ate half", "who's due?", "undo that")


async def _tell(running: Running, told: Transcript, clock: StoryClock) -> None:
    """Tell the night to whoever opens the page: what is before its last day at once, the rest before their eyes."""
    await Telling(told, clock, running).tell()
    running.bell.set()


@contextmanager
def held(directory: Path) -> Iterator[None]:
    """The data directory, made if need be for its owner alone, and held against a second bot that would write into the same log."""
    try:
        directory.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle = os.open(directory / LOCK, os.O_RDWR | os.O_CREAT, 0o600)
    except OSError as problem:
        why = (problem.strerror or str(problem)).lower()
        raise SetupError(f"The data directory {directory} cannot be used ({why}): choose another with --data.") from None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(handle)
        raise SetupError(f"A bot runs already in {directory}: stop that one first, or choose another directory with --data.") from None
    try:
        yield
    finally:
        os.close(handle)


def newest_entry(path: Path) -> datetime | None:
    """When the last thing of the log was said; None where there is no log, or none that can be opened."""
    if not path.exists():
        return None
    try:
        household = open_household(path, zone="UTC")
    except StorageError:
        return None
    try:
        return max((line.at for line in household.history(limit=20)), default=None)
    finally:
        household.close()
