"""What a figure says that is no value of its own: lost 3 grams, 4 ml left, up from 176, half of her 4 ml."""

from __future__ import annotations

from parsers.items import Item
from parsers.takebacks import Takebacks

_SMALLEST = 40  # g: what is lighter and stands beside a drug is an amount of it
_ABOUT = frozenset(("about", "by", "another", "like", "only", "just", "a", "around", "some"))
_TURNS = frozenset(("up", "down", "over", "under", "off", "short", "out"))
"""Behind a small number these say how much; behind a weight they are of what follows."""
_LEFT = frozenset(("left", "leftover", "remaining", "wasted", "spilled", "spilt"))
_NO_PUPS = frozenset(("left", "tare", "tared", "zeroed"))
"""Before a figure: what was left, or is no pup's weight."""
_THINGS = frozenset(("bowl", "towel", "basket", "container", "dish", "tray", "tub"))
_OF_IT = ("of", "his", "her", "its", "the", "their", "that")
_SIDES = frozenset(("side", "teat", "nipple", "breast", "row", "one"))
_WITH_NUMBER = frozenset(("lost", "gained", "put on", "plus", "minus"))
_EARLIER = frozenset("was before time last previously previous earlier yesterday old".split())
"""Before a second weight of the same pup these say that it is the old one."""


class Differences(Takebacks):
    """Tells values from how much more, less, earlier or left they say."""

    def _said_before(self) -> str:
        before = self.items[self.index - 1] if self.index else None
        return self._said(before) if before is not None else ""

    def _is_difference(self) -> bool:
        """True where a number is how much more or less: `lost 3 grams`, `up 14 g`, `9 more`, `4 g up`."""
        item = self.items[self.index]
        before = self.items[self.index - 1] if self.index else None
        if before is not None and self._of_a_thing():
            return True
        if item.other is not None and before is not None and before.text == "between":
            return False  # `between 180 and 182` is a choice
        if self._signed(item):
            return True
        if before is not None and before.role == "filler" and before.text in _ABOUT and self.index > 1:
            before = self.items[self.index - 2]
        if (before is not None and before.text in _NO_PUPS) or self._left_over():
            return True
        if before is not None and before.tag("difference") is not None:
            return not (before.text in ("up", "off") and self.open is not None and self.open.kind == "fed" and self._needs(self.open))
        after = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        behind = self.items[self.index + 2] if self.index + 2 < len(self.items) else None
        if after is None or after.tag("difference") is None:
            return False
        if after.text in _TURNS and self.open is not None and self.open.kind in ("temperature", "climate") and self._needs(self.open):
            return False
        if after.text in _TURNS:
            small = (item.measure.value if item.measure is not None else item.numbers[0].value) < _SMALLEST
            return small and (behind is None or behind.role in ("stop", "pause") or behind.text in ("on", "from", "since", "vs"))
        return not (behind is not None and behind.role in ("measure", "number") and after.text in _WITH_NUMBER)

    def _signed(self, item: Item) -> bool:
        """True for `+2` behind a weight: the sign stands tight before it, and apart from what comes first."""
        sign = self.words[item.at - 1] if item.at else None
        if sign is None or sign.text not in ("+", "-") or self.words[item.at].spaced:
            return False
        apart = sign.spaced or (item.at > 1 and self.words[item.at - 2].text == "(")
        return apart and (item.measure.value if item.measure is not None else item.numbers[0].value) < _SMALLEST

    def _of_a_thing(self) -> bool:
        """True for the weight of what a pup lies in: `bowl is 200` opens its part."""
        place = self.index - 1
        while place > 0 and self.items[place].role == "filler":
            place -= 1
        opens = place == 0 or self.items[place - 1].role in ("stop", "pause", "join")
        return opens and self.items[place].text in _THINGS

    def _left_over(self) -> bool:
        """`4 ml left in the bottle` was drunk by nobody; `10 min left side` was."""
        after = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        behind = self.words[after.end].text if after is not None and after.end < len(self.words) else ""
        return after is not None and after.text in _LEFT and after.role == "unknown" and behind not in _SIDES

    def _of_before(self) -> bool:
        """True for an earlier weight beside the new one: `178 up from 176`, `180 (was 176)`, `180 last time 176`."""
        before = self.items[self.index - 1] if self.index else None
        if before is None or before.role not in ("filler", "vague", "difference", "past"):
            return False
        said = self._said(before)
        if said == "from" or said.endswith(" from"):
            return True
        weighed = any(doing.kind == "weight" and doing.whos == self.subject and doing.kept for doing in self.draft.doings[-3:])
        return weighed and bool(_EARLIER & {said, *said.split()[-1:]})

    def _of_food(self) -> bool:
        """True for `gave mom chicken 50 g`."""
        before = self.items[self.index - 1] if self.index else None
        return before is not None and before.role == "what"

    def _share_of(self) -> float:
        """`took half of her 4 ml` is 2 ml; how much `most` was, nobody knows."""
        before = self.items[self.index - 1] if self.index else None
        of = before is not None and before.text == "of" and self.index > 1
        before = self.items[self.index - 2] if of else before
        amount = before.tag("amount") if before is not None else None
        if before is None or amount is None or not (of or self._said(before).endswith(_OF_IT)):
            return 1.0
        self.hedge = self.hedge or amount.name in ("most", "little")
        return 0.5 if amount.name == "half" else 1.0

    def _after_pause(self, item: Item) -> bool:
        """True for a weight in grams behind a comma: `gave calcium, 201 g` is no dose of 201 g."""
        grams = item.measure is not None and item.measure.unit == "g"
        return grams and self.index > 0 and self.items[self.index - 1].role == "pause"

    def _of_strange(self) -> bool:
        """True where it is a weight of something else: `6 oz of yarn`, `250 g flour`."""
        after = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        if after is not None and after.role == "filler" and after.text == "of":
            after = self.items[self.index + 2] if self.index + 2 < len(self.items) else None
            return after is not None and after.role == "unknown"
        return after is not None and after.role == "unknown" and self.subject is None
