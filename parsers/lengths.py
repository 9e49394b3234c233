"""A length of time as it is said: 20 min, an hour and a half, 1h20, a couple of hours; and how long ago that is."""

from __future__ import annotations

from collections.abc import Sequence

from parsers.numbers import WORDS as NUMBER_WORDS
from parsers.numbers import readings
from parsers.phrase_list import PhraseList
from parsers.vocabulary import load
from parsers.words import Word, follows

_WORDS = load("times")
_UNITS = dict.fromkeys(_WORDS["minutes"], 1.0) | dict.fromkeys(_WORDS["hours"], 60.0)
_AGO = frozenset(_WORDS["ago"])
_DAYS_AGO, _EARLIER = frozenset(_WORDS["days_ago"]), frozenset(_WORDS["earlier"])
_FEW = PhraseList({"2": _WORDS["few"]})
_LEADS = frozenset(_WORDS["about"]) | {"a", "good", "just", "only", "some", "at"}
_PARTS_OF_AN_HOUR = {"half": 0.5, "quarter": 0.25}
_BETWEEN_TWO = frozenset(("-", "to", "or", "til"))
_LONGEST = 12  # words from the first to `ago`

AGO_WORDS = _AGO | frozenset(_UNITS) | _FEW.words
STARTS = (NUMBER_WORDS - {"and", "point", "o"}) | _FEW.firsts | frozenset(("a", "an", "half", "hour", "good", "three"))
_FARTHEST = 366 * 24 * 60
"""Minutes back that a told time may lie: a year, long before any litter in the log."""


def ago(words: Sequence[Word], at: int) -> tuple[float, int] | None:
    """`20 min ago`, `an hour and a half ago`: (minutes, words taken); None where `ago` does not follow a length of time."""
    end = min(len(words), at + _LONGEST)
    if not ago_near(words, at):
        return None
    if at > 1 and words[at - 1].text in _BETWEEN_TWO and not (words[at - 1].text == "-" and words[at].spaced) and _counts(words[at - 2]):
        return None  # `5-10 min ago` is said too loosely to place; `1,5 h ago` begins before the comma
    place = at
    while place < end and words[place].text in _LEADS and not _measure(words, place):
        place += 1
    measured = _measure(words, place) if place < end else None
    if measured is None:
        return None
    place += measured[1]
    place += int(place < len(words) and words[place].text == ".")
    if place < len(words) and words[place].text in _AGO and measured[0] <= _FARTHEST:
        return measured[0], place + 1 - at
    return None


def ago_near(words: Sequence[Word], at: int) -> bool:
    """True where `ago` stands near enough after a word to belong to it."""
    return follows(words, at, _AGO, _LONGEST)


def ago_loosely(words: Sequence[Word], at: int) -> int:
    """`5-10 min ago`, `3 days ago`, `an hour earlier`: how many words say it; 0 for none. No one minute is told."""
    first = readings(words, at) if _counts(words[at]) else []
    for number in first:
        place = at + number.length
        if place < len(words) and words[place].text in _BETWEEN_TWO and place + 1 < len(words) and _counts(words[place + 1]):
            second = ago(words[place + 1 :], 0)
            if second:
                return place + 1 - at + second[1]
        if place + 1 < len(words) and words[place].text in _DAYS_AGO and words[place + 1].text in _AGO:
            return place + 2 - at
    measured = _measure(words, at)
    if measured and at + measured[1] < len(words) and words[at + measured[1]].text in _EARLIER:
        return measured[1] + 1
    return 0


def _counts(word: Word) -> bool:
    return word.kind in ("number", "fraction") or (word.text in NUMBER_WORDS and word.text not in ("and", "a", "point"))


def _measure(words: Sequence[Word], at: int) -> tuple[float, int] | None:
    """A length of time in minutes, and how many words it takes."""
    word = words[at]
    if word.kind == "clock":
        hours, minutes = word.text.split(":")
        return int(hours) * 60.0 + int(minutes), 1
    whole = _one(words, at)
    if whole is None:
        return None
    minutes_said, length, unit = whole
    place = at + length
    if unit != 60 or place >= len(words):
        return minutes_said, length
    joined = place + int(words[place].text == "and")
    more = _one(words, joined) if joined < len(words) else None
    if more and more[2] == 1:
        return minutes_said + more[0], joined + more[1] - at
    part = joined + int(joined > place and joined < len(words) and words[joined].text == "a")
    if joined > place and part < len(words) and words[part].text in _PARTS_OF_AN_HOUR:
        return minutes_said + 60 * _PARTS_OF_AN_HOUR[words[part].text], part + 1 - at
    bare = _bare_minutes(words, joined) if joined < len(words) else None
    if bare:
        return minutes_said + bare[0], joined + bare[1] - at
    return minutes_said, length


def _bare_minutes(words: Sequence[Word], at: int) -> tuple[float, int] | None:
    """The minutes after an hour, without their unit, right before `ago`: 1h20 ago, an hour twenty ago."""
    for number in readings(words, at):
        end = at + number.length
        if number.whole and 0 < number.value < 60 and end < len(words) and words[end].text in _AGO:
            return number.value, number.length
    return None


def _one(words: Sequence[Word], at: int) -> tuple[float, int, float] | None:
    """One number and its unit: (minutes, words taken, minutes in the unit)."""
    few = _FEW.at(words, at)
    if few:
        return _with_unit(words, at, 2.0, few[1])
    text = words[at].text
    article = int(text == "a")
    part = at + article
    if part < len(words) and words[part].text in _PARTS_OF_AN_HOUR:
        of = part + 1
        of += int(of < len(words) and words[of].text == "of")
        of += int(of < len(words) and words[of].text in ("a", "an"))
        if of < len(words) and _UNITS.get(words[of].text) == 60:
            return 60 * _PARTS_OF_AN_HOUR[words[part].text], of + 1 - at, 60.0
    if text in ("a", "an"):
        found = _with_unit(words, at, 1.0, 1)
        if found:
            return found
    if text == "hour":
        return 60.0, 1, 60.0
    if words[at].kind not in ("number", "fraction") and text not in NUMBER_WORDS:
        return None
    for number in readings(words, at):
        # `15 20 min ago`, `pup three twenty minutes ago`: two numbers, not one said in two parts.
        parted = number.joined or number.tenths or (number.value >= 100 and not number.digits)
        found = None if parted or number.value <= 0 else _with_unit(words, at, number.value, number.length)
        if found:
            return found
    return None


def _with_unit(words: Sequence[Word], at: int, value: float, length: int) -> tuple[float, int, float] | None:
    place = at + length
    if place < len(words) and words[place].text == "-":
        place += 1
    of = place
    if of + 1 < len(words) and words[of].text == "of" and words[of + 1].text in ("a", "an"):  # three quarters of an hour
        place = of + 2
    unit = _UNITS.get(words[place].text) if place < len(words) else None
    return None if unit is None else (value * unit, place + 1 - at, unit)
