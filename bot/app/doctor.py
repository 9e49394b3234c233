"""`lampwatch doctor`: looks at what the bot stands on, and says for each thing whether it is well and what to do where it is not."""

from __future__ import annotations

import os
import shutil
import socket
import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from bot.app.serve import DATABASE, EVERYWHERE, newest_entry
from bot.channels.talk import NoBot, Talk
from bot.clock import now as machine_now
from bot.clock import zone_guess
from bot.household.timekeeping import AHEAD, BUILT
from bot.settings import Settings
from storage import problems

ROOM_MB = 200
"""Free space (MB) under which the disk counts as nearly full: a litter's log takes a few, a backup as many again. Derived."""


@dataclass(frozen=True)
class Finding:
    """One thing that was looked at: what was found, and what to do where it is not well."""

    about: str
    well: bool
    words: str

    def __str__(self) -> str:
        return f"{'well ' if self.well else 'WRONG'}  {self.about}: {self.words}"


def examine(settings: Settings, clock: Callable[[], datetime] = machine_now) -> Iterator[Finding]:
    """Look at the data directory, the clock, the zone, the log's file and the port, in this order, and the ways to each person."""
    directory = settings.directory
    running = _running(directory)
    yield _directory(directory)
    yield _clock(directory, clock())
    yield _zone(settings, clock())
    yield _log(directory)
    yield _port(settings, running)
    if running is not None:
        yield from _ways(directory)


def _directory(directory: Path) -> Finding:
    about = "data directory"
    if not directory.exists():
        return Finding(about, True, f"{directory} is not there yet; the first start makes it.")
    if not directory.is_dir():
        return Finding(about, False, f"{directory} is a file: move it away, or choose another directory with --data.")
    if not os.access(directory, os.R_OK | os.W_OK | os.X_OK):
        return Finding(about, False, f"{directory} cannot be written by this user: give it to the user that runs lampwatch.")
    if directory.stat().st_mode & (stat.S_IRWXG | stat.S_IRWXO):
        return Finding(about, False, f"other users of this machine can open {directory}: run  chmod 700 {directory}")
    free = shutil.disk_usage(directory).free // 1_000_000
    if free < ROOM_MB:
        return Finding(about, False, f"only {free} MB are free where {directory} is: make room, or messages cannot be kept.")
    return Finding(about, True, f"{directory}, {free // 1000} GB free." if free >= 10_000 else f"{directory}, {free} MB free.")


def _clock(directory: Path, now: datetime) -> Finding:
    about = "clock"
    shown = f"{now:%Y-%m-%d %H:%M} UTC"
    if now < BUILT:
        return Finding(about, False, f"the machine says {shown}, which is long past: set its clock, or let the network set it.")
    newest = newest_entry(directory / DATABASE)
    if newest is not None and newest - now > AHEAD:
        return Finding(about, False, f"the machine says {shown}, but the log goes on to {newest:%Y-%m-%d %H:%M} UTC: set the clock right.")
    return Finding(about, True, f"{shown}.")


def _zone(settings: Settings, now: datetime) -> Finding:
    name = settings.zone or zone_guess()
    local = f"{now.astimezone(ZoneInfo(name)):%H:%M} on {now.astimezone(ZoneInfo(name)):%d %B}"
    if settings.zone is None and name in ("UTC", "Etc/UTC"):
        return Finding(
            "zone", True, f'the machine is set to UTC, where it is {local}. If you live by another: put zone = "..." into lampwatch.toml.'
        )
    return Finding("zone", True, f"{name}, where it is {local}.")


def _log(directory: Path) -> Finding:
    path = directory / DATABASE
    if not path.exists():
        return Finding("log", True, "there is none yet; the first start makes it.")
    faults = problems(path)
    if faults:
        return Finding("log", False, " ".join(faults))
    return Finding("log", True, f"{path} is sound ({path.stat().st_size / 1_000_000:.1f} MB).")


def _running(directory: Path) -> str | None:
    """The page's address of the bot that runs in this directory."""
    try:
        with Talk(directory) as talk:
            return str(talk.ask({"do": "hello"}).get("page", ""))
    except NoBot:
        return None


def _ways(directory: Path) -> Iterator[Finding]:
    """By which ways the running bot reaches each person, and when each last did."""
    try:
        with Talk(directory) as talk:
            ways = talk.ask({"do": "ways"}).get("ways", {})
    except NoBot:
        return
    for person, lines in ways.items() if isinstance(ways, dict) else ():
        test = f'Try them:  lampwatch say --as "{person}" "test my alarm"'
        yield Finding(f"ways to {person}", True, f"{' '.join(lines)} {test}")


def _port(settings: Settings, running: str | None) -> Finding:
    if running is not None:
        return Finding("port", True, f"the bot runs, and its page is at {running}")
    address = settings.address or EVERYWHERE
    with socket.socket(socket.AF_INET6 if ":" in address else socket.AF_INET) as trial:
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind((address, settings.port))
        except PermissionError:
            return Finding("port", False, f"this user may not use port {settings.port}: choose one from 1024 on with --port.")
        except OSError as problem:
            why = (problem.strerror or str(problem)).lower()
            return Finding("port", False, f"port {settings.port} cannot be had ({why}): stop what uses it, or choose another with --port.")
    return Finding("port", True, f"{settings.port} is free.")
