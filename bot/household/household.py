"""A household on its journal: it lets people in, and brings each message to the conversation of the right litter."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from pydantic import BaseModel

from bot.care.choice import Choice
from bot.care.climate import litter_day
from bot.care.sensors import Place, Sensed, known_place, worth_keeping
from bot.conversation import Conversation, Heard, House, Message, Said
from bot.conversation.conversation import BOT, said_again
from bot.conversation.unheard import UNHEARD
from bot.household import alarm, which_litter
from bot.household.calendars import Calendars
from bot.household.joining import KEEPER, Door, JoinRefused, hashed, new_secret
from bot.household.sensors import SENDER, Sensors
from bot.household.timekeeping import CLOCK, Timekeeper, say_aside, say_behind, say_forward
from bot.reports import Asked
from parsers.events import KINDS
from parsers.events.climate import Climate
from storage import Journal, KeptMessage, LogLine, NewMessage, NotKept, Person, Sensor, TriedWay

_log = logging.getLogger(__name__)

REMEMBERED = 300
"""How many messages are looked at for the litter that each sender spoke to last."""


def open_household(
    path: Path | None,
    *,
    zone: str,
    link: Callable[[str], str] | None = None,
    calendar_link: Callable[[str], str] | None = None,
    make_secret: Callable[[], str] = new_secret,
) -> Household:
    """Open the household that a file holds, or make it (None: in memory). Raises storage's StorageError in words for the user."""
    kinds: dict[str, type[BaseModel]] = {**KINDS, "choice": Choice}
    return Household(Journal(path, kinds), zone=zone, link=link, calendar_link=calendar_link, make_secret=make_secret)


