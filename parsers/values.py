"""Which number and which measure belongs to which doing, and what a number means that stands alone."""

from __future__ import annotations

from itertools import islice

from parsers.doings import SLOT, Doing, takes
from parsers.items import Item
from parsers.lexicon import NUMBER_OF
from parsers.measures import Measure
from parsers.numbers import Number
from parsers.pup_numbers import Whos
from parsers.takebacks import Takebacks

_SHARES = {0.25: "little", 1 / 3: "little", 0.5: "half", 2 / 3: "most", 0.75: "most"}
"""What the dam ate of her bowl, as a fraction, in the contract's words."""
_SMALLEST = 40  # g: what is lighter and stands beside a drug is an amount of it

_ABOUT = frozenset(("about", "by", "another", "like", "only", "just", "a", "around", "some"))
_TURNS = frozenset(("up", "down", "over", "under", "off", "short", "out"))
"""Behind a small number these say how much; behind a weight they are of what follows."""
_LEFT = frozenset(("left", "leftover", "remaining", "wasted", "spilled", "spilt"))
_SIDES = frozenset(("side", "teat", "nipple", "breast", "row", "one"))
_WITH_NUMBER = frozenset(("lost", "gained", "put on", "plus", "minus"))
_EARLIER = frozenset("was before time last previously previous earlier yesterday old".split())
"""Before a second weight of the same pup these say that it is the old one."""


_COOL_F, _HOT_F, _COOL_C, _HOT_C = 60, 113, 15, 45
"""Degrees that a bare number before `in the box` can be (own choice; the hottest is the contract's bound of a climate)."""


