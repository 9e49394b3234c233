"""The walk through the items of one message: what is remembered on the way, and the looks ahead and behind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from parsers.doings import SLOT, Doing
from parsers.items import Item
from parsers.measures import Measure
from parsers.numbers import Number
from parsers.pup_numbers import Whos
from parsers.subjects import Names
from parsers.times import When
from parsers.vocabulary import Tag
from parsers.words import Word

_FAR = 40  # items; no clause that people write reaches farther


@dataclass(slots=True)
class Draft:
    """What the clauses of a message came to: its doings, and which words belong to none."""

    doings: list[Doing] = field(default_factory=list)
    named: list[int | str] = field(default_factory=list)
    lone: Number | Measure | None = None
    """A number or weight that stands without subject and doing: `212`."""
    lone_span: tuple[int, int] = (0, 0)
    told: When | None = None
    """The one time that was told, for weights that stand without a doing: `212 at 2:50`."""
    told_span: tuple[int, int] = (0, 0)
    weights: list[Number] = field(default_factory=list)
    """The numbers of a list of weights in pup order."""
    run: bool = False
    """These numbers stand together, with nothing between and nothing else in their sentence."""
    strange: bool = False
    """Words that are none of the trade stand somewhere in the message."""
    taken_back: list[tuple[int, int]] = field(default_factory=list)
    """Words that the sender took back in the same message."""


class Walk:
    """What every room of the clauses shares: the items, the doings so far, and where the walk stands."""

    def __init__(self, items: Sequence[Item], words: Sequence[Word], names: Names, subject: Whos | None = None) -> None:
        self.items, self.words, self.names = items, words, names
        self.draft = Draft()
        self.index = 0
        self.clause = 0
        # whom it is told of
        self.subject: Whos | None = subject
        self.subject_item: Item | None = None
        self.subjects: list[tuple[Whos, Item]] = []
        self.subject_clause = -1
        self.subject_taken = False
        self.sentence_start = 0
        self.sentence_subjects = 0
        self.unknown_pup = False
        self.dead_pup: int | None = None
        self.either = False  # two pups were offered: `red or blue`
        self.object: Item | None = None
        self.object_whos: Whos | None = None  # the pup that the dam did something to: `mum lay on wren, she's ok now`
        self.guess = False  # `none of them` was taken for the whole litter
        # what was told
        self.waiting: list[Doing] = []  # doings before the first subject
        self.open: Doing | None = None
        self.last: Doing | None = None  # the last doing that took a number
        self.loose: list[Item] = []  # measures and numbers not yet taken
        self.loose_numbers: list[Item] = []  # numbers that stand with no subject: a list of weights, perhaps
        self.humid = False
        self.times: list[tuple[int, When, int]] = []
        # what does not count
        self.swap: Item | None = None
        self.taken_back: list[tuple[int, int]] = []
        self.excepting: Item | None = None
        self.agenda = False
        self.plan_said, self.plan_at = "", 0
        self.plan = self.condition = self.condition_after = self.later = self.past = False
        self.led = False  # `before nursing` leads: a bare verb behind it is an instruction
        self._fresh()

    def _fresh(self) -> None:
        """A new clause begins: what reached to the end of the last one is over."""
        self.temporal = False
        self.deny: Item | None = None
        self.deny_reach = 0
        self.hedge = False
        self.inspect = False
        self.person: Item | None = None
        self.alien = False
        self.cleaning: Doing | None = None
        self.clause_has_subject = False

    def _cover(self, doing: Doing, item: Item) -> None:
        doing.spans.append((item.at, item.end))
        if item.other is not None:
            doing.other = item.other

    def _said(self, item: Item) -> str:
        return " ".join(word.text for word in self.words[item.at : item.end])

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

    def _peek_over_pause(self) -> Item | None:
        for item in self._ahead():
            if item.role in ("pause", "filler", "small", "swap", "deny"):
                continue
            return item
        return None

    def _is_bare(self, item: Item) -> bool:
        return all(tag.bare for tag in item.tags if tag.role == "do")

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
        return iter(self.items[self.index + 1 : self.index + 1 + _FAR])

    def _behind(self) -> Iterator[Item]:
        """The items before this one, the nearest first, as far as a clause reaches."""
        for place in range(self.index - 1, max(-1, self.index - 1 - _FAR), -1):
            yield self.items[place]

    def _number_next(self) -> bool:
        following = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        if (
            following is not None
            and following.role == "filler"
            and following.text in ("for", "about", "of", "a", "is", "at", "was", "around", "now", "only", "just")
        ):
            following = self.items[self.index + 2] if self.index + 2 < len(self.items) else None
        return following is not None and following.role in ("number", "measure")

    def _nothing_yet(self) -> bool:
        return next(self._here(), None) is None

    def _act_ahead(self) -> bool:
        following = self._peek(1)
        return following is not None and following.role in ("do", "sign", "plan", "deny", "measure", "number")

    def _needs(self, doing: Doing) -> bool:
        slot = SLOT.get(doing.kind)
        return (slot is not None and slot not in doing.sets and not doing.numbers and doing.warmth is None) or doing.kind == "toilet"

    def _owned(self, subject: Item) -> bool:
        """True where what follows is the subject's: `pup 2's collar`, `Clover's page`."""
        tail = self.words[subject.end - 1].text
        at = subject.end
        owns = tail.endswith("'s")
        if at < len(self.words) and self.words[at].text == "'s":
            owns, at = True, at + 1
        return (
            owns
            and at < len(self.words)
            and any(item.at == at and item.role == "unknown" for item in self.items[subject.place + 1 : subject.place + 3])
        )

    # --- what the rooms above this one do ------------------------------------------------------------

    def _fill(self, doing: Doing, measure: Measure) -> None:
        raise NotImplementedError

    def _name(self, whos: Whos) -> None:
        raise NotImplementedError

    def _mark(self, doing: Doing) -> None:
        raise NotImplementedError

    def _begin(self, doing: Doing) -> None:
        raise NotImplementedError

    def _do(self, item: Item) -> None:
        raise NotImplementedError

    def _close(self) -> None:
        raise NotImplementedError

    def _cleaned_ahead(self) -> bool:
        raise NotImplementedError

    def _visitor(self, item: Item) -> None:
        raise NotImplementedError

    def _cleaned(self, item: Item, tag: Tag) -> None:
        raise NotImplementedError

    def _item(self, item: Item) -> None:
        raise NotImplementedError

    def _climate(self, item: Item, tag: Tag) -> None:
        raise NotImplementedError

    def _item_ahead(self) -> bool:
        raise NotImplementedError
