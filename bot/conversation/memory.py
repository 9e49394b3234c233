"""What a conversation remembers of each sender's last messages; all of it is read from the journal again at a start."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from types import MappingProxyType
from typing import Any, NamedTuple

from parsers.events import Who

NAMED_LAST = timedelta(minutes=3)
"""How long the pup that a sender named last is meant by what they say without a subject (reading contract, Plausibility)."""
CHECK_STAYS_OPEN = timedelta(minutes=15)
"""How long `yes` still confirms a question back. Derived: long enough to finish with a pup, too short for the next round."""
KEPT = 12
"""How many messages of one sender are remembered: more than anyone sends while a question back is open."""


class Recalled(NamedTuple):
    """One message of a sender as it stands in the journal.

    `notes` is what the conversation wrote beside it: `named` the pup or dam named last, `asks` the set-up question put back to
    the sender (with `units` and `times`), `check` a reading that waits for a yes, `closes` the id of the message whose check this
    one answered, `of` the id of the message that this one corrects.
    """

    id: int
    at: datetime
    text: str
    does: str | None
    notes: Mapping[str, Any] = MappingProxyType({})
    logged: tuple[tuple[str, Who | None], ...] = ()
    """Kind and subject of each event that it logged, where that is known."""


class Memory:
    """The last messages of each sender."""

    def __init__(self) -> None:
        self._of: dict[str, list[Recalled]] = {}
        self._asked: dict[str, int] = {}
        """Of each sender, their last message that was asked back about."""
        self._roots: dict[int, int] = {}

    def add(self, by: str, message: Recalled) -> None:
        """Remember one more message of a sender."""
        mine = self._of.setdefault(by, [])
        mine.append(message)
        del mine[:-KEPT]
        if "check" in message.notes:
            self._asked[by] = message.id
        if message.notes.get("of") is not None:
            self._roots[message.id] = message.notes["of"]

    def load(self, messages: Iterable[tuple[str, Recalled]]) -> None:
        """Remember messages from the journal, oldest first."""
        for by, message in messages:
            self.add(by, message)

    def wrote(self, by: str) -> list[datetime]:
        """When the sender last wrote, oldest first."""
        return [message.at for message in self._of.get(by, ()) if message.does is not None]

    def last(self, by: str) -> Recalled | None:
        """The sender's last message."""
        mine = self._of.get(by)
        return mine[-1] if mine else None

    def root(self, message: int) -> int:
        """The message that a correction, or a correction of it, corrects; any other message itself."""
        return self._roots.get(message, message)

    def named_last(self, by: str, now: datetime) -> Who | None:
        """The pup or dam that the sender named last, within three minutes."""
        for message in reversed(self._of.get(by, ())):
            if now - message.at > NAMED_LAST:
                return None
            if "named" in message.notes:
                named = message.notes["named"]
                return named if isinstance(named, int) or named == "dam" else None
        return None

    def open_check(self, by: str, now: datetime) -> tuple[Recalled, bool] | None:
        """The sender's latest message that still waits for a yes, and whether nothing came from them since.

        It waits no more once it is answered, a quarter of an hour is over, or the same thing was logged of the same pup; one that
        could not be read at all, once anything else was said.
        """
        mine = self._of.get(by, ())
        if not mine or self._asked.get(by, -1) < mine[0].id:
            return None
        closed: set[int] = set()
        logged: set[tuple[str, Who | None]] = set()
        for back, message in enumerate(reversed(mine)):
            if now - message.at > CHECK_STAYS_OPEN:
                return None
            if "check" in message.notes:
                proposed = {(event["kind"], event.get("who")) for option in message.notes["check"]["options"] for event in option}
                answered = message.id in closed or proposed & logged or (back and not proposed)
                return None if answered else (message, back == 0)
            if "closes" in message.notes:
                closed.add(message.notes["closes"])
            logged.update(message.logged)
        return None
