"""What goes over the line between the bot and a page: each frame one JSON object, read strictly and written small."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Protocol

from pydantic_core import to_json

from bot.channels.intake import too_long, whole
from bot.channels.web.taps import taps

LONGEST_FRAME = 4 * 1024 * 1024
"""Bytes in one frame: the longest text with every character escaped, and room beside it."""
LONGEST_ID = 64
"""Characters in a page's own mark for a message."""
LONGEST_WAIT = timedelta(hours=12)
"""How long a message may have waited on its device. What is older was overtaken by others, and is asked for again with its time."""
TOO_LATE = (
    "That was typed more than 12 hours ago and only came now. Nothing was kept: look in the log whether it still needs saying, "
    "and send it with its time, such as “at 3:10”."
)


class Shown(Protocol):
    """A kept message as the page needs it (storage.KeptMessage is one)."""

    @property
    def id(self) -> int: ...
    @property
    def at(self) -> datetime: ...
    @property
    def by(self) -> str: ...
    @property
    def text(self) -> str: ...
    @property
    def client_id(self) -> str | None: ...
    @property
    def to(self) -> str | None: ...
    @property
    def says(self) -> str | None: ...
    @property
    def does(self) -> str | None: ...
    @property
    def about(self) -> str | None: ...
    @property
    def who(self) -> Sequence[int | str]: ...
    @property
    def litter(self) -> int | None: ...
    @property
    def urgency(self) -> str | None: ...
    @property
    def reply_to(self) -> int | None: ...
    @property
    def values(self) -> Mapping[str, Any]: ...


@dataclass(frozen=True)
class Words:
    """A message that came from a page: its text, the page's mark for it, and how long it waited on the device."""

    text: str
    client_id: str
    waited: timedelta
    mends: int | None = None
    """The id of the line that it corrects, where one was picked."""


@dataclass(frozen=True)
class Typing:
    """What stands in a page's field and was not sent: the page asks what it would be read as. `turn` tells its askings apart."""

    text: str
    turn: int
    mends: int | None = None


LONGEST_TYPING = 2_000
"""Characters that are read while they are typed; of a longer text nothing is shown until it is sent."""


@dataclass(frozen=True)
class Earlier:
    """A page asks for what was said before the line of this id."""

    before: int


@dataclass(frozen=True)
class Got:
    """A page has these lines, said unasked, before someone's eyes."""

    ids: tuple[int, ...]


MOST_GOT = 200
"""Lines that a page confirms at once."""


@dataclass(frozen=True)
class Ping:
    """A page asks for a sign of life."""


@dataclass(frozen=True)
class Unusable:
    """A frame that cannot be taken: what to tell the person, and the page's mark where it has one."""

    why: str
    client_id: str | None = None


def read_frame(data: str) -> Words | Typing | Earlier | Got | Ping | Unusable:
    """What a page sent; never raises."""
    try:
        frame = json.loads(data)
    except (ValueError, RecursionError):
        frame = None
    if not isinstance(frame, dict):
        return Unusable("That could not be read, and nothing was kept: load the page again, then send it again.")
    if "say" in frame:
        return _words(frame)
    typed, turn = frame.get("typing"), frame.get("turn")
    if isinstance(typed, str) and isinstance(turn, int) and len(typed) <= LONGEST_TYPING:
        return Typing(whole(typed), turn, _id(frame.get("mends")))
    before = _id(frame.get("before"))
    if before is not None:
        return Earlier(before)
    got = frame.get("got")
    if isinstance(got, list):
        return Got(tuple(id for id in got[-MOST_GOT:] if isinstance(id, int) and not isinstance(id, bool)))
    return Ping()


def _id(given: object) -> int | None:
    """The id of a line, as a page may send it."""
    return given if isinstance(given, int) and not isinstance(given, bool) and 0 < given < 2**62 else None


def _words(frame: dict[str, Any]) -> Words | Unusable:
    text, client_id = frame["say"], frame.get("id")
    if not isinstance(client_id, str) or not 0 < len(client_id) <= LONGEST_ID or not client_id.isascii() or not client_id.isprintable():
        return Unusable("That came without its mark, and nothing was kept: load the page again, then send it again.")
    if not isinstance(text, str):
        return Unusable("That was no text, and nothing was kept: type it as words.", client_id)
    if why := too_long(text):
        return Unusable(why, client_id)
    waited = _waited(frame.get("typed_ago"))
    if waited is None:
        return Unusable(TOO_LATE, client_id)
    return Words(whole(text), client_id, waited, _id(frame.get("mends")))


def _waited(seconds: object) -> timedelta | None:
    """How long a message waited on its device; None where that was too long. A wait that makes no sense is none."""
    if isinstance(seconds, bool) or not isinstance(seconds, int | float) or not seconds >= 0:
        return timedelta()
    return timedelta(seconds=seconds) if seconds <= LONGEST_WAIT.total_seconds() else None


def lines_frame(lines: Sequence[Shown], offers: Callable[[Shown], Sequence[str]], **more: object) -> bytes:
    """Lines of the log for the page, with whatever else goes in the same frame; `offers` has the answers to tap to what is said unasked."""
    notes = {line.id: line.values for line in lines if line.says is None}
    return write_frame({"lines": [_line(line, notes.get(line.reply_to or 0, line.values), offers) for line in lines], **more})


def write_frame(frame: dict[str, object]) -> bytes:
    """A frame as it goes over the line."""
    return to_json(frame)


def _line(line: Shown, notes: Mapping[str, Any], offers: Callable[[Shown], Sequence[str]]) -> dict[str, object]:
    """One line; `notes` is what is kept beside the message that it replies to, or beside itself."""
    plain: dict[str, object] = {"id": line.id, "at": line.at.isoformat(), "text": line.text}
    if line.says is None:
        plain["by"] = line.by
        plain["client_id"] = line.client_id
        plain["does"] = line.does
        if "of" in line.values:
            plain["mends"] = line.values["of"]
    else:
        plain |= {"says": line.says, "does": line.does, "to": line.to, "about": line.about, "urgency": line.urgency}
        if line.says == "answer" and "shows" in notes:
            plain["shows"] = notes["shows"]
        answers = taps(notes) if line.says == "reply" else offers(line) if line.says in ("nudge", "warning") else ()
        if answers:
            plain["taps"] = answers
    return plain
