"""Said with the words of a doing, and none: lost her collar, latch is great, mom ate the poop, the morning feed, calcium not given."""

from __future__ import annotations

from parsers.denials import Denials
from parsers.items import Item
from parsers.vocabulary import Tag

_THINGS = frozenset(("collar", "ribbon", "band", "tag", "bottle", "blanket", "toy", "lungs", "bottom", "plate", "flags", "eyes", "skin"))
_AWAY = frozenset(("from", "under", "off", "behind", "into", "onto", "between", "through"))
"""Behind a word of death these make it a movement: `slipped away from me`."""
_DROPPINGS = frozenset(("poop", "poo", "pee", "stool", "stools", "poops", "urine", "feces", "faeces", "wee"))
_DONE = frozenset(("done", "finished", "complete", "over", "went", "time", "was", "is"))
_ROUNDS = frozenset(("the", "this", "morning", "evening", "night", "midnight", "noon", "lunch", "early", "late", "tonight's", "today's"))
_REMARKS = frozenset(("is", "was", "reflex", "better", "looks", "seems", "weak", "poor", "good", "great", "strong", "still"))


class Lookalikes(Denials):
    """Tells a doing from what only looks like one."""

    def _eaten(self, item: Item) -> bool:
        """`mom ate pup 2's poop`, `mom ate the poop`: she cleans up after them, which is no meal of hers and nobody's new stool."""
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is None or last.kind != "intake" or last.whos != ("dam",) or self._said(item) not in _DROPPINGS:
            return False
        between = self.items[last.at_item + 1 : self.index]
        if any(one.role not in ("subject", "filler", "small") or (one.subject is not None and not self._owns(one)) for one in between):
            return False
        self.draft.doings.remove(last)
        return True

    def _owns(self, item: Item) -> bool:
        return self.words[item.end - 1].text.endswith("'s") or (item.end < len(self.words) and self.words[item.end].text == "'s")

    def _remark(self, item: Item) -> bool:
        """True where a bare noun or adjective says how something is: `latch is great`, `suck reflex good`, `pee clear`."""
        after = self.words[item.end].text if item.end < len(self.words) else ""
        if item.text != "clear":
            return after in _REMARKS
        near = (next((one for one in self._behind() if one.role != "filler"), None), self._peek(1))
        return any(one is not None and "toilet" in one.kinds() for one in near) or after in _THINGS

    def _names_a_round(self, item: Item) -> bool:
        """True for the feed of `2 am feed done, everyone nursed`, `the morning feed`: it names the round and tells of nobody."""
        before = self.items[self.index - 1] if self.index else None
        after = self.words[item.end].text if item.end < len(self.words) else ""
        return after in _DONE or (before is not None and (before.role == "time" or self._said(before).split()[-1] in _ROUNDS))

    def _not_given(self, tag: Tag) -> bool:
        """`calcium not given`, `mom threw up her calcium`: a drug is named that she does not have in her."""
        here = list(self._here())
        if not tag.sets and self.deny is not None and here and here[0].kind == "dose":
            here[0].denied = self._said(self.deny)
            return True
        lost = any(doing.kind in ("refused", "sign") or doing.sets.get("amount") == "none" for doing in here)
        return bool(tag.sets) and lost and not self._number_next() and not any(doing.kind == "dose" for doing in here)

    def _is_death(self, item: Item) -> bool:
        """True where a word of death is one: right behind its pup, or `lost` right before it, with nothing else in the clause."""
        following = self._peek(1)
        if item.end < len(self.words) and self.words[item.end].text in _AWAY:
            return False
        if self._said(item).split()[-1] in ("lost", "go", "of", "to"):
            if following is None or following.role != "subject" or (following.text == "bare" and self._said(item).endswith("lost")):
                return False
            behind = self._peek(2)
            tail = self.words[following.end - 1].text
            thing = tail in _THINGS or any(word.text.endswith("'s") for word in self.words[following.at : following.end])
            return (behind is None or behind.role in ("time", "join")) and not self._owned(following) and not thing
        if self._said(item) == "passed" and (any("toilet" in one.kinds() for one in self._behind()) or following is not None):
            return following is not None and following.role == "time"
        before = self.items[self.index - 1] if self.index else None
        while before is not None and before.role in ("filler", "join", "small") and before.at:
            before = self.items[self._index_of(before) - 1]
        if before is not None and before.text == "bare" and before.role == "subject" and self.words[before.at].kind != "number":
            return False
        if (
            before is None
            or before.role not in ("subject", "time", "do", "measure", "number", "sex", "pause", "colon")
            or (before.role == "subject" and self._owned(before))
        ):
            return False
        if following is None or following.role in ("time", "thanks"):
            return True
        if following.role in ("person", "plan"):
            return self._said(item) != "gone"
        return self._said(item) not in ("passed", "dead", "lost", "is gone", "gone") and following.role != "unknown"
