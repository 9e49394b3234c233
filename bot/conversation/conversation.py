"""The conversation of one litter: hear a message, speak up when something is due, say when that will be.

Nothing is known here that the journal does not hold: a new Conversation on the same journal goes on where this one stopped.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from pydantic import BaseModel

from bot.care.choice import Choice
from bot.care.concerns import concerns
from bot.care.doses import just_given_too_soon
from bot.care.notice import Notice
from bot.care.notices import next_moment, notices, raised_by, warnings
from bot.care.nursery import Nursery
from bot.care.sensors import Heard as HeardSensor
from bot.care.sensors import next_silence, silent
from bot.care.withdrawing import Withdrawn, withdrawn
from bot.conversation import interview
from bot.conversation.corrections import Logged
from bot.conversation.drafting import NoCorrection, draft
from bot.conversation.keeping import Draft
from bot.conversation.log import Log
from bot.conversation.looking_back import looking_back, shown
from bot.conversation.memory import Memory, Recalled
from bot.conversation.preview import preview
from bot.conversation.replying import quote
from bot.conversation.said import EVERYONE, Heard, Message, Said, Says
from bot.conversation.scene import NEVER_MEANT, Scene, Sender
from bot.conversation.unheard import still_due, unheard
from bot.reports import REPORTS, Answer, Asked
from bot.reports.glance import glance
from parsers.events import Event
from parsers.events.note import Note
from parsers.reading import Question, Reading
from storage import AlreadyTold, Entry, Journal, Kept, KeptMessage, NewEvent, NewMessage, NotKept

BOT = "bot"
"""The sender of what the bot says, in the journal."""
_NOTHING_WITHDRAWN = Withdrawn()
REMEMBERED = 300
"""How many messages of the journal are looked at for what senders said last; a night's talk, not the log's length."""
NO_ONE = ("sensor", "import")
"""The channels of messages that nobody wrote just then: they are no sign that someone is there."""
LATELY = 100
"""How much of what the bot said is at hand for the answers; a `why?` is about the last of it."""


@dataclass(frozen=True)
class House:
    """Who there is to talk to: people by name, the keepers among them, and what is done for a keeper (each gives a sentence)."""

    people: tuple[str, ...] = ()
    keepers: tuple[str, ...] = ()
    invite: Callable[[str, str, datetime], str] | None = None
    """Invites someone by name."""
    calendar: Callable[[bool, str, datetime], str] | None = None
    """Makes a link to the calendar, or ends them all (True)."""


class _Resent(Exception):
    """The message was kept before: all that this hearing did in the journal is to be undone."""

    def __init__(self, kept: Kept[BaseModel]) -> None:
        self.kept = kept


class Conversation:
    """The bot of one litter."""

    def __init__(self, journal: Journal[BaseModel], litter: int, *, zone: ZoneInfo, house: House | None = None) -> None:
        """Open the conversation on what the journal holds. `zone` holds until the household names one."""
        self.litter = litter
        self.house = house or House()
        self.announced = False
        """True where the household has several litters: each thing said then names its own."""
        self.aside = ""
        """What each reply says at its end as long as it holds: that the machine's clock is wrong."""
        self.sensors: Callable[[datetime], Sequence[HeardSensor]] = lambda _: ()
        """The sensors of this litter, and when each was heard last."""
        self._journal = journal
        self._usual_zone = zone
        self._with_the_message = ExitStack()
        self.start_afresh()

    def start_afresh(self) -> None:
        """Forget all, and know again what the journal holds."""
        self._last_scene: Scene | None = None
        entries = self._journal.entries(self.litter)
        self._log = Log(entries, self._zone_told(entry.event for entry in entries))
        self._told = self._journal.told(self.litter)
        self._memory = Memory()
        tail = self._journal.history(self.litter, limit=REMEMBERED)
        self._memory.load(recalled for message in tail if (recalled := _recalled(message)) is not None)
        self._lately = [said_again(message) for message in tail if message.says is not None][-LATELY:]
        self._next_message = tail[-1].id + 1 if tail else 1
        self._heard = self._journal.last_heard(self.litter, besides=NO_ONE)
        """When anyone last wrote, whatever it was."""

    def _zone_told(self, events: Iterable[BaseModel]) -> ZoneInfo:
        zone = self._usual_zone
        for event in events:
            if isinstance(event, Choice) and (named := (event.sets.model_extra or {}).get("zone")):
                zone = ZoneInfo(named)
        return zone

    # What is known

    @property
    def nursery(self) -> Nursery:
        """All that is known of the litter now."""
        return self._log.nursery

    @property
    def entries(self) -> Sequence[Entry[BaseModel]]:
        """What stands in the log of the litter, in the order told."""
        return self._log.entries

    @property
    def zone(self) -> ZoneInfo:
        """The litter's time zone."""
        return self.nursery.zone

    @property
    def name(self) -> str:
        """How the litter is called: by its dam, else by its number."""
        return self._name(self.nursery)

    @property
    def described(self) -> bool:
        """True once anything of the litter as a whole was told."""
        choices = self.nursery.choices
        return any(value is not None for value in (choices.pups, choices.dam, choices.born, choices.delivery))

    def read(self, message: Message, now: datetime) -> Reading:
        """What the message means to this litter; keeps nothing."""
        return self._scene(message.by, now).read(message.text)

    def preview(self, by: str, text: str, now: datetime, mends: int | None = None) -> str:
        """What the words of a message that is still being typed would be read as; keeps nothing."""
        scene = self._scene(by, now)
        return preview(text, scene if mends is None else replace(scene, mends=(mends, self._meant_by(mends))))

    def _meant_by(self, message: int) -> tuple[Logged, ...]:
        """What stands of a message of this litter, its choices and mere notes left out."""
        found = self._journal.meant_by(message)
        return tuple(
            Logged(entry.id, entry.event) for entry in found if isinstance(entry.event, Event) and entry.event.kind not in NEVER_MEANT
        )

    def glance(self, now: datetime) -> dict[str, Any]:
        """What stands at the top of the page."""
        return {"litter": self.litter, "name": self.name, **glance(self.nursery, now)}

    def _scene(self, by: str, now: datetime) -> Scene:
        """What reading and drafting look at: the same for both, as long as nothing was kept in between."""
        scene = self._last_scene
        if (
            scene is None
            or scene.now is not now
            or scene.sender.name != by
            or scene.sender.people is not self.house.people
            or scene.message != self._next_message
        ):
            house = self.house
            invite, calendar = self._invite if house.invite else None, self._calendar if house.calendar else None
            sender = Sender(by, by in house.keepers, house.people, house.keepers, invite, calendar)
            scene = self._last_scene = Scene(self._log, self._memory, sender, now, self._next_message, self._memory.open_check(by, now))
        return scene

    def _invite(self, name: str, by: str, now: datetime) -> str:
        """Invite someone, together with the message that asks for it or not at all."""
        assert self.house.invite is not None
        self._with_the_message.enter_context(self._journal.together())
        return self.house.invite(name, by, now)

    def _calendar(self, end: bool, by: str, now: datetime) -> str:
        """Make a link to the calendar, or end all, together with the message that asks for it or not at all."""
        assert self.house.calendar is not None
        self._with_the_message.enter_context(self._journal.together())
        return self.house.calendar(end, by, now)

    # The three verbs

    def hear(self, message: Message, now: datetime, reading: Reading | None = None, *, told: datetime | None = None) -> Heard:
        """Take a message: keep it with what it means, and give what the bot says to it, which is kept by then.

        `reading` is what it means, where that is known already; `told`, when that was first said, where it was before.
        Where nothing could be kept, `kept` is False and the one reply says so in plain words. Never raises for a person's words.
        """
        does: str | None = None
        try:
            with ExitStack() as self._with_the_message:
                scene = self._scene(message.by, now)
                if message.mends is not None:
                    scene = self._last_scene = replace(scene, mends=(message.mends, self._meant_by(message.mends)))
                drafted = draft(message.text, scene, reading, told)
                does = drafted.does
                return self._keep(message, drafted, now)
        except _Resent as resent:
            return self._as_before(resent.kept)
        except NoCorrection as refused:
            self._last_scene = None
            return Heard(False, (Said(now, message.by, "reply", str(refused), does="note", litter=self.litter),))
        except NotKept as problem:
            self.start_afresh()
            return Heard(False, (Said(now, message.by, "reply", str(problem), does=does, litter=self.litter),))

    def only_keep(self, message: Message, now: datetime) -> Heard:
        """Keep a message that could not be taken as it should: its words as a note, and a reply that says so. Raises NotKept."""
        words = quote(message.text)
        reply = (
            f"Something in me failed. Your words are kept, but nothing of them is logged: “{words}”. "
            "Write it on paper too, and send it again in parts."
        )
        try:
            return self._keep(message, Draft("note", reply, events=(NewEvent(Note(text=message.text)),)), now)
        except _Resent as resent:
            return self._as_before(resent.kept)

    def _as_before(self, kept: Kept[BaseModel]) -> Heard:
        """What became of a message that had come before."""
        said = tuple(said_again(row) for row in self._journal.messages(kept.said))
        return Heard(True, said, again=True, message_id=kept.message)

    def speak_up(self, now: datetime) -> list[Said]:
        """Say what is due by now and was not said; it is kept, with its causes, before it is given."""
        for _ in range(2):
            due = [notice for notice in self._notices(now) if notice.at <= now]
            if not due:
                return []
            said = [self._notice(notice, now) for notice in due]
            try:
                ids = self._journal.say([_row(one, notice.causes) for one, notice in zip(said, due, strict=True)])
            except AlreadyTold:  # said by another process on the same file: look again at what is left
                self._told = self._journal.told(self.litter)
                continue
            self._told.update(cause for notice in due for cause in notice.causes)
            self._next_message = ids[-1] + 1
            return self._remembered([one.kept(id) for one, id in zip(said, ids, strict=True)])
        return []

    def was_told(self, cause: str) -> bool:
        """Whether that was said."""
        return cause in self._told

    def trust(self, now: datetime) -> None:
        """The clock was put right: nobody wrote later than that."""
        self._heard = None if self._heard is None else min(self._heard, now)

    def warn_of_the_clock(self, text: str, cause: str, at: datetime) -> list[Said]:
        """Say to everyone that the machine's clock is wrong, once for each cause; it stands in the log at the last time that was right."""
        if self.was_told(cause):
            return []
        said = Said(at, EVERYONE, "warning", text, "clock", (), "soon", litter=self.litter)
        try:
            (id,) = self._journal.say([_row(said, (cause,))])
        except AlreadyTold:
            self._told = self._journal.told(self.litter)
            return []
        self._told.add(cause)
        self._next_message = id + 1
        return self._remembered([said.kept(id)])

    def is_wanted(self, said: Said, now: datetime) -> bool:
        """Whether a nudge still needs to reach anyone: its care is due, and not snoozed."""
        causes = frozenset[str]() if said.id is None else self._journal.causes(said.id)
        return still_due(self.nursery, self._notices(now, causes), causes, now)

    def say_unheard(self, missed: Sequence[Said], now: datetime) -> list[Said]:
        """Say that these reached nobody, once for each; kept before it is given. Raises NotKept."""
        notice = unheard(missed, self.nursery, self._told, now)
        if notice is None:
            return []
        said = self._notice(notice, now)
        (id,) = self._journal.say([_row(said, notice.causes)])
        self._told.update(notice.causes)
        self._next_message = id + 1
        return self._remembered([said.kept(id)])

    def next_notice(self, now: datetime) -> datetime | None:
        """When there will next be something to say unasked: not after `now` where it is due already, None where nothing lies ahead."""
        moments = (next_moment(self.nursery, self._told, now, self._heard), next_silence(self.sensors(now), self._told))
        return min((moment for moment in moments if moment is not None), default=None)

    def sense(self, message: Message, event: Event, now: datetime) -> Heard:
        """Keep what a sensor told, and say what must be said at once; nobody is answered. Raises NotKept."""
        return self._keep(message, Draft("log", None, events=(NewEvent(event),)), now)

    def welcome(self, person: str, now: datetime) -> list[Said]:
        """The first question to a keeper who has just come, where nothing was told of the litter yet; else nothing."""
        found = interview.welcome(self._scene(person, now))
        if found is None:
            return []
        text, notes = found
        said = Said(now, person, "reply", self._announce(text), does="setup", litter=self.litter)
        (id,) = self._journal.say([_row(said)._replace(values=dict(notes))])
        self._memory.add(person, Recalled(id, now, text, None, notes))
        self._next_message = id + 1
        return self._remembered([said.kept(id)])

    def looking_back(self, answer: KeptMessage) -> Asked | None:
        """What an answer of this litter could look at when it was given; None where it shows nothing but words."""
        return looking_back(self._journal, self._log, answer)

    def make_ready(self, by: str) -> None:
        """Work out beforehand what the next message of this person will need, while nobody waits."""
        card = self.nursery.card(self.house.people, by)
        _ = card.tz, card.living, card.by_number, card.called  # each is worked out once for a card

    # Private

    def _notices(self, now: datetime, besides: frozenset[str] = frozenset()) -> list[Notice]:
        told = self._told - besides if besides else self._told
        watch = self.nursery.on_duty(now)
        return [*notices(self.nursery, told, now, self._heard), *silent(self.sensors(now), told, now, to=watch)]

    def _keep(self, message: Message, drafted: Draft, now: datetime) -> Heard:
        after = drafted.after or self._scene(message.by, now).after(drafted.events)
        changed = withdrawn(self.nursery, after, self._told, now) if drafted.gone else _NOTHING_WITHDRAWN
        raised = concerns if drafted.gone else raised_by([new.event for new in drafted.events if isinstance(new, NewEvent)])
        first = [] if raised is None else warnings(after, self._told, now, changed.causes, of=raised)
        said = [self._notice(notice, now) for notice in first]
        causes = [notice.causes for notice in first]
        if drafted.reply is not None:
            reply = _with_warnings(drafted.reply, first, message.by, soon=raised is concerns and just_given_too_soon(after, now))
            causes.append(tuple(changed.causes))
            reply = f"{reply} {changed.said}" if changed.said else reply
            said.append(
                Said(
                    now,
                    message.by,
                    "reply",
                    self._announce(f"{reply} {self.aside}" if self.aside else reply, after),
                    who=drafted.who,
                    does=drafted.does,
                    litter=self.litter,
                )
            )
        notes = drafted.notes
        if drafted.question is not None:
            answer = self._answer(drafted.question, self._scene(message.by, now), drafted, after)
            said.append(
                Said(
                    now,
                    message.by,
                    "answer",
                    self._announce(answer.text, after),
                    about=drafted.question.topic,
                    who=answer.who,
                    values=dict(answer.values),
                    litter=self.litter,
                )
            )
            notes = {**notes, **shown(answer, drafted.question)}
        causes += [()] * (len(said) - len(causes))
        row = NewMessage(
            at=now,
            by=message.by,
            text=message.text,
            litter=self.litter,
            channel=message.channel,
            client_id=message.client_id,
            does=drafted.does,
            who=drafted.who,
            values=notes,
        )
        replies = [_row(one, told) for one, told in zip(said, causes, strict=True)]
        kept = self._journal.write(row, drafted.events, replies)
        if kept.again:
            raise _Resent(kept)
        known = after if kept.message == self._next_message else None
        self._next_message = kept.said[-1] + 1 if kept.said else kept.message + 1
        if message.channel not in NO_ONE:  # one that waited on its phone may come after others that were said later
            self._heard = max(now.astimezone(UTC), self._heard or now)
        self._last_scene = None
        self._log.take(kept.entries, drafted.gone, known)
        events = [entry.event for entry in kept.entries]
        self._rezone(events)
        self._told.update([cause for told in causes for cause in told])
        logged = tuple([(event.kind, getattr(event, "who", None)) for event in events if isinstance(event, Event)])
        self._memory.add(message.by, Recalled(kept.message, now, message.text, drafted.does, drafted.notes, logged))
        given = tuple(self._remembered([one.kept(id) for one, id in zip(said, kept.said, strict=True)]))
        lines = (row.kept(kept.message), *[reply.kept(id, kept.message) for reply, id in zip(replies, kept.said, strict=True)])
        return Heard(True, given, message_id=kept.message, reading=drafted.reading, lines=lines)

    def _answer(self, question: Question, scene: Scene, drafted: Draft, after: Nursery) -> Answer:
        by = scene.sender.name
        return REPORTS[question.topic](
            Asked(
                nursery=after,
                question=question,
                now=scene.now,
                by=by,
                words=drafted.reading.text if drafted.reading is not None else "",
                entries=scene.entries_after(drafted.events),
                told=self._told,
                lately=self._lately,
                people=self.house.people,
                wrote=self._memory.wrote(by),
            )
        )

    def _remembered(self, said: list[Said]) -> list[Said]:
        """The same, remembered as what the bot said lately."""
        self._lately += said
        del self._lately[:-LATELY]
        return said

    def _rezone(self, events: Iterable[BaseModel]) -> None:
        """A newly named zone holds for the whole log."""
        if any(isinstance(event, Choice) and (event.sets.model_extra or {}).get("zone") for event in events):
            self._log = Log(self._log.entries, self._zone_told(entry.event for entry in self._log.entries))

    def _name(self, nursery: Nursery) -> str:
        return f"{nursery.choices.dam}'s litter" if nursery.choices.dam else f"Litter {self.litter}"

    def _notice(self, notice: Notice, now: datetime) -> Said:
        """A notice as it is said. Where it is for someone who is not (or not yet) in the household, it is for everyone."""
        text = self._announce(notice.text)
        to = next((person for person in self.house.people if person.casefold() == notice.to.casefold()), EVERYONE)
        return Said(now, to, notice.says, text, notice.about, notice.who, notice.urgency, values=dict(notice.values), litter=self.litter)

    def _announce(self, text: str, nursery: Nursery | None = None) -> str:
        return f"{self._name(nursery or self.nursery)}: {text}" if self.announced else text


