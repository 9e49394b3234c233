"""Which doing belongs to whom, and which number to which doing: from items to doings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice

from parsers.doings import HOLDS, SLOT, Doing
from parsers.items import Item
from parsers.lexicon import DOER, NUMBER_OF
from parsers.measures import Measure
from parsers.numbers import Number
from parsers.subjects import Names, Subject, Whos
from parsers.times import When
from parsers.vocabulary import Tag
from parsers.words import Word

_PUP_DOERS = frozenset(("pup", "dam"))
_ENDS_PLAN = frozenset(("but", "though", "although", "however", "because", "cause", "so", "yet"))
_CONDITIONS = frozenset(("if", "unless", "in case", "what if", "suppose", "supposing", "whenever", "should he", "should she"))
_STRANGE = frozenset(("unknown", "person", "plan", "item", "elsewhere"))
_OTHER_DAY = ("yesterday", "last night", "the other day", "the other night", "days ago")
_SHARES = {0.25: "little", 1 / 3: "little", 0.5: "half", 2 / 3: "most", 0.75: "most"}
"""What the dam ate of her bowl, as a fraction, in the contract's words."""
_SMALLEST = 40  # g: what is lighter and stands beside a drug is an amount of it
_FAR = 40  # items; no clause that people write reaches farther
_NONE_OF_THEM = frozenset(("nobody", "no one", "none of them", "neither", "none"))
_LIGHT = frozenset(("had", "got", "took", "given", "gave", "has had", "managed", "on", "lapped"))
_DECLINES = frozenset(("won't", "wont", "wouldn't", "wouldnt", "will not", "would not"))


@dataclass(slots=True)
class Draft:
    """What the clauses of a message came to: its doings, and which words belong to none."""

    doings: list[Doing] = field(default_factory=list)
    covered: list[bool] = field(default_factory=list)
    named: list[int | str] = field(default_factory=list)
    lone: Number | Measure | None = None
    """A number or weight that stands without subject and doing: `212`."""
    lone_span: tuple[int, int] = (0, 0)
    visitor: str | None = None
    doubts: list[str] = field(default_factory=list)
    weights: list[Number] = field(default_factory=list)
    """The numbers of a list of weights in pup order."""
    strange: bool = False
    """Words that are none of the trade stand somewhere in the message."""
    taken_back: list[tuple[int, int]] = field(default_factory=list)
    """Words that the sender took back in the same message."""


