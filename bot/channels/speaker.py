"""The speaker at the box: what is said unasked is spoken on the machine's own sound output, by espeak-ng in a process of its own."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import datetime
from zoneinfo import ZoneInfo

from bot.conversation import EVERYONE, Said
from bot.delivery import Came, Way

_log = logging.getLogger(__name__)

PROGRAM = "espeak-ng"
LONGEST = 600
"""Characters that are spoken at most; the whole of it stands on the page."""
WORDS_A_MINUTE = 150
"""A little slower than the program's own 175, for someone who wakes up. Derived."""
LOUDEST = 200
"""The program's own number for as loud as it can."""
SECONDS_TO_SPEAK = 90.0
"""After so long whatever it speaks is ended, and counts as not spoken."""
_FAULTS = ("error", "can't", "cannot", "failed")
"""How a line of its complaints begins where nothing was heard: it ends with 0 also where there is no sound card."""


class Speaker:
    """A way of the whole house. One thing is spoken at a time; text goes in by standard input, never as an argument."""

    way = Way("speaker", shared=True)

    def __init__(
        self,
        clock: Callable[[], datetime],
        zone: Callable[[], ZoneInfo],
        *,
        volume: int = 100,
        hours: tuple[int, int] | None = None,
        more: Sequence[str] = (),
        program: str = PROGRAM,
        seconds: float = SECONDS_TO_SPEAK,
    ) -> None:
        """`volume` in percent; `hours` from and until which nudges are spoken (warnings always are); `more` are words for the program."""
        self._clock = clock
        self._zone = zone
        self._command = [program, "--stdin", "-v", "en", "-s", str(WORDS_A_MINUTE), "-a", str(volume * LOUDEST // 100), *more]
        self._hours = hours
        self._seconds = seconds
        self._one_at_a_time = asyncio.Lock()
        self._told = False

    async def say(self, said: Said, to: str) -> Came:
        """Speak it; arrived where it was spoken to its end."""
        if said.says != "warning" and not self._may_speak():
            return Came.FAILED
        async with self._one_at_a_time:
            why = await self._speak(spoken(said))
        if why and not self._told:
            _log.warning("The speaker could not speak (%s). Is %s installed, and is there a sound output for this user?", why, PROGRAM)
        self._told = bool(why)
        return Came.FAILED if why else Came.ARRIVED

    def _may_speak(self) -> bool:
        if self._hours is None:
            return True
        begin, end = self._hours
        hour = self._clock().astimezone(self._zone()).hour
        return begin <= hour < end if begin < end else hour >= begin or hour < end

    async def _speak(self, words: str) -> str:
        """Run the program; why nothing was heard, or nothing."""
        pipe, nowhere = asyncio.subprocess.PIPE, asyncio.subprocess.DEVNULL
        try:
            process = await asyncio.create_subprocess_exec(*self._command, stdin=pipe, stdout=nowhere, stderr=pipe)
        except OSError as problem:
            return (problem.strerror or str(problem)).lower()
        try:
            _, complaints = await asyncio.wait_for(process.communicate(words.encode()), self._seconds)
        except TimeoutError:
            return "it did not come to an end"
        finally:
            if process.returncode is None:
                with suppress(ProcessLookupError):
                    process.kill()
                await process.wait()
        lines = [line.strip() for line in complaints.decode(errors="replace").splitlines()]
        fault = next((line for line in lines if line.casefold().startswith(_FAULTS)), "")
        return fault or (f"it ended with {process.returncode}" if process.returncode else "")


def spoken(said: Said) -> str:
    """What is spoken: for whom, and the words, each line a sentence."""
    words = ". ".join(line.strip().rstrip(".:;") for line in said.text.splitlines() if line.strip())[:LONGEST]
    return f"{'' if said.to == EVERYONE else f'{said.to}! '}{words}."
