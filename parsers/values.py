"""Which number and which measure belongs to which doing, and what a number means that stands alone."""

from __future__ import annotations

from parsers.doings import SLOT, Doing, takes
from parsers.items import Item
from parsers.lexicon import NUMBER_OF
from parsers.loose_values import LooseValues
from parsers.measures import Measure
from parsers.walk import _FAR

_SHARES = {0.25: "little", 1 / 3: "little", 0.5: "half", 2 / 3: "most", 0.75: "most"}
"""What the dam ate of her bowl, as a fraction, in the contract's words."""
_SMALLEST = 40  # g: what is lighter and stands beside a drug is an amount of it


class Values(LooseValues):
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
        if self.plan and self.open is not None and self.open.at_item < self.plan_at:
            return  # `gruel for everyone, ran out of 10 ml syringes`
        dimension = measure.dimension
        share = self._share_of() if dimension == "volume" else 1.0
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
                if doing.kind == "climate" and "humidity" not in doing.sets and doing.at_item >= self.sentence_start:
                    doing.sets["humidity"] = measure.value
                    self._cover(doing, item)
                    return
        if (
            last is not None
            and last.kind == "dose"
            and (last.at_item >= self.sentence_start or dimension == "dose")
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

    def _unit(self, item: Item) -> None:
        """A unit that stands apart from its number: `one calcium tablet`."""
        last = self.draft.doings[-1] if self.draft.doings else None
        if last is not None and last.kind == "dose" and last.clause == self.clause and last.numbers and "unit" not in last.sets:
            last.sets.update({"amount": last.numbers[0].value, "unit": item.text})
            last.numbers = []
            self._cover(last, item)

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

    def _number(self, item: Item) -> None:
        if self._is_difference() or self._swapped_value(item) or (self.plan and next(self._here(), None) is None):
            return
        number = item.numbers[0]
        then = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        if then is not None and then.text in ("next", "later") and number.value < _SMALLEST:
            return
        if self._humidity_of(item):
            return
        if self._said_before() == "in":  # `weights in 20`
            for doing in self._here():
                doing.planned = True
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
        if opened is not None and opened.at_item < self.sentence_start and self._strange_before():
            return  # `gruel from the pan. gate code 4410`
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
            and (last.at_item >= self.sentence_start or (last.kind != "dose" and last.kept))
            and (last.whos == self.subject)
            and last.kind not in ("toilet", "climate")
        ):
            last.numbers = list(item.numbers)
            last.weak = False
            self._cover(last, item)
            self.last = last
            return
        behind = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        strange = behind is not None and behind.role == "unknown" and self.sentence_start and not self.sentence_subjects
        strange = strange or (behind is not None and behind.role == "unknown" and self._said_before() == "the")
        if strange or (behind is not None and behind.role == "elsewhere"):
            return  # `three blind mice`, behind a sentence of a pup; `28 out there`
        if self.subject is not None and not (self.person is not None and not self.clause_has_subject) and not self.alien:
            self._number_of_subject(item)
            return
        following = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        if following is not None and following.role in ("unknown", "person") and not self._header():
            return
        self.loose.append(item)
        self.loose_numbers.append(item)

    def _strange_before(self) -> bool:
        """True where strange words stand before a figure in its sentence."""
        start = max(self.sentence_start, self.index - _FAR)
        return any(one.role == "unknown" for one in self.items[start : self.index])

    def _clear_open(self, doing: Doing) -> None:
        if doing.kind not in ("fed", "dose", "climate"):
            self.open = None
