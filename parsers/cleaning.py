"""What was cleaned: changed the bedding, washed pup 3's aspirator, boiled the bulbs and bottles."""

from __future__ import annotations

from parsers.acts import Acts
from parsers.doings import Doing
from parsers.items import Item
from parsers.vocabulary import Tag


class Cleaning(Acts):
    """Makes cleanings of tools, bedding and box."""

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
        if (
            before.role == "subject"
            and self.subject is not None
            and len(self.subject) == 1
            and isinstance(self.subject[0], int)
            and "item" not in doing.sets
        ):
            doing.whos = self.subject
            doing.spans.append((before.at, before.end))
        elif doing.whos is None:
            self._owner(doing)
        if "item" in doing.sets:
            owner = self.subject if before.role == "subject" else None
            second = Doing(
                "cleaned",
                self.clause,
                self.index,
                {"item": part.name},
                planned=doing.planned,
                hedged=doing.hedged,
                denied=doing.denied,
                whos=owner,
            )
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
