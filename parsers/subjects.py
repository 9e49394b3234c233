"""Whom a message speaks of: pup 3 · blue · the boys · all but 2 · the rest · mom."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from functools import cache
from typing import Any

from parsers.litter_card import LitterCard
from parsers.measures import unit_words
from parsers.numbers import ALIKE, Number, readings, starts_number
from parsers.pup_numbers import AND, HEARD, PUP, PupNumbers, Subject, Whos
from parsers.vocabulary import Phrases, Tag, load, says, words_of
from parsers.words import Speller, Word, Words, without_owner

_DATA = load("subjects")
_NOT_AFTER = frozenset(_DATA["dam"]["not_after"])
_TO = frozenset(_DATA["join"]["to"])
_JOINS = AND | _TO | {"p", "#", "pup"}
_WHOLE = frozenset(("rest", "both", "pronoun", "all"))
_AFTER = frozenset(_DATA["nouns"]["after"])
_AHEAD = frozenset(_DATA["nouns"]["ahead"])


@cache
def _groups() -> Phrases:
    phrases = Phrases()
    for how in ("all", "boys", "girls", "rest", "both", "he", "dam", "but"):
        phrases.add(_DATA[how]["says"], Tag("subject", how))
    return phrases


@cache
def _pup_words() -> frozenset[str]:
    """Words of which one stands in whatever means pups and is no number and no name: `pup`, `boys`, `everyone`."""
    groups = {word for how in ("all", "boys", "girls", "but") for word in words_of(_DATA[how]["says"])}
    return frozenset(groups - _TOO_COMMON) | PUP | HEARD | {"p", "#", "number", "no", "num", "nr"}


_TOO_COMMON = frozenset("the a of my our these one for from than em last little ones them other but minus apart body".split())
"""Words of the phrases for several pups that say nothing by themselves: another word stands beside them in each phrase."""


def known_words() -> set[str]:
    """Every word of the subjects' vocabulary, for the speller."""
    return set(_groups().known) | PUP | {word for phrase in ("number", "except") for word in phrase.split()}


_UNASKED: Any = object()
_ANY_YEAR = 2026  # what a zone calls its winter and its summer does not change by the year


