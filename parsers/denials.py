"""What is said and did not happen: not yet, need to, if, I think; and where such a word stops reaching."""

from __future__ import annotations

from itertools import islice

from parsers.doings import Doing
from parsers.items import Item
from parsers.reach import _ENDS_PLAN, _NONE_OF_THEM
from parsers.sentences import Sentences
from parsers.walk import _FAR

_CONDITIONS = frozenset(("if", "unless", "in case", "what if", "suppose", "supposing", "whenever", "should he", "should she"))

_NO_SIGN = frozenset(
    "hope|i hope|hoping|hopefully|going to|gonna|about to|will|i'll|we'll|he'll|she'll|they'll|should|would have|could have|"
    "the book says|book says|the manual says|manual says|said to|says to|told me to|told us to|instructions|supposed to|"
    "expect|expecting|expected|nearly|almost|"
    "wanted to know|wants to know|asked when|asked if|asked whether|asked how|asked|wondering|i'd hate for|hate for|remind me|remind me to|"
    "remember to|if you can|vet reckons|reckons|advised|advises|don't|dont|do not".split("|")
)
_RULE_WORDS = frozenset(("normal", "common", "usual", "usually", "sometimes", "if", "when", "might", "can", "could"))
_IN_STOOL = frozenset(("blood", "mucus", "worms"))
"""Denied of a stool these deny no stool: `no blood in the stool of 3`."""
_UNDOES = frozenset(
    "every|is enough|is plenty|at birth|better than|longer than|by tomorrow|is the plan|was the plan|is next|are next|"
    "is due|is late|is overdue".split("|")
)
"""Behind a doing these make it a rule, a plan or a thing of the past."""
_REFERENCES = frozenset("after before since until till til while through during between".split())
"""Behind these a noun or a gerund says when, not what was done."""


_TOLD = frozenset(("do", "sign", "measure", "number", "look", "amount"))
_ANYBODY = frozenset(("someone", "somebody"))
_NOW = frozenset(("now", "today", "tonight", "this"))
_WASTE = frozenset(("pee", "poop", "poo", "wee", "potty", "go"))


