"""How far a subject reaches: forward over its doings, back over a doing that stands right before it."""

from __future__ import annotations

from parsers.doings import Doing
from parsers.items import Item
from parsers.lexicon import DOER, NUMBER_OF
from parsers.pup_numbers import Subject, Whos
from parsers.values import Values

_ENDS_PLAN = frozenset(("but", "though", "although", "however", "because", "cause", "so", "yet"))
_NEAR = 8  # items back that a feed takes its food and tool from
_NONE_OF_THEM = frozenset(("nobody", "no one", "none of them", "neither", "none"))


class Reach(Values):
    """Gives doings their pups."""

    def _subject(self, item: Item) -> None:
        subject = item.subject
        assert subject is not None
        if item is self.object:
            if self.draft.doings:
                self._cover(self.draft.doings[-1], item)
            self.object_whos = subject.whos
            return
        whos = self._resolve(subject, item)
        if whos is None:
            return
        if self.swap is not None:
            self._swapped_subject(whos, item)
            return
        left = self.items[self.index - 1] if self.index else None
        if left is not None and left.text == "but" and self._peek(1) is None and self._excepted(whos, item):
            return
        if self.excepting is not None and self._excepted(whos, item):
            return
        if self._or_denied(whos, item):
            return
        before_or = self.items[self.index - 2] if self.index > 1 and self.items[self.index - 1].text in ("or", "nor") else None
        if before_or is not None and before_or.role == "subject" and self.subject is not None:
            both = (*self.subject, *(who for who in whos if who not in self.subject))
            self.either = self.deny is None
            if self.subject_taken and self.draft.doings[-1].whos == self.subject:  # `cleared 3 or 4`
                self.draft.doings[-1].whos, self.draft.doings[-1].either = both, self.either
            self.subject = both
            if self.subject_item is not None:
                self.subject_item = Item(
                    "subject", self.subject_item.at, item.end - self.subject_item.at, subject=subject, text=item.text, place=item.place
                )
            self._name(whos)
            return
        self.either = self._miscounted(subject, whos)
        self._flush()
        if self.clause_has_subject or self.subject is not None:
            self.clause += 1
            if not (self.deny is not None and self._said(self.deny) in _NONE_OF_THEM and self.index - self.deny_reach <= 2):
                self.deny = None if subject.how != "pronoun" else self.deny
        self.clause_has_subject = True
        self.alien = False
        self.person = None
        before = self._before(item)
        self.subject, self.subject_item = whos, item
        self.subjects.append((whos, item))
        self.sentence_subjects += 1
        self._name(whos)
        unknown = subject.unknown
        dead = next(iter(subject.named), None) if subject.how in ("pup", "name", "list", "bare") else None
        self.unknown_pup, self.dead_pup = unknown, dead
        before = [*before, *self._number_before(whos)]
        self._fed_alike(before)
        for doing in before:
            doing.actor = False
            doing.alien = doing.alien and DOER.get(doing.kind) != "keeper"
            if doing.subject_span in doing.spans:
                doing.spans.remove(doing.subject_span)
            doing.whos, doing.unknown_pup, doing.dead_pup = whos, unknown, dead
            doing.clause = self.clause
            doing.spans.append((item.at, item.end))
        if before and self._needs(before[-1]):
            self.open = before[-1]
        else:
            self.open = None
        self.subject_taken = bool(before)

    def _fed_alike(self, before: list[Doing]) -> None:
        """`tubed 3 ml to 2, 4 ml to 3`: what the first was fed, and how, goes for the next too."""
        if not before or before[0].kind != "fed" or self.items[before[0].at_item].role == "do":
            return
        first = next((doing for doing in reversed(self.draft.doings) if doing.kind == "fed" and doing not in before), None)
        near = max(before[0].at_item - _NEAR, self.sentence_start)
        if first is not None and first.at_item >= near and {"food", "by"}.isdisjoint(before[0].sets):
            before[0].sets.update({key: first.sets[key] for key in ("food", "by") if key in first.sets})

    def _miscounted(self, subject: Subject, whos: Whos) -> bool:
        """True where a count does not fit: `the other three` of six, `both boys` of three, `half the litter`."""
        before = self.items[self.index - 1] if self.index else None
        if subject.counted is not None:
            return subject.counted != len(whos)
        if before is None:
            return False
        if before.subject is not None and before.subject.how == "both":
            return len(whos) > 2
        return subject.how in ("all", "sex") and self._said(before).partition(" ")[0] in ("half", "some", "most")

    def _someone(self, item: Item) -> None:
        """`one of the pups has diarrhea`: it must be asked which."""
        self._flush()
        self.clause += 1
        self.subject, self.subject_item, self.either = None, None, True
        self.clause_has_subject = True

    def _or_denied(self, whos: Whos, item: Item) -> bool:
        """`no poop from lilac or moss`: the denial holds for both."""
        before = self.items[self.index - 1] if self.index else None
        last = self.draft.doings[-1] if self.draft.doings else None
        if before is None or before.text not in ("or", "nor") or last is None or not last.denied or last.whos is None:
            return False
        last.whos = (*last.whos, *(who for who in whos if who not in last.whos))
        self._cover(last, item)
        self._cover(last, before)
        self._name(whos)
        return True

    def _before(self, item: Item) -> list[Doing]:
        """The doings that stand before this subject and belong to it."""
        if self.waiting:
            hers = item.subject is not None and item.subject.whos == ("dam",)
            before, self.waiting = [one for one in self.waiting if hers or not self._hers(one)], []
            if not before:
                return []
            between = self.items[before[-1].at_item + 1 : self.index]
            if any(one.role == "join" and one.text in _ENDS_PLAN for one in between):
                return []
            if any(one.role == "person" or (one.role == "unknown" and any(two.role == "join" for two in between)) for one in between):
                return []
            return before
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is not None and self._to_whom(last, item):
            return [last]
        own = self._has_own(item)
        if (
            own
            and last is not None
            and last.at_item == self.index - 1
            and self._needs(last)
            and last.kind in NUMBER_OF
            and self._value_only()
        ):
            own = False
        if own and last is not None and self._done_to(last, item):
            return [last]
        if own or not self.draft.doings:
            return []
        taken: list[Doing] = []
        for doing in reversed(self.draft.doings):
            if doing.at_item < self._clause_start(item) or doing.kind in ("cleaned", "climate", "visitor", "intake"):
                break
            taken.insert(0, doing)
        return taken

    def _hers(self, doing: Doing) -> bool:
        """True for a dose or a meal apart from the subject that comes: without one of its own it is the dam's."""
        if doing.kind == "sign" and doing.sets.get("_pup") is None:
            return True
        if doing.kind not in ("dose", "intake"):
            return False
        return any(one.role in ("pause", "join", "stop") for one in self.items[doing.at_item : self.index])

    def _to_whom(self, last: Doing, item: Item) -> bool:
        """True for `temp on 4: 36.2`, `poop from blue`: whose it is stands right behind."""
        to_whom = self.items[item.place - 1].text in ("on", "for", "to", "of", "from", "into")
        return to_whom and last.at_item == item.place - 2 and self._needs(last)

    def _done_to(self, last: Doing, item: Item) -> bool:
        """True for `but I topped up Dot 6 cc`: what a keeper does, at the beginning of a part of the sentence, to the pup right behind."""
        if last.kind not in ("fed", "cleared", "dose", "weight", "temperature") or not (self._needs(last) or last.kind == "cleared"):
            return False
        if any(one.role not in ("filler", "small") for one in self.items[last.at_item + 1 : item.place]):
            return False
        place = last.at_item - 1
        while place >= 0 and self.items[place].role == "filler":
            place -= 1
        lead = self.items[place] if place >= 0 else None
        anew = bool(self.sentence_start) and not self.sentence_subjects
        if lead is not None and lead.role in ("pause", "join") and (anew or last.kind == "fed" or lead.text == "then"):
            return True
        return lead is None or lead.role in ("stop", "person") or lead.text in ("but", "so") or lead.text in self.names.people

    def _clause_start(self, item: Item) -> int:
        """The item after the last pause, stop or join before a subject: a doing from there on stands right before it."""
        place = item.place
        while place and self.items[place - 1].role not in ("pause", "stop", "join", "subject"):
            place -= 1
        return place if place == 0 or self.items[place - 1].role != "subject" else len(self.items)

    def _value_only(self) -> bool:
        """True where nothing but a value stands behind the subject: `nursed juno 10`."""
        following, then = self._peek(1), self._peek(2)
        return following is not None and following.role in ("number", "measure") and (then is None or then.role not in ("do", "sign"))

    def _has_own(self, item: Item) -> bool:
        """True where a doing, a value or a place stands behind the subject, before the next one."""
        for later in self._ahead():
            if later.role in ("do", "sign", "measure", "number", "drug"):
                return True
            if later.role in ("stop", "subject", "pause", "join"):
                return False
        return False

    def _resolve(self, subject: Subject, item: Item) -> Whos | None:
        """The pups that are meant, where that depends on what the message named before."""
        named = self.draft.named
        if subject.how == "rest":
            return tuple(pup for pup in self.names.living if pup not in named)
        if subject.how == "both":
            pups = [who for who in named if isinstance(who, int)]
            if len(pups) >= 2:
                return tuple(pups[-2:])
            return self.names.living if len(self.names.living) == 2 else None
        if subject.how == "pronoun":
            return self._pronoun(item)
        if subject.how == "all" and item.length == 1 and item.text == "all":
            before = self.items[self.index - 1].subject if self.index else None
            if before is not None and len(before.whos) > 1:
                return before.whos  # `blue, pink and Gus all nursed`
            if self._several_named() and "dam" not in named:
                return tuple(named)
        return subject.whos

    def _several_named(self) -> bool:
        """True where the message has named more than one by now."""
        first = self.subjects[0][0] if self.subjects else ()
        return len(set(first)) > 1 or any(not set(whos) <= set(first) for whos, _ in self.subjects)

    def _pronoun(self, item: Item) -> Whos | None:
        text = item.text.removesuffix("'s")
        if text in ("they", "them", "they've", "they're"):
            named = tuple(who for who in self.draft.named if isinstance(who, int))
            if self.subject and len(self.subject) > 1:
                return self.subject
            group = next((whos for whos, _ in reversed(self.subjects) if len(whos) > 1), None)
            return group if group is not None else (named if len(named) > 1 else self.subject)
        if self.object_whos is not None and len(self.object_whos) == 1 and self.subject == ("dam",):
            return self.object_whos
        if self.subject is None or len(self.subject) == 1 or text in ("it", "its"):
            return self.subject
        left_out = self.subjects[-1][1].subject.left_out if self.subjects and self.subjects[-1][1].subject else ()
        if len(left_out) == 1:
            return left_out
        return next((whos for whos, _ in reversed(self.subjects) if len(whos) == 1), self.subject)

    def _name(self, whos: Whos) -> None:
        for who in whos:
            if who in self.draft.named:
                self.draft.named.remove(who)
            self.draft.named.append(who)
