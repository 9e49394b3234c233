"""The devices that have the page open: each gets every new line, in order, and a slow or lost one holds up nobody."""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Iterator
from contextlib import suppress

from aiohttp import WSCloseCode, WSMsgType, web

MOST_WAITING = 2_000
"""Frames that may wait for one device; one that is further behind is let go, and fetches the rest when it comes back."""
LAST_WORDS_SECONDS = 0.4
"""How long a device is given to take what still waits for it when the bot stops."""


class Device:
    """One open page. `post` never waits; a task of its own carries the frames over the line, unless `hand_over` does it first."""

    def __init__(self, request: web.Request, socket: web.WebSocketResponse, session: str, person: str) -> None:
        self.session = session
        self.person = person
        self._transport = request.transport
        self._socket = socket
        self._waiting: deque[bytes] = deque()
        self._posted = asyncio.Event()
        self._carrying = asyncio.get_running_loop().create_task(self._carry())

    def post(self, frame: bytes) -> None:
        """Send a frame as soon as the line takes it."""
        if len(self._waiting) < MOST_WAITING:
            self._waiting.append(frame)
            self._posted.set()
        elif self._transport is not None:
            self._transport.abort()  # the reading end then ends too, and removes this device

    async def hand_over(self) -> None:
        """Bring what waits over the line at once, where nothing clogs it: whoever spoke has the reply a turn of the loop earlier."""
        if self._transport is not None and not self._transport.get_write_buffer_size():
            await self._empty()

    async def _carry(self) -> None:
        while True:
            await self._posted.wait()
            self._posted.clear()
            await self._empty()

    async def _empty(self) -> None:
        """Bring what waits over the line. A frame is written whole before anything is waited for, so frames stay in order."""
        with suppress(ConnectionError, RuntimeError):  # the line is gone: the reading end notices by itself
            while self._waiting:
                await self._socket.send_frame(self._waiting.popleft(), WSMsgType.TEXT)

    async def close(self, code: WSCloseCode, why: str = "") -> None:
        """Send what still waits, for as long as a device may take for it, and close the line."""
        with suppress(TimeoutError):
            await asyncio.wait_for(self._empty(), LAST_WORDS_SECONDS)
        self._carrying.cancel()
        await self._socket.close(code=code, message=why.encode())

    def gone(self) -> None:
        """The line is closed: carry nothing more."""
        self._carrying.cancel()


class Devices:
    """All open pages of the household."""

    def __init__(self) -> None:
        self._open: set[Device] = set()

    def __iter__(self) -> Iterator[Device]:
        return iter(list(self._open))

    def __len__(self) -> int:
        return len(self._open)

    def add(self, device: Device) -> None:
        """A page was opened."""
        self._open.add(device)

    def remove(self, device: Device) -> None:
        """A page was closed."""
        self._open.discard(device)
        device.gone()

    def post(self, frame: bytes) -> None:
        """Send a frame to every open page."""
        for device in self._open:
            device.post(frame)

    async def close(self) -> None:
        """Close every page: the bot stops, and the pages try again by themselves."""
        await asyncio.gather(*(device.close(WSCloseCode.GOING_AWAY, "lampwatch stops") for device in self))
