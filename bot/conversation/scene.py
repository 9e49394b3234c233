"""The scene is all that drafting looks at for one message: the log, what is remembered, who speaks, and when."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from pydantic import BaseModel

from bot.care.nursery import Nursery
from bot.conversation import checks
from bot.conversation.corrections import Logged
from bot.conversation.keeping import expected
from bot.conversation.log import Log
from bot.conversation.memory import Memory, Recalled
from bot.conversation.uncounted import read_of_uncounted
from parsers import read
from parsers.events import Event
from parsers.litter_card import LastLogged, LitterCard
from parsers.reading import Reading
from storage import Entry, NewEvent, Withdrawal

NEVER_MEANT = ("choice", "note")
"""Kinds that a correction does not mean: what was set, and what was only noted."""


@dataclass(frozen=True)
class Sender:
    """Who speaks, with what right, who else there is, and what the household does for a keeper (each gives a sentence)."""

    name: str
    keeper: bool
    people: tuple[str, ...] = ()
    keepers: tuple[str, ...] = ()
    invite: Callable[[str, str, datetime], str] | None = None
    """Invites someone by name."""
    calendar: Callable[[bool, str, datetime], str] | None = None
    """Makes a link to the calendar, or ends them all (True)."""


@dataclass(frozen=True)
class Scene:
    """One message's surroundings. Nothing in it changes while the message is drafted."""

    log: Log
    memory: Memory
    sender: Sender
    now: datetime
    message: int
    """The id that the message will have in the journal, as far as can be told."""
    open_check: tuple[Recalled, bool] | None
    """The sender's message that waits for a yes, and whether they said nothing since."""
    mends: tuple[int, tuple[Logged, ...]] | None = None
    """The message whose line was picked to be corrected, by its id, and what stands of it."""

    @property
    def nursery(self) -> Nursery:
        """All that is known of the litter before this message."""
        return self.log.nursery

    def card(self, nursery: Nursery | None = None) -> LitterCard:
        """What the reader may look at; of another nursery than this one, where given."""
        return (nursery or self.nursery).card(self.sender.people, self.sender.name)

    def read(self, text: str, *, at: datetime | None = None) -> Reading:
        """What the words mean. A correction right after a question back is about what was asked, not about what was logged before."""
        card = self.card()
        check = self.open_check
        last = self.memory.last(self.sender.name)
        if self.mends is not None:
            card = self._correcting(card, [one.event for one in self.mends[1]])
        elif check is not None and check[1] and (options := checks.options_of(check[0].notes["check"])):
            card = self._correcting(card, options[0])
        elif last is not None and "of" in last.notes:
            card = self._correcting(card, [one.event for one in self.last_logged()])
        now, last_who = at or self.now, self.memory.named_last(self.sender.name, at or self.now)
        if self.nursery.choices.pups is not None or any(pup.born_at for pup in self.nursery.pups.values()):
            return read(text, card, now=now, by=self.sender.name, last_who=last_who)
        return read_of_uncounted(text, card, now=now, by=self.sender.name, last_who=last_who)

    def _correcting(self, card: LitterCard, events: Sequence[Event]) -> LitterCard:
        """The card, on which these events are what a correction would be about."""
        return card.model_copy(update={"last_logged": LastLogged(by=self.sender.name, events=tuple(event.as_json() for event in events))})

    def after(self, events: Sequence[NewEvent[BaseModel] | Withdrawal]) -> Nursery:
        """The nursery as it will be once these events are kept."""
        return self.log.with_new(*self._expected(events)) if events else self.nursery

    def entries_after(self, events: Sequence[NewEvent[BaseModel] | Withdrawal]) -> Sequence[Entry[BaseModel]]:
        """The standing entries as they will be once these events are kept."""
        return self.log.entries_with(*self._expected(events)) if events else self.log.entries

    def _expected(self, events: Sequence[NewEvent[BaseModel] | Withdrawal]) -> tuple[list[Entry[BaseModel]], list[int]]:
        """The entries that these events will be, and the ids of those whose place they take."""
        new = expected(events, message=self.message, at=self.now, by=self.sender.name, log=self.log.entries)
        return new, [one.replaces for one in events if one.replaces is not None]

    def last_logged(self) -> list[Logged]:
        """What a correction is about: the line that was picked, else what stands of the sender's last message that logged.

        A correction counts with the message that it corrects.
        """
        if self.mends is not None:
            return list(self.mends[1])
        root = self.last_root()
        found: list[Logged] = []
        for entry in reversed(self.log.entries) if root is not None else ():
            if entry.message < (root or 0):
                break
            event = entry.event
            if isinstance(event, Event) and entry.by == self.sender.name and self.memory.root(entry.message) == root:
                found.append(Logged(entry.id, event))
        return found[::-1]

    def last_root(self) -> int | None:
        """The message that a correction is about: as a rule the sender's last one that logged anything; None: there is none."""
        if self.mends is not None:
            return self.mends[0]
        for entry in reversed(self.log.entries):
            if entry.by == self.sender.name and getattr(entry.event, "kind", "") not in NEVER_MEANT:
                return self.memory.root(entry.message)
        return None

    def doubt(self, events: Sequence[Event], said: str, nursery: Nursery) -> str | None:
        """Why these events would have to be confirmed if they were told to that nursery in the words `said`; None: they would be logged."""
        again = read(said, self.card(nursery), now=self.now, by=self.sender.name)
        return again.why if again.does == "check" and events else None
