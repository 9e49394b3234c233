"""A day as it is said beside a clock time: yesterday, last night, this morning, monday, 24 Nov."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import NamedTuple

from parsers.phrase_list import PhraseList
from parsers.vocabulary import load
from parsers.words import Word

_WORDS = load("times")
_DAYS = PhraseList(_WORDS["days"])
_WEEKDAYS = PhraseList(_WORDS["weekdays"])
_PARTS = PhraseList(_WORDS["parts"])
_MONTHS = PhraseList(_WORDS["months"])
_ON = frozenset(_WORDS["on"])
_NAMES = tuple(_WORDS["weekdays"])
_ORDINALS = frozenset(_WORDS["ordinals"])
_EARLY = frozenset(("early", "earlier", "late", "later"))
_STEPS = {"today": 0, "yesterday": -1, "before yesterday": -2, "tomorrow": 1}

SMALL_HOURS_END = 6
"""Hour until which `tonight` still means the night that began yesterday (from memory of how people speak)."""

DAY_WORDS = _DAYS.words | _WEEKDAYS.words | _MONTHS.words | _PARTS.words
"""Every word of the days, for the speller."""
STARTS = _DAYS.firsts | _WEEKDAYS.firsts | _MONTHS.firsts | _ON | _EARLY | {"last", "the"}
"""Every word that a day can begin with, numbers aside."""
FOLLOWERS = _MONTHS.firsts | _ORDINALS
"""What may follow a number that begins a date."""


class Day(NamedTuple):
    """A day that was said: `of` is today, tonight, yesterday, before yesterday, tomorrow, a weekday or a date; `part` a part of it."""

    of: str
    part: str | None
    length: int
    short: bool = False
    """True for a name cut short (sat, mar, may), which may be another word: it needs a clock that cannot be one."""

    @property
    def dated(self) -> bool:
        """True for a date with its month (24 Nov), not counted from today."""
        return self.of[:1].isdigit()


def day(words: Sequence[Word], at: int) -> Day | None:
    """The day said from `at` on, or None."""
    if at >= len(words):
        return None
    first = words[at]
    if first.kind == "number":
        return _date(words, at)
    if first.text not in STARTS:
        return None
    known = _DAYS.at(words, at)
    if known:
        of, _, part = known[0].partition(" ") if known[0] != "before yesterday" else (known[0], "", "")
        return Day(of, part or None, known[1])
    leads = first.text in _ON or first.text in _EARLY or first.text == "the"
    said = day(words, at + 1) if leads and not (at and words[at - 1].text == first.text) else None
    if said:
        wanted = said.dated or said.of.split()[-1] in _NAMES
        kept = first.text in _EARLY if not wanted else (first.text != "the" or said.dated)
        return said._replace(length=said.length + 1, short=said.short and first.text not in _ON) if kept else None
    return _weekday(words, at) or _date(words, at)


def _weekday(words: Sequence[Word], at: int) -> Day | None:
    last = int(words[at].text == "last")
    named = _WEEKDAYS.at(words, at + last)
    if not named:
        return None
    length = last + named[1]
    part = _PARTS.at(words, at + length)
    short = words[at + last].text not in _NAMES and not last and not part
    return Day(("last " if last else "") + named[0], part[0] if part else None, length + (part[1] if part else 0), short)


def _date(words: Sequence[Word], at: int) -> Day | None:
    """`24 Nov`, `Nov 24`, `the 1st of March`, each with a year or without; `the 24th`."""
    month = _MONTHS.at(words, at)
    place, number = (at + month[1], None) if month else (at, _day_number(words, at))
    if month:
        number = _day_number(words, place)
    if number is None:
        return None
    place += number[1]
    if not month:
        of = int(place < len(words) and words[place].text == "of")
        month = _MONTHS.at(words, place + of)
        if not month:
            ordinal = number[1] > 1 and at and words[at - 1].text == "the"
            return Day(str(number[0]), None, number[1], short=True) if ordinal else None
        place += of
        place += month[1]
    year = place < len(words) and words[place].whole and len(words[place].text) == 4 and words[place].text[:2] == "20"
    if year:
        place += 1
    # `may 3` may be a pup's name before a number: it needs a clock that is nothing else.
    return Day(f"{number[0]} {month[0]}" + (f" {words[place - 1].text}" if year else ""), None, place - at, short=True)


def _day_number(words: Sequence[Word], at: int) -> tuple[int, int] | None:
    if at >= len(words) or not words[at].whole or not 1 <= int(words[at].text) <= 31 or len(words[at].text) > 2:
        return None
    ordinal = at + 1 < len(words) and words[at + 1].text in _ORDINALS and not words[at + 1].spaced
    return int(words[at].text), 1 + int(ordinal)


def dates(said: Day | None, shown: datetime) -> list[date]:
    """The dates that a said day can be, by what the litter's clock shows now; without a day, yesterday, today, and late at night tomorrow.

    Empty for a date that there is not (31 February).
    """
    today = shown.date()
    if said is None:
        steps = (-1, 0, 1) if shown.hour >= _TOMORROW_NEAR_FROM else (-1, 0)
        return [today + timedelta(days=step) for step in steps]
    if said.of in _STEPS:
        days = [today + timedelta(days=_STEPS[said.of])]
        # At half past midnight, `last night at 2` was the night before.
        return [days[0] - timedelta(days=1), *days] if said.part == "night" and said.of == "yesterday" else days
    if said.of == "tonight":
        return [today - timedelta(days=1)] if shown.hour < SMALL_HOURS_END else [today]
    if said.of == _NAMES[today.weekday()]:
        return [today]
    if said.of.isdigit():
        back = (today - timedelta(days=step) for step in range(_LONGEST_MONTHS))
        return [each for each in back if each.day == int(said.of)][:1]
    name = said.of.removeprefix("last ")
    found = today - timedelta(days=(today.weekday() - _NAMES.index(name)) % 7) if name in _NAMES else _by_dateparser(name, today)
    if found is not None and said.of.startswith("last ") and found == today:
        found -= timedelta(days=7)
    return [] if found is None else [found]


_TOMORROW_NEAR_FROM = 22  # o'clock; before that no figures of tomorrow come up within the hour, change of clocks or not
_LONGEST_MONTHS = 62  # days within which every number from 1 to 31 is some day's


@lru_cache(maxsize=64)
def _by_dateparser(text: str, today: date) -> date | None:
    """The latest date of that name up to today. Only dates written out by `day` come here.

    dateparser is imported at the first such date: it costs a fifth of a second and 16 MB.
    The base is naive on purpose, see its own docs on TIMEZONE.
    """
    import dateparser

    base = datetime(today.year, today.month, today.day, 23, 59)  # noqa: DTZ001
    found = dateparser.parse(text, languages=["en"], settings={"RELATIVE_BASE": base, "PREFER_DATES_FROM": "past", "DATE_ORDER": "DMY"})
    return found.date() if found else None
