"""Measures and numbers that no doing took where they stood: 15 min on the nipple, moss 10 min, 84 in the box."""

from __future__ import annotations

from parsers.doings import SLOT, Doing, takes
from parsers.items import Item
from parsers.lexicon import NUMBER_OF
from parsers.numbers import Number
from parsers.weighing import Weighing

_COOL_F, _HOT_F, _COOL_C, _HOT_C = 60, 113, 15, 45
"""Degrees that a bare number before `in the box` can be (own choice; the hottest is the contract's bound of a climate)."""


class LooseValues(Weighing):
    """Gives what is left to the doing that comes, or makes a doing of it."""

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
                and not (doing.kind == "dose" and any(one.role in ("join", "pause", "stop") for one in self.items[item.place : self.index]))
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
                and (self.last.at_item >= self.sentence_start or self._beside_its_pup(item))
            ):
                kind = "nursed"
            lone = kind is None and item.measure.dimension == "duration" and self._beside_its_pup(item)
            kind = "nursed" if lone else kind
            if kind is None or (self.person is not None and not self.clause_has_subject):
                continue
            if kind == "fed" and self.subject == ("dam",):
                continue
            declined = next((doing for doing in self._here() if doing.kind in ("refused", "sign")), None)
            if kind == "fed" and declined is not None and not (declined.kind == "sign" and declined.at_item > item.place):
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
        quiet = ("for", "about", "a", "only", "just", "at", "and")
        return ends and all(one.role in ("number", "measure", "pause") or one.text in quiet for one in between)

    def _and_number(self, item: Item) -> bool:
        """True for the second of two values: `nursed 10 and 12 minutes`."""
        before, number = self.items[item.place - 1], self.items[item.place - 2]
        return item.place > 1 and before.text in ("and", "&", "/", ",") and number.role in ("number", "measure")

    def _degrees_before(self) -> Item | None:
        """The bare number right before `in the box`, where air can be so warm: `84 in the box`."""
        before = self.items[self.index - 1] if self.index else None
        loose = self.loose_numbers and self.loose and self.loose_numbers[-1] is before and self.loose[-1] is before
        if before is None or not loose or not before.numbers:
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

    def _humidity(self, item: Item) -> None:
        """`humidity 58`: the number behind it is the air's."""
        self.humid = True
        item.role = "small"  # its number is what it tells

    def _too_much(self, doing: Doing, number: Number) -> bool:
        """True where a bare number is far too much for a nursing, so that it is a weight if anything."""
        return doing.kind == "nursed" and number.value > 90 and doing.whos is not None
