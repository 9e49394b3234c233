"""From words to items: subjects, doings, measures, numbers, times and small words, in order, each with its words."""

from __future__ import annotations

from functools import cache

from parsers.bare_places import JOINS, growls
from parsers.items import Item
from parsers.lexicon import lexicon
from parsers.measures import unit_at, unit_words
from parsers.numbers import ALIKE, SPOKEN
from parsers.offers import Offers
from parsers.pup_places import _main_role
from parsers.times import STARTS as TIME_STARTS
from parsers.times import When, loose
from parsers.times import match as match_time
from parsers.vocabulary import Tag
from parsers.words import follows

_STOPS = frozenset((".", "!", "?", ";", "\n"))
_PAUSES = frozenset((",", "/", "|", "(", ")", "•"))
_VAGUE_STARTS = frozenset(
    "a few some sometime not recently earlier ages hours minutes several shortly last the in within just right soon any before after by "
    "past since until till til up ever yesterday".split()
)
_BODY = frozenset(
    (
        "gums",
        "gum",
        "nose",
        "belly",
        "tummy",
        "eye",
        "eyes",
        "navel",
        "tongue",
        "stomach",
        "discharge",
        "milk",
        "mucus",
        "blood",
        "cut",
        "scratch",
        "pus",
        "goop",
        "gunk",
        "swelling",
        "redness",
        "hole",
        "gap",
        "incision",
        "wound",
        "stitches",
        "breast",
        "teat",
        "bleeding",
    )
)
_NO_SMALL_MARKS = frozenset(("#", "&", "+", "@", "½"))
_FIGURES = frozenset(("number", "fraction", "clock"))
_SOME = frozenset(("one", "two", "some", "either", "any"))
_AGO = frozenset(("ago", "back"))
_AGO_WITHIN = 5  # words
_MAY_COUNT = SPOKEN | ALIKE | {"half", "quarter", "three", "a", "an", "point"}
"""Words that a number may begin with."""


@cache
def _known() -> frozenset[str]:
    """Every word that an item of more than itself can begin with, the litter's names aside."""
    return lexicon().firsts | unit_words() | TIME_STARTS | _VAGUE_STARTS | _BODY | _SOME | _MAY_COUNT | JOINS | {"my", "our", "eight"}


