"""The figures of a clock as they are said: 3:10, 310, three ten, ten past three, half two, quarter to 4, noon."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from parsers.phrase_list import PhraseList
from parsers.vocabulary import load
from parsers.words import Word

_WORDS = load("times")
_PAST, _TO = frozenset(_WORDS["past"]), frozenset(_WORDS["to"])
_MINUTES = frozenset(_WORDS["minutes"])
_TENS = {"twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50}
_OH = frozenset(("oh", "o", "zero"))

ALIKE: dict[str, int] = _WORDS["alike"]
"""Hours as dictation writes them: at to thirty, half past ate."""
NAMED = PhraseList({"noon": _WORDS["noon"], "midnight": _WORDS["midnight"]})
"""Noon and midnight."""
HOURS = {w: i for i, w in enumerate("one two three four five six seven eight nine ten eleven twelve".split(), 1)}
"""The hours of a twelve-hour clock as words."""
_UNDER_TWENTY = {w: i for i, w in enumerate("thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split(), 13)} | HOURS

_ISH = {f"{word}ish": hour for word, hour in HOURS.items()}

STARTS = NAMED.firsts | frozenset(_UNDER_TWENTY) | frozenset(_TENS) | frozenset(_ISH) | {"half", "quarter", "a"}
"""Every word that figures can begin with, numbers aside."""
FOLLOWERS = _PAST | _TO | {"h"}
"""What may follow a number that begins figures."""
FACE_WORDS = NAMED.words | _PAST | {"half", "quarter"}


class Face(NamedTuple):
    """What a clock's face shows: `hour` 0 to 23 as said (None for `quarter past`), and the form it was said in.

    `how` is colon, hour, run (310), pair (three ten), point (3.10), h (3h10), past, after, to, half (half two), name (noon) or
    alike (at to thirty).
    """

    hour: int | None
    minute: int
    length: int
    how: str


def face(words: Sequence[Word], at: int, *, led: bool, to: bool) -> Face | None:
    """The figures said from `at` on, or None. `led`: a word like `at` stands before them; without `to`, `10 to 4` are no figures."""
    if at >= len(words):
        return None
    word = words[at]
    if word.whole and len(word.text) <= 2 and _with_seconds(words, at):
        hour, minute = word.text, words[at + 2].text.split(":")[0]
        return Face(int(hour), int(minute), 3, "colon") if int(hour) < 24 and int(minute) < 60 else None
    if word.kind == "clock":
        hour, minute = word.text.split(":")
        return Face(int(hour) % 24, int(minute), 1, "colon") if int(hour) <= 24 and (int(hour) < 24 or minute == "00") else None
    joined = _joined(words, at, led=led, to=to)
    if joined:
        return joined
    if word.kind == "number":
        return _digits(words, at)
    if word.text == "half" and at + 1 < len(words):
        hour_said = _hour(words, at + 1)
        return Face(hour_said, 30, 2, "half") if hour_said else None
    if word.text in _ISH:
        return Face(_ISH[word.text], 0, 1, "hour")
    if word.text in HOURS:
        minute_said = _minute(words, at + 1)
        if minute_said:
            return Face(HOURS[word.text], minute_said[0], 1 + minute_said[1], "pair")
        return Face(HOURS[word.text], 0, 1, "hour")
    if led and word.text in ALIKE:
        minute_said = _minute(words, at + 1)
        return Face(ALIKE[word.text], minute_said[0] if minute_said else 0, 1 + (minute_said[1] if minute_said else 0), "alike")
    named = NAMED.at(words, at)
    return Face(12 if named[0] == "noon" else 0, 0, named[1], "name") if named else None


def _with_seconds(words: Sequence[Word], at: int) -> bool:
    """`3:10:25`, as machines write it: the seconds are left out."""
    return (
        at + 2 < len(words)
        and words[at + 1].text == ":"
        and words[at + 2].kind == "clock"
        and not (words[at + 1].spaced or words[at + 2].spaced)
    )


def _digits(words: Sequence[Word], at: int) -> Face | None:
    word = words[at]
    text = word.text
    if "." in text:
        hour, _, minute = text.partition(".")
        if not (hour.isdigit() and len(minute) == 2 and 1 <= int(hour) <= 23 and int(minute) < 60):
            return None
        return Face(int(hour), int(minute), 1, "point")
    if not word.whole or len(text) > 4:
        return None
    if len(text) > 2:
        hours, minutes = divmod(int(text), 100)
        return Face(hours, minutes, 1, "run") if hours <= 23 and minutes < 60 and (hours or len(text) == 4) else None
    if int(text) > 23:
        return None
    nxt = words[at + 1] if at + 1 < len(words) else None
    if nxt and nxt.text == "h" and not nxt.spaced:
        after = words[at + 2] if at + 2 < len(words) else None
        if after and after.whole and not after.spaced and len(after.text) == 2 and int(after.text) < 60:
            return Face(int(text), int(after.text), 3, "h")
        return Face(int(text), 0, 2, "h")
    minute_said = _minute(words, at + 1)
    if minute_said and words[at + 1].spaced:
        return Face(int(text), minute_said[0], 1 + minute_said[1], "pair")
    return Face(int(text), 0, 1, "hour")


def _hour(words: Sequence[Word], at: int) -> int | None:
    """An hour of a twelve-hour clock, in digits or as a word."""
    if at >= len(words):
        return None
    word = words[at]
    if word.whole and len(word.text) <= 2 and 1 <= int(word.text) <= 12:
        return int(word.text)
    return HOURS.get(word.text)


def _minute(words: Sequence[Word], at: int) -> tuple[int, int] | None:
    """Minutes set apart after an hour: ten, oh five, forty five, 45."""
    if at >= len(words):
        return None
    text = words[at].text
    after = words[at + 1].text if at + 1 < len(words) else ""
    if text in _OH:
        return (HOURS[after], 2) if after in HOURS and HOURS[after] < 10 else None
    if text in _TENS:
        return (_TENS[text] + HOURS[after], 2) if after in HOURS and HOURS[after] < 10 else (_TENS[text], 1)
    if text in _UNDER_TWENTY and _UNDER_TWENTY[text] >= 10:
        return _UNDER_TWENTY[text], 1
    if words[at].whole and len(text) == 2 and 10 <= int(text) < 60:
        return int(text), 1
    return None


def _joined(words: Sequence[Word], at: int, *, led: bool, to: bool) -> Face | None:
    """`ten past three`, `quarter to 4`, `half past`: minutes, past or to, and mostly an hour."""
    place = at + int(words[at].text == "a" and at + 1 < len(words) and words[at + 1].text == "quarter")
    counted = _counted_minutes(words, place)
    if counted is None:
        return None
    minute, length, named = counted
    place += length
    if place >= len(words):
        return None
    joint = words[place].text
    past = joint in _PAST
    if not past and (joint not in _TO or words[place - 1].text == "half" or not to):
        return None
    # `10 after 3` is said of clocks only by some: it needs a round number of minutes, `at`, or its quarter.
    if not (led or joint in _PLAIN or (named and joint != "before") or (joint == "after" and minute % 5 == 0)):
        return None
    hour = _hour(words, place + 1)
    spanned = place + 2 < len(words) and (words[place + 2].text in STARTS or words[place + 2].kind in ("number", "clock"))
    if hour is None and (led or named) and place + 1 < len(words) and not spanned:  # `quarter past to half past` is a span
        hour = ALIKE.get(words[place + 1].text)
    taken = place + 2 - at
    if hour is None:
        noon = NAMED.at(words, place + 1)
        if noon:
            hour, taken = (12 if noon[0] == "noon" else 0), place + 1 + noon[1] - at
    if hour is None:
        if (
            not (named or led or (past and minute % 5 == 0))
            or joint not in ("past", "to")
            or (place + 1 < len(words) and words[place + 1].kind in ("number", "clock"))
        ):
            return None
        return Face(None, minute if past else 60 - minute, place + 1 - at, "past" if past else "to")
    if not past and (minute % 5 and not led):
        return None
    if past:
        return Face(hour, minute, taken, "past" if joint == "past" or named or led else "after")
    return Face((hour - 1) or 12 if hour else 23, 60 - minute, taken, "to")


_PLAIN = frozenset(("past", "to", "till", "til"))


def _counted_minutes(words: Sequence[Word], at: int) -> tuple[int, int, bool] | None:
    """Minutes before `past` or `to`: (minutes, words taken, said as a quarter or a half)."""
    word = words[at]
    text = word.text
    if text in ("quarter", "half"):
        return (15 if text == "quarter" else 30), 1, True
    if word.kind == "fraction":
        return (int((word.value or 0) * 60), 1, True) if word.value in (0.25, 0.5) else None
    if word.whole and len(text) <= 2 and 1 <= int(text) <= 29:
        minute, length = int(text), 1
    elif text == "twenty":
        ones = HOURS.get(words[at + 1].text, 10) if at + 1 < len(words) else 10
        minute, length = (20 + ones, 2) if ones < 10 else (20, 1)
    elif text in _UNDER_TWENTY:
        minute, length = _UNDER_TWENTY[text], 1
    else:
        return None
    if at + length < len(words) and words[at + length].text in _MINUTES:
        length += 1
    return minute, length, False
