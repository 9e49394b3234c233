"""Corrections of what was logged before: undo · no, 221 · that was pup 4 · 20 min ago actually (the contract's `fix`).

A correction stands at the start of a message and takes no more than its own words; what follows them is read on as usual.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cache
from typing import Any, Literal

from parsers.amends import (
    Amended,
    Fields,
    Logged,
    ReadValue,
    Value,
    equals,
    fields_of,
    is_near,
    measure_fields,
    number_fields,
    unchanged,
    value_words,
)
from parsers.doings import SLOT
from parsers.litter_card import LitterCard
from parsers.measures import measures
from parsers.numbers import Number, readings, starts_number
from parsers.reading import Fix
from parsers.subjects import Names, Subject
from parsers.templates import Templates
from parsers.times import When
from parsers.times import match as match_time
from parsers.vocabulary import load
from parsers.words import Word

_DATA = load("corrections")
_STOPS = frozenset(_DATA["stops"]["says"])
_END_MARKS = frozenset((".", "!", ";", "\n", "?", "…"))
_SKIPPED = frozenset((",", "-", ".", "!", ":", "…", "\n", "*", "(", '"'))
_MOST_LEADS = 6
_MOST_TERMS = 8

_STRONG = {"sure", "no", "who"}
_SMALL_LEADS = {"quiet", "ask"}


@dataclass(frozen=True, slots=True)
class Corrected:
    """A correction: what it changes, and the words it takes."""

    fix: Fix
    start: int
    end: int
    problem: str | None = None
    """What is wrong with its time (future, either half, before birth, skipped), so that it must be confirmed."""


def _phrases(meanings: Mapping[str, Sequence[str]]) -> Templates:
    templates = Templates(_DATA["shared"] | {"what": _DATA["undo"]["what"]})
    for meaning, patterns in meanings.items():
        templates.add(meaning, patterns)
    return templates


@cache
def _leads() -> Templates:
    return _phrases(_DATA["lead"])


@cache
def _undo() -> Templates:
    return _phrases({"undo": _DATA["undo"]["says"]})


@cache
def _small() -> Templates:
    return _phrases({"between": _DATA["between"]["says"]})


@cache
def _nots() -> Templates:
    return _phrases({"not": _DATA["between"]["not"], "to": _DATA["between"]["to"]})


@cache
def _tails() -> Templates:
    telling = set(_DATA["tail"]["telling"])
    return _phrases({"telling": _DATA["tail"]["telling"], "tail": [tail for tail in _DATA["tail"]["says"] if tail not in telling]})


@cache
def known_words() -> frozenset[str]:
    """Every word of the corrections' vocabulary, for the speller."""
    return frozenset(word for phrases in (_leads(), _undo(), _small(), _nots(), _tails()) for word in phrases.known if word.isalpha())


@dataclass(slots=True)
class _Term:
    """One thing a correction names: a pup, a number, a measure, a time or a word that sets a field; `old` for what it is not."""

    at: int
    length: int
    old: bool = False
    pup: Subject | None = None
    numbers: list[Number] = field(default_factory=list)
    fields: Amended | None = None
    value: Value | None = None
    when: When | None = None

    @property
    def bare(self) -> bool:
        """True for a number that may be a pup or a value."""
        return bool(self.numbers)


@dataclass(slots=True)
class _Said:
    """A correction while it is read."""

    leads: set[str] = field(default_factory=set)
    comma: bool = False
    """True where a mark stands between the lead and what follows."""
    terms: list[_Term] = field(default_factory=list)
    turned: bool = False
    """True where `should be` stands between what was logged and what is right."""
    told: bool = False
    """True where words behind it (`actually`) make it a correction."""
    end: int = 0
    finished: bool = False


def find(words: Sequence[Word], names: Names, card: LitterCard, now: datetime, *, by: str | None = None,
         read_value: ReadValue | None = None) -> Corrected | None:  # fmt: skip
    """The correction that a message begins with, or None. `read_value` reads words that set fields (`goat milk`, `by tube`)."""
    if not words:
        return None
    return _Corrector(words, names, card, now, by, read_value or value_words).find()


