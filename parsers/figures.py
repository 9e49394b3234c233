"""Where a word is a number or a measure, in all the ways it can be cut: 2 12 g, to thirty grams, a spoken run of weights."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from parsers.items import Item
from parsers.lexicon import lexicon
from parsers.measures import GRAMS_PER_OUNCE, Measure, measures, unit_at
from parsers.numbers import ALIKE, Number, readings, starts_number
from parsers.pup_places import PupPlaces

_FAR = 16  # items back that a number looks for its doing
_MOST_CUTS = 64  # ways to cut a spoken run of weights that are looked at
_DIGITS_AHEAD = 3  # words of a spoken number in which a sound-alike can stand: `two oh too`
_HOTTEST = 112  # degrees, in either unit: no tenths are meant of more
_GROUPS = frozenset(("pups", "puppies", "babies", "boys", "girls", "males", "females", "of"))
_CLOCK_WORDS = frozenset(
    "am pm o'clock oclock th st nd rd x times feeds feedings rounds attempts tries days day weeks week months month years year yrs "
    "bucks dollars euros quid people kids dogs calls cm mm inch inches feet ft".split()
)
"""Behind a number these make it no value of a pup's."""


class Figures(PupPlaces):
    """Finds numbers and measures among the words."""

    def _number(self, at: int, phrase_length: int) -> Item | None:
        words = self.words
        text = words[at].text
        alike = text in ALIKE
        found = measures(words, at, alike=True) if not (alike and at + 1 >= len(words)) else []
        if found:
            found = [one for one in found if one.length > phrase_length and (one.dimension == "mass" or not one.joined)]
        if alike:
            return self._sounds_like(at, found)
        if found:
            plain = [one for one in found if not one.alike and not one.joined] or found
            rest = [one for one in found if one not in plain and one.dimension == "mass"]
            options = plain[:1] + rest[:2]
            return self._measured(at, options[self.pick(len(options))] if len(options) > 1 else options[0])
        if phrase_length and words[at].kind == "word" and not starts_number(words[at]):
            return None
        numbers = readings(words, at)
        if not numbers:
            return None
        if phrase_length and words[at].kind == "word" and phrase_length > max([one.length for one in numbers]):
            return None
        plain_numbers = [one for one in numbers if not one.tenths]
        if not plain_numbers:
            return None
        chosen = numbers[0]
        if chosen.tenths and (chosen.value >= _HOTTEST or not self._warm()):
            chosen = plain_numbers[0]
        if chosen.value == 1 and text == "one" and not self._wants_one(at):
            return Item("filler", at, 1, text="one")
        after = words[at + chosen.length].text if at + chosen.length < len(words) else ""
        group = self.names.counted(words, at + chosen.length) if after in _GROUPS else None
        if group is not None:
            end = at + chosen.length + group.length
            if chosen.value > len(self.names.numbers):  # `neighbor's dog had 9 pups`
                return Item("past", at, end - at, text=text)
            if chosen.value == len(group.whos) or self._what(end) in ("do", "linking", "sign", "deny"):
                subject = group._replace(length=end - at, counted=int(chosen.value))
                return Item("subject", at, end - at, subject=subject, text="all" if group.how == "all" else after)
            return Item("unknown", at, end - at, text=text)
        then = words[at + chosen.length + 1].text if at + chosen.length + 1 < len(words) else ""
        if after == "a" and then in ("day", "week", "night"):
            return Item("unknown", at, chosen.length + 2, text=text)
        if after in _CLOCK_WORDS:
            return Item("unknown", at, chosen.length + 1, text=text)
        if chosen.tenths and words[at].kind == "number" and self._pup_behind(at, chosen):
            numbers = plain_numbers[-1:]
            chosen = numbers[0]
        ahead = words[at + chosen.length : at + chosen.length + _DIGITS_AHEAD]
        if not ALIKE.isdisjoint([word.text for word in ahead]) and not self._warm() and not self._named_after(at + chosen.length):
            longer = [one for one in readings(words, at, alike=True) if one.alike and not one.tenths and one.length > chosen.length]
            if longer and not self._goes_on_counting(at + longer[0].length) and self.pick(2) == 1:
                return Item("number", at, longer[0].length, numbers=longer[:1], text=text)
        elif after in ALIKE and self._warm() and not self._number_at(at + chosen.length + 1):
            warmer = [one for one in readings(words, at, alike=True) if one.alike and one.tenths and one.length > chosen.length]
            if warmer:
                return Item("number", at, warmer[0].length, numbers=warmer[:1], text=text)
        if chosen.joined and len(plain_numbers) > 1 and self._last_do() in ("nursed", "fed", "dose"):
            chosen = plain_numbers[-1]
        elif chosen.joined and len(plain_numbers) > 1:
            options2 = [plain_numbers[-1], chosen]
            chosen = options2[self.pick(2)]
        if at and words[at - 1].text in ("$", "£", "€"):
            return Item("unknown", at, chosen.length, text=text)
        tenths = [one for one in numbers if one.tenths] if len(numbers) > 1 else []
        return Item("number", at, chosen.length, numbers=[chosen, *tenths], text=text)

    def _number_at(self, at: int) -> bool:
        return at < len(self.words) and starts_number(self.words[at])

    def _goes_on_counting(self, at: int) -> bool:
        """True where a number or a unit follows, so that a sound-alike before it is a word: `10 to 15 min`."""
        return self._number_at(at) or unit_at(self.words, at) is not None

    def _pup_behind(self, at: int, number: Number) -> bool:
        """True where the tenths are the next pup: `3 temp 97 4 temp 95.9`."""
        last = at + number.length - 1
        return self.words[last].value in self.names.numbers and last + 1 < len(self.words) and self._what(last + 1) == "do"

    def _named_after(self, at: int) -> bool:
        """True where `for` is just that: `180 for Tansy`."""
        return self.words[at].text in ("for", "to") and at + 1 < len(self.words) and self.names.match(self.words, at + 1) is not None

    def _sounds_like(self, at: int, found: list[Measure]) -> Item | None:
        """A sound-alike (to, for, won, ate, tree) as a digit: before a unit, or right behind a pup where that makes a number."""
        text = self.words[at].text
        found = [
            one
            for one in found
            if one.dimension == "mass"
            or one.dimension in ("volume", "dose")
            or (text not in ("to", "for", "too") and one.dimension == "duration")
        ]
        if found:
            only = found[0].length == 2 and found[0].dimension != "mass"
            return self._measured(at, found[0]) if only or self.pick(2) == 1 else None
        previous = self.items[-1] if self.items else None
        if previous is not None and previous.role == "subject":
            longer = [one for one in readings(self.words, at, alike=True) if one.length > 1 and one.value >= 40]
            if longer and self.pick(2) == 1:
                return Item("number", at, longer[0].length, numbers=longer[:1], text=text)
        return None

    def _wants_one(self, at: int) -> bool:
        """True where a lone `one` is a number: right behind a doing that wants one."""
        previous = self.items[-1] if self.items else None
        following = lexicon().longest(self.words, at + 1) if at + 1 < len(self.words) else None
        if following is not None and any(tag.role == "drug" for tag in following[1]):
            return True
        return previous is not None and ((previous.role == "do" and self._wants_number(previous)) or previous.role in ("drug", "number"))

    def _last_do(self) -> str:
        """The kind of the doing right before, with nothing but small words between; else nothing."""
        last = next((item for item in reversed(self.items[-3:]) if item.role != "filler"), None)
        return next(iter(last.kinds()), "") if last is not None else ""

    def _warm(self) -> bool:
        """True where the last doing is a temperature, so that `thirty eight four` is 38.4."""
        for item in reversed(self.items[-_FAR:]):
            if item.role == "stop":
                return False
            if item.role == "do":
                return bool({"temperature", "climate"} & item.kinds().keys())
            if item.subject is not None and item.subject.whos == ("dam",):
                return True
        return False

    def _measured(self, at: int, measure: Measure) -> Item:
        return Item("measure", at, measure.length, measure=measure, text=self.words[at].text)

    def _clock(self, at: int) -> Item:
        """`2:31 g` is a weight of 231."""
        value = float(self.words[at].text.replace(":", ""))
        unit = unit_at(self.words, at + 1)
        if unit is None or unit[2] is None:
            return Item("unknown", at, 1, text=self.words[at].text)
        return Item(
            "measure", at, 1 + unit[3], measure=Measure(unit[0], value * unit[2], unit[1], 1 + unit[3], value), text=self.words[at].text
        )

    def _spoken_run(self, at: int) -> list[Item]:
        """`weights two oh five one eighty eight two twelve`: a spoken run cut into as many numbers as there are living pups."""
        if self.words[at].kind != "word" or not starts_number(self.words[at]):
            return []
        count = len(self.names.living)
        header = next((item for item in reversed(self.items[-4:]) if item.role not in ("filler", "colon", "small")), None)
        if header is None or "weight" not in header.kinds() or count < 2:
            return []
        end = at
        while end < len(self.words) and (starts_number(self.words[end]) or self.words[end].text in ("oh", "and")):
            end += 1
        if end - at < 2 * count - 1 or (end < len(self.words) and self.words[end].kind == "mark" and self.words[end].text == ","):
            return []
        cuts = list(islice(self._cut_run(at, end, count), _MOST_CUTS))
        if not cuts:
            return []
        cuts.sort(key=self._run_fits)
        fitting = [cut for cut in cuts if self._run_fits(cut) == 0]
        chosen = cuts[self.pick(max(1, len(fitting)))]
        self.several_cuts = len(cuts) > 1
        items, place = [], at
        for number in chosen:
            items.append(Item("number", place, number.length, numbers=[number], text=self.words[place].text))
            place += number.length
        return items

    def _cut_run(self, at: int, end: int, count: int) -> Iterator[list[Number]]:
        if count == 0:
            if at == end:
                yield []
            return
        if at < end and self.words[at].text == "and":
            at += 1
        if at >= end:
            return
        for number in readings(self.words, at):
            if number.tenths or at + number.length > end or not self._weighs(number.value):
                continue
            for rest in self._cut_run(at + number.length, end, count - 1):
                yield [number, *rest]

    def _run_fits(self, numbers: list[Number]) -> int:
        """How many of the weights are far from their pup's last."""
        worth = GRAMS_PER_OUNCE if self.names.card.weights_in == "oz" else 1.0
        pups = zip(self.names.card.living, numbers, strict=True)
        return sum(bool(pup.last_grams) and abs(number.value * worth / (pup.last_grams or 1) - 1) > 0.25 for pup, number in pups)