class Values(Takebacks):
    """Gives numbers and measures their place."""

    def _measure(self, item: Item) -> None:
        measure = item.measure
        assert measure is not None
        if measure.dimension == "percent":
            self.humid = False
        if measure.dimension == "duration" and self._said_before() == "in":
            for doing in self._here():
                doing.planned = True
            return
        if self._is_difference():
            return
        if self._swapped_value(item):
            return
        dimension = measure.dimension
        share = self._share_of(item) if dimension == "volume" else 1.0
        if share != 1.0:
            measure = item.measure = Measure(dimension, measure.value * share, measure.unit, measure.length, measure.number * share)
        opened = self.open
        if opened is not None and opened.kind in ("climate", "temperature") and self._said_before().endswith("from"):
            return
        if opened is not None and opened.kind == "weight" and opened.whos is None and (self._mass_next() or self.loose_numbers):
            opened = None
        pup_weighs = opened is not None and opened.kind == "dose" and measure.value >= _SMALLEST and self._after_pause(item)
        if opened is not None and takes(opened, measure) and self._holds(opened, dimension) and not pup_weighs:
            self._fill(opened, measure)
            self._cover(opened, item)
            self.last = opened
            return
        last = self.draft.doings[-1] if self.draft.doings else None
        if dimension == "percent":
            self.humid = False
            for doing in reversed(self.draft.doings[-2:]):
                if doing.kind == "climate" and "humidity" not in doing.sets:
                    doing.sets["humidity"] = measure.value
                    self._cover(doing, item)
                    return
        if (
            last is not None
            and last.kind == "dose"
            and takes(last, measure)
            and not pup_weighs
            and "amount" not in last.sets
            and last.clause >= self.clause - 1
            and ("drug" in last.sets or dimension == "dose")
        ):
            self._fill(last, measure)
            self._cover(last, item)
            return
        if (
            dimension == "duration"
            and last is not None
            and last.kind == "nursed"
            and "minutes" not in last.sets
            and not last.numbers
            and last.clause >= self.clause - 1
        ):
            self._fill(last, measure)
            self._cover(last, item)
            return
        following = self._peek(1)
        if dimension == "mass" and not (following is not None and following.role == "drug" and measure.value < _SMALLEST):
            self._weigh(item, measure)
            return
        self.loose.append(item)

    def _after_pause(self, item: Item) -> bool:
        """True for a weight in grams behind a comma: `gave calcium, 201 g` is no dose of 201 g."""
        grams = item.measure is not None and item.measure.unit == "g"
        return grams and self.index > 0 and self.items[self.index - 1].role == "pause"

    def _share_of(self, item: Item) -> float:
        """`took half of her 4 ml` is 2 ml; how much `most` was, nobody knows."""
        before = self.items[self.index - 1] if self.index else None
        amount = before.tag("amount") if before is not None else None
        if before is None or amount is None or not self._said(before).endswith(("of", "his", "her", "its", "the", "their", "that")):
            return 1.0
        self.hedge = self.hedge or amount.name in ("most", "little")
        return 0.5 if amount.name == "half" else 1.0

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
        strange = self._of_strange(item)
        if strange and self.subject is None:
            return
        if self._unit_for_list(item, measure):
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

    def _humidity(self, item: Item) -> None:
        """`humidity 58`: the number behind it is the air's."""
        self.humid = True

    def _unit(self, item: Item) -> None:
        """A unit that stands apart from its number: `one calcium tablet`."""
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is not None and last.kind == "dose" and last.clause == self.clause and last.numbers and "unit" not in last.sets:
            last.sets.update({"amount": last.numbers[0].value, "unit": item.text})
            last.numbers = []
            self._cover(last, item)

    def _unit_for_list(self, item: Item, measure: Measure) -> bool:
        """`213, 189, 245, 174, 230 g`: the unit of the last number holds for the whole list."""
        numbers = [one for one in self.loose_numbers if one.numbers]
        if len(numbers) < 2 or self.subject is not None:
            return False
        self.loose_numbers.append(item)
        return True

    def _of_strange(self, item: Item) -> bool:
        """True where it is a weight of something else: `6 oz of yarn`, `250 g flour`."""
        after = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        if after is not None and after.role == "filler" and after.text == "of":
            after = self.items[self.index + 2] if self.index + 2 < len(self.items) else None
            return after is not None and after.role == "unknown"
        return after is not None and after.role == "unknown" and self.subject is None

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
            if item.role == "stop":
                return False
        return False

    def _holds(self, doing: Doing, dimension: str) -> bool:
        if dimension == "percent":
            return "humidity" not in doing.sets
        if doing.kind == "dose" and "drug" not in doing.sets:
            return dimension == "dose"
        if doing.kind == "dose" and dimension == "mass" and "amount" in doing.sets:
            return False
        return self._needs(doing)

    def _fill(self, doing: Doing, measure: Measure) -> None:
        if measure.dimension == "warmth":
            doing.warmth = (measure.number, measure.unit)
        elif measure.dimension == "percent":
            doing.sets["humidity"] = measure.value
        elif doing.kind == "dose":
            doing.sets["amount"] = measure.number
            doing.sets["unit"] = measure.unit
        else:
            doing.sets[SLOT[doing.kind]] = measure.value
            doing.sets["_worth"] = measure.value / measure.number if measure.number else 1.0
        doing.weak = False

    def _is_difference(self) -> bool:
        """True where a number is how much more or less: `lost 3 grams`, `up 14 g`, `9 more`, `4 g up`."""
        item = self.items[self.index]
        before = self.items[self.index - 1] if self.index else None
        if before is not None and before.role == "filler" and before.text in _ABOUT and self.index > 1:
            before = self.items[self.index - 2]
        if (before is not None and before.text == "left") or self._left_over():
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

    def _humidity_of(self, item: Item) -> bool:
        """`box 84/55`: behind the degrees and a slash stands the humidity."""
        last = self.draft.doings[-1] if self.draft.doings else None
        slash = self.items[self.index - 1] if self.index > 1 else None
        if last is None or last.kind != "climate" or slash is None or slash.text != "/" or "humidity" in last.sets:
            return False
        if self.items[self.index - 2].end != last.spans[-1][1] or not (last.numbers or last.warmth):
            return False
        last.sets["humidity"] = item.numbers[0].value
        self._cover(last, item)
        return True

    def _left_over(self) -> bool:
        """`4 ml left in the bottle` was drunk by nobody; `10 min left side` was."""
        after = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        behind = self.words[after.end].text if after is not None and after.end < len(self.words) else ""
        return after is not None and after.text in _LEFT and after.role == "unknown" and behind not in _SIDES

    def _number(self, item: Item) -> None:
        if self._is_difference() or self._swapped_value(item) or (self.plan and next(self._here(), None) is None):
            return
        number = item.numbers[0]
        then = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        if then is not None and then.text in ("next", "later") and number.value < _SMALLEST:
            return
        if self._humidity_of(item):
            return
        share = _SHARES.get(number.value)
        last = self.draft.doings[-1] if self.draft.doings else None
        if share is not None and last is not None and last.kind == "intake" and "amount" not in last.sets:
            last.sets["amount"] = share
            self._cover(last, item)
            return
        if self.humid:
            self.humid = False
            for doing in reversed(self.draft.doings[-2:]):
                if doing.kind == "climate" and "humidity" not in doing.sets:
                    doing.sets["humidity"] = number.value
                    self._cover(doing, item)
                    return
            percent = Measure("percent", number.value, "%", item.length, number.value)
            self.loose.append(Item("measure", item.at, item.length, measure=percent))
            return
        opened = self.open
        if opened is not None and opened.kind in ("climate", "temperature") and self._said_before().endswith("from"):
            return
        if opened is not None and self._needs(opened) and opened.kind in NUMBER_OF and not self._too_much(opened, number):
            opened.numbers = list(item.numbers)
            opened.weak = False
            self._cover(opened, item)
            self.last = opened
            self._clear_open(opened)
            return
        last = self.draft.doings[-1] if self.draft.doings else None
        if (
            last is not None
            and last.kind in NUMBER_OF
            and self._needs(last)
            and last.clause >= self.clause - 1
            and (last.whos == self.subject)
            and last.kind not in ("toilet", "climate")
        ):
            last.numbers = list(item.numbers)
            last.weak = False
            self._cover(last, item)
            self.last = last
            return
        if self.subject is not None and not (self.person is not None and not self.clause_has_subject) and not self.alien:
            self._number_of_subject(item)
            return
        following = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        if following is not None and following.role in ("unknown", "person") and not self._header():
            return
        self.loose.append(item)
        self.loose_numbers.append(item)

    def _too_much(self, doing: Doing, number: Number) -> bool:
        """True where a bare number is far too much for a nursing, so that it is a weight if anything."""
        return doing.kind == "nursed" and number.value > 90 and doing.whos is not None

    def _clear_open(self, doing: Doing) -> None:
        if doing.kind not in ("fed", "dose", "climate"):
            self.open = None

    def _number_of_subject(self, item: Item) -> None:
        """A bare number beside a subject: the doing before goes on, or it is a weight (of the dam: a temperature)."""
        number = item.numbers[0]
        apart = self._apart(item)
        if apart is None or self._of_before():
            return
        here = any(doing.whos == self.subject for doing in self._here())
        last = self.last
        if (
            not here
            and not apart
            and last is not None
            and last.whos != self.subject
            and last.kind in SLOT
            and last.kind not in ("weight", "climate")
            and last.kept
            and not last.denied
            and self._fits(last, number)
        ):
            self._go_on(last, item)
            return
        if self.subject == ("dam",):
            if any(one.tag("what") is not None or one.tag("item") is not None for one in islice(self._behind(), 3)):
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

    def _apart(self, item: Item) -> bool | None:
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
        return least < number.value <= most

    def _said_before(self) -> str:
        before = self.items[self.index - 1] if self.index else None
        return self._said(before) if before is not None else ""

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
        doing.goes_on = True
        self._mark(doing)
        self._cover(doing, item)
        self._begin(doing)
        self.open = None
        self.last = doing

    def _take_loose(self, doing: Doing) -> None:
        """A doing takes the measure that stood before it: `15 min on the nipple`, `4 ml formula`."""
        slot = SLOT.get(doing.kind)
        if slot is None or not self._needs(doing):
            return
        for item in list(self.loose):
            if item.measure is not None and takes(doing, item.measure):
                self._fill(doing, item.measure)
            elif (
                item.role == "number"
                and doing.kind in NUMBER_OF
                and doing.kind not in ("weight",)
                and not self._number_next()
                and not self._too_much(doing, item.numbers[0])
            ):
                doing.numbers = list(item.numbers)
                doing.weak = False
                if item in self.loose_numbers:
                    self.loose_numbers.remove(item)
            else:
                continue
            self._cover(doing, item)
            self.loose.remove(item)
            self.last = doing
            return

    def _flush(self) -> None:
        """At the end of a clause a measure that nothing took makes its own doing: ml is a feed, degrees a temperature."""
        for item in self.loose:
            if item.measure is None:
                continue
            kind = {"volume": "fed", "warmth": "temperature"}.get(item.measure.dimension)
            if (
                item.measure.dimension == "duration"
                and self.last is not None
                and self.last.kind == "nursed"
                and self.subject is not None
                and (self.last.whos != self.subject or self._and_number(item))
            ):
                kind = "nursed"
            lone = kind is None and item.measure.dimension == "duration" and self._beside_its_pup(item)
            kind = "nursed" if lone else kind
            if kind is None or (self.person is not None and not self.clause_has_subject):
                continue
            if kind == "fed" and self.subject == ("dam",):
                continue
            declined = next((doing for doing in self._here() if doing.kind in ("refused", "sign")), None)
            if kind == "fed" and declined is not None:
                self._cover(declined, item)
                continue
            if item.measure.dimension == "warmth" and self._climate_here(item):
                continue
            doing = Doing(kind, self.clause, self.index)
            if self.last is not None and self.last.kind == kind and self.last.whos != self.subject:
                doing.sets.update({key: value for key, value in self.last.sets.items() if key in ("food", "by")})
            self._mark(doing)
            self._fill(doing, item.measure)
            self._cover(doing, item)
            self._begin(doing)
            if lone:
                doing.sets["_lone"] = True
            self.last = doing
        self.loose = []

    def _beside_its_pup(self, item: Item) -> bool:
        """True for minutes that stand with their pups alone in their part: `moss 10 min, pearl 12 min`."""
        if self.subject is None or self.subject == ("dam",) or self.subject_item is None:
            return False
        lead = self.items[self.subject_item.place - 1] if self.subject_item.place else None
        if lead is not None and lead.role not in ("stop", "pause", "join", "measure", "filler", "number", "do", "colon", "time"):
            return False
        between = self.items[self.subject_item.place + 1 : item.place]
        behind = self.items[item.place + 1] if item.place + 1 < len(self.items) else None
        ends = behind is None or behind.role in ("stop", "pause", "join", "subject") or behind.text in ("then", "and", "each", "now")
        return ends and all(one.role == "filler" and one.text in ("for", "about", "a", "only", "just", "at") for one in between)

    def _and_number(self, item: Item) -> bool:
        """True for the second of two values: `nursed 10 and 12 minutes`."""
        before, number = self.items[item.place - 1], self.items[item.place - 2]
        return item.place > 1 and before.text in ("and", "&", "/", ",") and number.role in ("number", "measure")

    def _degrees_before(self) -> Item | None:
        """The bare number right before `in the box`, where air can be so warm: `84 in the box`."""
        before = self.items[self.index - 1] if self.index else None
        if before is None or before not in self.loose_numbers or before not in self.loose or not before.numbers:
            return None
        low, high = (_COOL_F, _HOT_F) if self.names.card.temperatures_in == "F" else (_COOL_C, _HOT_C)
        return before if low <= before.numbers[0].value <= high else None

    def _climate_here(self, item: Item) -> bool:
        for doing in self._here():
            if doing.kind in ("climate", "placed") and doing.warmth is None and doing.whos is None:
                if doing.kind == "placed" and doing.sets.get("place") in ("box", "incubator"):
                    doing.kind = "climate"
                if doing.kind == "climate" and item.measure is not None:
                    doing.warmth = (item.measure.number, item.measure.unit)
                    self._cover(doing, item)
                    return True
        return False

    def _clock(self, item: Item) -> None:
        return

    def _number_before(self, whos: Whos) -> list[Doing]:
        """`212 pup 3`: a number that stands alone before the first subject is its weight."""
        if len(self.subjects) == 1 and len(self.loose_numbers) == 1 and not self._right_before(self.loose_numbers[0]):
            return []
        if len(self.subjects) != 1 or len(self.loose_numbers) != 1 or whos == ("dam",) or self.loose_numbers[0].measure is not None:
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