class Clauses:
    """Walks the items of one message once and builds its doings."""

    def __init__(self, items: Sequence[Item], words: Sequence[Word], names: Names, subject: Whos | None = None) -> None:
        self.items, self.words, self.names = items, words, names
        self.draft = Draft(covered=[False] * len(words))
        self.clause = 0
        self.subject: Whos | None = subject
        self.subject_item: Item | None = None
        self.subject_clause = -1
        self.subjects: list[tuple[Whos, Item]] = []
        self.waiting: list[Doing] = []  # doings before the first subject
        self.loose: list[Item] = []  # measures and numbers not yet taken
        self.open: Doing | None = None
        self.last: Doing | None = None  # the last doing that took a number
        self.times: list[tuple[int, When, int]] = []
        self.swap: Item | None = None
        self._fresh()
        self.plan = self.condition = self.later = False

    # --- the walk ---------------------------------------------------------------------------------------------

    def read(self) -> Draft:
        """Walk all items; gives the doings with their subjects."""
        for index, item in enumerate(self.items):
            item.place = index
        for index, item in enumerate(self.items):
            self.index = index
            getattr(self, f"_{item.role.replace(' ', '_')}", self._other)(item)
        self._close()
        self._number_first()
        self._marks()
        self._spread_times()
        self._strangers()
        return self.draft

    def _fresh(self) -> None:
        """A new clause begins: what reached to the end of the last one is over."""
        self.temporal = False
        self.deny: Item | None = None
        self.deny_reach = 0
        self.hedge = False
        self.person: Item | None = None
        self.alien = False
        self.cleaning: Doing | None = None
        self.clause_has_subject = False

    def _close(self) -> None:
        self._flush()
        self.clause += 1

    def _cover(self, doing: Doing, item: Item) -> None:
        doing.spans.append((item.at, item.end))

    def _stop(self, item: Item) -> None:
        self._close()
        self._fresh()
        self.plan = self.condition = self.later = False
        self.swap = None if item.text != "!" else self.swap

    def _pause(self, item: Item) -> None:
        self._close()
        following = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        then = self.items[self.index + 2] if self.index + 2 < len(self.items) else None
        listed = following is not None and following.tag("item") is not None and not (then is not None and then.role in ("number", "measure"))
        cleaning = self.cleaning if listed else None
        self._fresh()
        self.cleaning = cleaning
        self.plan = False
        self.later = self.later and not self.condition
        self.condition_after = self.condition
        self.condition = False

    condition_after = False

    def _join(self, item: Item) -> None:
        if item.text in _ENDS_PLAN:
            self._close()
            self._fresh()
            self.plan = self.condition = False
        else:
            following = self._peek(1)
            if item.text in ("or", "nor"):
                return
            if self.plan and following is not None and following.role in ("subject", "person"):
                act = self._peek(2)
                if act is not None and act.role in ("do", "measure", "number") and not self._is_bare(act):
                    self.plan = False
            if following is not None and following.role in ("subject", "person"):
                self.deny, self.hedge = None, self.hedge
                self.person = None
            if self.deny is not None and following is not None and following.role == "do" and not self._is_bare(following):
                self.deny = None

    def _is_bare(self, item: Item) -> bool:
        return all(tag.bare for tag in item.tags if tag.role == "do")

    def _peek(self, ahead: int) -> Item | None:
        seen = 0
        for item in self._ahead():
            if item.role in ("stop", "pause"):
                return None
            if item.role in ("filler", "small"):
                continue
            seen += 1
            if seen == ahead:
                return item
        return None

    # --- small words ------------------------------------------------------------------------------------------

    def _other(self, item: Item) -> None:
        if item.role == "unknown" and self._is_drug(item):
            return
        if item.role == "unknown" and not self.clause_has_subject and self._nothing_yet():
            self.alien = True

    def _is_drug(self, item: Item) -> bool:
        """A drug that no list knows: `gave mom 2 ml of ...`; it is kept under the word that was said."""
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is None or last.kind != "dose" or "drug" in last.sets or last.clause < self.clause - 1 or not self.clause_has_subject:
            return False
        if not (self.loose and self.loose[-1].measure is not None or "amount" in last.sets):
            return False
        last.sets["drug"] = item.text
        self._cover(last, item)
        self._take_loose(last)
        return True

    def _nothing_yet(self) -> bool:
        return next(self._here(), None) is None

    def _plan(self, item: Item) -> None:
        self.plan = True
        for doing in self._here():
            if doing.bare:
                doing.planned = True

    def _future_after(self, item: Item) -> None:
        for doing in self._here():
            if doing.bare or self.plan:
                doing.planned = True
        self.later = True

    def _if(self, item: Item) -> None:
        if item.text in _CONDITIONS or item.tags and self._said(item) in _CONDITIONS:
            self.condition = True
        else:
            self._future_after(item)
            self.later = False
            self.temporal = self._said(item) not in ("after", "before")

    def _said(self, item: Item) -> str:
        return " ".join(word.text for word in self.words[item.at : item.end])

    def _hedge(self, item: Item) -> None:
        if self._peek(1) is None:
            for doing in self._here():
                doing.hedged = True
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
        if said in _NONE_OF_THEM and not (following is not None and following.role == "subject"):
            self.guess = not self.subjects
            self.subject = self.subject if self.subject and len(self.subject) > 1 else self.names.living
            self.clause_has_subject = True
        self.deny = item
        self.deny_reach = self.index

    def _over(self, item: Item) -> None:
        for doing in self.draft.doings[-_FAR:]:
            if doing.kind == "sign" and doing.whos in (self.subject, None) and not doing.over and doing.sets.get("_dam") != "lay on pup":
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

    def _act_ahead(self) -> bool:
        following = self._peek(1)
        return following is not None and following.role in ("do", "sign", "plan", "deny", "measure", "number")

    def _difference(self, item: Item) -> None:
        if "died" in {tag.name for tag in item.tags if tag.role == "do"}:
            self._do(item)

    # --- self-correction --------------------------------------------------------------------------------------

    def _is_swap(self, item: Item) -> bool:
        """True where `no` takes back what was just said: a value, a subject or a doing stands before and behind it."""
        if not (self.draft.doings or self.loose or self.subjects or self.times):
            return False
        following = self._peek_over_pause()
        if following is None or following.role not in ("number", "measure", "subject", "amount", "time", "do"):
            return False
        if following.role == "do":
            return item.length > 1
        return True

    def _peek_over_pause(self) -> Item | None:
        for item in self._ahead():
            if item.role in ("pause", "filler", "small", "swap", "deny"):
                continue
            return item
        return None

    def _swap(self, item: Item) -> None:
        if self.draft.doings or self.loose or self.subjects or self.times:
            self.swap = item

    def _swapped_value(self, item: Item) -> bool:
        """Put a value in the place of the last one of its sort; True where that was done."""
        if self.swap is None:
            return False
        dimension = item.measure.dimension if item.measure else None
        for doing in reversed(self.draft.doings[-3:]):
            slot = SLOT.get(doing.kind)
            if slot is None:
                continue
            filled = slot in doing.sets or doing.numbers or doing.warmth
            if not filled or (dimension is not None and doing.kind not in HOLDS[dimension]):
                continue
            had_unit = slot in doing.sets and not doing.numbers
            doing.sets.pop(slot, None)
            warmth, doing.numbers, doing.warmth = doing.warmth, [], None
            if item.measure:
                self._fill(doing, item.measure)
            elif warmth is not None:
                doing.warmth = (item.numbers[0].value, warmth[1])
            elif had_unit and self._last_unit(doing):
                doing.sets[slot] = item.numbers[0].value * self._last_unit(doing)
            else:
                doing.numbers = list(item.numbers)
            self._cover_between(doing, item)
            self.swap = None
            return True
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is not None and last.kind == "weight" and last.sets.get("_beside") and item.measure is not None:
            self.draft.doings.pop()
            self.taken_back.extend(last.spans[:1])
            self.swap = None
            return False
        if self.loose and item.measure is not None and item.measure.dimension == "mass":
            taken = self.loose.pop()
            if taken in self.loose_numbers:
                self.loose_numbers.remove(taken)
            self.taken_back.append((taken.at, taken.end))
            self.swap = None
            return False
        if self.loose and self.loose[-1].role in ("number", "measure"):
            if self.loose[-1] in self.loose_numbers:
                self.loose_numbers[self.loose_numbers.index(self.loose[-1])] = item
            self.loose[-1] = item
            self.swap = None
            return True
        return False

    def _swapped_doing(self, kinds: dict[str, Tag]) -> None:
        """`gus peed, no wait, pooped`: the last doing is taken back where the new one is of its sort."""
        last = self.draft.doings[-1]
        sorts = ({"nursed", "fed", "refused"}, {"toilet"}, {"cleared"}, {"placed"}, {"intake"}, {"dose"})
        if any(last.kind in sort and sort & kinds.keys() for sort in sorts) and last.whos == self.subject:
            self.draft.doings.pop()
            for start, end in last.spans:
                self.taken_back.append((start, end))
        self.swap = None

    def _is_death(self, item: Item) -> bool:
        """True where a word of death is one: right behind its pup, or `lost` right before it, with nothing else in the clause."""
        following = self._peek(1)
        if self._said(item).split()[-1] in ("lost", "go"):
            if following is None or following.role != "subject" or following.text == "bare":
                return False
            behind = self._peek(2)
            return (behind is None or behind.role == "time") and not self._owned(following)
        before = self.items[self.index - 1] if self.index else None
        while before is not None and before.role in ("filler", "join", "small") and before.at:
            before = self.items[self._index_of(before) - 1]
        if before is not None and before.text == "bare" and before.role == "subject" and self.words[before.at].kind != "number":
            return False
        if before is None or before.role not in ("subject", "time", "do", "measure", "number", "sex", "pause") or (before.role == "subject" and self._owned(before)):
            return False
        if following is None or following.role in ("time", "thanks", "person", "plan"):
            return True
        return self._said(item) not in ("passed", "dead", "lost", "is gone", "gone") and following.role != "unknown"

    def _owned(self, subject: Item) -> bool:
        """True where what follows is the subject's: `pup 2's collar`, `Clover's page`."""
        tail = self.words[subject.end - 1].text
        at = subject.end
        owns = tail.endswith("'s")
        if at < len(self.words) and self.words[at].text == "'s":
            owns, at = True, at + 1
        return owns and at < len(self.words) and any(item.at == at and item.role == "unknown" for item in self.items)

    taken_back: list[tuple[int, int]]

    def _last_unit(self, doing: Doing) -> float:
        return float(doing.sets.get("_worth", 1.0))

    def _cover_between(self, doing: Doing, item: Item) -> None:
        start = doing.spans[-1][1] if doing.spans else item.at
        doing.spans.append((min(start, item.at), item.end))

    # --- subjects ---------------------------------------------------------------------------------------------

    object: Item | None = None
    object_whos: Whos | None = None
    """The pup that the dam did something to: `mum lay on wren, she's ok now`."""

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
        if self.excepting is not None and self._excepted(whos, item):
            return
        if self._or_denied(whos, item):
            return
        before_or = self.items[self.index - 2] if self.index > 1 and self.items[self.index - 1].text in ("or", "nor") else None
        if before_or is not None and before_or.role == "subject" and self.subject is not None:
            self.subject = (*self.subject, *(who for who in whos if who not in self.subject))
            self.either = self.deny is None
            if self.subject_item is not None:
                self.subject_item = Item("subject", self.subject_item.at, item.end - self.subject_item.at, subject=subject, text=item.text, place=item.place)
            self._name(whos)
            return
        self.either = False
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
        self._name(whos)
        unknown = subject.unknown
        dead = next(iter(subject.named), None) if subject.how in ("pup", "name", "list", "bare") else None
        self.unknown_pup, self.dead_pup = unknown, dead
        self.draft.covered[item.at : item.end] = [False] * item.length
        before = [*before, *self._number_before(whos)]
        for doing in before:
            doing.actor = False
            doing.alien = doing.alien and DOER.get(doing.kind) != "keeper"
            if doing.subject_span in doing.spans:
                doing.spans.remove(doing.subject_span)
            doing.whos, doing.unknown_pup, doing.dead_pup = whos, unknown, dead
            doing.spans.append((item.at, item.end))
        if before and self._needs(before[-1]):
            self.open = before[-1]
        else:
            self.open = None
        self.subject_taken = bool(before)

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

    def _number_before(self, whos: Whos) -> list[Doing]:
        """`212 pup 3`: a number that stands alone before the first subject is its weight."""
        if len(self.subjects) == 1 and len(self.loose_numbers) == 1 and not self._right_before(self.loose_numbers[0]):
            return []
        if len(self.subjects) != 1 or len(self.loose_numbers) != 1 or whos == ("dam",) or self.loose_numbers[0].measure is not None:
            return []
        item = self.loose_numbers.pop()
        doing = Doing("weight", self.clause, self._index_of(item), numbers=list(item.numbers))
        doing.sets["_beside"] = True
        self._mark(doing)
        self._cover(doing, item)
        self.draft.doings.append(doing)
        self.open = None
        self.last = doing
        return [doing]

    def _right_before(self, number: Item) -> bool:
        """True where nothing but small words, or a pause behind a weighty number, stands between a number and this subject."""
        between = self.items[self._index_of(number) + 1 : self.index]
        pause = any(item.role in ("pause", "stop") for item in between)
        return all(item.role in ("filler", "small", "pause") for item in between) and (not pause or number.numbers[0].value >= 40)

    either = False
    unknown_pup = False
    dead_pup: int | None = None
    subject_taken = False

    def _needs(self, doing: Doing) -> bool:
        slot = SLOT.get(doing.kind)
        return slot is not None and slot not in doing.sets and not doing.numbers and doing.warmth is None or doing.kind == "toilet"

    def _before(self, item: Item) -> list[Doing]:
        """The doings that stand before this subject and belong to it."""
        if self.waiting:
            before, self.waiting = self.waiting, []
            between = self.items[before[-1].at_item + 1 : self.index]
            if any(one.role == "join" and one.text in _ENDS_PLAN for one in between):
                return []
            if any(one.role == "person" or (one.role == "unknown" and any(two.role == "join" for two in between)) for one in between):
                return []
            return before
        last = self.draft.doings[-1] if self.draft.doings else None
        own = self._has_own(item)
        if own and last is not None and last.at_item == self.index - 1 and self._needs(last) and last.kind in NUMBER_OF and self._value_only():
            own = False
        if own or not self.draft.doings:
            return []
        taken: list[Doing] = []
        for doing in reversed(self.draft.doings):
            if doing.at_item < self._clause_start(item) or doing.kind in ("cleaned", "climate", "visitor", "intake"):
                break
            taken.insert(0, doing)
        return taken

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
        if subject.how == "all" and item.length == 1 and item.text == "all" and len({who for whos, _ in self.subjects for who in whos}) > 1 and "dam" not in named:
            return tuple(named)
        return subject.whos

    def _pronoun(self, item: Item) -> Whos | None:
        text = item.text.removesuffix("'s")
        if text in ("they", "them", "they've", "they're"):
            groups = [whos for whos, _ in self.subjects if len(whos) > 1]
            named = tuple(who for who in self.draft.named if isinstance(who, int))
            if self.subject and len(self.subject) > 1:
                return self.subject
            return groups[-1] if groups else (named if len(named) > 1 else self.subject)
        if self.object_whos is not None and len(self.object_whos) == 1 and self.subject == ("dam",):
            return self.object_whos
        if self.subject is None or len(self.subject) == 1 or text in ("it", "its"):
            return self.subject
        left_out = self.subjects[-1][1].subject.left_out if self.subjects and self.subjects[-1][1].subject else ()
        if len(left_out) == 1:
            return left_out
        single = [whos for whos, _ in self.subjects if len(whos) == 1]
        return single[-1] if single else self.subject

    def _name(self, whos: Whos) -> None:
        for who in whos:
            if who in self.draft.named:
                self.draft.named.remove(who)
            self.draft.named.append(who)

    def _swapped_subject(self, whos: Whos, item: Item) -> None:
        """`pup 3 no wait pup 4`: what was told of the last subject is told of this one."""
        self.swap = None
        old = self.subject
        for doing in self.draft.doings:
            if doing.whos == old and old is not None and (self.subject_item is None or doing.at_item >= self._index_of(self.subject_item) or self.subject_taken):
                doing.whos = whos
                doing.unknown_pup = bool(item.subject and item.subject.unknown)
                doing.spans.append((item.at, item.end))
        for who in old or ():
            if who in self.draft.named:
                self.draft.named.remove(who)
        if self.subjects:
            self.subjects.pop()
        self.subject, self.subject_item = whos, item
        self.subjects.append((whos, item))
        self._name(whos)
        self.unknown_pup = bool(item.subject and item.subject.unknown)
        self.clause_has_subject = True

    @staticmethod
    def _index_of(wanted: Item) -> int:
        return wanted.place

    def _here(self) -> Iterator[Doing]:
        """The doings of this clause, the latest first."""
        for doing in reversed(self.draft.doings):
            if doing.clause != self.clause:
                return
            yield doing

    def _ahead(self) -> Iterator[Item]:
        """The items behind this one, as far as a clause reaches."""
        return islice(self.items, self.index + 1, self.index + 1 + _FAR)

    def _behind(self) -> Iterator[Item]:
        """The items before this one, the nearest first, as far as a clause reaches."""
        for place in range(self.index - 1, max(-1, self.index - 1 - _FAR), -1):
            yield self.items[place]

    # --- doings -----------------------------------------------------------------------------------------------

    def _do(self, item: Item) -> None:
        kinds = item.kinds()
        if self.swap is not None and self.draft.doings and not ("cleaned" in kinds or "climate" in kinds):
            self._swapped_doing(kinds)
        if "died" in kinds and not self._is_death(item):
            kinds.pop("died")
            if not kinds:
                return
        part = item.tag("item")
        if part is not None and (self.cleaning is not None or self._cleaned_ahead()):
            self._item(item)
            return
        if "cleaned" in kinds and (len(kinds) == 1 or self._item_ahead()):
            self._cleaned(item, kinds["cleaned"])
            return
        kinds.pop("cleaned", None)
        if not kinds:
            return
        if self.person is not None and not self.clause_has_subject and any(DOER.get(kind) in _PUP_DOERS for kind in kinds):
            return
        tag = self._choose(kinds, item)
        if tag is None:
            return
        if tag.name == "visitor":
            self._visitor(item)
            return
        if tag.name == "note":
            return
        if tag.name == "climate":
            self._climate(item, tag)
            return
        self._add(tag, item)

    def _choose(self, kinds: dict[str, Tag], item: Item) -> Tag | None:
        """Which kind a phrase is that can be several."""
        if len(kinds) == 1:
            return next(iter(kinds.values()))
        if "placed" in kinds and "climate" in kinds:
            warm = self._number_next() or any(loose.measure is not None and loose.measure.dimension in ("warmth", "percent") for loose in self.loose)
            return kinds["climate" if warm and not self.clause_has_subject else "placed"]
        if "fed" in kinds and "intake" in kinds:
            return kinds["intake"] if self.subject == ("dam",) else kinds["fed"]
        if "refused" in kinds and "intake" in kinds:
            return kinds["intake"] if self.subject == ("dam",) or self.subject is None else kinds["refused"]
        if "cleared" in kinds:
            return kinds["cleared"]
        if "nursed" in kinds:
            return kinds["nursed"]
        return next(iter(kinds.values()))

    def _add(self, tag: Tag, item: Item) -> Doing | None:
        """A doing, or more about the doing that is open."""
        if tag.name == "placed" and self._absorb_place(item, tag):
            return None
        if tag.name == "placed" and dict(tag.sets)["place"] == "dam" and not self.clause_has_subject and next(self._here(), None) is not None and self._said(item).split()[0] != "back":
            dam = Subject(("dam",), item.length, "dam")
            self._subject(Item("subject", item.at, item.length, subject=dam, text=item.text, place=item.place))
            return None
        merged = self._merge(tag, item)
        if merged is not None:
            return merged
        doing = Doing(tag.name, self.clause, self.index, dict(tag.sets), bare=tag.bare)
        doing.weak = tag.name == "fed" and bool(tag.sets) and item.length == 1 and not item.text.endswith("d") and not self._light_verb()
        doing.short = item.length == 1 and len(item.text) <= 2
        self._mark(doing)
        self._cover(doing, item)
        self._begin(doing)
        self._take_loose(doing)
        return doing

    def _light_verb(self) -> bool:
        """True where `had`, `got`, `took` or the like stands before a food in this clause."""
        for item in self._behind():
            if item.role in ("stop", "pause", "subject", "number"):
                return False
            if item.text in _LIGHT or "intake" in item.kinds() or ("dose" in item.kinds() and item.tag("drug") is None):
                return True
        return False

    def _mark(self, doing: Doing) -> None:
        doing.planned = self.agenda or self.plan or self.condition or (doing.bare and self.later) or (self.condition_after and (doing.bare or not self.clause_has_subject))
        before = self.items[self.index - 1] if self.index else None
        if doing.bare and before is not None and before.text == "to" and before.role == "filler":
            doing.planned = True
        if self.temporal:
            last_word = self.words[self.items[self.index].end - 1].text
            doing.planned = doing.planned or doing.kind == "weight" or (last_word.endswith("s") and not last_word.endswith("ss")) or doing.bare
        doing.hedged = self.hedge
        if self.deny is not None and not (self.items[self.index].role in ("number", "measure") and self.index - self.deny.place > 2):
            doing.denied = self._said(self.deny)
            doing.spans.append((self.deny.at, self.deny.end))
            following = self._peek(1)
            if not (following is not None and following.role in ("join", "deny", "number") or (following is not None and following.text in ("or", "nor"))):
                pass
            self.deny = None if not self._chain() else self.deny

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

    def _begin(self, doing: Doing) -> None:
        self.draft.doings.append(doing)
        self.open = doing
        if self.subject is None:
            self.waiting.append(doing)
        else:
            doing.whos, doing.unknown_pup, doing.dead_pup = self.subject, self.unknown_pup, self.dead_pup
            doing.either = self.either
            if self.subject_item is not None and (not self.subject_taken or self.subject_clause != self.clause):
                doing.subject_span = (self.subject_item.at, self.subject_item.end)
                doing.spans.append(doing.subject_span)
        if self.guess:
            doing.sets["_guess"] = True
        doing.actor = self.person is not None and not self.clause_has_subject
        doing.alien = self.alien and not self.clause_has_subject
        previous = self.items[self.index - 1] if self.index else None
        following = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        owner = previous is not None and previous.text == "'s"
        if following is not None and following.role in ("unknown", "plan") and previous is not None and (owner or (previous.role == "subject" and previous.text.endswith("'s"))):
            doing.planned = doing.kind != "sign"

    def _absorb_place(self, item: Item, tag: Tag) -> bool:
        """`nursed 15 with mom` is where it nursed, no new place."""
        last = self.draft.doings[-1] if self.draft.doings else None
        if dict(tag.sets).get("place") != "dam" or self._said(item).split()[0] in ("back", "put", "placed", "moved", "set"):
            return False
        if any(loose.measure is not None and loose.measure.dimension == "duration" for loose in self.loose) or self._duration_next():
            self._add(Tag("do", "nursed"), item)
            return True
        if last is not None and last.clause == self.clause and last.kind in ("nursed", "fed") and not any(i.role == "join" for i in self.items[last.at_item : self.index]):
            self._cover(last, item)
            return True
        if last is not None and last.clause == self.clause and last.kind == "dose" and last.whos is None:
            last.whos = ("dam",)
            self._cover(last, item)
            return True
        return False

    def _duration_next(self) -> bool:
        following = self._peek(1)
        return following is not None and following.measure is not None and following.measure.dimension == "duration"

    def _merge(self, tag: Tag, item: Item) -> Doing | None:
        """Take a word as more about a doing of the same kind that this clause has already: `fed 4 ml formula by tube`."""
        for doing in reversed(self.draft.doings):
            same = doing.clause == self.clause or (tag.name == "toilet" and doing.whos == self.subject and self.subject is not None)
            if not same and not (doing.whos is not None and doing.whos == self.subject and tag.name in ("fed", "nursed", "cleared", "refused", "dose", "weight") and doing.kind == tag.name):
                break
            if doing.kind == "refused" and tag.name in ("fed", "nursed") and doing.clause == self.clause and "fed" not in self._said(item) and not self._number_next():
                self._cover(doing, item)
                return doing
            if doing.kind != tag.name or doing.kind not in ("fed", "nursed", "cleared", "toilet", "temperature", "weight", "born", "died", "intake", "dose", "refused"):
                continue
            if self.deny is not None or doing.denied or doing.planned != (self.plan or self.condition):
                if tag.name != "toilet":
                    break
                continue
            sets = dict(tag.sets)
            if any(key in doing.sets and doing.sets[key] != value for key, value in sets.items()):
                if self.swap is not None:
                    pass
                break
            if tag.name == "intake" and (doing.sets.get("what") or "food") != (sets.get("what") or "food"):
                break
            following = self._peek(1)
            if doing.clause != self.clause and tag.name == "cleared" and following is not None and following.role == "subject":
                break
            if doing.clause != self.clause and not sets and tag.name not in ("toilet", "weight", "cleared"):
                break
            if tag.name == "weight" and not self._number_next() and not self._needs(doing):
                self._cover(doing, item)
                return doing
            if tag.name in ("nursed", "weight", "temperature") and not self._needs(doing) and (self._number_next() or not tag.bare and doing.clause != self.clause):
                break
            if tag.name == "fed" and not self._needs(doing) and self._number_next():
                break
            doing.sets.update(sets)
            doing.bare = doing.bare and tag.bare
            doing.weak = doing.weak and not tag.bare and not sets
            self._cover(doing, item)
            self.open = doing
            self._take_loose(doing)
            return doing
        return None

    def _number_next(self) -> bool:
        following = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        if following is not None and following.role == "filler" and following.text in ("for", "about", "of", "a", "is", "at", "was", "around", "now", "only", "just"):
            following = self.items[self.index + 2] if self.index + 2 < len(self.items) else None
        return following is not None and following.role in ("number", "measure")

    # --- the kinds that are told in their own way ----------------------------------------------------------------

    def _sign(self, item: Item) -> None:
        if self.person is not None and not self.clause_has_subject:
            return
        pup, dam = item.tag("pup sign"), item.tag("dam sign")
        following = self._peek(1)
        if item.text == "aspirated" and item.length == 1 and following is not None and following.subject is not None and following.subject.whos != ("dam",):
            self._add(Tag("do", "cleared"), item)
            return
        if dam is not None and dam.name == "lay on pup" and not any(word.text.startswith(("pup", "bab", "them")) for word in self.words[item.at : item.end]):
            if following is None or following.role != "subject":
                return
            self.object = following
        elif dam is not None and dam.name in ("growling", "mouthing pups hard") and following is not None and following.role == "subject" and following.subject and following.subject.whos != ("dam",) and self.subject in (None, ("dam",)):
            self.object = following
        if self.swap is not None and self.draft.doings and self.draft.doings[-1].kind == "sign":
            self.draft.doings.pop()
            self.swap = None
        many = [tag for tag in item.tags if tag.role == "dam sign"]
        for one in many if len(many) > 1 else [dam]:
            doing = Doing("sign", self.clause, self.index)
            doing.sets = {"_pup": pup.name if pup else None, "_dam": one.name if one else None}
            self._mark(doing)
            self._cover(doing, item)
            self._begin(doing)

    def _look(self, item: Item) -> None:
        look = item.tag("look")
        assert look is not None
        for doing in reversed(self.draft.doings[-3:]):
            if doing.kind == "toilet" and (doing.whos == self.subject or self.subject is None) and "look" not in doing.sets and not doing.denied:
                doing.sets["look"] = look.name
                if "stool" not in doing.sets and "urine" not in doing.sets:
                    doing.sets["stool"] = True
                self._cover(doing, item)
                return
            if doing.kind == "born" and doing.clause >= self.clause - 1:
                return
        following = self._peek(1)
        if following is not None and "toilet" in following.kinds():
            self._add(Tag("do", "toilet", (("look", look.name),)), item)
        elif following is not None and following.role == "subject" and self._peek(2) is not None and "toilet" in (self._peek(2) or item).kinds():
            self._add(Tag("do", "toilet", (("look", look.name),)), item)

    def _amount(self, item: Item) -> None:
        tag = item.tag("amount")
        assert tag is not None
        following = self._peek(1)
        if self._said(item) in _NONE_OF_THEM and following is not None and following.role in ("do", "subject"):
            self._deny(item)
            return
        for doing in reversed(self.draft.doings[-2:]):
            if doing.kind == "intake" and ("amount" not in doing.sets or self.swap is not None):
                doing.sets["amount"] = tag.name
                self._cover(doing, item)
                self.swap = None
                return
        following = self._peek(1)
        if self.subject == ("dam",) and self._light_verb() and (following is None or following.role in ("what", "join", "unknown")) and next(self._here(), None) is None:
            doing = Doing("intake", self.clause, self.index, {"what": "food", "amount": tag.name})
            self._mark(doing)
            self._cover(doing, item)
            self._begin(doing)

    def _what(self, item: Item) -> None:
        for doing in reversed(self.draft.doings[-2:]):
            if doing.kind == "intake" and doing.clause == self.clause:
                doing.sets.setdefault("what", item.tags[0].name)
                self._cover(doing, item)
                return
            if doing.kind == "refused" and doing.clause == self.clause:
                self._cover(doing, item)
                return

    def _sex(self, item: Item) -> None:
        tag = item.tag("sex")
        for doing in reversed(self.draft.doings[-2:]):
            if doing.kind == "born" and tag is not None and "sex" not in doing.sets:
                doing.sets["sex"] = tag.name
                self._cover(doing, item)

    def _drug(self, item: Item) -> None:
        tag = item.tag("drug")
        assert tag is not None
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is not None and last.kind == "dose" and "drug" not in last.sets and last.clause >= self.clause - 1:
            last.sets["drug"] = tag.name
            self._cover(last, item)
            self.open = last
            self._take_loose(last)
            return
        if last is not None and last.kind == "fed" and last.clause == self.clause and set(last.sets) <= {"ml", "_worth"} and last.at_item == self.index - 1:
            last.kind, amount = "dose", last.sets.pop("ml", None)
            last.sets.update({"drug": tag.name, "amount": amount, "unit": "ml"})
            self._cover(last, item)
            self.open = last
            return
        self._add(Tag("do", "dose", (("drug", tag.name),)), item)

    def _item(self, item: Item) -> None:
        part = item.tag("item")
        if part is None:
            return
        if self.cleaning is None:
            if not self._cleaned_ahead():
                if "fed" in item.kinds() or "cleared" in item.kinds():
                    self._add(item.kinds().get("fed") or item.kinds()["cleared"], item)
                return
            self.cleaning = Doing("cleaned", self.clause, self.index)
            self._mark(self.cleaning)
            self.draft.doings.append(self.cleaning)
            self._owner(self.cleaning)
        doing = self.cleaning
        before = self.items[self.index - 1]
        if before.text == "'s" and before.place:
            before = self.items[before.place - 1]
        if self._said(before) in ("my", "our", "own", "our own", "my own"):
            doing.planned = True
            return
        if before.role == "subject" and self.subject is not None and len(self.subject) == 1 and isinstance(self.subject[0], int) and "item" not in doing.sets:
            doing.whos = self.subject
            doing.spans.append((before.at, before.end))
        elif doing.whos is None:
            self._owner(doing)
        if "item" in doing.sets:
            owner = self.subject if before.role == "subject" else None
            second = Doing("cleaned", self.clause, self.index, {"item": part.name}, planned=doing.planned, hedged=doing.hedged, denied=doing.denied, whos=owner)
            second.spans.extend(doing.spans[:1])
            self.draft.doings.append(second)
            doing = second
        doing.sets["item"] = part.name
        self._cover(doing, item)
        self.open = None

    def _owner(self, doing: Doing) -> None:
        """A thing of one pup's own: the pup stands right before it with its `'s` (`pup 3's aspirator`)."""
        previous = self.items[self.index - 1] if self.index else None
        while previous is not None and previous.role in ("small", "filler") and previous.at:
            previous = self.items[previous.place - 1]
        if previous is not None and previous.role == "subject" and self.subject is not None and len(self.subject) == 1:
            tail = self.words[previous.end - 1].text
            if tail.endswith("s") or (previous.end < len(self.words) and self.words[previous.end].text == "'s"):
                doing.whos = self.subject
                doing.spans.append((previous.at, previous.end))

    def _cleaned_ahead(self) -> bool:
        for item in self._ahead():
            if item.role in ("stop", "pause", "subject", "measure", "number"):
                return False
            if item.role == "do":
                return "cleaned" in item.kinds() and not any(tag.bare for tag in item.tags if tag.name == "cleaned")
        return False

    def _item_ahead(self) -> bool:
        for item in self._ahead():
            if item.tag("item") is not None:
                return True
            if item.role in ("stop", "pause", "do", "join"):
                return False
        return False

    def _cleaned(self, item: Item, tag: Tag) -> None:
        if self.cleaning is not None and "item" in self.cleaning.sets and not self._item_ahead():
            if self.deny is not None:
                self.cleaning.denied = self._said(self.deny)
            self._cover(self.cleaning, item)
            return
        if tag.bare and not self._opens_clause():
            return
        doing = Doing("cleaned", self.clause, self.index, bare=tag.bare)
        doing.actor = False
        self._mark(doing)
        self._cover(doing, item)
        self.cleaning = doing
        self.draft.doings.append(doing)
        self.open = None

    def _opens_clause(self) -> bool:
        before = self.items[self.index - 1] if self.index else None
        return before is None or before.role in ("stop", "pause", "join", "person", "subject")

    def _colon(self, item: Item) -> None:
        """`Evening weigh: red 235; ...`: a heading is no doing."""
        opened = self.open
        if opened is not None and opened.kind == "weight" and opened.bare and opened.whos is None and self._needs(opened):
            self.draft.doings.remove(opened)
            self.waiting = [doing for doing in self.waiting if doing is not opened]
            self.open = None
            self.alien = False

    def _climate(self, item: Item, tag: Tag) -> None:
        if self.subject is not None and self._said(item).split()[0] in ("in", "inside") and not self._number_next() and not self.loose:
            self._add(Tag("do", "placed", tag.sets), item) if dict(tag.sets)["place"] != "room" else None
            return
        doing = Doing("climate", self.clause, self.index, dict(tag.sets))
        self._mark(doing)
        self._cover(doing, item)
        self.draft.doings.append(doing)
        self.open = doing
        for loose in list(self.loose):
            if loose.measure is not None and loose.measure.dimension in ("warmth", "percent"):
                self._fill(doing, loose.measure)
                self._cover(doing, loose)
                self.loose.remove(loose)
        if self.alien:
            doing.planned = True

    def _visitor(self, item: Item) -> None:
        """The name stands right before `came by`, or right behind `visit from`."""
        after = self._said(item).startswith(("visit from", "visitor", "visited by", "a visit", "had a visit"))
        place = item.end if after else item.at
        step = 1 if after else -1
        found: list[Word] = []
        if after and place < len(self.words) and self.words[place].text == ":":
            place += 1
        while 0 <= (place if after else place - 1) < len(self.words) and len(found) < 3:
            word = self.words[place if after else place - 1]
            if word.kind != "word" or word.text in ("and", "today", "just", "has", "at", "to", "washed", "who", "again", "also"):
                break
            if not word.capital and found and any(one.capital for one in found):
                break
            found.append(word)
            place += step
        if not after:
            found.reverse()
        if not found:
            return
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is not None and last.kind == "visitor" and any(one.role in ("swap", "deny") for one in self.items[last.at_item : self.index]):
            self.draft.doings.pop()
            self.taken_back.extend(last.spans)
        doing = Doing("visitor", self.clause, self.index, {"_name": (found[0].start, found[-1].end)})
        self._mark(doing)
        self._cover(doing, item)
        doing.spans.append((item.at - len(found), item.at) if not after else (item.end, item.end + len(found)))
        self.draft.doings.append(doing)
        self.alien = False

    # --- numbers and measures ------------------------------------------------------------------------------------

    def _measure(self, item: Item) -> None:
        measure = item.measure
        assert measure is not None
        if measure.dimension == "percent":
            self.humid = False
        if self._is_difference():
            return
        if self._swapped_value(item):
            return
        dimension = measure.dimension
        opened = self.open
        if opened is not None and opened.kind == "weight" and opened.whos is None and (self._mass_next() or self.loose_numbers):
            opened = None
        if opened is not None and opened.kind in HOLDS[dimension] and self._holds(opened, dimension):
            self._fill(opened, measure)
            self._cover(opened, item)
            self.last = opened
            return
        last = self.draft.doings[-1] if self.draft.doings else None
        if dimension == "percent":
            self.humid = False
            for doing in reversed(self.draft.doings[-2:]):
                if doing.kind == "climate" and "humidity" not in doing.sets:
                    doing.sets["humidity"] = measure.value
                    self._cover(doing, item)
                    return
        if dimension in ("volume", "dose", "mass") and last is not None and last.kind == "dose" and "amount" not in last.sets and last.clause >= self.clause - 1 and ("drug" in last.sets or dimension == "dose"):
            self._fill(last, measure)
            self._cover(last, item)
            return
        if dimension == "duration" and last is not None and last.kind == "nursed" and "minutes" not in last.sets and not last.numbers and last.clause >= self.clause - 1:
            self._fill(last, measure)
            self._cover(last, item)
            return
        following = self._peek(1)
        if dimension == "mass" and not (following is not None and following.role == "drug" and measure.value < _SMALLEST):
            self._weigh(item, measure)
            return
        self.loose.append(item)

    def _weigh(self, item: Item, measure: Measure) -> None:
        listed = self.subject is None and self._header() and (self.loose_numbers or self._mass_next()) and not self._has_subject_ahead()
        for doing in reversed(self.draft.doings):
            if doing.clause != self.clause or listed:
                break
            if doing.kind in ("weight", "born") and self._needs(doing):
                self._fill(doing, measure)
                self._cover(doing, item)
                return
        strange = self._of_strange(item)
        if strange and self.subject is None:
            return
        if self._unit_for_list(item, measure):
            return
        if self.subject is None and (self.loose_numbers or self._header()) and not self._has_subject_ahead():
            self.loose_numbers.append(item)
            return
        doing = Doing("weight", self.clause, self.index)
        self._mark(doing)
        self._fill(doing, measure)
        if strange:
            doing.sets["_of"] = True
        self._cover(doing, item)
        self._begin(doing)
        self.open = None
        self.last = doing

    def _humidity(self, item: Item) -> None:
        """`humidity 58`: the number behind it is the air's."""
        self.humid = True

    humid = False

    def _unit(self, item: Item) -> None:
        """A unit that stands apart from its number: `one calcium tablet`."""
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is not None and last.kind == "dose" and last.clause == self.clause and last.numbers and "unit" not in last.sets:
            last.sets.update({"amount": last.numbers[0].value, "unit": item.text})
            last.numbers = []
            self._cover(last, item)

    def _agenda(self, item: Item) -> None:
        """`plan for the night: ...`: nothing of it is done yet."""
        self.agenda = True

    agenda = False

    def _except(self, item: Item) -> None:
        self.excepting = item

    excepting: Item | None = None
    guess = False
    """True where `none of them` was taken for the whole litter."""

    def _excepted(self, whos: Whos, item: Item) -> bool:
        """`all pups cleared except 4`: takes pups out of what was told of all; True where that was done."""
        self.excepting = None
        changed = False
        for doing in self.draft.doings[-_FAR:]:
            if doing.whos is not None and len(doing.whos) > 1 and set(whos) & set(doing.whos) and doing.whos == self.subject:
                doing.whos = tuple(who for who in doing.whos if who not in whos)
                self._cover(doing, item)
                changed = True
        if changed:
            self.subject, self.subject_item = whos, item
            self.subjects.append((whos, item))
            self._name(whos)
            self.clause += 1
        return changed

    def _unit_for_list(self, item: Item, measure: Measure) -> bool:
        """`213, 189, 245, 174, 230 g`: the unit of the last number holds for the whole list."""
        numbers = [one for one in self.loose_numbers if one.numbers]
        if len(numbers) < 2 or self.subject is not None:
            return False
        self.loose_numbers.append(item)
        return True

    def _of_strange(self, item: Item) -> bool:
        """True where it is a weight of something else: `6 oz of yarn`, `250 g flour`."""
        after = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        if after is not None and after.role == "filler" and after.text == "of":
            after = self.items[self.index + 2] if self.index + 2 < len(self.items) else None
            return after is not None and after.role == "unknown"
        return after is not None and after.role == "unknown" and self.subject is None

    def _mass_next(self) -> bool:
        following = next((one for one in self._ahead() if one.role not in ("pause", "join", "small")), None)
        return following is not None and following.measure is not None and following.measure.dimension == "mass"

    def _header(self) -> bool:
        """True where `weights` opens a list."""
        return any(doing.kind == "weight" for doing in self.waiting)

    def _has_subject_ahead(self) -> bool:
        for item in self._ahead():
            if item.role == "subject":
                return True
            if item.role == "stop":
                return False
        return False

    @property
    def loose_numbers(self) -> list[Item]:
        return self._numbers_alone

    _numbers_alone: list[Item] = []

    def _holds(self, doing: Doing, dimension: str) -> bool:
        if dimension == "percent":
            return "humidity" not in doing.sets
        if doing.kind == "dose" and "drug" not in doing.sets:
            return dimension == "dose"
        if doing.kind == "dose" and dimension == "mass" and "amount" in doing.sets:
            return False
        return self._needs(doing)

    def _fill(self, doing: Doing, measure: Measure) -> None:
        if measure.dimension == "warmth":
            doing.warmth = (measure.number, measure.unit)
        elif measure.dimension == "percent":
            doing.sets["humidity"] = measure.value
        elif doing.kind == "dose":
            doing.sets["amount"] = measure.number
            doing.sets["unit"] = measure.unit
        else:
            doing.sets[SLOT[doing.kind]] = measure.value
            doing.sets["_worth"] = measure.value / measure.number if measure.number else 1.0
        doing.weak = False

    def _is_difference(self) -> bool:
        """True where a number is how much more or less: `lost 3 grams`, `up 14 g`, `9 more`."""
        before = self.items[self.index - 1] if self.index else None
        if before is not None and before.role == "filler" and before.text in ("about", "by", "another", "like", "only", "just", "a", "around", "some") and self.index > 1:
            before = self.items[self.index - 2]
        if before is not None and before.tag("difference") is not None:
            return not (before.text in ("up", "off") and self.open is not None and self.open.kind == "fed" and self._needs(self.open))
        after = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        if after is not None and after.text in ("up", "down") and self.index + 2 < len(self.items) and self.items[self.index + 2].text in ("on", "from", "since", "vs"):
            return True
        if after is None or after.tag("difference") is None or after.text in ("over", "off", "up", "down", "short", "under", "out"):
            return False
        behind = self.items[self.index + 2] if self.index + 2 < len(self.items) else None
        return not (behind is not None and behind.role in ("measure", "number") and after.text in ("lost", "gained", "put on", "plus", "minus", "up", "down"))

    def _number(self, item: Item) -> None:
        if self._is_difference() or self._swapped_value(item) or (self.plan and next(self._here(), None) is None):
            return
        number = item.numbers[0]
        share = _SHARES.get(number.value)
        last = self.draft.doings[-1] if self.draft.doings else None
        if share is not None and last is not None and last.kind == "intake" and "amount" not in last.sets:
            last.sets["amount"] = share
            self._cover(last, item)
            return
        if self.humid:
            self.humid = False
            for doing in reversed(self.draft.doings[-2:]):
                if doing.kind == "climate" and "humidity" not in doing.sets:
                    doing.sets["humidity"] = number.value
                    self._cover(doing, item)
                    return
        opened = self.open
        if opened is not None and self._needs(opened) and opened.kind in NUMBER_OF and not self._too_much(opened, number):
            opened.numbers = list(item.numbers)
            opened.weak = False
            self._cover(opened, item)
            self.last = opened
            self._clear_open(opened)
            return
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is not None and last.kind in NUMBER_OF and self._needs(last) and last.clause >= self.clause - 1 and (last.whos == self.subject) and last.kind not in ("toilet", "climate"):
            last.numbers = list(item.numbers)
            last.weak = False
            self._cover(last, item)
            self.last = last
            return
        if self.subject is not None and not (self.person is not None and not self.clause_has_subject) and not self.alien:
            self._number_of_subject(item)
            return
        following = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        if following is not None and following.role in ("unknown", "person"):
            return
        self.loose.append(item)
        self.loose_numbers.append(item)

    def _too_much(self, doing: Doing, number: Number) -> bool:
        """True where a bare number is far too much for a nursing, so that it is a weight if anything."""
        return doing.kind == "nursed" and number.value > 90 and doing.whos is not None

    def _clear_open(self, doing: Doing) -> None:
        if doing.kind not in ("fed", "dose", "climate"):
            self.open = None

    def _number_of_subject(self, item: Item) -> None:
        """A bare number beside a subject: the doing before goes on, or it is a weight (of the dam: a temperature)."""
        number = item.numbers[0]
        apart = self._apart(item)
        if apart is None:
            return
        here = any(doing.whos == self.subject for doing in self._here())
        last = self.last
        if not here and not apart and last is not None and last.whos != self.subject and last.kind in SLOT and last.kind not in ("weight", "climate") and last.kept and not last.denied and self._fits(last, number):
            self._go_on(last, item)
            return
        if self.subject == ("dam",):
            kind = "dam number"
        else:
            kind = "weight"
        doing = Doing(kind, self.clause, self.index, numbers=list(item.numbers))
        self._mark(doing)
        self._cover(doing, item)
        self._begin(doing)
        self.open = None
        if apart:
            doing.sets["_apart"] = True
        if kind == "weight":
            doing.sets["_beside"] = True
            self.last = doing

    def _apart(self, item: Item) -> bool | None:
        """True where strange words stand between subject and number (`biscuit held still 270`); None where they make it another's (`Clover's page has 198 likes`)."""
        after = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        strange = False
        for earlier in self._behind():
            if earlier.role == "subject":
                if not strange:
                    return False
                return None if self._owned(earlier) or (after is not None and after.role in ("unknown", "item")) else True
            if earlier.role in ("stop", "pause", "colon", "swap", "do", "sign", "measure", "number", "look", "time", "amount"):
                return strange
            if earlier.role in ("plan", "if", "person"):
                return None
            if earlier.role == "unknown":
                strange = True
        return strange

    def _fits(self, last: Doing, number: Number) -> bool:
        """True where a bare number can be what the doing before had: minutes, millilitres, degrees."""
        most = {"nursed": 90, "fed": 40, "dose": 40}.get(last.kind, 110)
        least = 30 if last.kind == "temperature" else 0
        return least < number.value <= most

    def _go_on(self, last: Doing, item: Item) -> None:
        doing = Doing(last.kind, self.clause, self.index, {key: value for key, value in last.sets.items() if key in ("food", "by", "drug", "unit", "with")})
        doing.numbers = list(item.numbers)
        doing.goes_on = True
        self._mark(doing)
        self._cover(doing, item)
        self._begin(doing)
        self.open = None
        self.last = doing

    def _take_loose(self, doing: Doing) -> None:
        """A doing takes the measure that stood before it: `15 min on the nipple`, `4 ml formula`."""
        slot = SLOT.get(doing.kind)
        if slot is None or not self._needs(doing):
            return
        for item in list(self.loose):
            if item.measure is not None and doing.kind in HOLDS[item.measure.dimension]:
                self._fill(doing, item.measure)
            elif item.role == "number" and doing.kind in NUMBER_OF and doing.kind not in ("weight",) and not self._number_next() and not self._too_much(doing, item.numbers[0]):
                doing.numbers = list(item.numbers)
                doing.weak = False
                if item in self.loose_numbers:
                    self.loose_numbers.remove(item)
            else:
                continue
            self._cover(doing, item)
            self.loose.remove(item)
            self.last = doing
            return

    def _flush(self) -> None:
        """At the end of a clause a measure that nothing took makes its own doing: ml is a feed, degrees a temperature."""
        for item in self.loose:
            if item.measure is None:
                continue
            kind = {"volume": "fed", "warmth": "temperature"}.get(item.measure.dimension)
            if item.measure.dimension == "duration" and self.last is not None and self.last.kind == "nursed" and self.subject is not None and self.last.whos != self.subject:
                kind = "nursed"
            if kind is None or (self.person is not None and not self.clause_has_subject):
                continue
            if kind == "fed" and self.subject == ("dam",):
                continue
            if item.measure.dimension == "warmth" and self._climate_here(item):
                continue
            doing = Doing(kind, self.clause, self.index)
            if self.last is not None and self.last.kind == kind and self.last.whos != self.subject:
                doing.sets.update({key: value for key, value in self.last.sets.items() if key in ("food", "by")})
            self._mark(doing)
            self._fill(doing, item.measure)
            self._cover(doing, item)
            self._begin(doing)
            self.last = doing
        self.loose = []

    def _climate_here(self, item: Item) -> bool:
        for doing in self._here():
            if doing.kind in ("climate", "placed") and doing.warmth is None and doing.whos is None:
                if doing.kind == "placed" and doing.sets.get("place") in ("box", "incubator"):
                    doing.kind = "climate"
                if doing.kind == "climate" and item.measure is not None:
                    doing.warmth = (item.measure.number, item.measure.unit)
                    self._cover(doing, item)
                    return True
        return False

    def _clock(self, item: Item) -> None:
        return

    def _vague(self, item: Item) -> None:
        """A time too loose to place: `yesterday`, `last night`, `a few hours ago`; what it is told of must be asked."""
        said = self._said(item)
        if not (said.startswith(_OTHER_DAY) or ("ago" in said and any(unit in said for unit in ("hour", "hr", "day", "week"))) or (said[0].isdigit() and "ago" in said)):
            return
        for doing in self._here():
            if doing.kind not in ("died", "visitor") and not doing.denied:
                doing.problem = "vague"

    # --- times ---------------------------------------------------------------------------------------------------

    def _time(self, item: Item) -> None:
        when = item.when
        assert when is not None
        before = self.items[self.index - 1] if self.index else None
        if self.swap is not None and self.times:
            self.times[-1] = (self.times[-1][0], when, self.times[-1][2])
            self.taken_back.append((item.at, item.end))
            self.swap = None
            return
        if self.plan or (before is not None and before.role == "filler" and before.text in ("it's", "its", "that's")):
            return
        if when.minutes is not None and self.last is not None and self.last.kind == "nursed" and self.clause_has_subject and next(self._here(), None) is None:
            self._go_on(self.last, item)
        elif when.minutes is not None:
            self.last = next(self._here(), self.last)
        self.times.append((self.index, when, self.clause))

    def _spread_times(self) -> None:
        """A time holds for its clause; at the very start, or at the very end set off, for the whole message."""
        doings = self.draft.doings
        edges = self._edges()
        by_clause: dict[int, list[Doing]] = {}
        for doing in doings:
            by_clause.setdefault(doing.clause, []).append(doing)
        for index, when, clause in self.times:
            item = self.items[index]
            own = [doing for doing in by_clause.get(clause, ()) if doing.when is None and doing.problem is None]
            before = [doing for doing in own if doing.at_item < index]
            if before and any(item.role in ("person", "plan") for item in self.items[before[-1].at_item + 1 : index]) and not any(doing.at_item > index for doing in own):
                continue
            targets = before or own
            if not targets and when.weak and self._clock_or_weight(item):
                continue
            whole = index in edges
            if whole:
                targets = [doing for doing in doings if doing.when is None and doing.problem is None]
            elif not targets:
                targets = self._nearest(index)
            if not whole and targets and targets[-1].kind != "sign" and any(doing.kind != "sign" for doing in targets):
                targets = [doing for doing in targets if doing.kind != "sign"]
            for doing in targets:
                doing.when, doing.problem = when.at, when.problem
                doing.spans.append((item.at, item.end))
                if when.minutes is not None and doing.kind == "nursed" and "minutes" not in doing.sets and not doing.numbers:
                    doing.sets["minutes"] = when.minutes

    def _clock_or_weight(self, item: Item) -> bool:
        """`red 2:31`: with neither unit nor doing it may be a time or a weight, so it is asked."""
        word = self.words[item.at]
        if word.kind != "clock" or item.length != 1:
            return False
        place = self._index_of(item)
        before = self.items[place - 1] if place else None
        if before is None or before.subject is None or not before.subject.whos:
            return False
        doing = Doing("weight", -1, place, {"grams": float(word.text.replace(":", "")), "_clock": True})
        doing.whos = before.subject.whos
        doing.spans.append((before.at, item.end))
        self.draft.doings.append(doing)
        return True

    def _edges(self) -> set[int]:
        """The items whose time holds for the whole message: the first of all, or the last of all where it is set off."""
        content = [place for place, item in enumerate(self.items) if item.role not in ("filler", "small", "thanks", "stop")]
        edges: set[int] = set()
        if not content:
            return edges
        if len(self.times) == 1:
            edges.add(content[0])
        before = self.items[content[-1] - 1] if content[-1] else None
        while before is not None and before.role == "filler" and before.place:
            before = self.items[before.place - 1]
        if before is not None and (before.role in ("pause", "colon") or (before.role == "small" and before.text == "-")):
            edges.add(content[-1])
        return edges

    def _nearest(self, index: int) -> list[Doing]:
        """A time in a clause of its own belongs to the doing before it, else the one after."""
        earlier = [doing for doing in self.draft.doings if doing.at_item < index and doing.when is None]
        if earlier and any(item.role in ("person", "unknown", "plan") for item in self.items[max(earlier[-1].at_item + 1, index - 6) : index]):
            return []
        if earlier:
            return [doing for doing in earlier if doing.clause == earlier[-1].clause]
        later = [doing for doing in self.draft.doings if doing.at_item > index and doing.when is None]
        return [doing for doing in later if doing.clause == later[0].clause] if later else []

    def _strangers(self) -> None:
        """Mark the doings in whose stretch strange words stand: without a subject such a doing is talk."""
        covered = {place for doing in self.draft.doings for start, end in doing.spans for place in range(start, end)}
        stretch, strange = [0] * len(self.items), [False]
        for place, item in enumerate(self.items):
            if item.role in ("stop", "pause"):
                strange.append(False)
            elif item.role in _STRANGE and item.at not in covered and item.text not in ("i", "we"):
                strange[-1] = True
            stretch[place] = len(strange) - 1
        for doing in self.draft.doings:
            doing.strangers = strange[stretch[doing.at_item]] if doing.at_item < len(stretch) else False

    def _number_first(self) -> None:
        """`red 10, teal 12, wren 8 minutes nursing`: what the last number is, those before it are too."""
        for doing, then in zip(reversed(self.draft.doings[:-1]), reversed(self.draft.doings[1:]), strict=True):
            lone = doing.kind == "weight" and doing.sets.get("_beside") and doing.numbers and doing.numbers[0].value < _SMALLEST
            if lone and then.kind in ("nursed", "fed") and doing.whos != then.whos and ("minutes" in then.sets or "ml" in then.sets) and self.names.card.weights_in == "g":
                doing.kind = then.kind
                doing.sets = {key: value for key, value in then.sets.items() if key in ("food", "by")}

    def _marks(self) -> None:
        """What stands behind a birth and is nothing else is the pup's mark: `born 9:52 girl 198 g white chest`."""
        for doing in self.draft.doings:
            if doing.kind != "born" or not doing.kept:
                continue
            run: list[Item] = []
            for item in self.items[doing.at_item + 1 :]:
                if item.role in ("unknown", "look") or (run and item.role in ("item", "filler", "small") and item.text not in ("and", ".")):
                    run.append(item)
                elif item.role in ("stop", "join") or (item.role in ("subject", "do", "sign") and run):
                    break
                elif run:
                    break
            while run and run[-1].role in ("filler", "small"):
                run.pop()
            if run and len(run) <= 5:
                doing.sets["mark"] = " ".join(self.words[place].text for place in range(run[0].at, run[-1].end))
                doing.spans.append((run[0].at, run[-1].end))


def clauses(items: Sequence[Item], words: Sequence[Word], names: Names, *, subject: Whos | None = None) -> Draft:
    """The doings of a message, from its items; `subject` is whom a setup before it named (`call pup 3 Olive, 212 g`)."""
    walk = Clauses(items, words, names, subject)
    walk._numbers_alone = []
    walk.taken_back = []
    draft = walk.read()
    numbers = walk.loose_numbers
    draft.strange = any(item.role in ("unknown", "person", "plan", "if", "difference", "elsewhere") for item in items)
    draft.taken_back = walk.taken_back
    if numbers:
        draft.weights = [item.numbers[0] if item.numbers else Number(item.measure.number if item.measure else 0, item.length) for item in numbers]
        draft.lone_span = (numbers[0].at, numbers[-1].end)
        if numbers[-1].measure is not None:
            draft.lone = numbers[-1].measure
    return draft


