"""A told time is a moment that words name: at 3:10, half past two, 20 min ago, last night at 11, 2:10-2:25.

The contract's rule: the latest such moment that is not in the future. Nothing is bent: where the words leave it open, `problem` says so.
What a clock shows is read in `clocks`, days in `days`, lengths in `lengths`; the moment is chosen in `moments`.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from functools import lru_cache
from typing import NamedTuple
from zoneinfo import ZoneInfo

from parsers import clocks, days, faces, lengths
from parsers.clocks import Clock, clock
from parsers.moments import Frame, Problem, choose, near_now, next_after, wall_after
from parsers.phrase_list import PhraseList
from parsers.spans import OPENERS, opening, span
from parsers.vocabulary import load
from parsers.wall_clock import Place, local, name_of_zone, zone_names
from parsers.words import Word, follows

__all__ = ["KNOWN", "STARTS", "Clock", "Problem", "When", "clock", "loose", "match", "next_after", "now_said", "wall_after"]

_WORDS = load("times")
_NEVER_AFTER = frozenset(_WORDS["never_after"])
_NO_CLOCK_AFTER = frozenset(_WORDS["no_clock_after"])
_NO_BARE_AFTER = frozenset(_WORDS["no_bare_after"])
_COUNTED = [kind for kind in load("kinds").values() if "number" in kind]
_COUNTING = PhraseList(
    {
        "counts": [
            says
            for kind in _COUNTED
            for each in (kind, *kind.get("forms", ()))
            for key in ("says", "bare", "short")
            for says in each.get(key, ())
        ]
    }
).words
"""Words of the doings that a number belongs to: after them `about 8` and `ten to twelve` are minutes or millilitres."""
_CHANGE = PhraseList(_WORDS["change"])
_NOW = PhraseList({"now": _WORDS["loose"]["now"]})
_LOOSE = PhraseList({"loose": _WORDS["loose"]["loose"]})
_AROUND = PhraseList({"around": _WORDS["loose"]["around"]})
STARTS = clocks.LEADS | faces.STARTS | days.STARTS | lengths.STARTS | OPENERS
"""Every word that a told time can begin with, numbers and clocks aside."""
_NAMED = faces.NAMED.firsts
_COUNTS = faces.STARTS | lengths.STARTS
_TRIGGERS = clocks.FOLLOWERS | days.FOLLOWERS
_AFTER_AT = clocks.LEADS | days.STARTS - {"the"}
_AFTER_LEAD = clocks.LEADS | days.DAY_WORDS | {","}

KNOWN = frozenset(word for word in STARTS | clocks.CLOCK_WORDS | lengths.AGO_WORDS | days.DAY_WORDS if len(word) >= 5)
"""Words of five letters or more that a told time may hold, for the speller."""


class When(NamedTuple):
    """A told time: how many words tell it, the moment, and for a span the real minutes it lasted.

    `at` carries that moment's own offset in the litter's zone, so that comparing and subtracting count real time.
    `problem` is why it must be confirmed: it lies in the `future` (then `at` does); it may be `either half` of the day (`at` is the
    latest); it is `before birth`; the clocks `skipped` it that night (`at` is what a clock that nobody had put right showed).
    `weak`: the words may be something else (a weight, a count), if something else would fit.
    """

    length: int
    at: datetime | None
    minutes: float | None = None
    problem: Problem | None = None
    weak: bool = False


def match(words: Sequence[Word], at: int, *, now: datetime, tz: ZoneInfo, born: datetime | None) -> When | None:
    """The told time that begins at `words[at]`, or None. A length of time alone (`15 min`) is never a time, nor is `now`."""
    if not _may_begin(words, at) or (at > 1 and _goes_on(words, at)):
        return None
    before = words[at - 1].text if at else ""
    if words[at].text != "yesterday" and _governed(words, at):
        return None
    frame = _frame(now, tz, born)
    back = lengths.ago(words, at)
    if back:
        moment = frame.instant.replace(microsecond=0) - timedelta(minutes=back[0])
        return When(back[1], local(moment, tz), None, frame.birth_problem(moment))
    if before in _NO_CLOCK_AFTER or (before in _NO_BARE_AFTER and words[at].text not in clocks.AT and words[at].text != "yesterday"):
        return None
    opener = words[at].text if words[at].text in OPENERS else ""
    said = opening(words, at + 1) if opener else clock(words, at)
    found = span(words, at, opener, said, frame) if said else None
    if found:
        return When(found.length, local(found.start, tz), found.minutes, found.problem, found.weak)
    if said is None or opener or not clocks.accepted(said, words, at) or (before in _COUNTING and _counted(said)):
        return None
    spots, length = _spots(said, words, at, frame)
    chosen = choose(spots, said, frame)
    if chosen is None:
        return None
    return When(length, local(chosen[0], tz), None, chosen[1] or frame.birth_problem(chosen[0]), said.weak)


_frame = lru_cache(maxsize=16)(Frame)
"""What the times of one message are all read against."""


def _may_begin(words: Sequence[Word], at: int) -> bool:
    """The quick test: False for nearly every word of a message, by what follows it."""
    word = words[at]
    bare = word.kind in ("number", "fraction")
    if not bare and word.text not in STARTS:
        return word.kind == "clock"
    if word.text in _NAMED or word.kind == "clock":
        return True
    if at + 1 == len(words):
        return _stands_alone(word)
    if bare or word.text in _COUNTS:
        near = follows(words, at, _TRIGGERS, _TRIGGER_WITHIN) or lengths.ago_near(words, at)
        return near or _stands_alone(word) or _begins_oddly(words, at)
    if words[at + 1].text in faces.ALIKE:
        return word.text in clocks.AT
    return _figures(words[at + 1]) or words[at + 1].text in (_AFTER_AT if word.text in clocks.AT else _AFTER_LEAD)


_TRIGGER_WITHIN = 5  # words: the longest figures before a word that shows them to be a clock are `twenty five minutes past`


def _figures(word: Word) -> bool:
    return word.kind in ("number", "clock", "fraction") or word.text in _COUNTS


def _stands_alone(word: Word) -> bool:
    """True for `0315`: no weight begins with a nought."""
    return word.kind == "number" and len(word.text) == 4 and word.text[0] == "0"


def _begins_oddly(words: Sequence[Word], at: int) -> bool:
    """`2-2:15`, `3:10:25` (which is cut as 3, a colon, 10:25), `3p`, `half two`."""
    if at + 2 < len(words) and words[at + 2].kind == "clock" and not words[at + 1].spaced and not words[at + 2].spaced:
        return words[at + 1].text in "-:"
    if words[at + 1].text in clocks.ALONE:
        return not words[at + 1].spaced
    return words[at].text == "half" and _figures(words[at + 1])


def _goes_on(words: Sequence[Word], at: int) -> bool:
    """True inside figures that began before: the `5` of `1,5 h ago`, the `10:25` of `3:10:25`, the other of two (`at 3:10 or 3:15`)."""
    before = words[at - 1]
    if before.text == "or" and words[at - 2].kind in ("number", "clock"):
        return True
    return before.text in ",:" and not before.spaced and not words[at].spaced and words[at - 2].kind == "number"


def _governed(words: Sequence[Word], at: int) -> bool:
    """True where `since`, `until` or the like governs what begins here, over words that only lead to it (`since about an hour ago`)."""
    for place in range(at - 1, max(at - 1 - _MOST_BETWEEN, -1), -1):
        text = words[place].text
        if text in _NEVER_AFTER:
            return True
        if not (text in clocks.LEADS or text in _COUNTS or words[place].kind in ("number", "fraction")) or text in clocks.AT:
            return False
    return False


_MOST_BETWEEN = 4


def _counted(said: Clock) -> bool:
    """True for figures that are an amount where a doing waits for one: `nursed about 8`, `nursed ten to twelve`."""
    return said.weak and said.led != "at" and said.how in ("hour", "to", "after") and said.minute != _QUARTER_TO


_QUARTER_TO = 45


def _spots(said: Clock, words: Sequence[Word], at: int, frame: Frame) -> tuple[list[Place], int]:
    """The moments that the words can name, narrowed by a zone's short name or by the change of clocks, and how many words that takes."""
    found, end = near_now(said, frame), at + said.length
    if end < len(words) and words[end].kind == "word":
        if words[end].text in zone_names(frame.tz, frame.instant.year):
            named = [place for place in found if name_of_zone(place.at, frame.tz).lower() == words[end].text]
            return named or found, said.length + 1
        turn = _CHANGE.at(words, end)
        turned = [place for place in found if place.turn == ("first", "second").index(turn[0])] if turn else []
        if turn and turned:
            return turned, said.length + turn[1]
    return found, said.length


def now_said(words: Sequence[Word], at: int) -> int:
    """How many words from `at` on say no more than now (`just now`, `a moment ago`); 0 for none."""
    found = _NOW.at(words, at)
    return found[1] if found else 0


def loose(words: Sequence[Word], at: int) -> int:
    """How many words from `at` on tell a time too loosely to place (`a while ago`, `yesterday`, `just before 3`); 0 for none.

    Only where `match` found no time there.
    """
    found = _LOOSE.at(words, at)
    if found:
        return found[1]
    around = _AROUND.at(words, at)
    if around:
        said = clock(words, at + around[1]) if at + around[1] < len(words) else None
        return around[1] + said.length if said and said.how not in ("run", "pair", "point") else 0
    counted = lengths.ago_loosely(words, at)
    if counted:
        return counted
    day = days.day(words, at)
    return day.length if day and not day.short else 0
