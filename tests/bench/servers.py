"""Real servers in processes of their own: the bot as `lampwatch serve` starts it, and the floor beside it."""

from __future__ import annotations

import asyncio
import json
import re
import signal
import socket
import subprocess
import sys
import time
import uuid
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from aiohttp import ClientError, ClientSession, ClientWebSocketResponse, CookieJar

from tests.readings.corpus import HERE

ROOT = HERE.parent.parent
START_SECONDS = 60.0
REPLY_SECONDS = 30.0


def free_port() -> int:
    """A port that nothing listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@dataclass
class Server:
    """A running process that serves on a port."""

    process: subprocess.Popen[bytes]
    port: int
    started: float
    """Seconds from the start of the process until it answered the first request."""
    printed: Path

    @property
    def address(self) -> str:
        """Where it serves."""
        return f"http://127.0.0.1:{self.port}"

    def resident_megabytes(self) -> float:
        """The memory that the process holds now."""
        status = Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii")
        return int(re.search(r"VmRSS:\s+(\d+) kB", status)[1]) / 1024  # type: ignore[index]

    def stop(self) -> None:
        """End it as Ctrl-C would."""
        self.process.send_signal(signal.SIGINT)
        with suppress(subprocess.TimeoutExpired):
            self.process.wait(5)
        self.process.kill()
        self.process.wait()


async def start(command: list[str], port: int, printed: Path) -> Server:
    """Start a process and wait until it answers on its port."""
    started = time.perf_counter()
    with printed.open("wb") as out:
        process = subprocess.Popen(command, cwd=ROOT, stdin=subprocess.DEVNULL, stdout=out, stderr=subprocess.STDOUT)
    async with ClientSession() as session:
        while time.perf_counter() - started < START_SECONDS:
            if process.poll() is not None:
                break
            with suppress(ClientError, OSError):
                async with session.get(f"http://127.0.0.1:{port}/"):
                    return Server(process, port, time.perf_counter() - started, printed)
            await asyncio.sleep(0.02)
    process.kill()
    raise RuntimeError(f"{' '.join(command)} did not serve:\n{printed.read_text(encoding='utf-8', errors='replace')}")


async def start_bot(data: Path) -> Server:
    """Start the bot on a data directory."""
    port = free_port()
    command = [sys.executable, "-u", "-m", "bot", "serve", "--data", str(data), "--port", str(port)]
    return await start(command, port, data.parent / f"{data.name}.printed")


async def start_floor(folder: Path) -> Server:
    """Start the floor."""
    port = free_port()
    command = [sys.executable, "-m", "tests.bench.floor", str(port), str(folder / "floor.sqlite")]
    return await start(command, port, folder / "floor.printed")


@dataclass
class Page:
    """One open page: it says something and waits for the reply."""

    line: ClientWebSocketResponse
    frames: list[dict[str, Any]] = field(default_factory=list)

    async def say(self, text: str) -> tuple[float, str]:
        """Send a message; the seconds until the bot's reply to it is here, and the reply."""
        client_id = uuid.uuid4().hex
        frame = json.dumps({"say": text, "id": client_id})
        started = time.perf_counter()
        await self.line.send_str(frame)
        mine = None
        while True:
            lines = (await self.line.receive_json(timeout=REPLY_SECONDS)).get("lines", [])
            now = time.perf_counter()
            for each in lines:
                if each.get("client_id") == client_id:
                    mine = each["id"]
                elif mine is not None and each["id"] > mine and each.get("says") in ("reply", "answer", "warning"):
                    return now - started, str(each["text"])

    async def echo(self, text: str) -> float:
        """Send a message to the floor; the seconds until it is back."""
        started = time.perf_counter()
        await self.line.send_str(text)
        await self.line.receive_str(timeout=REPLY_SECONDS)
        return time.perf_counter() - started


@asynccontextmanager
async def page(server: Server, join: str | None = None, name: str = "Theo") -> AsyncIterator[Page]:
    """Open the page on a device, which first joins by its link."""
    async with ClientSession(cookie_jar=CookieJar(unsafe=True)) as session:
        if join is not None:
            async with session.post(f"{server.address}/join/{join}", data={"name": name}) as answer:
                answer.raise_for_status()
        async with session.ws_connect(f"{server.address}/socket", max_msg_size=0) as line:
            opened = Page(line)
            if join is not None:
                await line.receive_json(timeout=REPLY_SECONDS)
            yield opened


def join_token(server: Server) -> str:
    """The token of the join link that the bot printed at its start."""
    for _ in range(200):
        found = re.search(r"/join/([\w-]+)", server.printed.read_text(encoding="utf-8", errors="replace"))
        if found:
            return found[1]
        time.sleep(0.02)
    raise RuntimeError(f"no join link was printed:\n{server.printed.read_text(encoding='utf-8', errors='replace')}")
