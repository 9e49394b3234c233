"""What the bot says reaches people by ways; a way has one verb, `say`, and what is not known to have arrived goes by the next one.

Replies and answers stand on the page of whoever asked, and that is all. What is said unasked climbs a ladder for each person it is for.
"""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Protocol

from bot.conversation import EVERYONE, Said
from bot.conversation.unheard import UNHEARD
from bot.delivery.ladder import CARRIED_FOR, ROUNDS, Came, Try, Way, arrived, next_step, unheard_at
from bot.household.alarm import ALARM_TEST

_log = logging.getLogger(__name__)

AT_ONCE = timedelta(seconds=1)
"""What set out no longer ago is still wanted: it was due just now."""
THE_HOUSE = ""
"""Whom a way serves that is the house's own."""


class Channel(Protocol):
    """A way to people."""

    way: Way

    async def say(self, said: Said, to: str) -> Came:
        """Bring it to a person (or `all`), and tell what is known of it."""


class Kept(Protocol):
    """A try as the household keeps it (storage.TriedWay is one)."""

    @property
    def person(self) -> str: ...
    @property
    def way(self) -> str: ...
    @property
    def at(self) -> datetime: ...
    @property
    def times(self) -> int: ...
    @property
    def came(self) -> str: ...


class House(Protocol):
    """What delivery needs of the household (bot.household has it)."""

    def people(self) -> Sequence[str]:
        """Everyone's name."""

    def owed(self) -> Sequence[Said]:
        """What was said and has not reached anyone yet."""

    def said_lately(self, since: datetime) -> Sequence[Said]:
        """What was said unasked since then."""

    def is_wanted(self, said: Said, now: datetime) -> bool:
        """Whether something said unasked still needs to reach anyone: a nudge does not once its care is logged, or is snoozed."""

    def tries_of(self, id: int) -> Sequence[Kept]:
        """The tries of something said."""


@dataclass
class _Carried:
    """Something said unasked that is on its way."""

    said: Said
    people: tuple[str, ...]
    since: datetime
    """When it set out; what it says of itself may be earlier, or by a clock that was wrong."""
    tries: dict[str, dict[str, Try]] = field(default_factory=dict)
    """By person and way."""
    going: set[tuple[str, str]] = field(default_factory=set)
    """What is being tried just now."""
    unheard: bool = False
    """True once that nobody got it was a warning, or need not be one."""

    def of(self, person: str) -> dict[str, Try]:
        """What was tried for a person, by way; the house's own ways are for everyone."""
        return {**self.tries.get(THE_HOUSE, {}), **self.tries.get(person, {})}

    def reached(self, person: str) -> bool:
        return arrived(self.of(person).values())

    @property
    def reached_anyone(self) -> bool:
        return any(arrived(ways.values()) for ways in self.tries.values())


