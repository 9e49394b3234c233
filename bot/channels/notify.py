"""Whatever else the household uses (its `notify` addresses), by a library of many services that is loaded in a process of its own.

It is large and seldom needed, so each sending begins that process anew; the addresses hold secrets, so they go in by standard input.
"""

from __future__ import annotations

import asyncio
import json
import logging
import sys
from collections.abc import Sequence
from contextlib import suppress
from importlib.util import find_spec

from bot.conversation import Said
from bot.delivery import Came, Way

_log = logging.getLogger(__name__)

SECONDS = 45.0
"""How long all services together are given, with the start of the process."""
WORKER = "bot.channels.notify_worker"


class Notify:
    """A way of the whole house; arrived where a service took it."""

    way = Way("notify", shared=True)

    def __init__(self, addresses: Sequence[str], *, seconds: float = SECONDS) -> None:
        self._addresses = list(addresses)
        self._seconds = seconds

    @staticmethod
    def is_possible() -> bool:
        """Whether the extra is installed."""
        return find_spec("apprise") is not None

    async def say(self, said: Said, to: str) -> Came:
        """Send it by every address; what the library prints could name one, and is shown nowhere."""
        request = {"addresses": self._addresses, "title": f"lampwatch: {said.urgency or 'due'}", "body": said.text}
        nowhere = asyncio.subprocess.DEVNULL
        process = await asyncio.create_subprocess_exec(
            sys.executable, "-m", WORKER, stdin=asyncio.subprocess.PIPE, stdout=nowhere, stderr=nowhere
        )
        try:
            await asyncio.wait_for(process.communicate(json.dumps(request).encode()), self._seconds)
        except TimeoutError:
            _log.warning("The services of `notify` did not answer in time: the next way is gone, and they are tried again.")
        finally:
            if process.returncode is None:
                with suppress(ProcessLookupError):
                    process.kill()
                await process.wait()
        if process.returncode == 0:
            return Came.ARRIVED
        _log.warning("None of the services of `notify` took it: the next way is gone, and they are tried again.")
        return Came.FAILED
