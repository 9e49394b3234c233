"""Two values told as one: `5 + 5` is their sum; of `10 to 15 min` or `3 or 4 ml` the keeper must say which."""

from __future__ import annotations

from parsers.figures import Figures
from parsers.items import Item
from parsers.measures import Measure, measures
from parsers.numbers import Number, readings, starts_number

_SUMS = frozenset(("+", "plus"))
_OFFERS = frozenset(("or", "to", "-"))
_JOINTS = _SUMS | _OFFERS
_SUMMED = frozenset(("duration", "volume"))
_COUNTED = frozenset(("nursed", "fed"))
_SORTS = {"nursed": "duration", "fed": "volume", "weight": "mass"}
_LONG = 100  # minutes or ml
_WIDEST = 2.5  # times the other value; what lies farther apart is no choice between two values (own choice)


class Offers(Figures):
    """Takes a value together with the one that is joined to it."""

    def _with_other(self, item: Item) -> Item:
        """The item with the values that are joined to it; as it is where they are not one."""
        item = self._run_together(item)
        between = item.at > 0 and self.words[item.at - 1].text == "between"
        while item.end + 1 < len(self.words) and (self.words[item.end].text in _JOINTS or (between and self.words[item.end].text == "and")):
            both = self._both(item) if item.other is None else None
            if both is None:
                return item
            item = both
        return item

    def _run_together(self, item: Item) -> Item:
        """`ten fifteen minutes` is ten or fifteen: no nursing lasts a thousand."""
        measure = item.measure
        if measure is None or measure.dimension not in _SUMMED or measure.value < _LONG or self.words[item.at].kind != "word":
            return item
        first = next((one for one in readings(self.words, item.at) if one.length == 1), None)
        second = next(iter(measures(self.words, item.at + 1)), None)
        if first is None or second is None or not first.value < second.value <= first.value * _WIDEST:
            return item
        return Item(
            "measure",
            item.at,
            item.length,
            measure=measure._replace(value=first.value, number=first.value),
            text=item.text,
            other=second.value,
        )

    def _both(self, item: Item) -> Item | None:
        joint, behind = self.words[item.end], self.words[item.end + 1]
        if not starts_number(behind):
            return None
        second = next((one for one in measures(self.words, item.end + 1) if not one.joined), None)
        if second is None:
            return self._with_number(item) if joint.text != "-" or not (joint.spaced or behind.spaced) else None
        first = item.measure
        if first is None:
            if second.dimension != _SORTS.get(self._last_do(), second.dimension):
                return None  # `nursed 10 + 3 ml`
            number = item.numbers[0].value
            first = second._replace(value=number * (second.value / second.number if second.number else 1.0), number=number)
        return self._one(item, first, second.value, second.length) if first.dimension == second.dimension else None

    def _with_number(self, item: Item) -> Item | None:
        """A second value without a unit has the first one's: `10 min or 15`, `nursed 5 + 5`."""
        number = next((one for one in readings(self.words, item.end + 1) if not (one.tenths or one.joined)), None)
        if number is None:
            return None
        first = item.measure
        if first is None:
            return self._one(item, None, number.value, number.length) if self._alike(item, number) else None
        if self.words[item.end].text == "to" and number.value in self.names.numbers:
            return None  # `3 ml to 4`: whom it was given to
        worth = first.value / first.number if first.number else 1.0
        return self._one(item, first, number.value * worth, number.length)

    def _alike(self, item: Item, second: Number) -> bool:
        """True where two bare numbers can be of one sort: a doing waits for a number, or both are weights beside a pup."""
        if self._last_do() in _COUNTED:
            end = item.end + 1 + second.length
            return not (end < len(self.words) and self._what(end) == "do" and self.words[item.end].text in _SUMS)
        before = self.items[-1] if self.items else None
        weights = self._weighs(item.numbers[0].value) and self._weighs(second.value)
        before = self.items[-2] if before is not None and before.text == "between" and len(self.items) > 1 else before
        wanted = before is not None and (before.role == "subject" or (before.role == "do" and self._wants_number(before)))
        return wanted and (weights or self._warm()) and self.words[item.end].text not in _SUMS

    def _one(self, item: Item, first: Measure | None, second: float, taken: int) -> Item | None:
        joint, length = self.words[item.end].text, item.length + 1 + taken
        value = first.value if first is not None else item.numbers[0].value
        if joint in _SUMS:
            if first is not None and first.dimension not in _SUMMED:
                return None
        elif not value / _WIDEST <= second <= value * _WIDEST or (joint not in ("or", "and") and value >= second):
            return None
        other, told = (None, value + second) if joint in _SUMS else (second, value)
        if first is None:
            number = item.numbers[0]._replace(value=told, length=length)
            return Item("number", item.at, length, numbers=[number], text=item.text, other=other)
        measure = first._replace(value=told, number=first.number * told / (value or 1), length=length)
        return Item("measure", item.at, length, measure=measure, text=item.text, other=other)