class Delivery:
    """Carries what is said until it is known to have arrived, and reports what did."""

    def __init__(
        self,
        channels: Sequence[Channel],
        house: House,
        clock: Callable[[], datetime],
        *,
        delivered: Callable[[Sequence[int]], None],
        tried: Callable[[int, str, Try], None] = lambda *_: None,
        unheard: Callable[[Sequence[Said]], None] = lambda _: None,
    ) -> None:
        """`channels` in the order in which they are tried, the page first. `delivered`: these reached someone; `tried`: what became of
        a try of this message to this person; `unheard`: nobody got these for ten minutes."""
        self.channels = list(channels)
        self._house = house
        self._clock = clock
        self._delivered = delivered
        self._tried = tried
        self._unheard = unheard
        self._carried: dict[int, _Carried] = {}
        self._owed = {said.id: said.to for said in house.owed() if said.id is not None and _unasked(said)}
        self._ways = [channel.way for channel in self.channels]
        self._timer: asyncio.TimerHandle | None = None
        self._looking: asyncio.Handle | None = None
        self._going: set[asyncio.Task[None]] = set()

    async def tell(self, many: Iterable[Said]) -> None:
        """Bring each to whom it is for. One way that fails hinders no other; what reached nobody stays owed and is told again."""
        reached: list[int] = []
        for said in many:
            if _unasked(said) and said.id is not None and (people := self._audience(said)):
                self._carry(_Carried(said, people, self._clock()))
            elif await self._by(self.channels[0], said, said.to) is not Came.FAILED and said.id is not None and not _unasked(said):
                reached.append(said.id)
        if reached:
            self._delivered(reached)
        self.sweep()

    def go_on(self) -> None:
        """After a start: what was said unasked lately, and did not reach everyone that it was for, is carried on."""
        for said in self._house.said_lately(self._clock() - CARRIED_FOR):
            people = self._audience(said)
            if said.id is None or not people:
                continue
            carried = _Carried(said, people, said.at)
            for one in self._house.tries_of(said.id):
                carried.tries.setdefault(one.person, {})[one.way] = Try(one.way, one.at, Came(one.came), one.times)
            if carried.tries or said.id in self._owed:
                carried.since = min((one.at for ways in carried.tries.values() for one in ways.values()), default=carried.since)
                self._carry(carried)
        self.sweep()

    def sweep(self) -> None:
        """Take every step that is due by now, and look again when the next one is. For anything still on its way this costs a few steps,
        and nothing at all where nothing is."""
        if self._looking is not None:
            self._looking.cancel()
            self._looking = None
        now = self._clock()
        moments = [moment for carried in list(self._carried.values()) for moment in self._step(carried, now)]
        overdue = [one.said for one in self._carried.values() if self._is_unheard(one, now)]
        if overdue:
            self._unheard(overdue)
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None
        if moments:
            seconds = max((min(moments) - now).total_seconds(), 0.0)
            self._timer = asyncio.get_running_loop().call_later(seconds, self.sweep)

    def arrived(self, ids: Iterable[int], person: str, way: str) -> None:
        """A person's end of a way confirmed these."""
        known = [id for id in ids if id in self._carried or id in self._owed]
        for id in known:
            carried = self._carried.get(id)
            if carried is None:
                if self._owed[id] in (person, EVERYONE):
                    self._reached(id)
            elif person in carried.people and (not carried.reached(person) or carried.said.about == ALARM_TEST):
                before = carried.tries.get(person, {}).get(way)
                self._note(carried, person, Try(way, self._clock(), Came.ARRIVED, before.times if before else 1))
        if known:
            self.sweep()

    def spoke(self, person: str) -> None:
        """A person wrote on the page, before whose eyes everything stands that was said: no better sign that it arrived."""
        if seen := [id for id, one in self._carried.items() if one.said.about != ALARM_TEST]:
            self.arrived(seen, person, self.channels[0].way.name)

    async def settled(self) -> None:
        """Wait until nothing is being tried just now."""
        while self._going or self._looking is not None:
            await asyncio.gather(*self._going)
            await asyncio.sleep(0)

    def stop(self) -> None:
        """Try no more."""
        for handle in (self._timer, self._looking):
            if handle is not None:
                handle.cancel()
        for task in self._going:
            task.cancel()

    # Private

    def _audience(self, said: Said) -> tuple[str, ...]:
        return tuple(self._house.people()) if said.to == EVERYONE else (said.to,)

    def _carry(self, carried: _Carried) -> None:
        assert carried.said.id is not None
        carried.unheard = carried.said.about in (UNHEARD, ALARM_TEST)
        self._carried[carried.said.id] = carried
        if not carried.reached_anyone:
            self._owed[carried.said.id] = carried.said.to

    def _step(self, carried: _Carried, now: datetime) -> Iterator[datetime]:
        """Go by the next way to each person who has not got it; gives the moments to look again at."""
        assert carried.said.id is not None
        carried.since = min(carried.since, now)  # the clock may have been set back
        moments: list[datetime] = []
        wanted: bool | None = None  # asked once for all people, and only where someone is next
        if carried.said.about == ALARM_TEST:
            self._begin_all(carried, now)
        for person in () if carried.said.about == ALARM_TEST else carried.people:
            known = carried.of(person)
            if arrived(known.values()) or any(who in (person, THE_HOUSE) for who, _ in carried.going):
                continue
            step = next_step(self._ways, known.values(), now)
            if step.way is not None and wanted is None:
                wanted = now - carried.since < AT_ONCE or self._house.is_wanted(carried.said, now)
            if step.way is not None and (not known or wanted):
                self._begin(carried, person, next(one for one in self.channels if one.way == step.way), now)
            elif step.again is not None:
                moments.append(step.again)
        if not carried.reached_anyone and not carried.unheard:
            moments.append(unheard_at(carried.since))
        if carried.said.about == ALARM_TEST:
            moments = [carried.since + CARRIED_FOR] if now < carried.since + CARRIED_FOR else []  # each way's confirmation is of interest
        if not moments and not carried.going:
            del self._carried[carried.said.id]
        yield from moments

    def _begin_all(self, carried: _Carried, now: datetime) -> None:
        """A test goes by every way at once, and once."""
        for channel in self.channels:
            for person in carried.people:
                mark = THE_HOUSE if channel.way.shared else person, channel.way.name
                if channel.way.name not in carried.tries.get(mark[0], {}) and mark not in carried.going:
                    self._begin(carried, person, channel, now)

    def _begin(self, carried: _Carried, person: str, channel: Channel, now: datetime) -> None:
        who = THE_HOUSE if channel.way.shared else person
        mark = (who, channel.way.name)
        before = carried.tries.get(who, {}).get(channel.way.name)
        carried.going.add(mark)
        task = asyncio.get_running_loop().create_task(self._go(carried, who, person, channel, now, before))
        self._going.add(task)
        task.add_done_callback(self._going.discard)

    async def _go(self, carried: _Carried, who: str, person: str, channel: Channel, at: datetime, before: Try | None) -> None:
        came = await self._by(channel, carried.said, person)
        carried.going.discard((who, channel.way.name))
        since = carried.tries.get(who, {}).get(channel.way.name)
        if since is before or since is None or since.came is not Came.ARRIVED:  # it may have been confirmed in the meantime
            times = min((before.times if before else 0) + 1, ROUNDS)
            self._note(carried, who, Try(channel.way.name, at, came, times))
        if self._looking is None:  # once for all that end together
            self._looking = asyncio.get_running_loop().call_soon(self.sweep)

    async def _by(self, channel: Channel, said: Said, to: str) -> Came:
        try:
            return await channel.say(said, to)
        except Exception:  # noqa: BLE001 (a way is the outside world: whatever breaks there, the others are still gone)
            _log.exception("The way %s could not bring message %s: it goes out by the next one.", channel.way.name, said.id)
            return Came.FAILED

    def _note(self, carried: _Carried, who: str, tried: Try) -> None:
        assert carried.said.id is not None
        carried.tries.setdefault(who, {})[tried.way] = tried
        self._tried(carried.said.id, who, tried)
        if tried.came is Came.ARRIVED:
            self._reached(carried.said.id)

    def _reached(self, id: int) -> None:
        if id in self._owed:
            del self._owed[id]
            self._delivered([id])

    def _is_unheard(self, carried: _Carried, now: datetime) -> bool:
        if carried.unheard or carried.reached_anyone or now < unheard_at(carried.since):
            return False
        carried.unheard = True
        return self._house.is_wanted(carried.said, now)


def _unasked(said: Said) -> bool:
    return said.says in ("nudge", "warning")
