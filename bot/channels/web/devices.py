"""The devices that have the page open: each gets every new line, in order, and a slow or lost one holds up nobody."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator

from aiohttp import WSCloseCode, web

MOST_WAITING = 2_000
"""Frames that may wait for one device; one that is further behind is let go, and fetches the rest when it comes back."""
LAST_WORDS_SECONDS = 0.4
"""How long a device is given to take what still waits for it when the bot stops."""


class Device:
    """One open page. `post` never waits; a task of its own carries the frames over the line."""

    def __init__(self, request: web.Request, socket: web.WebSocketResponse, session: str, person: str) -> None:
        self.session = session
        self.person = person
        self._transport = request.transport
        self._socket = socket
        self._waiting: asyncio.Queue[str] = asyncio.Queue()
        self._carrying = asyncio.get_running_loop().create_task(self._carry())

    def post(self, frame: str) -> None:
        """Send a frame as soon as the line takes it."""
        if self._waiting.qsize() < MOST_WAITING:
            self._waiting.put_nowait(frame)
        elif self._transport is not None:
            self._transport.abort()  # the reading end then ends too, and removes this device

    async def _carry(self) -> None:
        try:
            while True:
                await self._socket.send_str(await self._waiting.get())
                self._waiting.task_done()
        except (ConnectionError, RuntimeError):  # the line is gone: the reading end notices by itself
            return

    async def close(self, code: WSCloseCode, why: str = "") -> None:
        """Send what still waits, for as long as a device may take for it, and close the line."""
        _, late = await asyncio.wait([asyncio.ensure_future(self._waiting.join()), self._carrying], timeout=LAST_WORDS_SECONDS,
                                     return_when=asyncio.FIRST_COMPLETED)  # fmt: skip
        for each in late:
            each.cancel()
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

    def post(self, frame: str) -> None:
        """Send a frame to every open page."""
        for device in self._open:
            device.post(frame)

    async def close(self) -> None:
        """Close every page: the bot stops, and the pages try again by themselves."""
        await asyncio.gather(*(device.close(WSCloseCode.GOING_AWAY, "lampwatch stops") for device in self))