class Household:
    """People, rights, devices, litters. Synchronous; used from one thread."""

    def __init__(
        self,
        journal: Journal[BaseModel],
        *,
        zone: str,
        link: Callable[[str], str] | None = None,
        calendar_link: Callable[[str], str] | None = None,
        make_secret: Callable[[], str] = new_secret,
    ) -> None:
        """`zone` holds for a litter until its keepers name one; `link` and `calendar_link` make the address by which a token is used."""
        self._journal = journal
        self._zone = ZoneInfo(zone)
        self._link = link
        self.ways: Sequence[str] = ()
        """The names of the ways to people, in order; none where nothing is sent, as in a transcript."""
        self._door = Door(journal, make_secret)
        self._sensors = Sensors(journal, make_secret)
        self._calendars = Calendars(journal, make_secret, calendar_link)
        self._conversations = [self._open(litter.id) for litter in journal.register.litters() if litter.closed_at is None]
        self._people: dict[str, Person] = {}
        self._spoke_to: dict[str, tuple[int, datetime]] = {}
        self._waiting: dict[str, tuple[str, datetime]] = {}
        lately = journal.history(None, limit=REMEMBERED)
        self._time = Timekeeper(row.at for row in lately)
        for row in lately:
            self._note(row.by, row.litter, row.at, row.text if "which_litter" in row.values else None)
        self._tell_everyone_apart()

    def close(self) -> None:
        """Let go of the file."""
        self._journal.close()

    # People

    def people(self) -> list[str]:
        """Everyone by name, in the order they joined."""
        return [person.name for person in self._journal.register.people()]

    def keepers(self) -> list[str]:
        """Those with every right."""
        return [person.name for person in self._journal.register.people() if person.rights == KEEPER]

    def invite(self, by: str, name: str | None, now: datetime) -> str:
        """A new token to join by, once. Raises JoinRefused where the name cannot be one."""
        return self._door.invite(by, name, now)

    def invited(self, token: str, now: datetime) -> str | None:
        """Whom a link was made for, empty where for anyone; None where it joins nobody (any more)."""
        invite = self._journal.register.invite(hashed(token))
        return None if invite is None or invite.used_at is not None or invite.expires_at <= now else invite.name or ""

    def join(self, token: str, name: str, now: datetime, label: str = "") -> str:
        """Join a device under a name: gives the session's token. Raises JoinRefused with a sentence for the person."""
        session = self._door.join(token, name, now, label)
        self._tell_everyone_apart()
        return session

    def take_in(self, name: str, now: datetime) -> str:
        """Join someone who is known to be at home, without a link; gives the name as it is kept. Raises JoinRefused."""
        person = self._door.take_in(name, now)
        self._tell_everyone_apart()
        return person.name

    def person(self, session: str) -> str | None:
        """Whose device has this session; None: nobody's."""
        device = self._journal.register.device(hashed(session))
        return None if device is None else device.person

    def set_reach_of(self, session: str, reach: str | None) -> None:
        """Say how the device with this session is reached unasked; None where it no longer is."""
        self.set_reach(hashed(session), reach)

    def set_reach(self, session_hash: str, reach: str | None) -> None:
        """The same, by the hash of its session."""
        self._journal.register.set_reach(session_hash, reach)

    def reaches(self, person: str) -> list[tuple[str, str]]:
        """How each device of a person is reached unasked, by the hash of its session."""
        return [(one.session_hash, one.reach) for one in self._journal.register.devices(person) if one.reach is not None]

    def calendar(self, token: str, now: datetime) -> bytes | None:
        """The calendar file for who shows the token of a calendar link that holds; None: nobody's."""
        return self._calendars.file(token, self._conversations, now)

    # The three verbs, and what surrounds them

    def hear(self, message: Message, now: datetime, *, clock: datetime | None = None) -> Heard:
        """Take a message to the conversation of its litter. What cannot be kept is said so; a person's words never raise.

        `now` is when it was said. `clock` is what the machine's clock says: where the log shows that it is behind, the message is kept
        at the last time that was right, and the reply says so.
        """
        right = None if clock is None else self._time.right(clock)
        if right is not None:
            now = right
        aside = "" if right is None else say_aside(right, self.zone)
        for conversation in self._conversations:
            conversation.aside = aside
        heard = self._hear(message, now)
        self._time.saw(now)
        return heard

    def _hear(self, message: Message, now: datetime) -> Heard:
        known = self._people.get(message.by.casefold())
        text = message.text if message.text.isascii() else message.text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")
        if known is None:
            return _refused(message, now, f"I do not know {message.by}, so nothing was kept. Ask a keeper for a link to join.")
        if not text.strip():
            return _refused(message, now, "That message is empty, so nothing was kept. Say it again.")
        if (message.by, message.text) != (known.name, text):
            message = replace(message, by=known.name, text=text)
        try:
            return self._bring(message, now, keeper=known.rights == KEEPER)
        except Exception:  # noqa: BLE001 (a fault of ours must not cost a word: it is kept, told, and shown in the machine's log)
            _log.exception("A message could not be taken as it should; its words are kept as a note.")
            return self._keep_the_words(message, now)

    def _bring(self, message: Message, now: datetime, *, keeper: bool) -> Heard:
        """Take a message of someone known to the conversation of its litter."""
        if self.ways and alarm.is_asked(message.text):
            return self._test_alarm(message, now)
        if not self._conversations:
            return self._in_a_new_litter(message, now)
        if message.mends is not None:
            conversation = self._of_message(message.mends)
            if conversation is None:
                return _refused(message, now, "There is no such line in the log, so nothing was changed.")
            return self._heard(conversation, conversation.hear(message, now), message, now)
        if len(self._conversations) == 1:
            conversation = self._conversations[0]
            reading = conversation.read(message, now)
            told = reading.setup.sets.get("litter") if reading.setup is not None else None
            if told and keeper and which_litter.is_another(dict(told), conversation, now):
                return self._in_a_new_litter(message, now)
            return self._heard(conversation, conversation.hear(message, now, reading), message, now)
        return self._hear_of_several(message, now, keeper)

    def _keep_the_words(self, message: Message, now: datetime) -> Heard:
        """After a fault: start afresh from what is kept, and keep the message, with no event but a note of its words."""
        for conversation in self._conversations:
            conversation.start_afresh()
        try:
            conversation = self._conversations[-1] if self._conversations else self._add_litter(now)
            return self._heard(conversation, conversation.only_keep(message, now), message, now)
        except NotKept as problem:
            return _refused(message, now, str(problem))

    def make_ready(self, by: str) -> None:
        """Work out beforehand what the next message of a person will need, while nobody waits."""
        last = self._spoke_to.get(by)
        for conversation in self._conversations:
            if last is not None and conversation.litter == last[0]:
                conversation.make_ready(by)

    def preview(self, by: str, text: str, now: datetime, mends: int | None = None) -> str:
        """What the words of a message that is still being typed would be read as, by the litter they seem to be for; keeps nothing."""
        if not self._conversations:
            return ""
        if mends is not None:
            mended = self._of_message(mends)
            return "" if mended is None else mended.preview(by, text, now, mends)
        conversation = which_litter.named(text, self._conversations) or self._usual(by, now) or self._conversations[-1]
        several = len(self._conversations) > 1
        words = which_litter.without_the_address(text, conversation) if several else text
        seen = conversation.preview(by, words, now)
        return f"{conversation.name}: {seen}" if several and seen else seen

    def _of_message(self, id: int) -> Conversation | None:
        """The litter that a message is about; None: there is no such message, or its litter is no longer watched."""
        row = next(iter(self._journal.messages([id])), None)
        return None if row is None else next((one for one in self._conversations if one.litter == row.litter), None)

    def glance(self, now: datetime) -> list[dict[str, Any]]:
        """What stands at the top of the page, for each litter, the newest first."""
        return [conversation.glance(now) for conversation in reversed(self._conversations) if conversation.nursery.living]

    def spoken_to(self, litter: int | None) -> tuple[frozenset[int], str]:
        """The pups of a litter that live, and what stands before a message that is for it; empty where there is only one litter."""
        conversation = next((one for one in self._conversations if one.litter == litter), None)
        if conversation is None:
            return frozenset(), ""
        living = frozenset(int(pup.who) for pup in conversation.nursery.living)
        return living, f"{conversation.nursery.choices.dam}: " if len(self._conversations) > 1 and conversation.nursery.choices.dam else ""

    # Sensors

    def add_sensor(self, place: Place, by: str, now: datetime) -> str:
        """Let a sensor in: the token that it has to show. Raises NotKept."""
        return self._sensors.add(place, by, now)

    def knows_sensor(self, token: str) -> bool:
        """Whether a sensor shows a token of ours."""
        return self._sensors.with_token(token) is not None

    def sense(self, token: str, sensed: Sensed, now: datetime) -> Heard | None:
        """Take a reading of the sensor with this token. None: nothing of it had to be written down. Raises NotKept."""
        sensor = self._sensors.with_token(token)
        return None if sensor is None else self._sensed(sensor, sensed, now)

    def sense_by_broker(self, place: Place, sensed: Sensed, now: datetime) -> Heard | None:
        """Take a reading that came by the household's own broker. None: nothing of it had to be written down. Raises NotKept."""
        return self._sensed(self._sensors.of_broker(place, now), sensed, now)

    def _sensed(self, sensor: Sensor, sensed: Sensed, now: datetime) -> Heard | None:
        """A reading belongs to the newest litter; before there is one it only shows that the sensor lives."""
        place = known_place(sensor.place)
        conversation = self._conversations[-1] if self._conversations else None
        before = Sensed(sensor.celsius, sensor.humidity)
        if conversation is None or not worth_keeping(
            before, sensor.kept_at, sensed, now, day=litter_day(conversation.nursery, now), place=place
        ):
            self._sensors.heard(sensor, now)
            return None
        told = {name: value for name, value in (("celsius", sensed.celsius), ("humidity", sensed.humidity)) if value is not None}
        event = Climate.model_validate({"place": place, **told})
        words = event.say(conversation.nursery.units)
        with self._journal.together():
            heard = conversation.sense(Message(SENDER.format(place=place), words, channel="sensor"), event, now)
            self._sensors.kept(sensor, sensed, now)
        return heard

    def speak_up(self, now: datetime) -> list[Said]:
        """Say what is due in any litter; it is kept before it is given. While the clock is behind the log, only that is said, once."""
        right = self._time.right(now)
        if right is not None:
            if not self._conversations:
                return []
            return self._conversations[-1].warn_of_the_clock(say_behind(now, right, self.zone), self._time.cause(), right)
        self._time.saw(now)
        return [said for conversation in self._conversations for said in conversation.speak_up(now)]

    def next_notice(self, now: datetime) -> datetime | None:
        """When there will next be something to say unasked; None where nothing lies ahead."""
        if self._time.right(now) is not None:
            return None if not self._conversations or self._conversations[-1].was_told(self._time.cause()) else now
        return min((at for conversation in self._conversations if (at := conversation.next_notice(now)) is not None), default=None)

    def clock_was_set(self, by: timedelta, now: datetime, *, trusted: bool) -> list[Said]:
        """The machine's clock was set by so much while the bot ran. `trusted`: it now shows the time that the bot itself counted to.

        A clock that was behind and comes forward is put right, and nothing is said; one that jumps ahead is told of.
        """
        was_behind = self._time.right(now - by) is not None
        if trusted:
            self._time.trust(now)
            for conversation in self._conversations:
                conversation.trust(now)
        if trusted or was_behind or by < timedelta() or not self._conversations:
            return []
        cause = f"{CLOCK}/forward/{now.isoformat(timespec='seconds')}"
        return self._conversations[-1].warn_of_the_clock(say_forward(by, now, self.zone), cause, now)

    def welcome(self, person: str, now: datetime) -> list[Said]:
        """The first question of the first night, for a keeper who has just come to a household of which nothing is known; else nothing."""
        if not self._conversations:
            if self.keepers()[:1] != [person]:
                return []
            self._add_litter(now)
        return self._conversations[-1].welcome(person, now) if len(self._conversations) == 1 else []

    def history(self, *, after: int = 0, before: int | None = None, limit: int = 200) -> list[KeptMessage]:
        """What was said, in and out, oldest first: the first ones after an id, else the latest (before an id)."""
        return self._journal.history(None, after=after, before=before, limit=limit)

    def looking_back(self, answer: int) -> Asked | None:
        """What the answer of that id could look at when it was given; None where there is none, or it shows nothing but words."""
        row = next(iter(self._journal.messages([answer])), None)
        conversation = self._of_message(answer)
        return None if row is None or conversation is None else conversation.looking_back(row)

    def log(self) -> Iterator[LogLine[BaseModel]]:
        """Every message with the events it meant, oldest first."""
        return self._journal.log()

    def withdrawals(self) -> list[tuple[int, int, int]]:
        """Every undo, oldest first: its own id, the message that asked for it, and the entry that it took back."""
        return self._journal.withdrawals()

    def owed(self) -> list[Said]:
        """What was said and has not reached anyone yet, oldest first."""
        return [said_again(row) for row in self._journal.undelivered()]

    def delivered(self, ids: Sequence[int]) -> None:
        """Mark what was said as delivered."""
        self._journal.mark_delivered(ids)

    # What was said unasked, on its way

    def said_lately(self, since: datetime) -> list[Said]:
        """What was said unasked since then, oldest first."""
        rows = self._journal.history(None, limit=REMEMBERED)
        return [said_again(row) for row in rows if row.says in ("nudge", "warning") and row.at >= since]

    def is_wanted(self, said: Said, now: datetime) -> bool:
        """Whether something said unasked still needs to reach anyone."""
        mine = (conversation for conversation in self._conversations if conversation.litter == said.litter)
        return said.says == "warning" or any(conversation.is_wanted(said, now) for conversation in mine)

    def say_unheard(self, missed: Sequence[Said], now: datetime) -> list[Said]:
        """Say that these reached nobody. Nothing while an earlier such warning has itself reached nobody: it would go the same way."""
        if any(said.about == UNHEARD for said in self.owed()):
            return []
        by_litter = ((conversation, [one for one in missed if one.litter == conversation.litter]) for conversation in self._conversations)
        return [said for conversation, mine in by_litter for said in conversation.say_unheard(mine, now)]

    def ways_to(self, person: str, now: datetime) -> list[str]:
        """A line for each way to a person, in the order in which they are tried, with its last success."""
        last: dict[str, datetime] = {}
        for one in self._journal.tries.last("arrived"):
            if one.person in (person, ""):
                last[one.way] = max(one.at, last.get(one.way, one.at))
        missing = {} if self.reaches(person) else {"push": "no phone of yours asks for it (tap “ring when locked” on the page)"}
        return alarm.listing(self.ways, last, missing, now, self.zone)

    def _test_alarm(self, message: Message, now: datetime) -> Heard:
        """List the ways of who asks, and nudge them of nothing. Kept under no litter: it tells nothing of one."""
        text = "\n".join(
            ["Your ways, in the order in which they are tried:", *self.ways_to(message.by, now), "A test goes out by each of them now."]
        )
        reply = Said(now, message.by, "reply", text, does="note")
        nudge = Said(now, message.by, "nudge", alarm.NUDGE, alarm.ALARM_TEST, urgency="routine")
        rows = [
            NewMessage(now, BOT, one.text, to=one.to, says=one.says, does=one.does, about=one.about, urgency=one.urgency, owed=True)
            for one in (reply, nudge)
        ]
        asked = NewMessage(now, message.by, message.text, channel=message.channel, client_id=message.client_id, does="note")
        try:
            kept = self._journal.write(asked, (), rows)
        except NotKept as problem:
            return _refused(message, now, str(problem))
        if kept.again:
            return Heard(True, tuple(said_again(row) for row in self._journal.messages(kept.said)), again=True, message_id=kept.message)
        return Heard(True, tuple(one.kept(id) for one, id in zip((reply, nudge), kept.said, strict=True)), message_id=kept.message)

    def tries_of(self, id: int) -> list[TriedWay]:
        """By which ways something that was said was brought to whom."""
        return self._journal.tries.of([id])

    def keep_tries(self, tries: Sequence[TriedWay]) -> None:
        """Keep what became of tries. Raises NotKept."""
        self._journal.tries.keep(tries)

    @property
    def conversations(self) -> tuple[Conversation, ...]:
        """The litters that are watched, the oldest first."""
        return tuple(self._conversations)

    @property
    def zone(self) -> ZoneInfo:
        """The household's time zone: that of its newest litter, else the one it was opened with."""
        return self._conversations[-1].zone if self._conversations else self._zone

    # Several litters

    def _hear_of_several(self, message: Message, now: datetime, keeper: bool) -> Heard:
        waiting = self._waiting.get(message.by)
        if waiting is not None and (conversation := which_litter.only_the_address(message.text, self._conversations)) is not None:
            then = replace(message, text=which_litter.without_the_address(waiting[0], conversation))
            return self._heard(
                conversation, conversation.hear(message, now, conversation.read(then, waiting[1]), told=waiting[1]), message, now
            )
        usual = self._usual(message.by, now)
        named = which_litter.named(message.text, self._conversations)
        conversation = named or usual or self._conversations[-1]
        bare = replace(message, text=which_litter.without_the_address(message.text, conversation))
        reading = conversation.read(bare, now)
        told = reading.setup.sets.get("litter") if reading.setup is not None else None
        if told:
            fitting = [one for one in self._conversations if not which_litter.is_another(dict(told), one, now)]
            if not fitting and keeper:
                return self._in_a_new_litter(message, now)
            conversation = fitting[-1] if fitting and conversation not in fitting else conversation
        elif named is None and usual is None:
            return self._ask_which(message, now)
        return self._heard(conversation, conversation.hear(message, now, reading.model_copy(update={"text": message.text})), message, now)

    def _usual(self, by: str, now: datetime) -> Conversation | None:
        """The litter that someone spoke to last, while that still holds."""
        last = self._spoke_to.get(by)
        return next((one for one in self._conversations if last and one.litter == last[0] and now - last[1] <= which_litter.STICKS), None)

    def _ask_which(self, message: Message, now: datetime) -> Heard:
        """Keep the words under no litter, and ask which one is meant."""
        names = "\n".join(f"{place}. {conversation.name}" for place, conversation in enumerate(self._conversations, 1))
        text = f"Which litter is that? Nothing is logged yet. (a number, or the dam's name)\n{names}"
        said = Said(now, message.by, "reply", text, does="check")
        try:
            kept = self._journal.write(
                NewMessage(
                    at=now,
                    by=message.by,
                    text=message.text,
                    channel=message.channel,
                    client_id=message.client_id,
                    does="check",
                    values={"which_litter": True},
                ),
                (),
                [NewMessage(at=now, by=BOT, text=text, to=message.by, says="reply", does="check", owed=True)],
            )
        except NotKept as problem:
            return _refused(message, now, str(problem))
        if kept.again:
            return Heard(True, tuple(said_again(row) for row in self._journal.messages(kept.said)), again=True, message_id=kept.message)
        self._note(message.by, None, now, message.text)
        return Heard(True, (said.kept(kept.said[0]),), message_id=kept.message)

    def _in_a_new_litter(self, message: Message, now: datetime) -> Heard:
        """Open a litter with this message; where the message is not kept, or was kept before, there is no new litter either."""
        before = list(self._conversations)
        try:
            with self._journal.together():
                conversation = self._add_litter(now)
                heard = conversation.hear(message, now)
                if heard.again or not heard.kept:
                    raise _NoNewLitter(heard)
        except _NoNewLitter as none:
            self._conversations = before
            self._tell_everyone_apart()
            return none.heard
        except NotKept as problem:
            self._conversations = before
            self._tell_everyone_apart()
            return _refused(message, now, str(problem))
        return self._heard(conversation, heard, message, now)

    def _add_litter(self, now: datetime) -> Conversation:
        number = self._journal.register.add_litter(f"Litter {len(self._journal.register.litters()) + 1}", now)
        conversation = self._open(number)
        self._conversations.append(conversation)
        self._tell_everyone_apart()
        return conversation

    def _open(self, litter: int) -> Conversation:
        conversation = Conversation(self._journal, litter, zone=self._zone)
        conversation.sensors = lambda now: self._sensors.listening(now) if self._conversations[-1:] == [conversation] else ()
        return conversation

    def _heard(self, conversation: Conversation, heard: Heard, message: Message, now: datetime) -> Heard:
        if heard.kept and not heard.again:
            self._note(message.by, conversation.litter, now, None)
        return heard

    def _note(self, by: str, litter: int | None, at: datetime, waiting: str | None) -> None:
        self._waiting.pop(by, None)
        if litter is not None:
            self._spoke_to[by] = (litter, at)
        if waiting is not None:
            self._waiting[by] = (waiting, at)

    def _tell_everyone_apart(self) -> None:
        """Let the conversations know who is in the household, and whether to name their litter."""
        everyone = self._journal.register.people()
        self._people = {person.name.casefold(): person for person in everyone}
        names = tuple(person.name for person in everyone)
        house = House(names, tuple(person.name for person in everyone if person.rights == KEEPER), self._invitation, self._calendar_link)
        for conversation in self._conversations:
            conversation.house = house
            conversation.announced = len(self._conversations) > 1

    def _calendar_link(self, end: bool, by: str, now: datetime) -> str:
        return self._calendars.end_links(now) if end else self._calendars.new_link(by, now)

    def _invitation(self, name: str, by: str, now: datetime) -> str:
        """The sentence that invites someone, said to the keeper who asked for it."""
        try:
            token = self._door.invite(by, name, now)
        except JoinRefused as refused:
            return str(refused)
        if self._link is None:
            return f"{name} is invited."
        return f"{name} is invited. This link joins one device within 24 hours: {self._link(token)}"


class _NoNewLitter(Exception):
    def __init__(self, heard: Heard) -> None:
        self.heard = heard


def _refused(message: Message, now: datetime, why: str) -> Heard:
    return Heard(False, (Said(now, message.by, "reply", why, does="note"),))
