"""A number or a weight beside a pup, alone or in a list: olive 212, 212 pup 3, 213 189 245 g."""

from __future__ import annotations

from itertools import islice

from parsers.differences import Differences
from parsers.doings import SLOT, Doing
from parsers.items import Item
from parsers.measures import GRAMS_PER_OUNCE, Measure
from parsers.numbers import Number
from parsers.pup_numbers import Whos

_NEAR_LAST = 0.25  # of the last weight: what is farther off is no weight (the contract's Plausibility)
_SMALLEST = 40  # g: what is lighter and stands beside a drug is an amount of it


class Weighing(Differences):
    """Gives weights and bare numbers their pups."""

    def _weigh(self, item: Item, measure: Measure) -> None:
        listed = self.subject is None and self._header() and (self.loose_numbers or self._mass_next()) and not self._has_subject_ahead()
        for doing in reversed(self.draft.doings):
            if doing.clause != self.clause or listed:
                break
            if doing.kind in ("weight", "born") and self._needs(doing):
                self._fill(doing, measure)
                self._cover(doing, item)
                return
        if self._of_before():
            return
        if self._of_food():
            return
        strange = self._of_strange()
        if strange and not (self.subject is not None and self.sentence_subjects):
            return
        if self._unit_for_list(item):
            return
        if self.subject is None and (self.loose_numbers or self._header()) and not self._has_subject_ahead():
            self.loose_numbers.append(item)
            return
        doing = Doing("weight", self.clause, self.index)
        self._mark(doing)
        self._fill(doing, measure)
        if strange:
            doing.sets["_of"] = True
        self._cover(doing, item)
        self._begin(doing)
        self.open = None
        self.last = doing

    def _unit_for_list(self, item: Item) -> bool:
        """`213, 189, 245, 174, 230 g`: the unit of the last number holds for the whole list."""
        numbers = [one for one in self.loose_numbers if one.numbers]
        if len(numbers) < 2 or self.subject is not None:
            return False
        self.loose_numbers.append(item)
        return True

    def _mass_next(self) -> bool:
        following = next((one for one in self._ahead() if one.role not in ("pause", "join", "small")), None)
        return following is not None and following.measure is not None and following.measure.dimension == "mass"

    def _header(self) -> bool:
        """True where `weights` opens a list."""
        return any(doing.kind == "weight" for doing in self.waiting)

    def _has_subject_ahead(self) -> bool:
        for item in self._ahead():
            if item.role == "subject":
                return True
            if item.role == "stop" or item.text == "then":
                return False
        return False

    def _number_of_subject(self, item: Item) -> None:
        """A bare number beside a subject: the doing before goes on, or it is a weight (of the dam: a temperature)."""
        number = item.numbers[0]
        apart = self._apart()
        if apart is None or self._of_before():
            return
        last = self.last
        timed = last is not None and last.whos == self.subject and self._another_time(last, item)
        here = not timed and any(doing.whos == self.subject for doing in self._here())
        if (
            not here
            and not apart
            and last is not None
            and (timed or last.whos != self.subject)
            and last.kind in SLOT
            and last.kind not in ("weight", "climate", "born")
            and last.kept
            and not last.denied
            and (last.kind != "dose" or last.whos not in (None, ("dam",)))
            and self._fits(last, number)
            and not (last.at_item < self.sentence_start and (last.kind == "dose" or self._weighs_as_much(number)))
        ):
            self._go_on(last, item)
            return
        if self.subject == ("dam",):
            near = [one for one in islice(self._behind(), 3) if one.place >= self.sentence_start]
            if any(one.tag("what") is not None or one.tag("item") is not None for one in near):
                return
            kind = "dam number"
        else:
            kind = "weight"
        doing = Doing(kind, self.clause, self.index, numbers=list(item.numbers))
        self._mark(doing)
        self._cover(doing, item)
        self._begin(doing)
        self.open = None
        if apart:
            doing.sets["_apart"] = True
        if kind == "weight":
            doing.sets["_beside"] = True
            self.last = doing

    def _weighs_as_much(self, number: Number) -> bool:
        """True where a bare number, behind a sentence of a feed, is near what the pup weighed last: 12.3 of ounces."""
        worth = GRAMS_PER_OUNCE if self.names.card.weights_in == "oz" else 1.0
        pups = [self.names.card.by_number[who] for who in self.subject or () if isinstance(who, int) and who in self.names.numbers]
        return bool(pups) and all(
            pup.last_grams is not None and abs(number.value * worth / pup.last_grams - 1) <= _NEAR_LAST for pup in pups
        )

    def _another_time(self, last: Doing, item: Item) -> bool:
        """True for the second value of `nursed 10 at 1 and 8 at 3`."""
        told = any(place > last.at_item for place, _, _ in self.times)
        following = self.items[item.place + 1] if item.place + 1 < len(self.items) else None
        return told and following is not None and following.role == "time"

    def _apart(self) -> bool | None:
        """True where strange words stand between subject and number: `biscuit held still 270`.

        None where they make the number another's: `Clover's page has 198 likes`.
        """
        after = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        strange = False
        for earlier in self._behind():
            if earlier.role == "subject":
                if not strange:
                    return False
                return None if self._owned(earlier) or (after is not None and after.role in ("unknown", "item")) else True
            if earlier.role in ("stop", "pause", "colon", "swap", "do", "sign", "measure", "number", "look", "time", "amount"):
                return strange
            if earlier.role in ("plan", "if", "person"):
                return None
            if earlier.role == "unknown":
                strange = True
        return strange

    def _fits(self, last: Doing, number: Number) -> bool:
        """True where a bare number can be what the doing before had: minutes, millilitres, degrees."""
        most = {"nursed": 90, "fed": 40, "dose": 40}.get(last.kind, 110)
        least = 30 if last.kind == "temperature" else 0
        if last.kind == "nursed" and not number.whole:
            return False  # nobody tells tenths of a minute
        return least < number.value <= most

    def _go_on(self, last: Doing, item: Item) -> None:
        doing = Doing(
            last.kind,
            self.clause,
            self.index,
            {key: value for key, value in last.sets.items() if key in ("food", "by", "drug", "unit", "with")},
        )
        doing.numbers = list(item.numbers)
        before = next((one for one in self._behind() if one.role == "join"), None)
        if (
            before is not None
            and before.text == "but"
            and last.whos is not None
            and self.subject is not None
            and set(self.subject) < set(last.whos)
        ):
            last.whos = tuple(who for who in last.whos if who not in self.subject)
        self._mark(doing)
        self._cover(doing, item)
        self._begin(doing)
        self.open = None
        self.last = doing

    def _number_before(self, whos: Whos) -> list[Doing]:
        """`212 pup 3`: a number that stands alone before the first subject is its weight."""
        if self.sentence_subjects != 1 or len(self.loose_numbers) != 1 or whos == ("dam",) or self.loose_numbers[0].measure is not None:
            return []
        if self.loose_numbers[0].place < self.sentence_start or not self._right_before(self.loose_numbers[0]):
            return []
        item = self.loose_numbers.pop()
        doing = Doing("weight", self.clause, self._index_of(item), numbers=list(item.numbers))
        doing.sets["_beside"] = True
        self._mark(doing)
        self._cover(doing, item)
        self.draft.doings.append(doing)
        self.open = None
        self.last = doing
        return [doing]

    def _right_before(self, number: Item) -> bool:
        """True where nothing but small words, or a pause behind a weighty number, stands between a number and this subject."""
        between = self.items[self._index_of(number) + 1 : self.index]
        pause = any(item.role in ("pause", "stop") for item in between)
        return all(item.role in ("filler", "small", "pause") for item in between) and (not pause or number.numbers[0].value >= 40)

    def _number_first(self) -> None:
        """`red 10, teal 12, wren 8 minutes nursing`: what the last number is, those before it are too."""
        for doing, then in zip(reversed(self.draft.doings[:-1]), reversed(self.draft.doings[1:]), strict=True):
            lone = doing.kind == "weight" and doing.sets.get("_beside") and doing.numbers and doing.numbers[0].value < _SMALLEST
            if (
                lone
                and then.kind in ("nursed", "fed")
                and doing.whos != then.whos
                and ("minutes" in then.sets or "ml" in then.sets)
                and self.names.card.weights_in == "g"
            ):
                doing.kind = then.kind
                doing.sets = {key: value for key, value in then.sets.items() if key in ("food", "by")}
