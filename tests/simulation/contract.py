"""The contract's table of care that is due, and its rules of when and to whom it is said, written a second time and plainly.

Nothing here is taken from the bot: it is the oracle that the bot is held against. It knows when the machine was there and what its clock
showed, and gives for each care of each dog the moment at which it must be said, at which stage and to whom. It looks at everything anew
each time.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from tests.simulation.story import INES, NO_TIME, PUPS, THEO, Fact, Say, Step, Story, Trouble, Who

MINUTE, HOUR, DAY = timedelta(minutes=1), timedelta(hours=1), timedelta(days=1)
AT_SOONEST = timedelta(seconds=1)
"""The bell is not set nearer: of messages that come at once, all are heard before it rings."""
Key = tuple[str, Who, datetime]
"""A due care: which, of whom, and since when: what was done last, or the hour of the wall clock."""


@dataclass(frozen=True)
class Must:
    """What must be said of one due care: when (truly), how urgent, to whom."""

    at: datetime
    key: Key
    urgency: str
    to: str


@dataclass(frozen=True)
class Need:
    """A care that is due: the moments of its stages before any snooze, and until when it is spoken of."""

    key: Key
    due: datetime
    apart: tuple[timedelta, ...] = (NO_TIME, 30 * MINUTE, 60 * MINUTE)
    end: datetime | None = None


@dataclass(frozen=True)
class Call:
    """The next stage of a need that is to be said, and when."""

    need: Need
    stage: int
    at: datetime


@dataclass(frozen=True)
class Feed:
    """A nursing: began, ended, told."""

    began: datetime
    ended: datetime
    told: datetime


@dataclass
class Contract:
    """Runs a story and gathers what must be said."""

    story: Story
    warned: list[tuple[datetime, datetime]] = field(default_factory=list)
    """When warnings were said, truly and by the log: they are another test's matter, but stand in the log like all else."""
    musts: list[Must] = field(default_factory=list)
    held: int = 0
    """How often the clock fell behind the log while the bot was there."""

    def __post_init__(self) -> None:
        self.zone = ZoneInfo(self.story.zone)
        self.born = self.story.born.replace(second=0, microsecond=0)
        self.known: datetime | None = None
        self.died: set[Who] = set()
        self.feeds: dict[Who, list[Feed]] = {pup: [] for pup in PUPS}
        self.done: dict[tuple[str, Who], datetime] = {}
        self.place: dict[Who, tuple[datetime, str]] = {}
        self.last_of: dict[str, list[Who]] = {}
        self.heard: datetime | None = None
        self.every: float | None = None
        self.plan: float | None = None
        self.silent: set[str] = set()
        self.snoozes: list[tuple[datetime, datetime, tuple[Who, ...]]] = []
        self.watch: tuple[str, datetime | None] | None = None
        self.roster = False
        self.said: dict[Key, dict[int, datetime | None]] = {}
        # The machine
        self.up = True
        self.asleep_since: datetime | None = None
        self.ahead = self.ahead_at_start = NO_TIME
        self.newest = datetime(2026, 1, 1, tzinfo=UTC)
        self.kept = self.newest
        self.sweeps_from = self.story.born
        self.behind = False

    # The machine and its clock

    def run(self) -> None:
        """From the birth to the end."""
        look: datetime | None = self.story.born
        for step in [*self.story.steps, None]:
            until = self.story.end if step is None else step.at
            if self.up and self.asleep_since is None:
                self._let_run(look, until)
            if step is None:
                return
            look = self._say(step.at, step) if isinstance(step.what, Say) else self._trouble(step.at, step.what)

    def _let_run(self, look: datetime | None, until: datetime) -> None:
        """Look then, and at each moment that something is due, until a moment."""
        while look is not None and look < until:
            now = look + self.ahead
            if self._is_behind(now):
                self.held += not self.behind
                self.behind, self.kept = True, self.newest
                caught_up = self.newest - 2 * MINUTE - self.ahead
                look = self._sweep(caught_up)
                continue
            self.behind = False
            self._look(look, now)
            coming = self._next(now)
            look = None if coming is None else coming - self.ahead

    def _sweep(self, at: datetime) -> datetime:
        """The first sweep after a moment: a minute after the start, and each minute from there in which the machine was awake."""
        past = (at - self.sweeps_from) % MINUTE
        return at + (MINUTE - past)

    def _trouble(self, at: datetime, trouble: Trouble) -> datetime | None:
        if trouble.kind == "set" and not self._is_behind(at + self.ahead):
            self._look(at, at + self.ahead)
            self._see(at + self.ahead)
        self.ahead = trouble.ahead if trouble.kind in ("on", "set") else self.ahead
        if trouble.kind == "off":
            self.kept = max([self.kept, *(kept_at for said_at, kept_at in self.warned if said_at <= at)])
            self.up, self.newest, self.behind = False, self.kept, False
        elif trouble.kind == "on":
            self.up, self.sweeps_from, self.ahead_at_start = True, at, self.ahead
            return at
        elif trouble.kind == "sleep":
            self.asleep_since = at
        elif trouble.kind == "wake" and self.asleep_since is not None:
            self.sweeps_from += at - self.asleep_since
            self.asleep_since = None
            return self._sweep(at)
        else:
            sweep = self._sweep(at)
            if abs(self.ahead - self.ahead_at_start) < MINUTE:
                self.newest = min(self.newest, sweep + self.ahead)
                self.heard = min(self.heard, self.newest) if self.heard else None
            return sweep
        return None

    def _is_behind(self, now: datetime) -> bool:
        return self.newest - now > 2 * MINUTE

    def _see(self, now: datetime, *, kept: bool = False) -> None:
        self.newest = max(self.newest, now)
        if kept:
            self.kept = max(self.kept, now)

    # What is told

    def _say(self, at: datetime, step: Step) -> datetime:
        assert isinstance(step.what, Say)
        now = at + self.ahead
        told = self.newest if self._is_behind(now) else now - step.waited
        self._see(told, kept=True)
        self.heard = max(told, self.heard or told)
        for fact in step.what.facts:
            self._fact(fact, told, step.what.by)
        return at if not (at - self.sweeps_from) % MINUTE else at + AT_SOONEST

    def _fact(self, fact: Fact, told: datetime, by: str) -> None:
        whos = [pup for pup in PUPS if pup not in self.died] if fact.who is None else fact.who
        kind = fact.kind
        if kind == "nursed":
            length = timedelta(minutes=fact.minutes)
            began = told - timedelta(minutes=fact.ago) if fact.ago else told - length
            for who in whos:
                self.feeds[who].append(Feed(began, began + length, told))
            self.last_of[by] = list(whos)
        elif kind == "undo":
            for who in self.last_of[by]:
                self.feeds[who].pop()
        elif kind == "placed":
            for who in whos:
                self.place[who] = max(self.place.get(who, (told, "")), (told, fact.value))
        elif kind in ("cleared", "toilet", "weight", "temperature", "dose"):
            for who in whos:
                self.done[kind, who] = max(self.done.get((kind, who), told), told)
        elif kind == "died":
            self.died.update(whos)
        elif kind == "litter":
            self.known = told
        elif kind == "roster":
            self.roster = True
        elif kind == "plan":
            self.plan = fact.minutes
        elif kind == "every":
            self.every = fact.minutes
        elif kind == "snooze":
            self.snoozes = [old for old in self.snoozes if told - old[1] < 2 * DAY]
            self.snoozes.append((told, told + timedelta(minutes=fact.minutes), tuple(fact.who or ())))
        elif kind == "watch":
            self.watch = fact.value, None
        elif kind == "watch until":
            self.watch = fact.value, next(self._wall(told, (int(fact.minutes),)))
        elif kind == "stop":
            self.silent.add(fact.value)
        else:
            assert kind == "start", kind
            self.silent.discard(fact.value)

    def _wall(self, after: datetime, hours: Iterable[int], *, days_before: int = 0) -> Iterator[datetime]:
        """These full hours of the wall clock, from a moment on (or from so many days before it)."""
        day = after.astimezone(self.zone).date() - timedelta(days=days_before)
        while True:
            for hour in hours:
                moment = datetime(day.year, day.month, day.day, hour, tzinfo=self.zone).astimezone(UTC)
                if days_before or moment > after:
                    yield moment
            day += DAY

    # What is due

    def _needs(self, now: datetime) -> Iterator[Need]:
        if self.known is None:
            return
        for pup in PUPS:
            if pup not in self.died:
                yield from self._of_pup(pup, now)
        yield from self._of_dam(now)

    def _of_pup(self, pup: Who, now: datetime) -> Iterator[Need]:
        feed = max(reversed(self.feeds[pup]), key=lambda one: one.began, default=None)
        if feed is None:
            soon = self.born + 2 * HOUR
            yield Need(("first milk", pup, soon), soon, (NO_TIME, 2 * HOUR), self.born + 8 * HOUR)
        else:
            day = (feed.began - self.born) // DAY
            minutes = 120 if day <= 6 else 180 if day <= 13 else 240
            if day <= 20:
                yield Need(("nursing", pup, feed.began), feed.began + (self.every or minutes) * MINUTE)
            for care, kind, wait in (("clearing", "cleared", 15), ("toilet", "toilet", 30)):
                due = feed.ended + wait * MINUTE
                done = self.done.get((kind, pup))
                if (done is None or done < feed.began) and feed.told - due <= HOUR and (care == "clearing" or day <= 20):
                    yield Need((care, pup, feed.began), due)
        for at, end in self._weigh_ins(now):
            weighed = self.done.get(("weight", pup))
            if weighed is None or weighed < at - 4 * HOUR:
                yield Need(("weighing", pup, at), at, end=end)
        if self.heard is not None and (self.heard + 45 * MINUTE - self.born) // DAY <= 13:
            placed = self.place.get(pup)
            nursed_since = feed is not None and (placed is None or feed.began > placed[0])
            if nursed_since or (placed is not None and placed[1] == "dam"):
                yield Need(("supervision", pup, self.heard), self.heard + 45 * MINUTE)

    def _weigh_ins(self, now: datetime) -> list[tuple[datetime, datetime | None]]:
        """The last weigh-in, which holds until the next one, and the next."""
        last: datetime | None = None
        found: list[tuple[datetime, datetime | None]] = []
        for at in self._wall(now, (8, 20), days_before=4):
            day, evening = (at - self.born) // DAY, at.astimezone(self.zone).hour == 20
            if day > 30:
                break
            if day < 0 or (evening and day > 6) or (day > 13 and day % 3):
                continue
            if at > now:
                found.append((at, None))
                break
            last = at
        if last is not None and self.known is not None and last >= self.known:
            found.insert(0, (last, found[0][0] if found else self.born + 31 * DAY))
        return found

    def _of_dam(self, now: datetime) -> Iterator[Need]:
        checks = 0
        for at in self._wall(self.born, (9,)):
            if at < self.born + 12 * HOUR:
                continue
            checks += 1
            if checks > 10 or at > now + DAY:
                break
            local = at.astimezone(self.zone)
            midnight = datetime(local.year, local.month, local.day, tzinfo=self.zone) + DAY
            end, measured = midnight.astimezone(UTC), self.done.get(("temperature", "dam"))
            if measured is not None and measured.astimezone(self.zone).date() == local.date():
                continue
            if end > now and self.known is not None and at >= self.known:
                yield Need(("dam check", "dam", at), at, end=end)
        given = self.done.get(("dose", "dam"))
        if self.plan is not None and given is not None:
            yield Need(("dose", "dam", given), given + self.plan * MINUTE)

    # When it is said

    def _calls(self, now: datetime) -> Iterator[Call]:
        for need in self._needs(now):
            if need.key[0] in self.silent:
                continue
            said = self.said.get(need.key, {})
            call = None
            moment = need.due
            for stage, after in enumerate(need.apart):
                if stage and len(need.apart) == 3:
                    moment += 30 * MINUTE
                else:
                    moment = need.due + after
                moment = (said[stage] or moment) if stage in said else self._after_snooze(moment, need.key[1])
                if stage > max(said, default=-1) and (call is None or moment <= now):
                    call = Call(need, stage, moment)
            if call is None or now - call.at > 12 * HOUR or (need.end is not None and max(now, call.at) >= need.end):
                continue
            yield call

    def _after_snooze(self, moment: datetime, who: Who) -> datetime:
        for _ in self.snoozes:
            for begin, end, whom in self.snoozes:
                if begin <= moment < end and (not whom or who in whom):
                    moment = end
        return moment

    def _look(self, at: datetime, now: datetime) -> None:
        """Say what is due by now: one message for each care and stage, for the pups within ten minutes of its first."""
        by_care: dict[str, list[Call]] = {}
        for call in self._calls(now):
            by_care.setdefault(call.need.key[0], []).append(call)
        for care, calls in by_care.items():
            messages: list[list[Call]] = []
            for stage in range(3):
                waiting = sorted((call for call in calls if call.stage == stage), key=lambda call: call.at)
                while waiting and waiting[0].at <= now:
                    first = waiting[0].at
                    messages.append([call for call in waiting if call.at <= first + 10 * MINUTE])
                    waiting = [call for call in waiting if call.at > first + 10 * MINUTE]
            if any(now - message[0].at > MINUTE for message in messages):  # after an outage: one message for each care
                messages = [[call for message in messages for call in message]]
            for message in messages:
                self._message(at, now, care, message)

    def _message(self, at: datetime, now: datetime, care: str, message: list[Call]) -> None:
        stage = max(call.stage for call in message)
        to = "all" if stage == 2 else self._on_duty(now)
        for call in message:
            key = call.need.key
            plain = self._plain(call)
            self.said.setdefault(key, {})[call.stage] = None if call.at == plain else call.at
            self.musts.append(Must(at, key, "soon" if stage or care == "first milk" else "routine", to))
        self._see(now, kept=True)

    def _plain(self, call: Call) -> datetime:
        """The stage's moment were there no snooze."""
        return call.need.due + call.need.apart[call.stage]

    def _on_duty(self, now: datetime) -> str:
        if self.watch is not None and (self.watch[1] is None or now < self.watch[1]):
            return self.watch[0]
        hour = now.astimezone(self.zone).hour
        if self.roster and (hour >= 22 or hour < 4):
            return THEO
        return INES if self.roster and 4 <= hour < 10 else "all"

    def _next(self, now: datetime) -> datetime | None:
        return min((call.at for call in self._calls(now) if call.at > now), default=None)