class _Corrector:
    def __init__(self, words: Sequence[Word], names: Names, card: LitterCard, now: datetime, by: str | None, read_value: ReadValue) -> None:
        self.words, self.names, self.card, self.now, self.read_value = words, names, card, now, read_value
        self.logged: Logged = card.last_logged.events if card.last_logged is not None else ()
        del by  # what the sender logged last is already chosen by who made the card

    def find(self) -> Corrected | None:
        said = _Said()
        at = self._lead(said)
        undone = self._undone(said, at)
        if undone is not None:
            return undone
        if not said.leads - _SMALL_LEADS and not self._may_be_plain(at):
            return None
        self._terms(said, at)
        if not said.terms:
            return None
        return self._weigh(said)

    # ---- what leads a correction in ----

    def _lead(self, said: _Said) -> int:
        """Take in `oops`, `no wait`, `I meant`; where what is corrected begins."""
        at, words = 0, self.words
        for _ in range(_MOST_LEADS):
            place = at
            while place < len(words) and words[place].text in _SKIPPED and (at > 0 or words[place].text == "*"):
                if words[place].text == "*":
                    said.leads.add("sure")
                place += 1
            if place >= len(words):
                break
            found = _leads().longest(words, place)
            if found is None or self._undo_here(place):
                said.comma = place > at
                at = place
                break
            if found[0] == "no" and place + 2 < len(words) and words[place + 1].text == "." and starts_number(words[place + 2]):
                at = place
                break
            said.leads.add(found[0])
            at = place + found[1]
            said.comma = at < len(words) and words[at].text in _SKIPPED
        return at

    def _undo_here(self, at: int) -> bool:
        return _undo().longest(self.words, at) is not None

    def _undone(self, said: _Said, at: int) -> Corrected | None:
        """`scratch that last one please`."""
        words, place, end = self.words, at, None
        while place < len(words):
            found = _undo().longest(words, place)
            if found is None:
                break
            end = self._closed(place + found[1])
            asked = end is None and "ask" in said.leads and place + found[1] < len(words) and words[place + found[1]].text == "?"
            if end is None and (asked or self._goes_on(place + found[1])):
                end = place + found[1]
            if end is None:
                return None
            place = end
            while place < len(words) and words[place].text in (",", ".", "and", "!"):
                place += 1
        more = _leads().longest(words, end) if end is not None and end < len(words) else None
        if end is None or (more is not None and more[0] == "said"):
            return None
        return self._replaced(end) or Corrected(Fix(change="undo"), 0, end)

    def _replaced(self, at: int) -> Corrected | None:
        """`scratch that, 221`: no undo, where all that follows puts right what was logged."""
        place = at
        while place < len(self.words) and self.words[place].text in _SKIPPED:
            place += 1
        instead = _Said(leads={"sure"}, comma=True)
        if place < len(self.words):
            self._terms(instead, place)
        if not self.logged or not instead.terms or not self._last(instead.end) or any(term.value is not None for term in instead.terms):
            return None
        found = self._weigh(instead)
        pup_and_value = found is not None and found.fix.who is not None and bool(found.fix.fields)
        return None if pup_and_value else found

    def _goes_on(self, at: int) -> bool:
        """True where what was meant follows without a mark, as it is spoken: `scratch that pup 4 nursed 10`."""
        subject = self.names.match(self.words, at)
        return self.words[at - 1].text == "that" and subject is not None and subject.how in ("pup", "name", "dam")

    def _may_be_plain(self, at: int) -> bool:
        """True where a correction may stand without a lead: `221 not 212`, `4 not 3`, `20 min ago actually`."""
        return any(word.text in _PLAIN for word in self.words[at : at + _FAR])

    # ---- its terms ----

    def _terms(self, said: _Said, at: int) -> None:
        """Take in the terms from `at` on as far as they go and the part is closed behind them."""
        place, old = at, False
        while len(said.terms) < _MOST_TERMS and place < len(self.words):
            place, old, turned = self._skip(place, old, said)
            if turned:
                for earlier in said.terms:
                    earlier.old = True
            term = self._term(place, said) if place < len(self.words) else None
            if term is None:
                break
            term.old = old
            said.terms.append(term)
            place, old = term.at + term.length, False
            if self._closed(place, said) is not None and self._starts_over(place, said):
                break
        while said.terms:
            last = said.terms[-1]
            end = self._closed(last.at + last.length, said)
            if end is None and (last.bare or last.fields is not None) and self._runs_on(last.at + last.length, said):
                end = last.at + last.length
            if end is not None:
                said.end, said.finished = end, True
                return
            said.terms.pop()

    def _skip(self, place: int, old: bool, said: _Said) -> tuple[int, bool, bool]:
        """Pass the small words; `not` makes the next term an old one, `should be` all before it."""
        turned = False
        while place < len(self.words):
            nots = _nots().longest(self.words, place)
            small = _small().longest(self.words, place)
            if nots and (small is None or nots[1] >= small[1]):
                if nots[0] == "to":
                    if not said.terms:
                        return place, old, turned
                    turned, said.turned, said.told, old = True, True, True, False
                else:
                    old = True
                place += nots[1]
            elif small and (said.terms or self.words[place].text not in ("it", "he", "she") or small[1] > 1 or place + 1 < len(self.words)):
                place += small[1]
                if self.words[place - 1].text == "but":
                    old = False
            else:
                break
        return place, old, turned

    def _starts_over(self, place: int, said: _Said) -> bool:
        """True where the next part is a message of its own: `no, 221, pup 4 nursed 10`, `no, 221. and 4 nursed 10`."""
        words = self.words
        if place >= len(words):
            return True
        if words[place].text in _END_MARKS:
            return not self._not_follows(place + 1)
        if words[place].text != "," and words[place].text not in _STOPS:
            return False
        if self._not_follows(place + 1) or all(each.old for each in said.terms):
            return False
        probe = place
        while probe < len(words) and (words[probe].text == "," or words[probe].text in _STOPS):
            probe += 1
        term = self._term(probe, said) if probe < len(words) else None
        if term is None:
            return True
        if term.when is not None:
            return False
        after = term.at + term.length
        if term.pup is not None or (term.value is not None and term.value.doing):
            return any(each.fields or each.bare for each in said.terms) or self._closed(after, said) is None
        return self._closed(after, said) is None

    def _not_follows(self, at: int) -> bool:
        found = _nots().longest(self.words, at) if at < len(self.words) else None
        return found is not None

    def _term(self, at: int, said: _Said) -> _Term | None:
        words = self.words
        when = match_time(words, at, now=self.now, tz=self.card.tz, born=self.card.born)
        if when is not None and when.at is not None and not self._is_weight(when, at):
            return _Term(at, when.length, when=when)
        subject = self.names.match(words[: self._until_mark(at)], at)
        if subject is not None and subject.whos and not subject.unknown and self._is_pup(subject, at, said):
            return _Term(at, subject.length, pup=subject)
        if self._takes_amounts and (value := self.read_value(words, at)) is not None and "amount" in value.fields:
            return _Term(at, value.length, value=value)
        if words[at].kind in ("number", "fraction", "clock") or starts_number(words[at]) or words[at].text in _FIGURES:
            return self._figure(at, said)
        value = self.read_value(words, at)
        return None if value is None else _Term(at, value.length, value=value)

    @property
    def _takes_amounts(self) -> bool:
        """True where `half` is how much the dam ate."""
        return any(event.get("kind") == "intake" for event in self.logged)

    def _is_pup(self, subject: Subject, at: int, said: _Said) -> bool:
        """Whether figures that may be a pup are one: `no, 3 nursed 20`, `that was 3 and 4`."""
        if subject.how not in ("bare", "list") or self.words[at].kind != "number":
            return True
        after = at + subject.length
        if subject.how == "list":
            return any(word.text in ("and", "&") for word in self.words[at:after]) and self._closed(after, said) is not None
        value = self.read_value(self.words, after) if after < len(self.words) else None
        return value is not None and value.doing

    def _is_weight(self, when: When, at: int) -> bool:
        return when.weak and self.words[at].kind == "number" and bool(measures(self.words, at))

    def _until_mark(self, at: int) -> int:
        """A list of pups goes on over `and`, never over a comma: `not 3, 4`."""
        end = at
        while end < len(self.words) and self.words[end].text not in (",", ".", ";", "\n"):
            end += 1
        return end

    def _figure(self, at: int, said: _Said) -> _Term | None:
        found = measures(self.words, at)
        for measure in found:
            fields = measure_fields(measure, self.logged, self.card)
            if fields is not None:
                return _Term(at, measure.length, fields=fields)
        if found:
            return None
        if self.words[at].kind == "clock":
            return None
        numbers = [each for each in readings(self.words, at) if self._ends(at + each.length, said)]
        if not numbers:
            return None
        longest = max(each.length for each in numbers)
        return _Term(at, longest, numbers=[each for each in numbers if each.length == longest])

    def _ends(self, at: int, said: _Said) -> bool:
        """True where a number may end at `at`: the part is closed there, or another term follows."""
        if self._closed(at, said) is not None or at >= len(self.words):
            return True
        if self._runs_on(at, said):
            return True
        place, _, _ = self._skip(at, False, _Said(terms=[_Term(at, 0)]))
        return place < len(self.words) and (place > at or self._may_follow(place))

    def _runs_on(self, at: int, said: _Said) -> bool:
        """True where a new sentence follows a large figure without a mark, as it is spoken: `no 221 the towel was on`."""
        before = self.words[at - 1]
        large = (before.value or 0) >= _LARGE or before.kind == "word"
        return bool(said.leads & _STRONG) and large and self.words[at].text in _NEW_SENTENCE

    def _may_follow(self, place: int) -> bool:
        word = self.words[place]
        return word.kind in ("number", "clock") or word.text in ("at", "@", "g", "oz", "pup") or starts_number(word)

    def _closed(self, at: int, said: _Said | None = None) -> int | None:
        """Where a correction that ends at `at` has ended, with `sorry` or thanks behind it; None where the sentence goes on."""
        words, place = self.words, at
        while place < len(words):
            mark = 1 if words[place].text in (",", "*", ")") and place + 1 < len(words) else 0
            found = _tails().longest(words, place + mark)
            if found is None or (mark and words[place].text == "," and not self._last(place + mark + found[1])):
                break
            if found[0] == "telling" and said is not None:
                said.told = True
            place += mark + found[1]
        while place < len(words) and words[place].kind == "mark" and words[place].text in "*)\"'":
            if words[place].text == "*" and said is not None:
                said.told = True
            place += 1
        if place >= len(words):
            return place
        word = words[place]
        if (
            word.text in _END_MARKS
            or word.kind == "newline"
            or word.text in (",", "-", "(", ":")
            or word.text in _STOPS
            or not word.text.isascii()
        ):
            asked = said is not None and "ask" in said.leads
            return None if word.text == "?" and not asked else place
        return None

    def _last(self, at: int) -> bool:
        return at >= len(self.words) or self.words[at].text in _END_MARKS

    # ---- what it means ----

    def _weigh(self, said: _Said) -> Corrected | None:
        """Put the terms together and judge whether they correct what was logged."""
        news, olds = [term for term in said.terms if not term.old], [term for term in said.terms if term.old]
        if not news:
            return None
        who = self._who(said, news, olds)
        fields: Fields = {}
        when: When | None = None
        rest = [term for term in news if term.pup is None and term is not getattr(who, "term", None)]
        sure = True
        for term in rest:
            if term.when is not None:
                when = term.when
                continue
            found = self._fields(term, rest, olds, said)
            if found is None:
                return None
            sure = sure and is_near(found)
            fields = fields | found.fields
        if who is None and fields and said.turned:
            who = self._subject_of(olds)
        if who is None and not fields and when is None:
            return None
        if not self._accepted(said, news, olds, who, fields, when, sure=sure):
            return None
        return self._corrected(said, who, fields, when)

    def _subject_of(self, olds: list[_Term]) -> _Whom | None:
        """`pup 2 should be 198`: whose value it is, where several were logged at once."""
        for term in olds:
            if term.pup is not None:
                return _Whom(term.pup.whos, term, outright=True)
            pups = [int(number.value) for number in term.numbers if number.whole and int(number.value) in self.names.numbers]
            if pups and not any(equals(number, self.logged, self.card) for number in term.numbers):
                return _Whom((pups[0],), term, outright=False)
        return None

    def _who(self, said: _Said, news: list[_Term], olds: list[_Term]) -> _Whom | None:
        named = next((term for term in news if term.pup is not None), None)
        if named is not None and named.pup is not None:
            return _Whom(named.pup.whos, named, outright=True, called=named.pup.how in ("name", "dam"))
        bare = [term for term in news if term.bare]
        if not bare:
            return None
        number = bare[0]
        pups = [int(each.value) for each in number.numbers if each.whole and int(each.value) in self.names.numbers]
        acted = any(term.value is not None and term.value.doing for term in news)
        if not pups or (acted and len(bare) == 1):
            return None
        if "who" in said.leads or len(bare) > 1 or self._olds_are_pups(olds):
            return _Whom((pups[0],), number, outright="who" in said.leads)
        if any(equals(each, self.logged, self.card) for term in olds for each in term.numbers):
            return None
        best = next(iter(number_fields(number.numbers, self.logged, self.card)), None)
        if self.logged and (best is None or not is_near(best)):
            return _Whom((pups[0],), number, outright=False)
        return None

    def _olds_are_pups(self, olds: list[_Term]) -> bool:
        """`not 3, 4`, said of a pup: the old one is whom it was logged for, and no value that was logged."""
        logged = {event.get("who") for event in self.logged}
        for term in olds:
            if term.pup is not None:
                return True
            for number in term.numbers:
                if number.whole and int(number.value) in self.names.numbers:
                    if int(number.value) in logged:
                        return True
                    if not logged or not equals(number, self.logged, self.card):
                        return True
        return False

    def _fields(self, term: _Term, rest: list[_Term], olds: list[_Term], said: _Said) -> Amended | None:
        """The fields that one term changes; None where it does not fit what was logged."""
        if term.fields is not None:
            return term.fields
        if term.value is not None:
            return self._word_fields(term.value, olds)
        kinds = frozenset(kind for each in rest if each.value is not None and each.value.doing for kind in each.value.kinds)
        found = number_fields(term.numbers, self.logged, self.card, kinds=kinds)
        return found[0] if found else None

    def _word_fields(self, value: Value, olds: list[_Term]) -> Amended | None:
        fields = fields_of(value, self.logged)
        if fields is None:
            return None
        for term in olds:
            denied = fields_of(term.value, self.logged) if term.value is not None else None
            for key, was in (denied or {}).items():
                if was is True and key not in fields:
                    fields[key] = False
        for event in self.logged:  # `no, pooped`, said of a pup that `peed`: it did not
            if event.get("kind") == "toilet" and not olds:
                for key, other in (("urine", "stool"), ("stool", "urine")):
                    if fields.get(other) is True and event.get(key) is True and event.get(other) is None and key not in fields:
                        fields[key] = False
        return Amended(fields, 0.0)

    def _accepted(self, said: _Said, news: list[_Term], olds: list[_Term], who: _Whom | None, fields: Fields, when: When | None,
                  *, sure: bool) -> bool:  # fmt: skip
        """Whether it is a correction, and no talk: what leads it in, how outright it is, and how near it is to what was logged."""
        doing = any(term.value is not None and term.value.doing for term in news)
        denied = any(term.value is not None and term.value.doing for term in olds)
        if (denied and not doing) or self._planned(news):
            return False
        if self._present(said) and not self.logged and (fields or doing):
            return False
        if "no" in said.leads and not said.comma and news[0].value is not None and not any(term.bare or term.fields for term in news):
            # `no calcium`, `no poop` deny; `no by tube`, `no most` correct
            return self.words[news[0].at].text in _BY or any(term.value is not None and "amount" in term.value.fields for term in news)
        if (
            said.leads & {"wait"}
            and not said.leads & _STRONG
            and any("minutes" in (term.fields.fields if term.fields else ()) for term in news)
        ):
            return False
        if who is not None and not who.outright and self.words[who.term.at].text == "one" and not said.leads & _STRONG:
            return False
        if who is not None and who.called and not olds and not fields and when is None and not (said.leads & {"sure", "who", "said"}):
            # `no olive` may be said to the dog
            return (
                bool(self.logged)
                and ("no" in said.leads or said.told)
                and all(event.get("who") not in who.whos for event in self.logged)
                and self._last(said.end)
            )
        if who is not None and not olds and not said.leads & _STRONG and not self._pointed(said, who):
            return False
        if doing and not fields and who is None and when is None:
            return False
        if said.leads & {"sure", "who"} or ("no" in said.leads and (sure or not self.logged or who is not None or when is not None)):
            return True
        if "when" in said.leads:
            return when is not None
        if olds:
            return self._olds_fit(olds) if self.logged else not doing
        if when is not None and ("said" in said.leads or said.told or said.leads & {"weak", "wait", "no"}):
            return self._told_time(said)
        if who is not None and who.outright and (said.leads & {"said", "weak", "wait"} or said.told):
            return not doing or bool(self.logged)
        if said.leads & {"said", "weak", "wait", "no"} or said.told:
            return (sure and bool(self.logged)) or (
                not self.logged and not doing and self._last(said.end) and bool(fields) and self._whole(said)
            )
        return False

    def _pointed(self, said: _Said, who: _Whom) -> bool:
        """False where the words may as well tell how something looked (`it was red`) or count (`it's 4`)."""
        first = next(word.text for word in self.words if word.text not in _QUIET_FIRST)
        if not who.outright and first in _PRESENT:
            return False
        color = who.called and self.words[who.term.at].text in _COLORS
        return not (color and (first in ("it", "it's", "its", "was") or not self._last(said.end)))

    def _planned(self, news: list[_Term]) -> bool:
        """`meant to clear 2` was not done, and `cleared 2` puts no number right."""
        first = news[0]
        if first.value is None or not first.value.doing:
            return False
        after_to = first.at > 0 and self.words[first.at - 1].text == "to"
        return after_to or (any(term.bare for term in news) and first.value.kinds.isdisjoint(SLOT))

    def _present(self, said: _Said) -> bool:
        """True where `it's` or `that's` leads, which tells as often as it corrects."""
        if said.leads - {"said", *_SMALL_LEADS} or said.told or "said" not in said.leads:
            return False
        first = next(word.text for word in self.words if word.text not in _QUIET_FIRST)
        return first in _PRESENT

    def _whole(self, said: _Said) -> bool:
        """True where the lead and one number or measure are the whole message."""
        return len(said.terms) == 1 and said.end >= len(self.words)

    def _told_time(self, said: _Said) -> bool:
        """`it was half an hour ago` corrects; `it's 3 am and I'm up` tells the time of day."""
        return not self._present(said)

    def _olds_fit(self, olds: list[_Term]) -> bool:
        logged = {event.get("who") for event in self.logged}
        for term in olds:
            if term.pup is not None and logged & set(term.pup.whos):
                return True
            if any(equals(number, self.logged, self.card) or (number.whole and int(number.value) in logged) for number in term.numbers):
                return True
            if term.when is not None or term.value is not None or term.fields is not None:
                return True
        return False

    def _corrected(self, said: _Said, who: _Whom | None, fields: Fields, when: When | None) -> Corrected:
        at = when.at if when is not None else None
        whos = who.whos if who is not None else ()
        logged = [event.get("who") for event in self.logged]
        if whos and len(self.logged) == 1:
            fields = {key: new for key, new in fields.items() if key not in unchanged(fields, self.logged)}
        same = bool(whos) and bool(logged) and (fields or at is not None) and all(each in logged for each in whos)
        if same and len(set(logged)) == 1:
            whos = ()
        change: Literal["who", "value", "time"] = "who" if whos and not same else "value" if fields else "time"
        one: Any = None if not whos else whos[0] if len(whos) == 1 else tuple(whos)
        problem = when.problem if when is not None else None
        return Corrected(Fix(change=change, who=one, at=at, fields=fields), 0, said.end, problem)