def said_again(row: KeptMessage) -> Said:
    """What the bot said, as the journal has it."""
    says: Says = "reply" if row.says not in ("answer", "nudge", "warning") else row.says  # type: ignore[assignment]
    values = {} if says == "reply" else dict(row.values)
    return Said(row.at, row.to or row.by, says, row.text, row.about, row.who, row.urgency, row.does, values, row.litter, row.id)  # type: ignore[arg-type]


def _with_warnings(reply: str, warnings: Iterable[Notice], by: str, *, soon: bool) -> str:
    """The reply, with what must be said first before it: that a dose was too soon, and the warning of it where that goes to another."""
    if not soon:
        return reply
    others = [notice.text for notice in warnings if notice.about == "dose too soon" and notice.to not in ("all", by)]
    return " ".join([*(others or ["Too soon after the last one."]), reply])


def _row(said: Said, causes: tuple[str, ...] = ()) -> NewMessage:
    return NewMessage(
        at=said.at,
        by=BOT,
        text=said.text,
        litter=said.litter,
        to=said.to,
        says=said.says,
        does=said.does,
        about=said.about,
        who=said.who,
        urgency=said.urgency,
        values=said.values,
        owed=True,
        causes=causes,
    )


def _recalled(row: KeptMessage) -> tuple[str, Recalled] | None:
    """A row of the journal as what its sender said; of the bot's own, only a question put unasked, under the one it was put to."""
    if row.says is None:
        return row.by, Recalled(row.id, row.at, row.text, row.does, row.values)
    return (row.to, Recalled(row.id, row.at, row.text, None, row.values)) if row.to and "asks" in row.values else None
