"""Whom the dam nurses, and that she is fed herself: mom nursing all six 20 min · mom won't nurse pearl · fed mom half."""

from __future__ import annotations

from parsers.doings import Doing
from parsers.items import Item
from parsers.likewise import Likewise
from parsers.sameness import PUSHES, REJECTS
from parsers.walk import _FAR

_NURSES = frozenset(
    "nursed nursing nurses nurse fed feeding feeds suckled suckling suckles won't wont wouldn't refuses refused refusing".split()
)
"""What a dam does to pups; `supp wren` is done by a keeper."""
_BETWEEN = frozenset(("filler", "small"))


class Objects(Likewise):
    """Gives the dam's doings to the pups they are done to."""

    def _subject(self, item: Item) -> None:
        if self._of_the_dam(item):
            return
        if self._rejected(item):
            return
        kept_off = self._kept_off(item)
        super()._subject(item)
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is not None and self.subject_item is item and last.whos == ("dam",) == self.subject and last.at_item < self.index:
            self._fed_herself(last)

        if kept_off:
            self.plan = True

    def _rejected(self, item: Item) -> bool:
        """`mom ignoring 4`, `mom pushes pearl away`: a sign of hers; True where it is one."""
        before = self.items[self.index - 1] if self.index else None
        if before is None or before.text not in REJECTS or self.subject != ("dam",) or item.subject is None or self.deny is not None:
            return False
        away = self.words[item.end].text if item.end < len(self.words) else ""
        if before.text in PUSHES and away != "away":
            return False
        whos = self._resolve(item.subject, item)
        if not whos or "dam" in whos:
            return False
        doing = Doing("sign", self.clause, self.index, {"_pup": None, "_dam": "rejecting pups"}, self.subject)
        doing.planned, doing.hedged = self.plan or self.condition, self.hedge
        doing.spans.extend([(before.at, item.end), *((one.at, one.end) for one in [self.subject_item] if one is not None)])
        self.draft.doings.append(doing)
        before.role = "small"
        return True

    def _kept_off(self, item: Item) -> bool:
        """`mom won't let pearl nurse`: she rejects a pup, and it did not nurse."""
        let = self.words[item.at - 1].text if item.at else ""
        if let not in ("let", "letting") or self.deny is None or self.subject != ("dam",):
            return False
        doing = Doing("sign", self.clause, self.index, {"_pup": None, "_dam": "rejecting pups"}, self.subject)
        doing.spans.append((self.deny.at, item.at))
        self.draft.doings.append(doing)
        self.deny = None
        return True

    def _of_the_dam(self, item: Item) -> bool:
        """`mom nursing all six` is told of the six; True where it was."""
        last = self.draft.doings[-1] if self.draft.doings else None
        if self.subject_item is None or self.subject_item.place < self.sentence_start:
            return False
        if last is not None and (self.items[last.at_item].text not in _NURSES or self._parted(self.subject_item.place, last.at_item)):
            return False
        if last is None or last.whos != ("dam",) or last.kind not in ("nursed", "fed", "refused") or item.subject is None:
            return False
        if last.sets.keys() - {"minutes", "_worth"} or any(one.role not in _BETWEEN for one in self.items[last.at_item + 1 : self.index]):
            return False
        whos = self.names.living if item.text == "them" else self._resolve(item.subject, item)
        if not whos or whos == ("dam",):
            return False
        if last.kind == "refused":
            last.kind, last.sets = "sign", {"_pup": None, "_dam": "rejecting pups"}
            self._cover(last, item)
            return True
        last.kind, last.whos, last.bare = "nursed", whos, False
        last.unknown_pup = item.subject.unknown
        self._cover(last, item)
        self.subject, self.subject_item = whos, item
        self.subjects.append((whos, item))
        self.sentence_subjects += 1
        self._name(whos)
        self.open = last
        return True

    def _parted(self, start: int, end: int) -> bool:
        return any(one.role in ("pause", "join", "stop") for one in self.items[max(start, end - _FAR) : end])

    def _fed_herself(self, last: Doing) -> None:
        """`fed mom half`: what she is fed, she eats."""
        if last.kind == "fed" and not last.sets and not last.numbers:
            last.kind, last.sets, last.weak = "intake", {"what": "food"}, False
