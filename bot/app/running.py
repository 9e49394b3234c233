"""The rooms put together: what comes in by any way is heard once, and what is said goes out by every way."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Callable, Coroutine, Sequence
from datetime import datetime, timedelta
from pathlib import Path

from bot.app.address import calendar_link, join_link, picture
from bot.app.showing import Showing
from bot.app.ways import Ways, no_further_ways
from bot.care.sensors import Place, Sensed, known_place
from bot.channels.intake import too_long, whole
from bot.channels.talk import Answer, Request
from bot.channels.web import WebChannel
from bot.channels.web.pushing import PushDoor
from bot.channels.web.sensor import CLIMATE, SensorDoor
from bot.channels.web.showing import ShowingDoor
from bot.clock import Clock, SetClock, now
from bot.conversation import EVERYONE, Heard, Message, Said
from bot.delivery import Delivery, Try
from bot.household import JoinRefused, open_household
from bot.reminders import Bell
from storage import NotKept, TriedWay

_log = logging.getLogger(__name__)

WAITED_AT_ALL = timedelta(minutes=1)
"""A message that waited less on its device counts as said now: that much is the network's doing, and no entry turns on it."""
SECONDS_TO_BELL = 0.2
"""How long after a message the bell is set anew: once for a burst of messages, and never while a reply is on its way."""
SECONDS_TO_GLANCE = 0.15
"""How long after a message the top of the pages is brought up to date: once for a burst, and behind the replies."""
SECONDS_TO_MARK = 1.0
"""How long what reached someone may stand as owed: a crash in between shows it once more, which loses nothing."""
BELL_AT_SOONEST = timedelta(seconds=0.5)
"""The bell is not set nearer than this, so that a moment that is always past cannot keep it ringing."""

_ASKED = ("reply", "answer")
"""What has reached someone once it stands on their page; the rest is confirmed by the page itself."""


