"""What a speaker takes back inside one message: two twenty no two thirty, pup 3 no wait pup 4, all but 2."""

from __future__ import annotations

from parsers.doings import SLOT, Doing, takes
from parsers.items import Item
from parsers.pup_numbers import Whos
from parsers.vocabulary import Tag
from parsers.walk import _FAR, Walk

_ARROWS = frozenset((">", "→"))


class Takebacks(Walk):
    """The last word counts."""

    def _is_swap(self, item: Item) -> bool:
        """True where `no` takes back what was just said: a value, a subject or a doing stands before and behind it."""
        if not (self.draft.doings or self.loose or self.subjects or self.times):
            return False
        following = self._peek_over_pause()
        if following is None or following.role not in ("number", "measure", "subject", "amount", "time", "do"):
            return False
        if following.role == "do":
            behind = self.items[item.place + 1]
            return item.length > 1 or (behind.role == "pause" and "fed" in following.kinds())  # `4 ml formula, no, goat milk`
        return True

    def _swap(self, item: Item) -> None:
        if self.draft.doings or self.loose or self.subjects or self.times:
            self.swap = item

    def _swapped_value(self, item: Item) -> bool:
        """Put a value in the place of the last one of its sort; True where that was done."""
        if self.swap is None and item.at and self.words[item.at - 1].text in _ARROWS:
            self._swap(self.items[item.place - 1])  # `moss 254 -> 258`
        if self.swap is None:
            return False
        loose = self.loose[-1].place if self.loose else -1
        for doing in reversed(self.draft.doings[-3:]):
            slot = SLOT.get(doing.kind)
            if slot is None or doing.at_item < self.sentence_start <= loose:
                continue
            filled = slot in doing.sets or doing.numbers or doing.warmth
            if not filled or (item.measure is not None and not takes(doing, item.measure)):
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
            had = self.loose[-1].measure
            if had is not None and item.measure is None:  # `4 ml sorry 3`
                number = item.numbers[0].value
                item.measure = had._replace(value=number * (had.value / had.number if had.number else 1.0), number=number)
            if self.loose[-1] in self.loose_numbers:
                self.loose_numbers[self.loose_numbers.index(self.loose[-1])] = item
            self.loose[-1] = item
            self.swap = None
            return True
        return False

    def _swapped_doing(self, kinds: dict[str, Tag]) -> None:
        """`gus peed, no wait, pooped`: the last doing is taken back where the new one is of its sort."""
        last = self.draft.doings[-1]
        if last.kind == "fed" and "fed" in kinds and kinds["fed"].sets and last.whos == self.subject:
            last.sets.update(dict(kinds["fed"].sets))
            self.swap = None
            return
        sorts = ({"nursed", "fed", "refused"}, {"toilet"}, {"cleared"}, {"placed"}, {"intake"}, {"dose"})
        if any(last.kind in sort and sort & kinds.keys() for sort in sorts) and last.whos == self.subject:
            self.draft.doings.pop()
            for start, end in last.spans:
                self.taken_back.append((start, end))
        self.swap = None

    def _swapped_subject(self, whos: Whos, item: Item) -> None:
        """`pup 3 no wait pup 4`: what was told of the last subject is told of this one."""
        self.swap = None
        old = self.subject
        for doing in self.draft.doings:
            if (
                doing.whos == old
                and old is not None
                and (self.subject_item is None or doing.at_item >= self._index_of(self.subject_item) or self.subject_taken)
            ):
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

    def _last_unit(self, doing: Doing) -> float:
        return float(doing.sets.get("_worth", 1.0))

    def _cover_between(self, doing: Doing, item: Item) -> None:
        doing.spans.append((item.at, item.end))
        if self.swap is not None:
            doing.spans.append((self.swap.at, self.swap.end))

    def _except(self, item: Item) -> None:
        self.excepting = item

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
