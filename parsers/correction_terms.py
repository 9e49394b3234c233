"""The terms of a correction: what leads it in and what it names, a pup, a number, a measure, a time, as far as its words go."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime

from parsers.amends import Amended, Logged, ReadValue, Value, measure_fields
from parsers.correction_words import END_MARKS, SKIPPED, STOPS, STRONG, leads, nots, small, tails, undo
from parsers.litter_card import LitterCard
from parsers.measures import measures
from parsers.numbers import Number, readings, starts_number
from parsers.pup_numbers import Subject
from parsers.subjects import Names
from parsers.times import When
from parsers.times import match as match_time
from parsers.words import Word

_MOST_LEADS = 6
_MOST_TERMS = 8
_LONGEST_TIME = 16


@dataclass(slots=True)
class Term:
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
class Said:
    """A correction while it is read."""

    leads: set[str] = field(default_factory=set)
    comma: bool = False
    """True where a mark stands between the lead and what follows."""
    terms: list[Term] = field(default_factory=list)
    turned: bool = False
    """True where `should be` stands between what was logged and what is right."""
    told: bool = False
    """True where words behind it (`actually`) make it a correction."""
    end: int = 0
    finished: bool = False


class Scan:
    """Looks through the words of one message for the terms of a correction."""

    def __init__(self, words: Sequence[Word], names: Names, card: LitterCard, now: datetime, read_value: ReadValue) -> None:
        self.words, self.names, self.card, self.now, self.read_value = words, names, card, now, read_value
        self.logged: Logged = card.last_logged.events if card.last_logged is not None else ()

    def lead(self, said: Said) -> int:
        """Take in `oops`, `no wait`, `I meant`; where what is corrected begins."""
        at, words = 0, self.words
        for _ in range(_MOST_LEADS):
            place = at
            while place < len(words) and words[place].text in SKIPPED and (at > 0 or self._starred(place)):
                if self._starred(place):
                    said.leads.add("sure")
                place += 1
            if place >= len(words):
                break
            found = leads().longest(words, place)
            if found is None or self.undo_here(place):
                said.comma = place > at
                at = place
                break
            if found[0] == "no" and self._numbers_a_pup(place + 1):
                at = place
                break
            said.leads.add(found[0])
            at = place + found[1]
            said.comma = at < len(words) and words[at].text in SKIPPED
        return at

    def _numbers_a_pup(self, at: int) -> bool:
        """True where `no` with a point stands for a number: `no. 3`."""
        if at + 1 >= len(self.words) or self.words[at].text != "." or not starts_number(self.words[at + 1]):
            return False
        value = self.words[at + 1].value
        return value is None or value < _LARGE or value in self.names.numbers

    def _starred(self, at: int) -> bool:
        """True for the star of a correction, `*221`; one that is set apart begins a line of a list."""
        return self.words[at].text == "*" and at + 1 < len(self.words) and not self.words[at + 1].spaced

    def undo_here(self, at: int) -> bool:
        return undo().longest(self.words, at) is not None

    def may_be_plain(self, at: int) -> bool:
        """True where a correction may stand without a lead: `221 not 212`, `4 not 3`, `20 min ago actually`."""
        near = self.words[at : at + _FAR]
        if not _PLAIN.isdisjoint([word.text for word in near]):
            return True
        if not near or not self.logged:
            return False
        first = near[1] if near[0].text in ("the", "that") and len(near) > 1 else near[0]
        return first.kind == "number" and any(word.text in ("was", "is") for word in near[:4])

    def terms(self, said: Said, at: int) -> None:
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
            if self.closed(place, said) is not None and self._starts_over(place, said):
                break
        while said.terms:
            last, said.told = said.terms[-1], said.turned
            end = self.closed(last.at + last.length, said)
            if end is None and (last.bare or last.fields is not None) and self._runs_on(last.at + last.length, said):
                end = last.at + last.length
            if end is not None:
                said.end, said.finished = end, True
                return
            said.terms.pop()

    def _skip(self, place: int, old: bool, said: Said) -> tuple[int, bool, bool]:
        """Pass the small words; `not` makes the next term an old one, `should be` all before it."""
        turned = False
        while place < len(self.words):
            if said.terms and all(term.old for term in said.terms) and self.words[place].text in SKIPPED:
                place += 1
                continue
            no = nots().longest(self.words, place)
            between = small().longest(self.words, place)
            if no and (between is None or no[1] >= between[1]):
                if no[0] == "to":
                    if not said.terms:
                        return place, old, turned
                    turned, said.turned, said.told, old = True, True, True, False
                else:
                    old = True
                place += no[1]
            elif between:
                place += between[1]
                if self.words[place - 1].text == "but":
                    old = False
            else:
                break
        return place, old, turned

    def _starts_over(self, place: int, said: Said) -> bool:
        """True where the next part is a message of its own: `no, 221, pup 4 nursed 10`, `no, 221. and 4 nursed 10`."""
        words = self.words
        if place >= len(words):
            return True
        if words[place].text in END_MARKS:
            return not self._not_follows(place + 1) and not all(each.old for each in said.terms)
        if words[place].text != "," and words[place].text not in STOPS:
            return False
        if self._not_follows(place + 1) or all(each.old for each in said.terms):
            return False
        probe = place
        while probe < len(words) and (words[probe].text == "," or words[probe].text in STOPS):
            probe += 1
        term = self._term(probe, said) if probe < len(words) else None
        if term is None:
            return True
        if term.when is not None:
            return False
        after = term.at + term.length
        if (term.fields is not None or term.bare) and after < len(words) and self.closed(after, said) is None:
            timed = self._term(after, said)  # `that was pup 4, 205 g at 2:20`
            after += timed.length if timed is not None and timed.when is not None else 0
        if term.pup is not None or (term.value is not None and term.value.doing):
            return any(each.fields or each.bare for each in said.terms) or self.closed(after, said) is None
        return self.closed(after, said) is None

    def _not_follows(self, at: int) -> bool:
        found = nots().longest(self.words, at) if at < len(self.words) else None
        return found is not None

    def _term(self, at: int, said: Said) -> Term | None:
        words = self.words
        when = match_time(words[at : at + _LONGEST_TIME], 0, now=self.now, tz=self.card.tz, born=self.card.born)
        if when is not None and when.at is not None and not self._is_weight(when, at):
            return Term(at, when.length, when=when)
        subject = self.names.match(words[: self._until_mark(at)], at)
        if subject is not None and subject.whos and not subject.unknown and self._is_pup(subject, at, said):
            return Term(at, subject.length, pup=subject)
        if self._takes_amounts and (value := self.read_value(words, at)) is not None and "amount" in value.fields:
            return Term(at, value.length, value=value)
        if words[at].kind in ("number", "fraction", "clock") or starts_number(words[at]) or words[at].text in _FIGURES:
            return self._figure(at, said)
        value = self.read_value(words, at)
        return None if value is None else Term(at, value.length, value=value)

    @property
    def _takes_amounts(self) -> bool:
        """True where `half` is how much the dam ate."""
        return any(event.get("kind") == "intake" for event in self.logged)

    def _is_pup(self, subject: Subject, at: int, said: Said) -> bool:
        """Whether figures that may be a pup are one: `no, 3 nursed 20`, `that was 3 and 4`."""
        if subject.how not in ("bare", "list") or self.words[at].kind != "number":
            return True
        after = at + subject.length
        if subject.how == "list":
            return any(word.text in ("and", "&") for word in self.words[at:after]) and self.closed(after, said) is not None
        value = self.read_value(self.words, after) if after < len(self.words) else None
        return value is not None and value.doing

    def _is_weight(self, when: When, at: int) -> bool:
        return when.weak and self.words[at].kind == "number" and bool(measures(self.words, at))

    def _until_mark(self, at: int) -> int:
        """A list of pups goes on over `and`, never over a comma: `not 3, 4`."""
        end = at + 1
        while end < len(self.words) and self.words[end].text not in (",", ".", ";", "\n"):
            end += 1
        return end

    def _figure(self, at: int, said: Said) -> Term | None:
        found = measures(self.words, at)
        for measure in found:
            fields = measure_fields(measure, self.logged, self.card)
            if fields is not None:
                return Term(at, measure.length, fields=fields)
        if found:
            return None
        if self.words[at].kind == "clock":
            return None
        numbers = [each for each in readings(self.words, at) if self._ends(at + each.length, said)]
        if not numbers:
            return None
        longest = max(each.length for each in numbers)
        return Term(at, longest, numbers=[each for each in numbers if each.length == longest])

    def _ends(self, at: int, said: Said) -> bool:
        """True where a number may end at `at`: the part is closed there, or another term follows."""
        if self.closed(at, said) is not None or at >= len(self.words):
            return True
        if self._runs_on(at, said):
            return True
        place, _, _ = self._skip(at, False, Said(terms=[Term(at, 0)]))
        return place < len(self.words) and (place > at or self._may_follow(place))

    def _runs_on(self, at: int, said: Said) -> bool:
        """True where a new sentence follows a large figure without a mark, as it is spoken: `no 221 the towel was on`."""
        before = self.words[at - 1]
        large = (before.value or 0) >= _LARGE or before.kind == "word"
        return bool(said.leads & STRONG) and large and self.words[at].text in _NEW_SENTENCE

    def _may_follow(self, place: int) -> bool:
        word = self.words[place]
        return word.kind in ("number", "clock") or word.text in ("at", "@", "g", "oz", "pup") or starts_number(word)

    def closed(self, at: int, said: Said | None = None) -> int | None:
        """Where a correction that ends at `at` has ended, with `sorry` or thanks behind it; None where the sentence goes on."""
        words, place = self.words, at
        while place < len(words):
            mark = 1 if words[place].text in (",", "*", ")") and place + 1 < len(words) else 0
            found = tails().longest(words, place + mark)
            if found is None or (mark and words[place].text == "," and not self.last(place + mark + found[1])):
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
            word.text in END_MARKS
            or word.kind == "newline"
            or word.text in (",", "-", "(", ":")
            or word.text in STOPS
            or not word.text.isascii()
        ):
            if word.text == "?":
                return place + 1 if said is not None and "ask" in said.leads else None
            return place
        return None

    def last(self, at: int) -> bool:
        return at >= len(self.words) or self.words[at].text in END_MARKS


_PLAIN = frozenset(
    (
        ">",
        "→",
        "becomes",
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
_FAR = 14
_LARGE = 30
"""From here on a figure after `no` is a value and no count of what follows (`no 5 ...`); own choice."""
_NEW_SENTENCE = frozenset(("the", "he", "she", "i", "it", "they", "we", "my", "i'm", "im", "there", "this", "that"))
_FIGURES = frozenset(("a", "half", "quarter", "three"))