@dataclass(frozen=True, slots=True)
class _Whom:
    """Whom it was really: `outright` as a pup (`pup 4`), `called` by name."""

    whos: tuple[int | str, ...]
    term: _Term
    outright: bool
    called: bool = False


_PLAIN = frozenset(
    (
        "not",
        "wasn't",
        "wasnt",
        "isn't",
        "isnt",
        "instead",
        "than",
        "actually",
        "meant",
        "mean",
        "should",
        "shoulda",
        "shld",
        "should've",
        "wrong",
        "oops",
        "sorry",
        "typo",
        "*",
        "whoops",
        "rather",
        "supposed",
        "bad",
        "mistake",
        "said",
    )
)
_LARGE = 30
"""From here on a figure after `no` is a value and no count of what follows (`no 5 ...`); own choice."""
_NEW_SENTENCE = frozenset(("the", "he", "she", "i", "it", "they", "we", "my", "i'm", "im", "there", "this", "that"))
_COLORS = frozenset(load("setup")["marks"]["colors"])
_FIGURES = frozenset(("a", "half", "quarter", "three"))
_FAR = 14
_BY = frozenset(("by", "with", "from", "via"))
_PRESENT = frozenset(("it's", "its", "that's", "thats", "is", "he's", "she's"))
_QUIET_FIRST = frozenset(("oh", "ah", "um", "uh", "ok", "okay", "so", "and", "well", ","))
