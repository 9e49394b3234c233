"""Which doing belongs to whom, and which number to which doing: from items to doings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache

from parsers.items import Item
from parsers.moments_told import MomentsTold
from parsers.numbers import Number
from parsers.plausibility import LIMITS
from parsers.pup_numbers import Whos
from parsers.subjects import Names
from parsers.walk import Draft
from parsers.words import Word

_TIMES_OVER = frozenset(("twice", "thrice", "x", "×"))
_STRANGE = frozenset(("unknown", "person", "plan", "item", "elsewhere"))
_OFF_THE_TRADE = frozenset(("unknown", "person", "plan", "if", "difference", "elsewhere"))


@cache
def _room(role: str) -> str:
    """The name of the method that takes an item of a role."""
    return f"_{role.replace(' ', '_')}"


class Clauses(MomentsTold):
    """Walks the items of one message once and builds its doings."""

    def read(self) -> Draft:
        """Walk all items; gives the doings with their subjects."""
        for index, item in enumerate(self.items):
            item.place = index
        for index, item in enumerate(self.items):
            self.index = index
            getattr(self, _room(item.role), self._other)(item)
        self._close()
        self._number_first()
        self._marks()
        self._spread_times()
        self._strangers()
        return self.draft

    def _close(self) -> None:
        self._flush()
        self.clause += 1

    def _other(self, item: Item) -> None:
        if item.text in _TIMES_OVER or self.words[item.end - 1].text == "x":
            self._times_over(item)
        if item.role == "unknown" and self._is_drug(item):
            return
        if item.text in self.names.people and self._helpers_act():
            return  # a helper of the household as who did it: `colm gave calcium`
        if item.role == "unknown" and not self.clause_has_subject and self._nothing_yet():
            self.alien = True

    def _times_over(self, item: Item) -> None:
        """`4 ml twice`, `2 x 3 ml`: how much in all must be asked."""
        self.hedge = self.hedge or self.words[item.end - 1].text in ("x", "×")
        for doing in self._here():
            doing.hedged = doing.hedged or ("ml" in doing.sets or (doing.kind == "nursed" and "minutes" in doing.sets))

    def _helpers_act(self) -> bool:
        """True behind a helper where a doing follows, or other helpers and then a doing: `colm and nadia weighed red`."""
        for item in self._ahead():
            if item.role == "do":
                return True
            if item.role not in ("join", "filler", "small") and item.text not in self.names.people:
                return False
        return False

    def _strangers(self) -> None:
        """Mark the doings in whose stretch strange words stand: without a subject such a doing is talk."""
        if _STRANGE.isdisjoint([item.role for item in self.items]):
            return
        covered = {place for doing in self.draft.doings for start, end in doing.spans for place in range(start, end)}
        stretch, strange, people = [0] * len(self.items), [False], {"i", "we", *self.names.people}
        for place, item in enumerate(self.items):
            if item.role in ("stop", "pause"):
                strange.append(False)
            elif item.role in _STRANGE and item.at not in covered and item.text not in people:
                strange[-1] = True
            stretch[place] = len(strange) - 1
        family = not self.draft.named and any(item.role == "person" and item.text not in people for item in self.items)
        for doing in self.draft.doings:
            if family and doing.kind == "weight" and doing.sets.get("grams", 0) > LIMITS["heaviest"]:
                doing.strangers = True  # `my niece was born at 4, a girl, 7 lb 2`
                continue
            doing.strangers = strange[stretch[doing.at_item]] if doing.at_item < len(stretch) else False
            if doing.kind == "climate" and doing.strangers:
                doing.strangers = any(one.role in _STRANGE and one.at not in covered for one in self._part_of(doing.at_item))

    def _part_of(self, place: int) -> Iterator[Item]:
        """The items around one, between the nearest marks and joining words: `box 29.5 then pip has a bite mark`."""
        for step in (-1, 1):
            at = place
            while 0 <= at < len(self.items) and self.items[at].role not in ("stop", "pause", "join"):
                yield self.items[at]
                at += step


def clauses(items: Sequence[Item], words: Sequence[Word], names: Names, *, subject: Whos | None = None) -> Draft:
    """The doings of a message, from its items; `subject` is whom a setup before it named (`call pup 3 Olive, 212 g`)."""
    walk = Clauses(items, words, names, subject)
    draft = walk.read()
    numbers = walk.loose_numbers
    draft.strange = not _OFF_THE_TRADE.isdisjoint([item.role for item in items])
    draft.taken_back = walk.taken_back
    if len(walk.times) == 1:
        index, draft.told, _ = walk.times[0]
        draft.told_span = (items[index].at, items[index].end)
    if numbers:
        draft.weights = [
            item.numbers[0] if item.numbers else Number(item.measure.number if item.measure else 0, item.length) for item in numbers
        ]
        draft.lone_span = (numbers[0].at, numbers[-1].end)
        around = items[numbers[0].place - 1 : numbers[-1].place + 2] if numbers[0].place else [*items[: numbers[-1].place + 2]]
        draft.run = {item.role for item in around} <= {"number", "measure", "pause", "join", "stop", "small"}
        if numbers[-1].measure is not None:
            draft.lone = numbers[-1].measure
    return draft