class Names(PupNumbers):
    """Finds subjects in a message, for one litter: its pups, its dam and what they are called."""

    def __init__(self, card: LitterCard) -> None:
        super().__init__(card)
        self._called = Phrases()
        for pup in card.pups:
            for name in pup.names:
                self._call(name, pup.pup)
        for name in card.dam.names:
            self._call(name, "dam")
        self.of_dam = frozenset(f"{name.lower()}{owner}" for name in card.dam.names for owner in ("", "'s")) - _groups().known
        """What the dam is called beside `mom`, `dam` and the like."""
        self._starts = PUP | HEARD | _AHEAD | self._called.firsts | _groups().firsts | {"p", "#", "number", "no", "num", "nr", "all"}
        self._pup_words = _pup_words() | self._called.known
        self._speller = Speller({word for word in self._called.known if len(word) >= 5})
        self.zones = frozenset(str(datetime(_ANY_YEAR, month, 1, tzinfo=card.tz).tzname()).lower() for month in (1, 7))
        """What the litter's zone is called, in winter and in summer: cest, gmt."""
        self.people = frozenset(word for person in card.people for word in says(person)[:1])
        """The household's people, by their first name in small letters."""
        self.people_said = frozenset(f"{person}{ending}" for person in self.people for ending in ("", "'s", "s"))
        """The same, as they are typed with an owner's ending too."""
        self.right: set[str] = set()
        """Words that were looked at for a slip, and have none."""

    def _call(self, name: str, who: int | str) -> None:
        words = says(name)
        if not words:
            return
        self._called.add([" ".join(words)], Tag("subject", "dam" if who == "dam" else "name", (("who", who),)))
        if len(words) > 1 and words[-1] in _AFTER:
            self._called.add([" ".join(words[:-1])], Tag("subject", "name", (("who", who),)))

    def is_name(self, text: str) -> bool:
        """True where a word begins the name or mark of a pup or the dam."""
        return text in self._called.known or text.removesuffix("'s") in self._called.known

    def mend(self, text: str) -> str | None:
        """The litter's name that a word is a slip of, unless it is another name of the household."""
        return None if text in self.people or text.removesuffix("'s") in self.people else self._speller.mend(text)

    def may_start(self, word: Word) -> bool:
        """False for nearly every word of a message: no subject begins with it, whatever follows."""
        text = word.text
        return text in self._starts or word.kind == "number" or (text[-2:] == "'s" and text[:-2] in self._starts)

    def may_name(self, texts: Iterable[str]) -> bool:
        """False where none of these words can belong to what means a pup; numbers and words like `him` are not looked at."""
        return any(text in self._pup_words or (text[-2:] == "'s" and text[:-2] in self._pup_words) for text in texts)

    def match(self, words: Sequence[Word], at: int, *, after_doing: bool = False) -> Subject | None:
        """The subject that begins at `words[at]`, with the list or range that goes on from it; None where none does.

        With `after_doing` a doing stands right before it (`cleared 3, 4 nursed 15`): a comma then ends the list where the next pup has
        a doing of its own.
        """
        if not self.may_start(words[at]):
            return None
        if not isinstance(words, Words):
            return self._match(words, at, after_doing)
        asked = (self, at, after_doing)
        found: Subject | None = words.worked_out.get(asked, _UNASKED)
        if found is _UNASKED:
            found = words.worked_out[asked] = self._match(words, at, after_doing)
        return found

    def _match(self, words: Sequence[Word], at: int, after_doing: bool) -> Subject | None:
        first = self._one(words, at)
        if first is None or first.how in _WHOLE or first.unknown:
            return first
        return self._go_on(words, at, first, after_doing)

    def match_spelled(self, words: Sequence[Word], at: int, number: Number) -> Subject:
        """The subject that a spelled number is, with the list that goes on from it: `one and two`."""
        return self._go_on(words, at, self._pups((int(number.value),), number.length, "bare"), False)

    def _one(self, words: Sequence[Word], at: int) -> Subject | None:
        word = words[at]
        text = word.text
        if word.kind == "word" or text == "#":
            if text in PUP or text in HEARD:
                numbered = self._numbered(words, at + 1, heard=text in HEARD)
                if numbered:
                    return numbered
            elif text in ("p", "#", "number", "no", "num", "nr", "n°"):
                numbered = self._lettered(words, at)
                if numbered:
                    return numbered
            return self._named(words, at) or self._newborns(words, at) or self._group(words, at)
        return self._bare(words, at)

    def _named(self, words: Sequence[Word], at: int) -> Subject | None:
        """A name or a mark, with `the` before it and `boy`, `collar` or the like after it."""
        place = at
        while place < len(words) - 1 and words[place].text in _AHEAD and place - at < 3 and not self._called.longest(words, place):
            place += 1
        found = self._called.longest(words, place)
        if found is None:
            text = words[place].text
            found = self._called.longest(without_owner(words, place), 0) if text in self._called.firsts or text[-2:] == "'s" else None
        if found is None or (at and self._not_after(words[at - 1])):
            return None
        length, tags = found
        if tags[0].name == "dam" and any(self._not_after(words[ahead]) for ahead in range(at, place)):
            return None
        whos: Whos = (dict(tags[0].sets)["who"],)
        if len(tags) > 1 and any(dict(tag.sets)["who"] != whos[0] for tag in tags):
            return None
        end = place + length
        if whos != ("dam",):
            while end < len(words) and words[end].text in _AFTER and words[end].kind == "word" and not self._counts(words, end):
                end += 1
            if (
                end < len(words)
                and words[end].kind == "number"
                and words[end].value == whos[0]
                and words[end].whole
                and not self._measured(words, end + 1)
            ):
                end += 1
        return self._pups(whos, end - at, "dam" if whos == ("dam",) else "name")

    @staticmethod
    def _not_after(word: Word) -> bool:
        """True behind `my`, `a` or somebody's: `my mum`, `a moth`, `my sister's bitch` are none of the litter."""
        return word.text in _NOT_AFTER or word.text in ("a", "an") or (word.text.endswith("'s") and word.text not in _IS)

    @staticmethod
    def _counts(words: Sequence[Word], at: int) -> bool:
        """True where `one` begins a number: `pip one seven six`."""
        if words[at].text != "one" or at + 1 >= len(words):
            return False
        following = words[at + 1]
        part = (
            following.text in ("and", "&")
            and at + 2 < len(words)
            and words[at + 2].text in ("a", "half", "quarter", "three", "1/2", "1/4", "3/4")
        )
        return starts_number(following) or following.text in ("oh", "point") or part or following.text in unit_words()

    def _own_number(self, words: Sequence[Word], at: int) -> bool:
        """True where the number before `at` says the pup's own number again: `Olive 2 212 g`, never `red 1 1/2 ml` or `tubed dot 4`."""
        return at < len(words) and not self._measured(words, at) and words[at].kind not in ("fraction", "mark", "newline")

    def _group(self, words: Sequence[Word], at: int) -> Subject | None:
        found = _groups().longest(words, at)
        text = words[at].text
        if found is None and text.endswith("'s"):
            found = _groups().longest([Word(text[:-2], "word", 0, 0, True)], 0)
        if found is None:
            return self._counted(words, at)
        length, tags = found
        how = tags[0].name
        if how == "but":
            nested = at + length < len(words) and words[at + length].text in _EVERYONE
            left_out = self.match(words, at + length) if at + length < len(words) and not nested else None
            if left_out is None or left_out.unknown:
                return None
            kept = tuple(pup for pup in self.living if pup not in left_out.whos)
            return Subject(kept, length + left_out.length, "but", left_out=left_out.whos)
        if how == "all":
            if length == 1 and words[at].text == "all" and at + 1 < len(words) and words[at + 1].text in _NOT_OF_PUPS:
                return None
            return self._counted(words, at) or Subject(self.living, length, "all")
        if how in ("boys", "girls"):
            sex = "m" if how == "boys" else "f"
            return Subject(tuple(pup.pup for pup in self.card.living if pup.sex == sex), length, "sex")
        if how == "dam":
            return None if at and self._not_after(words[at - 1]) else Subject(("dam",), length, "dam")
        last = words[at + length - 1]
        count = next((int(one.value) for one in readings(words, at + length - 1)), None) if how == "rest" and starts_number(last) else None
        return Subject((), length, "pronoun" if how == "he" else how, counted=count)

    def counted(self, words: Sequence[Word], at: int) -> Subject | None:
        """The group whose number was just said: `boys` of `two boys`, `of the girls`, `pups`."""
        of = words[at].text == "of"
        if at + of >= len(words):
            return None
        group = self._group(words, at + of)
        return group._replace(length=group.length + of) if group is not None and group.how in ("sex", "all") else None

    def _go_on(self, words: Sequence[Word], at: int, first: Subject, after_doing: bool) -> Subject:
        """Take in the list or the range that goes on from a subject: `1-4`, `1, 2 and 5`, `olive and blue`."""
        end, how = at + first.length, first.how
        if end == len(words) or not self._may_go_on(words[end], how):
            return first
        whos, named = list(first.whos), list(first.named)
        while end < len(words):
            if words[end].text in _TO and whos and isinstance(whos[-1], int) and how in ("pup", "bare"):
                last = self._next(words, end + 1, how)
                if last is not None and isinstance(last.whos[0], int) and last.whos[0] > whos[-1]:
                    whos.extend(pup for pup in range(int(whos[-1]) + 1, last.whos[0] + 1) if pup in self.living)
                    end += 1 + last.length
                    continue
                break
            step = end
            while step < len(words) and words[step].text in AND and step - end < 2:
                step += 1
            if step == end and how in ("bare", "pup", "list") and self._runs_on(words, end, whos):
                whos.append(int(words[end].value or 0))
                end += 1
                how = "list"
                continue
            if step == end and not (words[end].text in ("p", "#", "pup") or (how == "name" and words[end].kind == "word")):
                break
            following = self._next(words, step, how)
            if (
                step == end
                and following is not None
                and (following.how not in ("pup", "name") or self._tells_a_look(words, step, following))
            ):
                break  # `dot yellow poop` tells how it looked
            if (
                following is None
                or following.unknown
                or following.whos[0] in whos
                or (after_doing and "," in [word.text for word in words[end:step]] and self._taken(words, following, step))
            ):
                break
            whos.extend(following.whos)
            named.extend(following.named)
            end = step + following.length
            how = "list" if following.how != "name" or how != "name" else "name"
        if how == first.how and end == at + first.length:
            return first
        return Subject(tuple(whos), end - at, "list" if len(whos) > 1 else how, named=tuple(named))

    @staticmethod
    def _may_go_on(word: Word, how: str) -> bool:
        """False for nearly every word behind a subject: no list or range goes on with it."""
        return word.text in _JOINS or word.kind == ("word" if how == "name" else "number")

    def _next(self, words: Sequence[Word], at: int, how: str) -> Subject | None:
        if at >= len(words):
            return None
        if words[at].kind == "word" and how in ("pup", "bare", "list") and words[at].text not in PUP:
            spoken = words[at].text in _SPELLED or (
                words[at].text in ALIKE
                and how in ("pup", "list")
                and words[at - 1].text in AND
                and at + 1 < len(words)
                and words[at + 1].kind == "word"
            )
            number = self._number(words, at, outright=False) if spoken else None
            if number:
                return self._pups((number[0],), number[1], "bare")
        one = self._one(words, at) if self.may_start(words[at]) else None
        return one if one is not None and one.whos and one.how not in ("all", "rest", "both", "pronoun", "sex", "but") else None

    def _taken(self, words: Sequence[Word], following: Subject, at: int) -> bool:
        """True where the number that would go on the list has a doing of its own: `cleared 3, 4 nursed 15`."""
        end = at + following.length
        return end < len(words) and words[end].kind in ("word", "number") and words[end].text not in AND


_IS = frozenset(("that's", "it's", "he's", "she's", "here's", "there's", "what's", "let's", "who's"))
_EVERYONE = frozenset(("all", "everyone", "everybody", "every", "each", "anyone", "whole"))
_NOT_OF_PUPS = frozenset("the my our this that these those night day morning week along about over around the right of sorts kinds".split())
_SPELLED = frozenset("one two three four five six seven eight nine ten eleven twelve".split())