class Denials(Sentences):
    """Marks doings as planned, denied, doubted or over."""

    def _plan(self, item: Item) -> None:
        self.plan_said, self.plan_at = self._said(item), self.index
        self.plan = True
        for doing in self._here():
            if doing.bare:
                doing.planned = True

    def _elsewhere(self, item: Item) -> None:
        """`it's freezing outside` is no sign of a pup."""
        for doing in self._here():
            doing.planned = doing.planned or doing.kind in ("sign", "temperature")

    def _past(self, item: Item) -> None:
        """`last litter pup 3 was stillborn`, `pup 4 died last year`: told of another time; `same as last time` is not."""
        following, before = self._peek(1), self.items[self.index - 1] if self.index else None
        if next(self._here(), None) is None:
            self.past = self.past or not self.clause_has_subject
        elif before is not None and before.role in _TOLD and not (following is not None and following.role in ("number", "measure")):
            for doing in self._here():
                doing.planned = True

    def _future_after(self, item: Item) -> None:
        if self._said(item) == "to go":  # `cleared 1 and 2, 3 and 4 to go`: who of them was done?
            for doing in self._here():
                doing.either = doing.whos is not None and len(doing.whos) > 1
        if self._said(item) in _UNDOES:
            for doing in self._here():
                doing.planned = doing.planned or doing.kind != "sign"
            self.plan = self.plan or self._said(item) == "every"
            return
        for doing in self._here():
            if doing.bare or (self.plan and doing.at_item > self.plan_at):
                doing.planned = True
        self.later = True

    def _if(self, item: Item) -> None:
        if item.text in _CONDITIONS or (item.tags and self._said(item) in _CONDITIONS):
            self.condition = True
        else:
            self.led = self.led or (item.text in ("after", "before") and self._nothing_yet() and not self.clause_has_subject)
            self._future_after(item)
            self.later = False
            self.temporal = self._said(item) not in ("after", "before")

    def _hedge(self, item: Item) -> None:
        following = self._peek(1)
        if following is None or following.role in ("number", "measure"):  # `latched, maybe 8 min`
            for doing in self._here():
                doing.hedged = True
            self.hedge = self.hedge or (following is not None and self._nothing_yet())
        else:
            self.hedge = True

    def _deny(self, item: Item) -> None:
        said = self._said(item)
        swap = item.tag("swap")
        if swap is not None and said == "no" and self._is_swap(item):
            self._swap(item)
            return
        following = self._peek(1)
        if item.tag("over") is not None and (following is None or following.role not in ("do", "sign")):
            self._over(item)
            return
        if said in _NONE_OF_THEM and not self.clause_has_subject and not (following is not None and following.role == "subject"):
            self.guess = not self.subjects
            self.subject = self.subject if self.subject and len(self.subject) > 1 else self.names.living
            self.clause_has_subject = True
        self.deny = item
        self.deny_reach = self.index

    def _over(self, item: Item) -> None:
        if self.alien:
            return  # `the milk's gone off`
        before = self.items[self.index - 1] if self.index else None
        it = before is not None and before.role == "subject" and before.text in ("it", "that")
        signs = [doing for doing in self.draft.doings[-_FAR:] if doing.kind == "sign" and doing.sets.get("_dam") != "lay on pup"]
        signs = [doing for doing in signs if it or doing.whos in (self.subject, None)]
        for doing in [one for one in signs if one.at_item >= self.sentence_start] or signs:
            doing.over = True
        if item.tag("deny") is not None:
            self.deny = item

    def _person(self, item: Item) -> None:
        following = self._peek(1)
        if following is not None and following.role == "do" and "visitor" in following.kinds():
            return
        if any(doing.kind in ("sign", "cleared", "fed", "placed") for doing in self._here()) and not self._act_ahead():
            return
        self.person = item
        self.clause_has_subject = False

    def _difference(self, item: Item) -> None:
        if "died" in {tag.name for tag in item.tags if tag.role == "do"}:
            self._do(item)

    def _mark(self, doing: Doing) -> None:
        doing.planned = (
            self.agenda
            or self.plan
            or self.condition
            or (doing.bare and (self.later or self.led or (self.person is not None and self.person.text in _ANYBODY)))
            or (self.condition_after and (doing.bare or not self.clause_has_subject))
        )
        if doing.kind == "sign":  # a sign is not planned: `please help pup 3 is limp`; only a hope, a fear or a rule of the book is no sign
            quoted = self.plan and self.plan_said in ("vet said", "vet says") and not self._of_one()
            doing.planned = self.agenda or self.condition or quoted or (self.plan and self.plan_said in _NO_SIGN)
        before = self.items[self.index - 1] if self.index else None
        if (
            before is not None
            and before.text == "to"
            and before.role == "filler"
            and (doing.bare or self._said(self.items[self.index]) in _WASTE)
        ):
            doing.planned = True
        if self.past:
            self.past = not any(one.text in _NOW and one.place >= self.sentence_start for one in islice(self._behind(), 6))
            doing.planned = doing.planned or self.past
        if self._only_a_time(doing):
            doing.planned = True
        if self.temporal:
            last_word = self.words[self.items[self.index].end - 1].text
            doing.planned = (
                doing.planned or doing.kind == "weight" or (last_word.endswith("s") and not last_word.endswith("ss")) or doing.bare
            )
        doing.hedged = self.hedge
        if self.deny is not None and not (self.items[self.index].role in ("number", "measure") and self.index - self.deny.place > 2):
            if not (doing.kind == "toilet" and self.words[self.deny.end].text in _IN_STOOL):
                doing.denied = self._said(self.deny)
            doing.spans.append((self.deny.at, self.deny.end))
            self.deny = None if not self._chain() else self.deny

    def _of_one(self) -> bool:
        """True where a sign that the vet told is of one pup or the dam, and no rule: `vet said pearl is dehydrated`."""
        rule = any(word.text in _RULE_WORDS for word in self.words)
        return self.clause_has_subject and self.subject is not None and len(self.subject) == 1 and not rule

    def _only_a_time(self, doing: Doing) -> bool:
        """`panting since the oxytocin`, `cried all through the feed`: named to say when, not as done now."""
        item = self.items[self.index]
        last_word = self.words[item.end - 1].text
        noun = (
            doing.bare
            or last_word.endswith("ing")
            or doing.kind == "dose"
            or (doing.kind in ("fed", "nursed") and not last_word.endswith("ed"))
        )
        if not noun or (doing.kind == "dose" and self._number_next()):
            return False
        for before in islice(self._behind(), 4):
            text = self._said(before)
            if _REFERENCES & {text, *text.split()[-1:]}:
                return True
            if before.role not in ("filler", "small", "subject"):
                return False
        return False

    def _chain(self) -> bool:
        """True where the denial goes on: `no poop or pee`, `didn't pee and poop`."""
        for item in self.items[self.index + 1 : self.index + 4]:
            if item.text in ("or", "nor"):
                return True
            if item.role == "join" and item.text in ("and", "&", "+"):
                return True
            if item.role in ("small",):
                continue
            return False
        return False

    def _agenda(self, item: Item) -> None:
        """`plan for the night: ...`: nothing of it is done yet."""
        if self.sentence_subjects:
            self.plan = True  # `3 and 4 cleared, 5 still to do`
            return
        self.agenda = True

    def _stop(self, item: Item) -> None:
        self._close()
        self._fresh()
        self.plan = self.condition = self.condition_after = self.later = self.past = self.led = False
        self.swap = None if item.text not in ("!", ";") else self.swap
        self._sentence()

    def _pause(self, item: Item) -> None:
        self._close()
        following = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        then = self.items[self.index + 2] if self.index + 2 < len(self.items) else None
        listed = (
            following is not None and following.tag("item") is not None and not (then is not None and then.role in ("number", "measure"))
        )
        cleaning = self.cleaning if listed else None
        self._fresh()
        self.cleaning = cleaning
        self.plan = False
        self.later = self.later and not self.condition
        self.condition_after = self.condition
        self.condition = False

    def _join(self, item: Item) -> None:
        if item.text in _ENDS_PLAN:
            self._close()
            self._fresh()
            self.plan = self.condition = False
        else:
            if item.text == "then":
                self._close()
                self._fresh()
                self._anew()
            following = self._peek(1)
            if item.text in ("or", "nor"):
                return
            if self.plan and following is not None and following.role in ("subject", "person"):
                act = self._peek(2)
                if act is not None and (act.role in ("measure", "number") or (act.role == "do" and not self._is_bare(act))):
                    self.plan = False
            if following is not None and following.role in ("subject", "person"):
                self.deny, self.hedge = None, self.hedge
                self.person = None
            if self.deny is not None and following is not None and following.role == "do" and not self._is_bare(following):
                self.deny = None
