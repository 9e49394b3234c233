"""A span is a told beginning and end: 2:10-2:25, from 2:10 to 2:25, between 2 and 2:20."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from parsers.clocks import Clock, clock
from parsers.moments import Frame, Problem, choose, near, near_now
from parsers.words import Word

OPENERS = frozenset(("from", "between"))
_TO = frozenset(("-", "to", "till", "til", "until", "thru", "through"))
_TILL = frozenset(("till", "til", "until"))
_QUARTER = frozenset(("quarter", "a"))
"""Behind `till`, or where a quarter is said, `to` belongs to the figures: `till ten to three`, `from 2:30 to quarter to 3`."""
_JOINTS = {"": _TO, "from": _TO, "between": frozenset(("and", "&", "-", "to"))}
_FORMS = frozenset(("colon", "hour", "run", "pair", "point", "h", "past", "after", "to", "name", "half"))
_LONGEST = timedelta(hours=6)
"""A span without am or pm that would last longer is not what was meant (our own choice: the contract confirms nursings over 90 minutes)."""


class Span(NamedTuple):
    """A told span: its beginning (in UTC), the real minutes to its end, and as in `When` the rest."""

    length: int
    start: datetime
    minutes: float
    problem: Problem | None
    weak: bool


def opening(words: Sequence[Word], at: int) -> Clock | None:
    """The clock time after `from` or `between`: `from 10 to 2` begins at 10, `from ten to two until two` at ten to two."""
    said = clock(words, at)
    if said and said.how == "to" and (at + said.length == len(words) or words[at + said.length].text not in _TO | {"and"}):
        return clock(words, at, to=False)
    return said


def span(words: Sequence[Word], at: int, opener: str, start: Clock, frame: Frame) -> Span | None:
    """The span from `words[at]` on, or None: `start` is its first clock time, right after the opener if there is one.

    Bare hours (`2-4`, `10 to 4`) are a span only after `from` or `between`; bare figures of three or four digits (`205 to 212`) never.
    """
    place = at + len(opener[:1]) + start.length
    if place + 1 >= len(words) or words[place].text not in _JOINTS[opener]:
        return None
    tight = words[place].text == "-" and not words[place].spaced and not words[place + 1].spaced
    end = clock(words, place + 1, to=words[place].text in _TILL or words[place + 1].text in _QUARTER)
    end = _minutes_only(words, place + 1, start, tight=tight) or end
    if end is not None and end.hour is not None and start.hour is None:  # from ten past till half past two
        earlier = end.hour - int(start.minute >= end.minute)
        start = start._replace(hour=earlier if earlier > 0 or end.hour > 12 else 12, half=None)
    if end is not None and end.hour is None and start.hour is not None:  # from ten past two till twenty-five past
        later = start.hour + int(end.minute <= start.minute)
        end = end._replace(hour=later if later <= 12 or start.hour > 12 else 1, half=None)
    if end is None or not {start.how, end.how} <= _FORMS:
        return None
    if any(each.how in ("run", "pair") and not each.sure for each in (start, end)) and "colon" not in (start.how, end.how):
        return None
    closed = place + 1 + end.length == len(words) or words[place + 1 + end.length].kind in ("mark", "newline")
    if not opener and not _by_itself(start, end, tight=tight, closed=closed):
        return None
    found = _placed(start, end, frame)
    if found is None:
        return None
    begun, ended, problem = found
    if ended - begun > _LONGEST and not (start.half and end.half):
        problem = problem or "either half"
    weak = bool(opener) and not (start.sure or end.sure or "colon" in (start.how, end.how))
    minutes = (ended - begun).total_seconds() / 60
    return Span(place + 1 + end.length - at, begun, minutes, problem or frame.birth_problem(begun), weak)


def _by_itself(start: Clock, end: Clock, *, tight: bool, closed: bool) -> bool:
    """True where the figures alone show two clock times: both with a colon or both marked; one of them, where they stand tight together.

    `2:45 to 3` is one where nothing follows that the 3 may belong to.
    """
    if all(each.how == "colon" or each.sure for each in (start, end)):
        return True
    if start.how in ("past", "half") and end.how in ("past", "to"):  # ten past till half past
        return True
    hours = ((end.hour or 0) - (start.hour or 0)) % 12
    if start.how == end.how == "point":  # 2.10-2.25
        return tight and hours * 60 + end.minute - start.minute in _LIKELY_MINUTES
    if start.how == "colon" and end.how == "hour" and not end.sure:
        return (tight or closed) and hours == 1
    if start.how == "hour" and end.how == "colon" and not start.led and hours < 2:  # 2 to 2:15
        return True
    return any(each.how == "colon" for each in (start, end)) and (tight or start.sure or end.sure)


_LIKELY_MINUTES = range(1, 91)  # a nursing lasts no longer (the contract's Plausibility)


def _minutes_only(words: Sequence[Word], at: int, start: Clock, *, tight: bool) -> Clock | None:
    """`2:10-25`: the end's hour is the start's."""
    last = words[at]
    if tight and start.how == "colon" and last.whole and len(last.text) == 2 and start.minute < int(last.text) < 60:
        return start._replace(minute=int(last.text), length=1)
    return None


def _placed(start: Clock, end: Clock, frame: Frame) -> tuple[datetime, datetime, Problem | None] | None:
    """Beginning, end and what leaves them open: from the side that was said more closely, the other is the nearest to it."""
    if start.day or (start.half and not end.half):
        begun = choose(near_now(start, frame), start, frame)
        if begun is None:
            return None
        ended = min(place.at for place in near(end, begun[0], frame.tz) if place.at > begun[0])
        return begun[0], ended, begun[1] or ("future" if ended > frame.instant else None)
    closed = choose(near_now(end, frame), end, frame)
    if closed is None:
        return None
    starts = near_now(start, frame) if start.hour is None else near(start, closed[0], frame.tz)
    before = max((place for place in starts if place.at < closed[0]), key=lambda place: place.at)
    return before.at, closed[0], "skipped" if before.skipped else closed[1]
