"""A talk is a command's end of the local socket, by which it reaches the bot that runs on the same machine."""

from __future__ import annotations

import json
import os
import socket
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any

SOCKET_NAME = "lampwatch.sock"
"""The socket's name in the data directory."""
SECONDS_TO_ANSWER = 30.0
"""How long a command waits for the bot; an answer takes milliseconds."""
_LONGEST_PATH = 100
"""Bytes in a socket's path that every system takes (Linux takes 107, others 103)."""

Request = dict[str, Any]
Answer = dict[str, Any]


class NoBot(Exception):
    """No bot answers in this data directory; the message says what to do."""


class Talk:
    """A command's end of the local socket."""

    def __init__(self, directory: Path) -> None:
        """Reach the bot that runs in this data directory; raises NoBot where none does."""
        self._socket = socket.socket(socket.AF_UNIX)
        self._socket.settimeout(SECONDS_TO_ANSWER)
        try:
            with short_path(directory) as path:
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
def short_path(directory: Path) -> Iterator[Path]:
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