class Running:
    """The bot while it runs, with its page, its terminal, its bell."""

    def __init__(
        self,
        log: Path | None,
        zone: str,
        clock: Clock,
        *,
        story: str = "",
        set_clock: SetClock | None = None,
        ways: Ways = no_further_ways,
    ) -> None:
        """Open the household that the log's file holds (None: in memory). Raises storage's StorageError in words for the user."""
        self.household = open_household(log, zone=zone, link=self.link, calendar_link=self.calendar_link)
        self.clock = clock
        self.opened = asyncio.Event()
        """Set once someone has the page open."""
        self.showing = Showing(self.household, None if log is None else log.parent)
        further = ways(self.household, clock)
        self.web = WebChannel(
            self.household,
            self.hear,
            clock,
            opened=self._page_opened,
            got=self._got,
            shows=ShowingDoor(self.showing),
            pushes=PushDoor(further.push, self.household, self._got),
            sensors=SensorDoor(self.household.knows_sensor, self.sense),
            story=story,
        )
        self._set_clock = set_clock or SetClock()
        self.bell = Bell(self.speak_up, self._next_ring)
        self._marks: list[int] = []
        self._tries: dict[tuple[int, str, str], TriedWay] = {}
        self._delivery = Delivery(
            [self.web, *further.in_order],
            self.household,
            clock,
            delivered=self._reached,
            tried=self._tried,
            unheard=self._nobody_got if not story else lambda _: None,  # a night told fast has no minutes in which to be heard
        )
        self.household.ways = [channel.way.name for channel in self._delivery.channels]
        self._later: dict[str, asyncio.TimerHandle] = {}
        self._following: set[asyncio.Task[None]] = set()

    async def hear(self, message: Message, waited: timedelta = timedelta()) -> Heard:
        """Give the bot a message, and show it and what is said to it on every page.

        A message that waited on its device while there was no connection was said that much earlier, and is kept so.
        """
        moment = self.clock()
        heard = self.household.hear(message, moment - waited if waited >= WAITED_AT_ALL else moment, clock=moment)
        if heard.kept and not heard.again:
            self.web.show_news(heard.lines)
            asyncio.get_running_loop().call_soon(self._begin, self._follow(heard.said, message))
        return heard

    def _begin(self, work: Coroutine[None, None, None]) -> None:
        following = asyncio.get_running_loop().create_task(work)
        self._following.add(following)
        following.add_done_callback(self._following.discard)

    async def _follow(self, said: Sequence[Said], message: Message) -> None:
        """What a message brings about, begun once its reply is on its way."""
        if message.channel == "web":
            self._delivery.spoke(message.by)
        await self._delivery.tell(said)
        self._soon("bell", SECONDS_TO_BELL, self.bell.set)
        self._soon("glance", SECONDS_TO_GLANCE, self.web.show_glance)
        self.household.make_ready(message.by)

    async def sense(self, token: str, sensed: Sensed) -> Answer:
        """Take a reading of a sensor with a token."""
        return await self._sensed(lambda now: self.household.sense(token, sensed, now))

    async def sense_by_broker(self, place: Place, sensed: Sensed) -> Answer:
        """Take a reading that came by the broker."""
        return await self._sensed(lambda now: self.household.sense_by_broker(place, sensed, now))

    async def _sensed(self, take: Callable[[datetime], Heard | None]) -> Answer:
        try:
            heard = take(self.clock())
        except NotKept as problem:
            return {"kept": False, "why": str(problem)}
        if heard is None:
            return {"kept": True, "written": False, "said": []}
        self.web.show_news(heard.lines)
        await self._delivery.tell(heard.said)
        self._soon("bell", SECONDS_TO_BELL, self.bell.set)
        self._soon("glance", SECONDS_TO_GLANCE, self.web.show_glance)
        return {"kept": True, "written": True, "said": [said.text for said in heard.said]}

    async def speak_up(self) -> None:
        """Say what is due; before that, that the clock was set, where it was; and see what is still on its way."""
        moment = self.clock()
        by = self._set_clock.moved()
        said = [] if by is None else self.household.clock_was_set(by, moment, trusted=self._set_clock.as_at_the_start)
        said += self.household.speak_up(moment)
        await self._delivery.tell(said)
        if said:
            self._soon("glance", SECONDS_TO_GLANCE, self.web.show_glance)

    def next_notice(self) -> datetime | None:
        """When there will be something to say unasked, by the bot's own clock."""
        return self.household.next_notice(self.clock())

    async def answer(self, request: Request) -> Answer:
        """What a command on this machine asks: to say something, to invite someone, or where the page is."""
        match request:
            case {"do": "say", "text": str(text)}:
                return await self._say(whole(text), request.get("by"))
            case {"do": "invite", "name": str(name)}:
                return self._invite(name)
            case {"do": "sensor", "place": str(place)}:
                return self._let_in(place)
            case {"do": "ways"}:
                self._mark()
                ways = {person: self.household.ways_to(person, self.clock()) for person in self.household.people()}
                return {"kept": True, "text": "", "ways": ways}
            case {"do": "hello"}:
                return {"kept": True, "text": f"The bot runs, and its page is at {self.web.address}", "page": self.web.address}
        return {"kept": False, "text": "That is nothing the bot can be asked, and nothing was kept."}

    def link(self, token: str) -> str:
        """The address by which a token is used."""
        return join_link(self.web.address, token)

    def calendar_link(self, token: str) -> str:
        """The address by which a phone's calendar reads what is coming."""
        return calendar_link(self.web.address, token)

    def start(self) -> None:
        """Begin to ring, and go on with what was on its way; on the running event loop."""
        self._delivery.go_on()
        self.bell.start()

    async def settled(self) -> None:
        """Wait until what a message brought about is done, and nothing is being tried just now."""
        while self._following:
            await asyncio.gather(*self._following)
        await self._delivery.settled()

    def stop(self) -> None:
        """Ring no more, mark what reached someone, and let go of the log."""
        self.bell.stop()
        self._delivery.stop()
        for timer in self._later.values():
            timer.cancel()
        self._mark()
        self.showing.stop()
        self.household.close()

    async def _say(self, text: str, by: object) -> Answer:
        if why := too_long(text):
            return {"kept": False, "text": why}
        people = self.household.people()
        if not isinstance(by, str) and not people:
            return {
                "kept": False,
                "text": "Nobody has joined yet, and nothing was kept: join with the link, or say who speaks with --as NAME.",
            }
        try:
            name = self.household.take_in(by, self.clock()) if isinstance(by, str) else people[0]
        except JoinRefused as refusal:
            return {"kept": False, "text": f"Nothing was kept. {refusal}"}
        heard = await self.hear(Message(name, text, channel="terminal"))
        said = [one.as_json(self.household.zone) for one in heard.said]
        words = "\n".join(one.text for one in heard.said)
        return {"kept": heard.kept, "text": words, "id": heard.message_id, "by": name, "said": said}

    def _invite(self, name: str) -> Answer:
        people = self.household.people()
        try:
            link = self.link(self.household.invite(people[0] if people else name, name, self.clock()))
        except JoinRefused as refusal:
            return {"kept": False, "text": str(refusal)}
        return {
            "kept": True,
            "text": f"{picture(link)}\n\n{name} joins with this link: one device, once, within 24 hours.\n{link}",
            "link": link,
        }

    def _let_in(self, word: str) -> Answer:
        """Let a sensor in, and say how it is to speak."""
        try:
            place = known_place(word)
            token = self.household.add_sensor(place, "lampwatch", self.clock())
        except (ValueError, NotKept) as problem:
            return {"kept": False, "text": str(problem)}
        address = f"{self.web.address.rstrip('/')}{CLIMATE}"
        reading = '{"celsius": 30.4, "humidity": 57}'
        return {
            "kept": True,
            "text": f"The sensor at the {place} shows this token, which is kept nowhere else:\n{token}\n\n"
            f"It sends its readings so (celsius or fahrenheit, with humidity if it has it), once a minute is plenty:\n"
            f"curl -H 'Authorization: Bearer {token}' -d '{reading}' {address}",
            "token": token,
            "address": address,
        }

    async def _page_opened(self, person: str) -> None:
        """What is owed to someone is on the page that they have opened, as the log's own lines."""
        self.opened.set()
        await self._delivery.tell(
            said for said in self.household.owed() if said.says in ("reply", "answer") and said.to in (EVERYONE, person)
        )

    def _got(self, ids: Sequence[int], person: str, way: str) -> None:
        """A person's device confirms that it showed these."""
        self._delivery.arrived(ids, person, way)

    def _nobody_got(self, missed: Sequence[Said]) -> None:
        self._begin(self._warn(missed))

    async def _warn(self, missed: Sequence[Said]) -> None:
        for one in missed:
            _log.warning("Nobody got what was said at %s for ten minutes: message %s.", one.at, one.id)
        await self._delivery.tell(self.household.say_unheard(missed, self.clock()))

    def _next_ring(self) -> datetime | None:
        """When the bell should ring, by the machine's clock, of which it is; a story's clock stands elsewhere and runs alike."""
        moment = self.next_notice()
        return None if moment is None else now() + max(moment - self.clock(), BELL_AT_SOONEST)

    def _reached(self, ids: Sequence[int]) -> None:
        self._marks += ids
        self._soon("mark", SECONDS_TO_MARK, self._mark)

    def _tried(self, id: int, person: str, tried: Try) -> None:
        self._tries[id, person, tried.way] = TriedWay(id, person, tried.way, tried.at, tried.times, tried.came)
        self._soon("mark", SECONDS_TO_MARK, self._mark)

    def _mark(self) -> None:
        ids, self._marks = self._marks, []
        tries, self._tries = self._tries, {}
        if ids:
            self.household.delivered(ids)
        if tries:
            self.household.keep_tries(list(tries.values()))

    def _soon(self, what: str, seconds: float, act: Callable[[], None]) -> None:
        """Do something a little later, once, however often it is asked for until then."""
        if what not in self._later:
            self._later[what] = asyncio.get_running_loop().call_later(seconds, self._now, what, act)

    def _now(self, what: str, act: Callable[[], None]) -> None:
        del self._later[what]
        act()
