"""A clock time as it is said: at 3:10, half past two, quarter to 3, last night at 11; figures only, no moment is chosen here."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from parsers.days import Day, day
from parsers.faces import FACE_WORDS, HOURS, NAMED, Face, face
from parsers.faces import FOLLOWERS as FOLLOW_FIGURES
from parsers.phrase_list import PhraseList
from parsers.vocabulary import load
from parsers.words import Word

_WORDS = load("times")
AT, _ABOUT, _EARLY = frozenset(_WORDS["at"]), frozenset(_WORDS["about"]), frozenset(_WORDS["early"])
_NOT_BEFORE = frozenset(_WORDS["not_before"])
_HOURS_UNITS = frozenset(_WORDS["hours"])
_LENGTHS = frozenset(_WORDS["minutes"]) | _HOURS_UNITS | frozenset(_WORDS["seconds"])
_AM_ALONE = frozenset(_WORDS["am_alone"])
ALONE = _AM_ALONE | frozenset(_WORDS["pm_alone"])
"""What means am or pm where it is set tight against figures: 3:10a."""
_HALF = PhraseList({"am": _WORDS["am"], "pm": _WORDS["pm"]})
_LATER_HALF = PhraseList(_WORDS["halves"])
_OCLOCK = PhraseList({"o'clock": _WORDS["oclock"]})
_ISH = PhraseList({"ish": _WORDS["ish"]})

_NEARLY = frozenset(_WORDS["nearly"])

LEADS = AT | _ABOUT | _NEARLY | _EARLY
"""Words that lead a clock time."""
FOLLOWERS = (
    FOLLOW_FIGURES
    | _HALF.words - {"a", "p", "."}
    | NAMED.firsts
    | _OCLOCK.firsts
    | _LATER_HALF.firsts
    | _HOURS_UNITS
    | {"-", "ish", "until"}
)
"""What may follow a number that is a clock time without a word that leads it."""
CLOCK_WORDS = _HALF.words | _LATER_HALF.words | _OCLOCK.words | LEADS | FACE_WORDS
"""Every word of a clock time, for the speller."""

Half = Literal["am", "pm"]


class Clock(NamedTuple):
    """What a clock would show, as it was said.

    `hour` is as said (0 to 23), None where only the minutes were (`quarter past`); `half` is None where neither am nor pm was said;
    `weak` is True where the words may well be something else (a weight, a count).
    """

    hour: int | None
    minute: int
    half: Half | None
    day: Day | None
    length: int
    weak: bool = False
    how: str = ""
    """The form it was said in, as `Face` lists them."""
    led: str = ""
    """`at` or `about` where such a word leads it."""
    sure: bool = False
    """True where am, pm, o'clock or the like marks it as a clock."""

    @property
    def either(self) -> bool:
        """True where the figures can be in either half of the day."""
        return self.hour is not None and 1 <= self.hour <= 12 and self.half is None and (self.day is None or self.day.part is None)


def clock(words: Sequence[Word], at: int, *, to: bool = True) -> Clock | None:
    """The clock time said from `at` on, a bare hour too: for words that ask for one (`until 4`, `10 pm to 4`).

    With `to` False, `10 to 4` is no ten minutes to four: for rosters.
    """
    first = at + int(words[at].text in AT)  # `at yesterday 11 pm`
    before = day(words, first)
    place = first + before.length if before else at
    if before and place < len(words) and words[place].text == ",":
        place += 1
    led, start = _lead(words, place)
    shown = face(words, start, led=bool(led), to=to)
    return _dress(words, at, start, shown, led, before) if shown else None


def _lead(words: Sequence[Word], at: int) -> tuple[str, int]:
    """Skip `at about`, `earlier at`; says which of them led, and where the figures begin."""
    led, place = "", at
    while place < len(words) and place - at < _MOST_LEADS and words[place].text in LEADS:
        text = words[place].text
        led = "at" if text in AT else "about" if text in _ABOUT and not led else led
        place += 1
    return led, place


_MOST_LEADS = 4


def _dress(words: Sequence[Word], at: int, start: int, shown: Face, led: str, before: Day | None) -> Clock | None:
    """Add what follows the figures: am, o'clock, in the morning, yesterday; None where a unit after them shows that they are no clock."""
    place = start + shown.length
    sure = False
    ish = _ISH.at(words, place)
    oclock = _OCLOCK.at(words, place)
    if oclock:
        place, sure = place + oclock[1], True
    elif ish:
        place += ish[1]
    half, taken = _half(words, place, shown)
    place += taken
    if place < len(words) and words[place].text in _HOURS_UNITS and _of_the_day(words[start], words[place], shown, led):
        place, sure = place + 1, True
    sure = sure or (half is not None and shown.how != "name")
    if not sure and place < len(words) and _refused(words, place, shown):
        if shown.how == "pair" and words[place].text in _LENGTHS:  # `at two fifteen minutes`: at two, for fifteen minutes
            return _dress(words, at, start, shown._replace(minute=0, length=1, how="hour"), led, before)
        return None
    if half and shown.hour is not None and (shown.hour > 12 or shown.hour == 0) and (half == "am") != (shown.hour < 12):
        return None
    ish = ish or _ISH.at(words, place)
    if ish and half:
        place += ish[1] if _ISH.at(words, place) else 0
    later = before or _day_after(words, place)
    if later and not before:
        place += later.length
    sure = sure or bool(ish and led)
    weak = not sure and _weak(shown, led, later, ish=ish is not None)
    return Clock(shown.hour, shown.minute, half, later, place - at, weak, shown.how, led, sure)


