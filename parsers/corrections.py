"""Corrections of what was logged before: undo · no, 221 · that was pup 4 · 20 min ago actually (the contract's `fix`).

A correction stands at the start of a message and takes no more than its own words; what follows them is read on as usual.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal

from parsers.amends import (
    Amended,
    Fields,
    ReadValue,
    Value,
    equals,
    fields_of,
    is_near,
    may_be_weight,
    number_fields,
    unchanged,
    value_words,
)
from parsers.correction_terms import Said, Scan, Term
from parsers.correction_words import END_MARKS, SKIPPED, SMALL_LEADS, STRONG, known_words, leads, undo
from parsers.doings import SLOT
from parsers.litter_card import LitterCard
from parsers.numbers import starts_number
from parsers.reading import Fix
from parsers.subjects import Names
from parsers.times import When
from parsers.vocabulary import load
from parsers.words import Word

__all__ = ["Corrected", "find", "known_words"]


@dataclass(frozen=True, slots=True)
class Corrected:
    """A correction: what it changes, and the words it takes."""

    fix: Fix
    start: int
    end: int
    problem: str | None = None
    """What leaves its time open, so that it must be confirmed: future, either half, before birth, skipped, loose, weight or time."""


@dataclass(frozen=True, slots=True)
class _Whom:
    """Whom it was really: `outright` as a pup (`pup 4`), `called` by name."""

    whos: tuple[int | str, ...]
    term: Term
    outright: bool
    called: bool = False


def find(words: Sequence[Word], names: Names, card: LitterCard, now: datetime, *, by: str | None = None,
         read_value: ReadValue | None = None) -> Corrected | None:  # fmt: skip
    """The correction that a message begins with, or None.

    What it is about is the card's `last_logged`, the last of the sender `by`. `read_value` reads words that set fields (`goat milk`).
    """
    del by  # who sent it has already chosen the card's `last_logged`
    if not words:
        return None
    return _Corrector(words, names, card, now, read_value or value_words).find()


class _Corrector(Scan):
    """Judges what the terms of one message mean, and whether they correct anything."""

    def find(self) -> Corrected | None:
        if len(self.words) > 2 and self.words[0].text == "no" and self.words[1].text in ("blood", "mucus", "worms"):
            return None  # `no blood in the stool of 3` puts nothing right
        said = Said()
        at = self.lead(said)
        undone = self._undone(said, at)
        if undone is not None:
            return undone
        if not said.leads - SMALL_LEADS and not self.may_be_plain(at):
            return None
        self.terms(said, at)
        if not said.terms:
            return None
        return self._weigh(said)

    def _undone(self, said: Said, at: int) -> Corrected | None:
        """`scratch that last one please`."""
        words, place, end = self.words, at, None
        while place < len(words):
            found = undo().longest(words, place)
            if found is None:
                break
            end = self.closed(place + found[1])
            asked = end is None and "ask" in said.leads and place + found[1] < len(words) and words[place + found[1]].text == "?"
            if end is None and (asked or self._goes_on(place + found[1])):
                end = place + found[1] + int(asked)
            if end is None:
                return None
            if any(word.text == "after" for word in words[place:end]) and len(self.logged) != 1:
                return None  # `I didn't give it after all`, where more than one thing was logged
            place = end
            while place < len(words) and words[place].text in (",", ".", "and", "!"):
                place += 1
        more = leads().longest(words, end) if end is not None and end < len(words) else None
        if end is None or (more is not None and more[0] == "said"):
            return None
        return self._replaced(end) or Corrected(Fix(change="undo"), 0, end)

    def _replaced(self, at: int) -> Corrected | None:
        """`scratch that, 221`: no undo, where all that follows puts right what was logged."""
        place = at
        while place < len(self.words) and self.words[place].text in SKIPPED:
            place += 1
        lead = leads().longest(self.words, place) if place < len(self.words) else None
        place += lead[1] if lead is not None else 0
        instead = Said(leads={"sure"}, comma=True)
        if place < len(self.words):
            self.terms(instead, place)
        if not self.logged or not instead.terms or not self.last(instead.end) or any(term.value is not None for term in instead.terms):
            return None
        found = self._weigh(instead)
        pup_and_value = found is not None and found.fix.who is not None and bool(found.fix.fields)
        return None if pup_and_value else found

    def _goes_on(self, at: int) -> bool:
        """True where what was meant follows without a mark, as it is spoken: `scratch that pup 4 nursed 10`."""
        if self.words[at - 1].text != "that" or at >= len(self.words):
            return False
        lead = leads().longest(self.words, at)
        if starts_number(self.words[at]) or (lead is not None and lead[0] == "sure"):
            return bool(self.logged)
        subject = self.names.match(self.words, at)
        return subject is not None and subject.how in ("pup", "name", "dam")

    def _weigh(self, said: Said) -> Corrected | None:
        """Put the terms together and judge whether they correct what was logged."""
        news, olds = [term for term in said.terms if not term.old], [term for term in said.terms if term.old]
        if not news:
            return None
        if self._whose(said, news):
            olds.append(news.pop(0))
        who = self._who(said, news, olds)
        fields: Fields = {}
        when: When | None = None
        rest = [term for term in news if term.pup is None and term is not getattr(who, "term", None)]
        sure = True
        for term in rest:
            if term.when is not None:
                when = term.when
                continue
            found = self._fields(term, rest, olds)
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

    def _whose(self, said: Said, news: list[Term]) -> bool:
        """`the 212 was pup 4`: what was logged, and whose it was."""
        if said.leads - SMALL_LEADS or len(news) != 2 or len(said.terms) != 2 or news[1].pup is None or not self.last(said.end):
            return False
        joined = any(word.text in ("was", "is") for word in self.words[news[0].at : news[1].at])
        same = any(equals(number, self.logged, self.card) for number in news[0].numbers)
        return joined and same and all(event.get("who") not in news[1].pup.whos for event in self.logged)

    def _subject_of(self, olds: list[Term]) -> _Whom | None:
        """`pup 2 should be 198`: whose value it is, where several were logged at once."""
        for term in olds:
            if term.pup is not None:
                return _Whom(term.pup.whos, term, outright=True)
            pups = [int(number.value) for number in term.numbers if number.whole and int(number.value) in self.names.numbers]
            if pups and not any(equals(number, self.logged, self.card) for number in term.numbers):
                return _Whom((pups[0],), term, outright=False)
        return None

    def _who(self, said: Said, news: list[Term], olds: list[Term]) -> _Whom | None:
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

    def _olds_are_pups(self, olds: list[Term]) -> bool:
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

    def _fields(self, term: Term, rest: list[Term], olds: list[Term]) -> Amended | None:
        """The fields that one term changes; None where it does not fit what was logged."""
        if term.fields is not None:
            return term.fields
        if term.value is not None:
            return self._word_fields(term.value, olds)
        kinds = frozenset(kind for each in rest if each.value is not None and each.value.doing for kind in each.value.kinds)
        found = number_fields(term.numbers, self.logged, self.card, kinds=kinds)
        return found[0] if found else None

    def _word_fields(self, value: Value, olds: list[Term]) -> Amended | None:
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

    def _accepted(self, said: Said, news: list[Term], olds: list[Term], who: _Whom | None, fields: Fields, when: When | None,
                  *, sure: bool) -> bool:  # fmt: skip
        """Whether it is a correction, and no talk: what leads it in, how outright it is, and how near it is to what was logged."""
        doing = any(term.value is not None and term.value.doing for term in news)
        denied = any(term.value is not None and term.value.doing for term in olds)
        if (denied and not doing) or self._planned(news):
            return False
        if not self._fits_lead(said, news, olds, who, fields, when, sure=sure):
            return False
        if self.words[0].text == "was" and who is not None and not olds:
            return False  # `was pup 4 cleared` asks
        if self._present(said) and not self.logged and (fields or doing):
            return False
        if "no" in said.leads and not said.comma and news[0].value is not None and not any(term.bare or term.fields for term in news):
            # `no calcium`, `no poop` deny; `no by tube`, `no most` correct
            return self.words[news[0].at].text in _BY or any(term.value is not None and "amount" in term.value.fields for term in news)
        if (
            said.leads & {"wait"}
            and not said.leads & STRONG
            and any("minutes" in (term.fields.fields if term.fields else ()) for term in news)
        ):
            return False
        if who is not None and not who.outright and self.words[who.term.at].text == "one" and not said.leads & STRONG:
            return False
        if who is not None and who.called and not olds and not fields and when is None and not (said.leads & {"sure", "who", "said"}):
            # `no olive` may be said to the dog
            return bool(self.logged) and ("no" in said.leads or said.told) and not self._logged_of(who) and self.last(said.end)
        if who is not None and not olds and not said.leads & STRONG and not self._pointed(said, who):
            return False
        if doing and not fields and who is None and when is None:
            return False
        if said.leads & {"sure", "who"} or ("no" in said.leads and (sure or not self.logged or who is not None or when is not None)):
            return True
        if "when" in said.leads:
            return when is not None
        if olds:
            return self._olds_fit(olds) if self.logged else not doing
        if when is not None and ("said" in said.leads or said.told or said.leads & {"weak", "wait", "no", "began"}):
            return self._told_time(said)
        if who is not None and who.outright and (said.leads & {"said", "weak", "wait"} or said.told):
            return not doing or bool(self.logged)
        if said.leads & {"said", "weak", "wait", "no", "only", "began"} or said.told:
            return (sure and bool(self.logged)) or (
                not self.logged and not doing and self.last(said.end) and bool(fields) and self._whole(said)
            )
        return False

    def _fits_lead(self, said: Said, news: list[Term], olds: list[Term], who: _Whom | None, fields: Fields, when: When | None,
                   *, sure: bool) -> bool:  # fmt: skip
        """What some leads ask for: `she only ...` a logged figure, `started ...` a time and `actually`; `wait.` no new entry."""
        if said.leads & {"only", "began"} and not said.leads & (STRONG | {"said", "when"}):
            if not self.logged or who is not None or olds:
                return False
            if "only" in said.leads:
                return bool(fields) and sure and when is None and any(term.bare or term.fields for term in news)
            return when is not None and not fields and len(news) == 1 and (said.told or bool(said.leads & {"weak", "sure"}))
        valued = fields and not said.leads and any(term.bare or term.fields for term in olds)
        if valued and who is not None and (said.turned or who.term is news[0]) and not self._logged_of(who):
            return False  # `pup 4's weight was 250 not 205`, where pup 3's was logged
        if "wait" in said.leads and not said.leads - {"wait", *SMALL_LEADS} and who is not None and fields and not olds:
            # `hang on. ok. pup 2, 230` is a weighing
            return not any(word.text in END_MARKS for word in self.words[: news[0].at])
        return True

    def _logged_of(self, who: _Whom) -> bool:
        return any(event.get("who") in who.whos for event in self.logged)

    def _pointed(self, said: Said, who: _Whom) -> bool:
        """False where the words may as well tell how something looked (`it was red`) or count (`it's 4`)."""
        first = next(word.text for word in self.words if word.text not in _QUIET_FIRST)
        if not who.outright and first in _PRESENT:
            return False
        color = who.called and self.words[who.term.at].text in _COLORS
        goes_on = not self.last(said.end) and self.words[said.end].text != ","
        return not (color and (first in ("it", "it's", "its", "was") or goes_on))

    def _planned(self, news: list[Term]) -> bool:
        """`meant to clear 2` was not done, and `cleared 2` puts no number right."""
        first = news[0]
        if first.value is None or not first.value.doing:
            return False
        after_to = first.at > 0 and self.words[first.at - 1].text == "to"
        return after_to or (any(term.bare for term in news) and first.value.kinds.isdisjoint(SLOT))

    def _present(self, said: Said) -> bool:
        """True where `it's` or `that's` leads, which tells as often as it corrects."""
        if said.leads - {"said", *SMALL_LEADS} or said.told or "said" not in said.leads:
            return False
        first = next(word.text for word in self.words if word.text not in _QUIET_FIRST)
        return first in _PRESENT

    def _whole(self, said: Said) -> bool:
        """True where the lead and one number or measure are the whole message."""
        return len(said.terms) == 1 and said.end >= len(self.words)

    def _told_time(self, said: Said) -> bool:
        """`it was half an hour ago` corrects; `it's 3 am and I'm up` tells the time of day."""
        return not self._present(said)

    def _olds_fit(self, olds: list[Term]) -> bool:
        logged = {event.get("who") for event in self.logged}
        for term in olds:
            if term.pup is not None and logged & set(term.pup.whos):
                return True
            if any(equals(number, self.logged, self.card) or (number.whole and int(number.value) in logged) for number in term.numbers):
                return True
            if term.when is not None or term.value is not None or term.fields is not None:
                return True
        return False

    def _names_time(self) -> bool:
        return any(word.text == "time" for word in self.words)

    def _clock_said(self, said: Said) -> str:
        """The figures of a clock that stand alone, `0` where none do."""
        return next((self.words[term.at].text for term in said.terms if term.when is not None and self.words[term.at].kind == "clock"), "0")

    def _corrected(self, said: Said, who: _Whom | None, fields: Fields, when: When | None) -> Corrected:
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
        problem: str | None = when.problem if when is not None else None
        bare = when is not None and not whos and not fields and when.length == 1 and not any(term.old for term in said.terms)
        if bare and "when" not in said.leads and not self._names_time() and may_be_weight(self._clock_said(said), self.logged):
            problem = "weight or time"
        return Corrected(Fix(change=change, who=one, at=at, fields=fields), 0, said.end, problem)


_COLORS = frozenset(load("setup")["marks"]["colors"])
_BY = frozenset(("by", "with", "from", "via"))
_PRESENT = frozenset(("it's", "its", "that's", "thats", "is", "he's", "she's"))
_QUIET_FIRST = frozenset(("oh", "ah", "um", "uh", "ok", "okay", "so", "and", "well", ","))
