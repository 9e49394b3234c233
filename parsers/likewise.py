"""What goes for another too: moss nursed 10, blue too · 3 pooped, same for 4 · 3 pooped and 5 hasn't."""

from __future__ import annotations

from parsers.doings import Doing
from parsers.items import Item
from parsers.reach import Reach
from parsers.sameness import ENDS, denied_behind, same_before, too_behind

_NEAR = 4  # doings back in which something was told of the subject
_COPIED = frozenset(("weight", "nursed", "fed", "refused", "cleared", "toilet", "temperature", "sign", "placed"))


class Likewise(Reach):
    """Tells of a pup what was just told of another."""

    def _subject(self, item: Item) -> None:
        if self._contrasted(item):
            return
        told = self._told_last()
        super()._subject(item)
        if told and self.subject_item is item and self.subject is not None and told[0].whos != self.subject:
            self._same_of(item, told)

    def _contrasted(self, item: Item) -> bool:
        """`it was biscuit, not red, who nursed`: nothing is told of the second; True where that is so."""
        if not item.at or self.words[item.at - 1].text != "not" or self.swap is not None:
            return False
        if self.subject is not None and any(doing.whos == self.subject for doing in self.draft.doings[-_NEAR:]):
            return False
        if self.subject is None and (self._has_own(item) or self.draft.doings):
            return False
        self.deny = None
        return True

    def _told_last(self) -> list[Doing]:
        """What was told of the last subject, all of its last clause."""
        if not self.draft.doings:
            return []
        last = self.draft.doings[-1]
        return [one for one in self._last_clause() if one.whos == last.whos and one.kind in _COPIED and one.kept and not one.denied]

    def _last_clause(self) -> list[Doing]:
        clause = self.draft.doings[-1].clause
        found: list[Doing] = []
        for doing in reversed(self.draft.doings):
            if doing.clause != clause:
                break
            found.insert(0, doing)
        return found

    def _same_of(self, item: Item, told: list[Doing]) -> None:
        if self._has_own(item):
            return
        after, denied = self._ends_behind(item.end, too_behind(self.words, item.end)), False
        if not after:
            after = self._ends_behind(item.end, denied_behind(self.words, item.end))
            denied = after > 0
        before = 0 if after else same_before(self.words, item.at)
        if not (after or before) and self.words[item.at - 1].text == "not":
            before, denied = 1, True
        if not (after or before):
            return
        said = self.words[item.end].text if after else "not"
        for word in self.items[max(0, item.place - before) : item.place + after + 1]:
            if word.role == "unknown" and item.at - before <= word.at < item.end + after:
                word.role = "small"  # `same`, `ditto`: they are accounted for
        for doing in told:
            again = Doing(doing.kind, self.clause, self.index, dict(doing.sets), self.subject, list(doing.numbers), doing.warmth)
            again.hedged, again.other, again.like = doing.hedged, doing.other, doing
            again.unknown_pup, again.dead_pup, again.either = self.unknown_pup, self.dead_pup, self.either
            again.denied = said if denied else None
            again.spans.append((item.at - before, item.end + after))
            self.draft.doings.append(again)
        self.open = None

    def _ends_behind(self, at: int, length: int) -> int:
        """The length of a phrase behind a subject where its part ends there; else 0."""
        end = at + length
        closed = end >= len(self.words) or self.words[end].kind in ("mark", "newline") or self.words[end].text in ENDS
        return length if closed or self.names.match(self.words, end) is not None else 0