def _half(words: Sequence[Word], at: int, shown: Face) -> tuple[Half | None, int]:
    """Which half of the day is said here, if one is: am or pm, and how many words say it."""
    found = _HALF.at(words, at)
    if found:
        place = found[1]
        more = _LATER_HALF.at(words, at + place)
        return ("am" if found[0] == "am" else "pm"), place + (more[1] if more else 0)
    if at < len(words) and not words[at].spaced and shown.how in ("colon", "hour", "run") and words[at].text in ALONE:
        return ("am" if words[at].text in _AM_ALONE else "pm"), 1
    later = _LATER_HALF.at(words, at)
    if later and shown.hour is not None:
        if later[0] == "night":
            return ("pm" if 6 <= shown.hour % 24 < 12 or shown.hour > 12 else "am"), later[1]
        return ("am" if later[0] == "am" else "pm"), later[1]
    if shown.how == "hour" and shown.hour == 12:
        named = NAMED.at(words, at)
        if named:
            return ("pm" if named[0] == "noon" else "am"), named[1]
    if shown.how == "name":
        return ("pm" if shown.hour == 12 else "am"), 0
    return None, 0


def _of_the_day(figures: Word, unit: Word, shown: Face, led: str) -> bool:
    """True where `hours` after the figures is no length of time: 0315 hours, at 14:05h."""
    if shown.how == "run":
        return len(figures.text) == 4
    return shown.how == "colon" and not unit.spaced and (bool(led) or figures.text[0] == "0" or (shown.hour or 0) > 12)


def _refused(words: Sequence[Word], at: int, shown: Face) -> bool:
    """True where the word after the figures says that they are an amount, a length of time or one end of a choice."""
    text = words[at].text
    if text in _NOT_BEFORE:
        return not (shown.how == "colon" and text in ("c", "f", "end", "time"))
    return text in _LENGTHS


def _one_of_two(words: Sequence[Word], end: int) -> bool:
    """True where another number is offered right after (`at 3-4`, `at 2 or 3`): no one moment is told."""
    if end + 1 >= len(words):
        return False
    joint, follows = words[end], words[end + 1]
    if joint.text in ("-", "/") and not joint.spaced and not follows.spaced:
        return follows.kind in ("number", "clock") and words[end - 1].kind == "number"
    return joint.text == "or" and (follows.kind in ("number", "clock") or follows.text in HOURS)


def _day_after(words: Sequence[Word], at: int) -> Day | None:
    said = day(words, at)
    if said and said.short and not said.dated and said.length == 1 and words[at - 1].text not in ("am", "pm", "m", "o'clock"):
        return None
    return said


def _weak(shown: Face, led: str, said_day: Day | None, *, ish: bool) -> bool:
    """True where nothing but the figures shows that they are a clock time, or where a weight is as likely."""
    if shown.how in ("run", "pair", "point", "alike"):
        return True
    if shown.how == "hour":
        return led != "at" or (shown.hour or 0) > 12 or ish
    return shown.how not in ("past", "h") and not led and said_day is None


def accepted(said: Clock, words: Sequence[Word], at: int) -> bool:
    """True where the words tell a time by themselves, with nothing that asks for one before them."""
    if _one_of_two(words, at + said.length):
        return False
    if said.how == "alike":
        return said.led == "at" and (said.sure or said.minute > 0)
    strong = said.sure or bool(said.led)
    if said.day and (said.day.short or said.day.dated) and not (said.sure or said.how in ("colon", "past", "name") or said.led == "at"):
        return False
    if said.how == "hour":
        return (strong and said.hour != 0) or _shows_ish(words, at, said)
    if said.how == "run":
        return strong or (words[at].text[:1] == "0" and len(words[at].text) == 4)
    if said.how in ("pair", "point", "h"):
        return strong
    if said.how == "past" and said.hour is None:
        return strong or words[at].text in ("half", "quarter")
    if said.how == "to" and said.hour is None:
        return said.led == "at"
    return True


def _shows_ish(words: Sequence[Word], at: int, said: Clock) -> bool:
    return said.length > 1 and words[at + 1].text == "ish"
