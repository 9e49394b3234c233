"""A machine with the bot on it: a clock that may be wrong, a process that ends and begins again, a sleep; and the bell as the app rings it.

What `bot/app/running.py` and `bot/reminders/bell.py` do on the machine's own loop is done here on a simulated one: a timer to the next
notice, and a sweep each minute. Timers stand still while the machine sleeps, and do not mind the clock being set.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from bot.clock import SetClock
from bot.conversation import Message, Said
from bot.household import Household, open_household
from tests.simulation.story import INES, NO_TIME, THEO, Say, Step, Story, Trouble

SWEEP = timedelta(seconds=60)
AT_SOONEST = timedelta(seconds=1)
ALERT = timedelta(hours=6)
"""So long after a trouble every sweep is made; later, where nothing can have changed, one in `thin`."""
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass
class Machine:
    """Runs a story. `said` is all that came unasked, with its true moment."""

    story: Story
    path: Path
    thin: int = 1
    """One sweep in so many is made while all is well: a shorter test, in which only the timer is trusted more."""
    said: list[tuple[datetime, Said]] = field(default_factory=list)
    misread: list[str] = field(default_factory=list)
    _house: Household | None = None
    _at: datetime = EPOCH
    _ahead: timedelta = NO_TIME
    _asleep_since: datetime | None = None
    _ring: tuple[datetime, datetime] | None = None
    """When the timer ends, and the moment by the machine's clock for which it was set."""
    _sweep: datetime = EPOCH
    _troubled: datetime = EPOCH
    _sweeps: int = 0

    def run(self) -> None:
        """From the birth to the end."""
        self._at = self.story.born
        self._on()
        assert self._house is not None
        for name in (INES, THEO):
            self._house.take_in(name, self._clock())
        troubles = [step.at for step in self.story.steps if isinstance(step.what, Trouble)][::-1]
        for step in self.story.steps:
            while troubles and troubles[-1] < step.at:
                troubles.pop()
            self._until(step.at, troubles[-1] if troubles else self.story.end)
            self._at = step.at
            self._take(step)
        self._until(self.story.end, self.story.end)
        if self._house is not None:
            self._house.close()

    def _clock(self) -> datetime:
        return self._at + self._ahead

    def _until(self, end: datetime, trouble: datetime) -> None:
        """Let the timers run until then."""
        while self._house is not None and self._asleep_since is None:
            ring = self._ring[0] if self._ring is not None else end
            self._at = min(ring, self._sweep)
            if self._at >= end:
                return
            if self._at == self._sweep:
                self._sweep += SWEEP
                self._sweeps += 1
                if self._sweeps % self.thin == 0 or self._at - self._troubled < ALERT or trouble - self._at <= SWEEP:
                    self._rung()
            elif self._ring is not None and self._clock() < self._ring[1]:
                self._ring = self._at + (self._ring[1] - self._clock()), self._ring[1]
            else:
                self._rung()

    def _rung(self) -> None:
        assert self._house is not None
        by, now = self._set_clock.moved(), self._clock()
        said = [] if by is None else self._house.clock_was_set(by, now, trusted=self._set_clock.as_at_the_start)
        said += self._house.speak_up(now)
        self.said += [(self._at, one) for one in said]
        self._set_bell()

    def _set_bell(self) -> None:
        assert self._house is not None
        now = self._clock()
        moment = self._house.next_notice(now)
        after = None if moment is None else max(moment - now, AT_SOONEST)
        self._ring = None if after is None else (self._at + after, now + after)

    def _take(self, step: Step) -> None:
        if isinstance(step.what, Say):
            return self._hear(step.what, step.waited)
        self._troubled = step.at
        match step.what.kind:
            case "off":
                assert self._house is not None
                self._house.close()
                self._house = self._ring = None
            case "on":
                self._ahead = step.what.ahead
                self._on()
            case "sleep":
                self._asleep_since = step.at
            case "wake":
                assert self._asleep_since is not None
                slept, self._asleep_since = step.at - self._asleep_since, None
                self._sweep += slept
                self._ring = None if self._ring is None else (self._ring[0] + slept, self._ring[1])
            case "set":
                self._rung()  # a sweep just before, so that it is known what time was seen last
                self._ahead = step.what.ahead
        return None

    def _on(self) -> None:
        self._house = open_household(self.path, zone=self.story.zone)
        self._set_clock = SetClock(self._clock, lambda: (self._at - EPOCH).total_seconds())
        self._sweep = self._at + SWEEP
        self._rung()

    def _hear(self, say: Say, waited: timedelta) -> None:
        assert self._house is not None
        now = self._clock()
        heard = self._house.hear(Message(say.by, say.text), now - waited, clock=now)
        self.said += [(self._at, one) for one in heard.said if one.says == "warning" and one.about == "clock"]
        if not heard.kept or not _as_meant(say, heard.reading):
            self.misread.append(f"{self._at:%m-%d %H:%M} {say.by}: {say.text} -> {heard.said[-1].text}")
        self._set_bell()


_SETUP = frozenset({"litter", "roster", "plan", "every", "snooze", "watch", "watch until", "stop", "start"})


def _as_meant(say: Say, reading: Any) -> bool:
    """Whether the bot took the words as the story means them; what it says of them is another test's matter."""
    kinds = [fact.kind for fact in say.facts]
    if reading is None:
        return False
    if not kinds:
        return bool(reading.does == "note")
    if kinds == ["undo"]:
        return bool(reading.does == "fix")
    if kinds[0] in _SETUP:
        return bool(reading.does == "setup")
    return reading.does == "log" and {event.kind for event in reading.events} == set(kinds)
