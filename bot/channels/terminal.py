"""The terminal channel: commands on the same machine talk to the running bot over a local socket that only its owner can open."""

from __future__ import annotations

import asyncio
import json
import os
import socket
from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import TracebackType
from typing import Any

SOCKET_NAME = "lampwatch.sock"
"""The socket's name in the data directory."""
LONGEST_LINE = 4 * 1024 * 1024
"""Bytes in one request or answer: the longest message with every character escaped, and room beside it."""
SECONDS_TO_ANSWER = 30.0
"""How long a command waits for the bot; an answer takes milliseconds."""
_LONGEST_PATH = 100
"""Bytes in a socket's path that every system takes (Linux takes 107, others 103)."""

Request = dict[str, Any]
Answer = dict[str, Any]
Handle = Callable[[Request], Awaitable[Answer]]
"""Answers one request."""


class NoBot(Exception):
    """No bot answers in this data directory; the message says what to do."""


class TerminalChannel:
    """The bot's end of the local socket: JSON lines, one answer for each request, in order."""

    def __init__(self, directory: Path, handle: Handle) -> None:
        self._directory = directory
        self._handle = handle
        self._server: asyncio.Server | None = None
        self._open: set[asyncio.Task[None]] = set()

    async def start(self) -> None:
        """Listen, with rights for the owner alone from the first moment. A socket left behind by a crash is put aside."""
        listening = socket.socket(socket.AF_UNIX)
        with _short_path(self._directory) as path:
            with suppress(FileNotFoundError):
                path.unlink()
            before = os.umask(0o177)
            try:
                listening.bind(str(path))
            finally:
                os.umask(before)
        self._server = await asyncio.start_unix_server(self._talk, sock=listening, limit=LONGEST_LINE)

    async def stop(self) -> None:
        """Answer what was asked, listen no more, and take the socket away."""
        if self._server is None:
            return
        self._server.close()
        for task in list(self._open):
            task.cancel()
        await asyncio.gather(*self._open, return_exceptions=True)
        with suppress(FileNotFoundError):
            (self._directory / SOCKET_NAME).unlink()

    async def _talk(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        task = asyncio.current_task()
        assert task is not None
        self._open.add(task)
        try:
            while line := await reader.readline():
                writer.write(json.dumps(await self._answer(line), ensure_ascii=False).encode() + b"\n")
                await writer.drain()
        except ValueError:  # a line beyond all limits: the stream cannot tell where the next one begins
            writer.write(json.dumps(_refusal("That is too long for one message, and nothing was kept: send it in parts.")).encode() + b"\n")
        except (ConnectionError, asyncio.CancelledError):
            pass
        finally:
            self._open.discard(task)
            writer.close()

    async def _answer(self, line: bytes) -> Answer:
        try:
            request = json.loads(line)
        except (ValueError, RecursionError):
            request = None
        if not isinstance(request, dict):
            return _refusal("That could not be read, and nothing was kept.")
        return await self._handle(request)


def _refusal(why: str) -> Answer:
    return {"kept": False, "text": why}


class Talk:
    """A command's end of the local socket."""

    def __init__(self, directory: Path) -> None:
        """Reach the bot that runs in this data directory; raises NoBot where none does."""
        self._socket = socket.socket(socket.AF_UNIX)
        self._socket.settimeout(SECONDS_TO_ANSWER)
        try:
            with _short_path(directory) as path:
                self._socket.connect(str(path))
        except OSError as problem:
            self._socket.close()
            if isinstance(problem, PermissionError):
                raise NoBot(f"The bot in {directory} belongs to another user: run this as that user.") from None
            raise NoBot(f"No bot runs in {directory}: start it with `lampwatch serve`, or name its directory with --data.") from None
        self._file = self._socket.makefile("rb")

    def ask(self, request: Request) -> Answer:
        """Send a request and wait for its answer; raises NoBot where the bot goes away before it comes."""
        try:
            self._socket.sendall(json.dumps(request).encode() + b"\n")
            line = self._file.readline()
        except OSError:
            line = b""
        if not line.endswith(b"\n"):
            raise NoBot(
                "The bot stopped before it answered: look with `lampwatch log` whether the message was kept, before you send it again."
            )
        answer: Answer = json.loads(line)
        return answer

    def close(self) -> None:
        """Leave."""
        self._file.close()
        self._socket.close()

    def __enter__(self) -> Talk:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.close()


@contextmanager
def _short_path(directory: Path) -> Iterator[Path]:
    """The socket's path, by a short name where the real one is longer than a socket's may be."""
    path = directory / SOCKET_NAME
    if len(os.fsencode(path)) <= _LONGEST_PATH:
        yield path
        return
    handle = os.open(directory, os.O_RDONLY | os.O_DIRECTORY)
    try:
        yield Path(f"/proc/self/fd/{handle}") / SOCKET_NAME
    finally:
        os.close(handle)
