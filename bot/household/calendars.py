"""The calendars of a household: a secret link by which a phone's calendar reads what is coming, without a session."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from pydantic import BaseModel

from bot.conversation import Conversation
from bot.household.joining import hashed
from bot.reports.subscription import LitterCalendar, calendar_file
from storage import Journal

Key = tuple[object, ...]


class Calendars:
    """Makes the links, ends them, and gives the file to who shows one. A link is written nowhere but in the reply that gives it."""

    def __init__(self, journal: Journal[BaseModel], make_secret: Callable[[], str], address: Callable[[str], str] | None) -> None:
        """`address` makes the link of a token; None: nothing serves it here (a replay)."""
        self._journal = journal
        self._secret = make_secret
        self._address = address
        self._made: tuple[Key, bytes] | None = None
        """The file as it was made last, and of what: phones that ask again and again cost nothing."""

    def new_link(self, by: str, now: datetime) -> str:
        """Make a link: the sentence for the keeper who asked for it. Raises NotKept."""
        if self._address is None:
            return "The bot that runs on the home network makes that link; here nothing was made."
        token = self._secret()
        self._journal.calendar_links.add(hashed(token), by, now)
        return (
            "Subscribe to this address in your phone's calendar (not import: a subscription stays up to date). Whoever has it can read "
            f"what comes, and nothing else; it works at home. “End the calendar links” ends it.\n{self._address(token)}"
        )

    def end_links(self, now: datetime) -> str:
        """End every link: the sentence for the keeper who asked for it. Raises NotKept."""
        ended = self._journal.calendar_links.end_all(now)
        if not ended:
            return "There is no calendar link that could be ended."
        return f"Ended: {'the calendar link reads' if ended == 1 else f'the {ended} calendar links read'} nothing any more."

    def file(self, token: str, conversations: Sequence[Conversation], now: datetime) -> bytes | None:
        """The calendar for who shows this token; None: nobody's."""
        if not self._journal.calendar_links.holds(hashed(token)):
            return None
        key: Key = (now.replace(second=0, microsecond=0), *((one.litter, one.name, one.nursery.count) for one in conversations))
        if self._made is None or self._made[0] != key:
            opened = {litter.id: litter.opened_at for litter in self._journal.register.litters()}
            litters = [LitterCalendar(f"{one.litter}/{opened[one.litter].isoformat()}", one.name, one.nursery) for one in conversations]
            self._made = key, calendar_file(litters, now)
        return self._made[1]