class Scanner(Offers):
    """Turns the words of one message into items."""

    def scan(self, start: int = 0, end: int | None = None) -> list[Item]:
        """All items of words[start:end], in order; every word lies in exactly one."""
        last = len(self.words) if end is None else end
        at = start
        while at < last:
            run = self._spoken_run(at) if self.words[at].text in SPOKEN else None
            if run:
                self.items.extend(run)
                at = run[-1].end
                continue
            item = self._item(at)
            if at + item.length > last:
                item.length = last - at
            at += item.length
            if item.subject is not None and self._same_pup(item):
                self.items[-1].length += item.length
            else:
                self.items.append(item)
        return self.items

    def _same_pup(self, item: Item) -> bool:
        """True for a pup's name right behind its number, and the other way about: `Pup 4 Pip: nursed`."""
        before = self.items[-1] if self.items else None
        if before is None or before.subject is None or item.subject is None or before.end != item.at:
            return False
        same = before.subject.whos[-1:] == item.subject.whos  # also the last of several: `Dam and Pup 1 blue`
        return same and len(item.subject.whos) == 1 and item.subject.how != before.subject.how

    def _item(self, at: int) -> Item:
        words = self.words
        word = words[at]
        kind, text = word.kind, word.text
        if kind == "newline":
            return Item("stop", at, 1, text=text)
        if kind == "mark" and text not in _NO_SMALL_MARKS:
            if text in _STOPS:
                return Item("stop", at, 1, text=text)
            if text == ")" and self.items and self.items[-1].text == "bare":
                return Item("colon", at, 1, text=":")  # 1) 244
            if text in _PAUSES or (text == "-" and word.spaced):
                return Item("pause", at, 1, text=text)
            return Item("colon" if text == ":" else "small", at, 1, text=text)
        if kind == "word" and text not in _known() and not self.names.may_start(word):
            return Item("unknown", at, 1, text=text)
        phrase = self._phrase(at) if kind == "word" and self._lexical[at].text in self._phrases else None
        length = phrase[0] if phrase else 0
        if text in JOINS and length <= 1:
            return Item("join", at, 1, text=text)
        if kind != "word" or text in TIME_STARTS:
            when = match_time(words, at, now=self.now, tz=self._tz, born=self._born)
            if when is not None and self._is_time(when, at, length):
                return Item("time", at, when.length, when=when)
        if text in _VAGUE_STARTS if kind == "word" else kind == "number" and follows(words, at, _AGO, _AGO_WITHIN):
            vague = loose(words, at)
            if vague > length:
                return Item("vague", at, vague, text=text)
        if (phrase is not None or text in _BODY) and at in self._near_owners:
            across = self._across(at, length)
            if across is not None:
                return across
        if text in _SOME and at + 2 < len(words) and words[at + 1].text == "of":
            group = self.names.match(words, at + 2)
            if group is not None and len(group.whos) != 1:
                return Item("someone", at, 2 + group.length, text=text)
        subject = self._subject(at, length) if text in SPOKEN or self.names.may_start(word) else None
        if subject is not None:
            return subject
        if text in ("my", "our") and length == 1:
            return Item("person", at, 1, text=text)
        if text == "eight" and self.items and self.items[-1].subject is not None and at + 1 < len(words):
            ate = lexicon().longest(words, at + 1)
            if ate is not None and any(tag.role == "amount" for tag in ate[1]) and not any(tag.role == "do" for tag in ate[1]):
                return Item("do", at, 1, tags=[Tag("do", "intake")], text="ate")
        if text in _MAY_COUNT or kind in _FIGURES:
            number = self._number(at, length)
            if number is not None:
                return self._with_other(number)
        unit = unit_at(words, at) if kind == "word" and phrase is None else None
        if unit is not None and unit[0] in ("dose", "volume"):
            return Item("unit", at, unit[3], text=unit[1])
        if phrase is not None:
            return Item(_main_role(phrase[1]), at, length, tags=phrase[1], text=text)
        if kind in ("clock", "figures"):
            return self._clock(at)
        return Item("unknown" if kind in ("word", "number") else "small", at, 1, text=text)

    def _is_time(self, when: When, at: int, phrase_length: int) -> bool:
        """True where a time that the words can tell is meant by them: no longer phrase stands here, no weight and no count."""
        if self.words[at].text == "at":
            owned = at + when.length < len(self.words) and self.words[at + when.length].text == "'s"
            if owned or (self.items and growls(self.items[-1])):
                return False
        return when.length >= phrase_length and not self._weight_after(when, at) and not self._count_after(when, at)

    def _count_after(self, when: When, at: int) -> bool:
        """True where `about eight` is how many minutes: a bare hour beside a doing that wants a number, or right behind a subject."""
        if not when.weak or when.length > 2 or self.words[at].kind in ("clock", "number"):
            return False
        if self.words[at].text == "at" and at + 1 < len(self.words) and "." in self.words[at + 1].text:
            return False  # `nursed at 2.10`: minutes have no hundredths
        last = next((item for item in reversed(self.items) if item.role in ("do", "subject", "number", "measure", "stop", "pause")), None)
        return last is not None and (last.role == "subject" or (last.role == "do" and self._wants_number(last)))

    def _weight_after(self, when: When, at: int) -> bool:
        """True where a bare clock or figure is a weight: a unit of weight stands right behind it (`2:31 g`, `at 335 g`)."""
        unit = unit_at(self.words, at + when.length)
        return when.weak and unit is not None and unit[0] in ("mass", "volume", "warmth", "percent", "dose")
