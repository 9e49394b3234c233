"""A doing begins, or more is told of one: which kind a phrase is, and whether it goes on with the last."""

from __future__ import annotations

from parsers.doings import Doing
from parsers.items import Item
from parsers.lexicon import DOER
from parsers.lookalikes import Lookalikes
from parsers.pup_numbers import Subject
from parsers.vocabulary import Tag

_PUP_DOERS = frozenset(("pup", "dam"))
_LOOKS = frozenset(("looks", "look", "looked"))
_WHERE = frozenset(("toilet", "nursed", "fed", "sign"))
"""Behind these a place says where it was."""
_LIGHT = frozenset(("had", "got", "took", "given", "gave", "has had", "managed", "lapped"))


_REMARKED = frozenset(("latch", "suck", "suckle", "clear"))


class Acts(Lookalikes):
    """Makes doings of phrases."""

    def _do(self, item: Item) -> None:
        kinds = item.kinds()
        if self.swap is not None and self.draft.doings and not ("cleaned" in kinds or "climate" in kinds):
            self._swapped_doing(kinds)
        if "toilet" in kinds and self._eaten(item):
            return
        if "died" in kinds and not self._is_death(item):
            kinds.pop("died")
            if not kinds:
                then = self._peek(1)
                if item.tag("over") is not None and not (then is not None and then.role == "sign"):
                    self._over(item)
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
            warm = (
                self._number_next()
                or any(loose.measure is not None and loose.measure.dimension in ("warmth", "percent") for loose in self.loose)
                or self._degrees_before() is not None
            )
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
        if item.length == 1 and item.text in _REMARKED and self._remark(item):
            return None
        if self._heads(item) or (tag.name == "weight" and self._lists_weights(item)):
            self.subject, self.subject_item = None, None
        if tag.name == "placed" and self._absorb_place(item, tag):
            return None
        following = self._peek(1)
        if tag.name == "dose" and self._not_given(tag):
            return None
        if item.text in ("bulb", "aspirator") and item.length == 1 and tag.name == "cleared" and not self._at_hand():
            return None
        if (
            tag.name == "intake"
            and not tag.sets
            and following is not None
            and following.role in ("unknown", "item", "subject")
            and following.subject is None
        ):
            return None
        if (
            tag.name == "placed"
            and dict(tag.sets)["place"] == "dam"
            and not self.clause_has_subject
            and next(self._here(), None) is not None
            and self._said(item).split()[0] != "back"
        ):
            dam = Subject(("dam",), item.length, "dam")
            self._subject(Item("subject", item.at, item.length, subject=dam, text=item.text, place=item.place))
            return None
        merged = self._merge(tag, item)
        if merged is not None:
            return merged
        doing = Doing(tag.name, self.clause, self.index, dict(tag.sets), bare=tag.bare)
        doing.weak = (
            tag.name == "fed"
            and bool(tag.sets)
            and (item.length == 1 or (dict(tag.sets).keys() == {"food"} and item.text not in _LIGHT))
            and not item.text.endswith("d")
            and not self._light_verb()
        )
        doing.weak = doing.weak or (tag.bare and item.text == "feed" and self._names_a_round(item))
        doing.short = item.length == 1 and len(item.text) <= 2
        self._mark(doing)
        self._cover(doing, item)
        self._begin(doing)
        self._take_loose(doing)
        return doing

    def _among(self, item: Item) -> None:
        """`mom back with the pups`: it is the pups that lie with her."""
        if self.subject != ("dam",):
            return
        doing = Doing("placed", self.clause, self.index, {"place": "dam"})
        self._mark(doing)
        self._cover(doing, item)
        self._begin(doing)
        doing.whos = self.names.living

    def _lists_weights(self, item: Item) -> bool:
        """True where `weights` heads a list of figures, whoever was named before: `dot seems weak, weights 17.2 19.1 16.1`."""
        if item.text not in ("weights", "wts", "weigh") or self.words[item.end - 1].text not in ("weights", "wts", "ins"):
            return False
        ahead = [one.role for one in self.items[self.index + 1 : self.index + 6] if one.role not in ("pause", "colon", "filler", "stop")]
        return len(ahead) > 1 and all(role in ("number", "measure") for role in ahead[:2])

    def _of_another(self) -> bool:
        """True where whose it is follows: `pee from red and moss, poop from blue`."""
        ahead = self.items[self.index + 1 : self.index + 3]
        return len(ahead) > 1 and ahead[0].text in ("from", "of", "on", "by") and ahead[1].role == "subject"

    def _heads(self, item: Item) -> bool:
        """True for a heading of its own list: `pee: all. poop: 1, 3 and 5`."""
        before = self.items[self.index - 1] if self.index else None
        ahead = [one.role for one in self.items[self.index + 1 : self.index + 3]]
        return ahead == ["colon", "subject"] and (before is None or before.role in ("stop", "pause", "join") or before.text == "then")

    def _at_hand(self) -> bool:
        """True where a tool's bare name is the act: a pup stands right beside it, or it was just cleared (`cleared with bulb`)."""
        if any(doing.kind in ("cleared", "sign") for doing in self._here()):
            return True
        before = next((one for one in self._behind() if one.role != "filler"), None)
        after = self._peek(1)
        return (before is not None and before.role == "subject") or (after is not None and after.role == "subject")

    def _light_verb(self) -> bool:
        """True where `had`, `got`, `took` or the like stands before a food in this clause."""
        for item in self._behind():
            if item.role in ("stop", "pause", "subject", "number"):
                return False
            if item.text in _LIGHT or "intake" in item.kinds() or ("dose" in item.kinds() and item.tag("drug") is None):
                return True
        return False

    def _begin(self, doing: Doing) -> None:
        self.draft.doings.append(doing)
        self.open, doing.sentence = doing, self.sentence_start
        if self.subject is None and self.either:
            doing.sets["_someone"] = True
        elif self.subject is None:
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
        doing.planned = doing.planned or self._of_something_else(doing)
        previous = self.items[self.index - 1] if self.index else None
        following = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        owner = previous is not None and (previous.text == "'s" or (previous.role == "subject" and previous.text.endswith("'s")))
        if owner and (doing.bare or (following is not None and following.role in ("unknown", "plan") and following.text not in _LOOKS)):
            doing.planned = doing.planned or doing.kind != "sign"

    def _absorb_place(self, item: Item, tag: Tag) -> bool:
        """`nursed 15 with mom` is where it nursed, no new place."""
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is not None and last.kind == "cleaned" and last.clause == self.clause and not self.clause_has_subject:
            self._cover(last, item)
            return True
        where = last is not None and last.clause == self.clause and last.kind in _WHERE and self._said(item).split()[0] == "in"
        if last is not None and where and not any(one.role == "join" for one in self.items[last.at_item : self.index]):
            self._cover(last, item)  # `pooped in the box`
            return True
        if dict(tag.sets).get("place") != "dam" or self._said(item).split()[0] in ("back", "put", "placed", "moved", "set"):
            return False
        if any(loose.measure is not None and loose.measure.dimension == "duration" for loose in self.loose) or self._duration_next():
            self._add(Tag("do", "nursed"), item)
            return True
        if (
            last is not None
            and last.clause == self.clause
            and last.kind in ("nursed", "fed")
            and not any(i.role == "join" for i in self.items[last.at_item : self.index])
        ):
            self._cover(last, item)
            return True
        if last is not None and last.clause == self.clause and last.kind == "dose" and last.whos is None:
            last.whos = ("dam",)
            self.waiting = [doing for doing in self.waiting if doing is not last]
            self._cover(last, item)
            return True
        return False

    def _duration_next(self) -> bool:
        following = self._peek(1)
        return following is not None and following.measure is not None and following.measure.dimension == "duration"

    def _merge(self, tag: Tag, item: Item) -> Doing | None:
        """Take a word as more about a doing of the same kind that this clause has already: `fed 4 ml formula by tube`."""
        if tag.name == "toilet" and self._of_another():
            return None
        for doing in reversed(self.draft.doings):
            if "_lone" in doing.sets and tag.name == "nursed" and doing.whos == self.subject and not self._number_next():
                del doing.sets["_lone"]  # `red 12 minutes, nursing`
                self._cover(doing, item)
                return doing
            same = doing.clause == self.clause or (tag.name == "toilet" and doing.whos == self.subject and self.subject is not None)
            if not same and not (
                doing.whos is not None
                and doing.whos == self.subject
                and tag.name in ("fed", "nursed", "cleared", "refused", "dose", "weight")
                and doing.kind == tag.name
            ):
                break
            if (
                doing.kind == "refused"
                and tag.name in ("fed", "nursed")
                and doing.clause == self.clause
                and "fed" not in self._said(item)
                and not self._number_next()
            ):
                self._cover(doing, item)
                return doing
            if doing.kind != tag.name or doing.kind not in (
                "fed",
                "nursed",
                "cleared",
                "toilet",
                "temperature",
                "weight",
                "born",
                "died",
                "intake",
                "dose",
                "refused",
            ):
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
            if (
                tag.name in ("nursed", "weight", "temperature")
                and not self._needs(doing)
                and (self._number_next() or (not tag.bare and doing.clause != self.clause))
            ):
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
