"""Which doings a told time holds for: its clause, or from the edge of a message the whole of it."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate

from parsers.doings import Doing
from parsers.items import Item
from parsers.parts import Parts
from parsers.walk import _FAR

_AROUND = frozenset(("filler", "small", "pause", "thanks", "time", "join"))
"""What may stand with a time in a sentence of its own."""
_OTHER_DAY = ("yesterday", "last night", "the other day", "the other night", "days ago")


class MomentsTold(Parts):
    """Gives doings their times."""

    _least: Sequence[int] = ()
    """For each doing the first item at which it or one behind it begins."""

    def _vague(self, item: Item) -> None:
        """A time too loose to place: `yesterday`, `last night`, `a few hours ago`; what it is told of must be asked."""
        said = self._said(item)
        if not (
            said.startswith(_OTHER_DAY)
            or ("ago" in said and any(unit in said for unit in ("hour", "hr", "day", "week")))
            or (said[0].isdigit() and "ago" in said)
        ):
            return
        for doing in self._here():
            if doing.kind not in ("died", "visitor") and not doing.denied:
                doing.problem = "vague"

    def _time(self, item: Item) -> None:
        when = item.when
        assert when is not None
        before = self.items[self.index - 1] if self.index else None
        if self.swap is not None and self.times:
            self.times[-1] = (self.times[-1][0], when, self.times[-1][2])
            self.taken_back.append((item.at, item.end))
            self.swap = None
            return
        if self.plan or self.condition or (before is not None and before.role == "filler" and before.text in ("it's", "its", "that's")):
            return
        if (
            when.minutes is not None
            and self.last is not None
            and self.last.kind == "nursed"
            and self.clause_has_subject
            and next(self._here(), None) is None
        ):
            self._go_on(self.last, item)
        elif when.minutes is not None:
            self.last = next(self._here(), self.last)
        self.times.append((self.index, when, self.clause))

    def _spread_times(self) -> None:
        """A time holds for its clause; at the very start, or at the very end set off, for the whole message."""
        if not self.times:
            return
        doings = self.draft.doings
        edges = self._edges()
        by_clause: dict[int, list[Doing]] = {}
        for doing in doings:
            by_clause.setdefault(doing.clause, []).append(doing)
        for index, when, clause in self.times:
            item = self.items[index]
            own = [doing for doing in by_clause.get(clause, ()) if doing.when is None and doing.problem is None]
            before = [doing for doing in own if doing.at_item < index]
            if (
                before
                and any(item.role in ("person", "plan") for item in self.items[before[-1].at_item + 1 : index])
                and not any(doing.at_item > index for doing in own)
            ):
                continue
            targets = before or own
            if not targets and when.weak and self._clock_or_weight(item):
                by_clause.setdefault(doings[-1].clause, []).append(doings[-1])
                continue
            whole = index in edges
            if whole:
                targets = [doing for doing in doings if doing.when is None and doing.problem is None]
            elif not targets:
                targets = self._nearest(index, by_clause)
            if not whole and targets and targets[-1].kind != "sign" and any(doing.kind != "sign" for doing in targets):
                targets = [doing for doing in targets if doing.kind != "sign"]
            for doing in targets:
                doing.when, doing.problem = when.at, when.problem
                doing.spans.append((item.at, item.end))
                if when.minutes is not None and doing.kind == "nursed" and "minutes" not in doing.sets and not doing.numbers:
                    doing.sets["minutes"] = when.minutes
        for doing in doings:
            if doing.like is not None and doing.when is None and doing.problem is None:
                doing.when, doing.problem = doing.like.when, doing.like.problem

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
        if len(self.times) == 1 and self._holds_for_all(content[0]):
            edges.add(content[0])
        before = self.items[content[-1] - 1] if content[-1] else None
        while before is not None and before.role == "filler" and before.place:
            before = self.items[before.place - 1]
        if before is not None and (before.role in ("pause", "colon") or (before.role == "small" and before.text == "-")):
            edges.add(content[-1])
        return edges

    def _holds_for_all(self, index: int) -> bool:
        """False for `4 am and all is well`, in whose sentence nothing is told."""
        start, end = self._sentence_of(index)
        told = any(start <= doing.at_item < end for doing in self.draft.doings)
        return told or not any(one.role not in _AROUND for one in self.items[start:end])

    def _sentence_of(self, index: int) -> tuple[int, int]:
        """The first item of an item's sentence, and the stop that ends it, as far as a clause reaches."""
        start = index
        while start > max(0, index - _FAR) and self.items[start - 1].role != "stop":
            start -= 1
        end = index
        while end < min(len(self.items), index + _FAR) and self.items[end].role != "stop":
            end += 1
        return start, end

    def _nearest(self, index: int, by_clause: Mapping[int, list[Doing]]) -> list[Doing]:
        """A time in a clause of its own belongs to the doing before it, else the one after."""
        earlier = next((doing for doing in self._earlier(index) if doing.when is None), None)
        if earlier is not None:
            start, end = self._sentence_of(index)
            if earlier.at_item < start and any(one.role not in _AROUND for one in self.items[start:end]):
                return []  # another sentence's time: `quarter to 4 and the birds are at it`
            between = self.items[max(earlier.at_item + 1, index - 6) : index]
            if any(item.role in ("person", "unknown", "plan") for item in between):
                return []
            return [doing for doing in by_clause[earlier.clause] if doing.at_item < index and doing.when is None]
        later = [doing for doing in self.draft.doings if doing.at_item > index and doing.when is None]
        start, end = self._sentence_of(index)
        if later and later[0].at_item >= end and any(one.role not in _AROUND for one in self.items[start:end]):
            return []  # `my phone died at 2. tilly 11 oz`
        return [doing for doing in later if doing.clause == later[0].clause] if later else []

    def _earlier(self, index: int) -> Iterator[Doing]:
        """The doings that begin before an item, the last first."""
        doings = self.draft.doings
        if len(self._least) != len(doings):  # doings stand nearly in the order of their items
            self._least = [*accumulate((doing.at_item for doing in reversed(doings)), min)][::-1]
        for place in range(bisect_left(self._least, index) - 1, -1, -1):
            if doings[place].at_item < index:
                yield doings[place]
