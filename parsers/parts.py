"""The kinds that are told in their own way: signs, looks, what she ate, drugs, air, visitors, marks."""

from __future__ import annotations

from itertools import islice

from parsers.cleaning import Cleaning
from parsers.doings import Doing
from parsers.items import Item
from parsers.reach import _NONE_OF_THEM
from parsers.vocabulary import Tag
from parsers.words import Word

_OF_TIMES = frozenset(("last", "next", "previous", "latest", "another", "more"))
_MOST_VISITORS = 3  # names in a row
_LOOKED_FOR = frozenset(("for", "from", "whether", "if"))


class Parts(Cleaning):
    """Fills what belongs to one kind alone."""

    def _sign(self, item: Item) -> None:
        if self.person is not None and not self.clause_has_subject:
            return
        pup, dam = item.tag("pup sign"), item.tag("dam sign")
        looked_for = self.inspect and any(before.text in _LOOKED_FOR for before in islice(self._behind(), 4))
        if looked_for or self._not_of_it():
            return
        following = self._peek(1)
        if (
            item.text == "aspirated"
            and item.length == 1
            and following is not None
            and following.subject is not None
            and following.subject.whos != ("dam",)
        ):
            self._add(Tag("do", "cleared"), item)
            return
        if (
            dam is not None
            and dam.name == "lay on pup"
            and not any(word.text.startswith(("pup", "bab", "them")) for word in self.words[item.at : item.end])
        ):
            if following is None or following.role != "subject":
                return
            self.object = following
        elif (
            dam is not None
            and dam.name in ("growling", "mouthing pups hard")
            and following is not None
            and following.role == "subject"
            and following.subject
            and following.subject.whos != ("dam",)
            and self.subject in (None, ("dam",))
        ):
            self.object = following
        if self.swap is not None and self.draft.doings and self.draft.doings[-1].kind == "sign":
            self.draft.doings.pop()
            self.swap = None
        many = [tag for tag in item.tags if tag.role == "dam sign"]
        for one in many if len(many) > 1 else [dam]:
            doing = Doing("sign", self.clause, self.index)
            doing.sets = {"_pup": pup.name if pup else None, "_dam": one.name if one else None}
            self._mark(doing)
            self._cover(doing, item)
            self._begin(doing)
            if one is not None and one.name.startswith("incision") and not self.clause_has_subject and doing.whos is not None:
                doing.whos = ("dam",)  # `red 245. incision oozing`

    def _not_of_it(self) -> bool:
        """True where the sign is of a thing of the pup's, or is done with: `pearl's bottle is cold`, `mom's done panting`."""
        for before in islice(self._behind(), 4):
            if before.text in ("done", "finished") and before.role in ("filler", "unknown"):
                return True
            if before.text == "gone":
                return False
            if before.role == "do" or before.tag("item") is not None:
                near = [one for one in islice(self._behind(), 6) if one.place >= self.sentence_start]
                owner = next((one for one in near if one.role == "subject"), None)
                if owner is None:
                    return "climate" in before.kinds()
                return self.words[owner.end - 1].text.endswith("'s") and owner.end == before.at
            if before.role not in ("filler", "small", "amount"):
                return False
        return False

    def _inspect(self, item: Item) -> None:
        """`checked pearl for cleft`, `watch button for gasping`: looked for, not seen."""
        self.inspect = True

    def _look(self, item: Item) -> None:
        look = item.tag("look")
        assert look is not None
        if self.deny is not None or self.plan or self.condition:
            return
        following, then = self._peek(1), self._peek(2)
        named_next = following is not None and following.role == "subject" and then is not None and "toilet" in then.kinds()
        ahead = named_next or (following is not None and "toilet" in following.kinds())
        for doing in reversed(self.draft.doings[-3:]):
            if ahead and doing.clause != self.clause:
                break  # `stimulated pearl. normal poop from 4`
            if (
                doing.kind == "toilet"
                and (doing.whos == self.subject or self.subject is None)
                and doing.sets.get("look") in (None, "normal")
                and not doing.denied
            ):
                doing.sets["look"] = look.name
                if "stool" not in doing.sets and "urine" not in doing.sets:
                    doing.sets["stool"] = True
                self._cover(doing, item)
                return
            if doing.kind == "born" and doing.clause >= self.clause - 1:
                return
        if ahead:
            self._add(Tag("do", "toilet", (("look", look.name),)), item)

    def _amount(self, item: Item) -> None:
        tag = item.tag("amount")
        assert tag is not None
        following = self._peek(1)
        if self._said(item) in _NONE_OF_THEM and following is not None and following.role in ("do", "subject"):
            self._deny(item)
            return
        rather = self.swap is not None or self._said_before() in ("well", "more like")
        for doing in reversed(self.draft.doings[-2:]):
            if doing.kind == "intake" and doing.at_item >= self.sentence_start and ("amount" not in doing.sets or rather):
                doing.sets["amount"] = tag.name
                self._cover(doing, item)
                self.swap = None
                return
        following = self._peek(1)
        if (
            self.subject == ("dam",)
            and self._light_verb()
            and (following is None or following.role in ("what", "join", "unknown"))
            and next(self._here(), None) is None
        ):
            doing = Doing("intake", self.clause, self.index, {"what": "food", "amount": tag.name})
            self._mark(doing)
            self._cover(doing, item)
            self._begin(doing)

    def _what(self, item: Item) -> None:
        for doing in reversed(self.draft.doings[-2:]):
            if doing.kind == "intake" and doing.clause == self.clause:
                doing.sets.setdefault("what", item.tags[0].name)
                self._cover(doing, item)
                return
            if doing.kind == "refused" and doing.clause == self.clause:
                self._cover(doing, item)
                return

    def _sex(self, item: Item) -> None:
        tag = item.tag("sex")
        for doing in reversed(self.draft.doings[-2:]):
            if doing.kind == "born" and tag is not None and "sex" not in doing.sets:
                doing.sets["sex"] = tag.name
                self._cover(doing, item)
                return

    def _drug(self, item: Item) -> None:
        tag = item.tag("drug")
        assert tag is not None
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is not None and last.kind == "dose" and "drug" not in last.sets and last.clause >= self.clause - 1:
            last.sets["drug"] = tag.name
            self._cover(last, item)
            self._dams_drug(last)
            self.open = last
            self._take_loose(last)
            return
        if (
            last is not None
            and last.kind == "fed"
            and last.clause == self.clause
            and set(last.sets) <= {"ml", "_worth"}
            and last.at_item == self.index - 1
        ):
            last.kind, amount = "dose", last.sets.pop("ml", None)
            last.sets.update({"drug": tag.name, "amount": amount, "unit": "ml"})
            self._cover(last, item)
            self.open = last
            return
        before = self.words[item.at - 1].text if item.at else ""
        after = self.words[item.end].text if item.end < len(self.words) else ""
        if before in _OF_TIMES or after == "next":  # `last calcium` asks, or speaks of an earlier one
            return
        dose = self._add(Tag("do", "dose", (("drug", tag.name),)), item)
        if dose is not None:
            self._dams_drug(dose)

    def _is_drug(self, item: Item) -> bool:
        """A drug that no list knows: `gave mom 2 ml of ...`, `gave lactulose 5 ml`; it is kept under the word that was said."""
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is None or last.kind != "dose" or "drug" in last.sets or last.clause < self.clause - 1:
            return False
        following = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        dosed = following is not None and following.measure is not None and following.measure.dimension in ("volume", "dose")
        measured = self.clause_has_subject and ((self.loose and self.loose[-1].measure is not None) or "amount" in last.sets)
        if not (dosed or measured):
            return False
        if item.text == "milk":  # `gave pearl 4 ml of milk`
            last.kind, last.sets = "fed", {}
        else:
            last.sets["drug"] = item.text
        self._cover(last, item)
        self._take_loose(last)
        return True

    def _colon(self, item: Item) -> None:
        """`Evening weigh: red 235; ...`: a heading is no doing."""
        opened = self.open
        if opened is not None and opened.kind == "weight" and opened.bare and opened.whos is None and self._needs(opened):
            self.draft.doings.remove(opened)
            self.waiting = [doing for doing in self.waiting if doing is not opened]
            self.open = None
            self.alien = False

    def _climate(self, item: Item, tag: Tag) -> None:
        if self.subject is not None and self._said(item).split()[0] in ("in", "inside") and not self._number_next() and not self.loose:
            self._add(Tag("do", "placed", tag.sets), item) if dict(tag.sets)["place"] != "room" else None
            return
        doing = Doing("climate", self.clause, self.index, dict(tag.sets))
        self._mark(doing)
        self._cover(doing, item)
        self.draft.doings.append(doing)
        self.open = doing
        for loose in list(self.loose):
            if loose.measure is not None and loose.measure.dimension in ("warmth", "percent"):
                self._fill(doing, loose.measure)
                self._cover(doing, loose)
                self.loose.remove(loose)
        degrees = self._degrees_before()
        if degrees is not None:
            doing.numbers = list(degrees.numbers)
            self._cover(doing, degrees)
            self.loose.remove(degrees)
            self.loose_numbers.remove(degrees)
        if self.alien:
            doing.planned = True

    def _visitor(self, item: Item) -> None:
        """The names stand right before `came by`, or right behind `visit from`: each is a visitor, `Marta and Pete visited`."""
        after = self._said(item).startswith(("visit from", "visitor", "visited by", "a visit", "had a visit"))
        place = item.end if after else item.at
        if after and place < len(self.words) and self.words[place].text == ":":
            place += 1
        last = self.draft.doings[-1] if self.draft.doings else None
        if (
            last is not None
            and last.kind == "visitor"
            and any(one.role in ("swap", "deny") for one in self.items[last.at_item : self.index])
        ):
            self.draft.doings.pop()
            self.taken_back.extend(last.spans)
        for _ in range(_MOST_VISITORS):
            found = self._visitors_name(place, after=after)
            if not found:
                return
            start, end = (place, place + len(found)) if after else (place - len(found), place)
            doing = Doing("visitor", self.clause, self.index, {"_name": (found[0].start, found[-1].end)})
            self._mark(doing)
            self._cover(doing, item)
            doing.spans.append((start, end))
            self.draft.doings.append(doing)
            self.alien = False
            joint = end if after else start - 1
            if not 0 <= joint < len(self.words) or self.words[joint].text not in ("and", "&") or not found[0].capital:
                return
            place = joint + 1 if after else joint
            beside = place if after else place - 1
            if not 0 <= beside < len(self.words) or not self.words[beside].capital:
                return

    def _visitors_name(self, place: int, *, after: bool) -> list[Word]:
        """The words of a name that begins at a place, or ends before it."""
        found: list[Word] = []
        while 0 <= (place if after else place - 1) < len(self.words) and len(found) < 3:
            word = self.words[place if after else place - 1]
            if word.kind != "word" or word.text in ("and", "today", "just", "has", "at", "to", "washed", "who", "again", "also"):
                break
            if not word.capital and found and any(one.capital for one in found):
                break
            found.append(word)
            place += 1 if after else -1
        return found if after else found[::-1]

    def _marks(self) -> None:
        """What stands behind a birth and is nothing else is the pup's mark: `born 9:52 girl 198 g white chest`."""
        for doing in self.draft.doings:
            if doing.kind != "born" or not doing.kept:
                continue
            run: list[Item] = []
            for item in self.items[doing.at_item + 1 :]:
                if item.role in ("unknown", "look") or (run and item.role in ("item", "filler", "small") and item.text not in ("and", ".")):
                    run.append(item)
                elif item.role in ("stop", "join") or (item.role in ("subject", "do", "sign") and run) or run:
                    break
            while run and run[-1].role in ("filler", "small"):
                run.pop()
            if run and len(run) <= 5:
                doing.sets["mark"] = " ".join(self.words[place].text for place in range(run[0].at, run[-1].end))
                doing.spans.append((run[0].at, run[-1].end))
