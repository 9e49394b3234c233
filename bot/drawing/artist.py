"""The artist has charts drawn by another process: begun at the first chart, kept while charts are asked for, let go when none is."""

from __future__ import annotations

import asyncio
import json
import logging
import os
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import bot
from bot.charts import Curves, Timeline
from bot.drawing.looks import Variant
from bot.sheets import Sheet

IDLE_SECONDS = 600.0
"""How long the process is kept after the last chart: it holds 100 MB, and is begun again in a second."""
SECONDS_TO_DRAW = 30.0
"""How long a chart may take, the beginning of the process on a slow board included; after that the process counts as stuck."""
_NOT_DRAWN = "That could not be drawn just now. What it shows stands in the words beside it; ask again in a minute."

_log = logging.getLogger(__name__)


class NotDrawn(Exception):
    """Nothing was drawn; the message is a sentence for the person who asked."""


class Artist:
    """Draws, one thing after the other. Used from one event loop; `close` ends its process."""

    def __init__(
        self,
        cache: Path | None = None,
        *,
        idle_seconds: float = IDLE_SECONDS,
        seconds_to_draw: float = SECONDS_TO_DRAW,
        python: str = sys.executable,
    ) -> None:
        """`cache` is a directory in which the drawing library may keep what it found out about the machine's fonts; `python` runs it."""
        self._python = python
        self._cache = cache
        self._idle_seconds = idle_seconds
        self._seconds_to_draw = seconds_to_draw
        self._process: subprocess.Popen[bytes] | None = None
        self._turn = asyncio.Lock()
        self._letting_go: asyncio.TimerHandle | None = None

    @property
    def process_id(self) -> int | None:
        """The process that draws; None where there is none just now."""
        return self._process.pid if self._process is not None and self._process.poll() is None else None

    async def draw(self, chart: Curves | Timeline, variant: Variant) -> bytes:
        """The chart as a PNG. Raises NotDrawn, in words for the person who asked."""
        return await self._ask({"do": "chart", "chart": chart.model_dump(mode="json"), "variant": variant})

    async def print_sheet(self, sheet: Sheet) -> bytes:
        """The sheet as a PDF. Raises NotDrawn, in words for the person who asked."""
        return await self._ask({"do": "sheet", "sheet": sheet.model_dump(mode="json")})

    def close(self) -> None:
        """End the process, whatever it is at."""
        if self._letting_go is not None:
            self._letting_go.cancel()
        if self._process is not None:
            self._process.kill()
            self._process.wait()
            for pipe in (self._process.stdin, self._process.stdout):
                if pipe is not None:
                    with suppress(OSError):  # what was still to be written to it
                        pipe.close()
            self._process = None

    async def _ask(self, request: dict[str, object]) -> bytes:
        async with self._turn:
            if self._letting_go is not None:
                self._letting_go.cancel()
            try:
                return await self._tried(request)
            finally:
                self._letting_go = asyncio.get_running_loop().call_later(self._idle_seconds, self.close)

    async def _tried(self, request: dict[str, object]) -> bytes:
        """What was asked for; asked again of a new process where the old one had died, which while it was idle means nothing."""
        for _ in range(2):
            fresh = self.process_id is None
            try:
                return await self._answer(request)
            except (OSError, EOFError, ValueError) as problem:
                _log.warning("The drawing process failed and is ended: %r", problem)
                self.close()
                if fresh:
                    break
        raise NotDrawn(_NOT_DRAWN)

    async def _answer(self, request: dict[str, object]) -> bytes:
        """Ask the process in a thread, since its pipes are waited for. Where that takes too long, or nobody waits any more, it is ended."""
        process = self._begun()
        asked = asyncio.get_running_loop().run_in_executor(None, _exchange, process, request)
        try:
            await asyncio.wait([asked], timeout=self._seconds_to_draw)
        finally:
            if not asked.done():
                process.kill()
                asked.add_done_callback(asyncio.Future.exception)  # it will have failed, and nobody asks why
        return await asked

    def _begun(self) -> subprocess.Popen[bytes]:
        """The process, begun where there is none."""
        if self._process is None or self.process_id is None:
            self.close()
            self._process = subprocess.Popen(
                [self._python, "-P", "-m", "bot.drawing.worker"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                env=_environment(self._cache),
            )
        return self._process


def _exchange(process: subprocess.Popen[bytes], request: dict[str, object]) -> bytes:
    """One request and its answer. Raises EOFError or OSError where the process is gone, NotDrawn where it cannot draw this."""
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write(json.dumps(request).encode() + b"\n")
    process.stdin.flush()
    head = process.stdout.readline()
    if not head.endswith(b"\n"):
        raise EOFError("it ended")
    said = json.loads(head)
    if "fault" in said:
        _log.warning("Something could not be drawn: %s", said["fault"])
        raise NotDrawn(_NOT_DRAWN)
    drawn = process.stdout.read(said["bytes"])
    if len(drawn) < said["bytes"]:
        raise EOFError("it ended in the middle of an answer")
    return drawn


def _environment(cache: Path | None) -> dict[str, str]:
    """Ours, with the way to this very code, wherever the bot was started from."""
    source = str(Path(bot.__file__).parent.parent)
    path = os.pathsep.join([source, *filter(None, [os.environ.get("PYTHONPATH")])])
    return os.environ | {"PYTHONPATH": path} | ({} if cache is None else {"MPLCONFIGDIR": str(cache)})
