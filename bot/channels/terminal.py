"""The terminal channel: commands on the same machine talk to the running bot over a local socket that only its owner can open."""

from __future__ import annotations

import asyncio
import json
import os
import socket
from collections.abc import Awaitable, Callable
from contextlib import suppress
from pathlib import Path

from bot.channels.talk import SOCKET_NAME, Answer, Request, short_path

LONGEST_LINE = 4 * 1024 * 1024
"""Bytes in one request or answer: the longest message with every character escaped, and room beside it."""

Handle = Callable[[Request], Awaitable[Answer]]
"""Answers one request."""


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
        with short_path(self._directory) as path:
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
