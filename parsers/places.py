"""The places of the setup's templates, `{pup}`, `{every}`, `{clock}` and the like, and what can fill them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import datetime

from parsers import new_names, setup_words, times
from parsers.edges import closing
from parsers.litter_card import LitterCard
from parsers.measures import measures
from parsers.numbers import readings
from parsers.pup_numbers import Subject
from parsers.subjects import Names
from parsers.templates import Filling
from parsers.vocabulary import load
from parsers.words import Word

_SETUP = load("setup")
_ENDINGS = tuple(_SETUP["drugs"]["endings"])
_EVERY = frozenset(("every", "each", "q"))
_MOST_PUPS = 20
"""Pups in one litter, beyond which a count is no count of pups (the largest litter on record has 24; from memory)."""
_PHONE_DIGITS = range(5, 16)
"""How many digits a telephone number has: 15 at most by the international numbering plan (E.164); 5 for a short local one."""
_PHONE_MARKS = frozenset("-.()+/")


class Places:
    """Fills the places for one message: `end` is where the part that is read ends."""

    def __init__(self, end: int, names: Names, card: LitterCard, now: datetime, *, by: str | None, last_who: int | str | None) -> None:
        self.end, self.names, self.card, self.now, self.by, self.last_who = end, names, card, now, by, last_who
        self._subjects: dict[int, Subject | None] = {}
        self._filled: dict[tuple[str, int], list[Filling]] = {}

    def fillings(self, name: str, words: Sequence[Word], at: int) -> list[Filling]:
        """What can fill a place of this name at a word; each word is looked at once for all templates."""
        found = self._filled.get((name, at))
        if found is None:
            found = self._filled[name, at] = list(_FILLERS[name](self, words, at))
        return found

    def pup(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """One pup, by number, name or mark; `him` is the one named last."""
        if words[at].kind == "number" and words[at].whole:  # a bare number never takes a list with it here
            pup = int(words[at].value or 0)
            if pup in self.names.numbers or (not self.names.numbers and 0 < pup <= _MOST_PUPS):
                yield pup, 1
            return
        found = self.subject(words, at)
        if found is None:
            return
        if found.how == "pronoun" and isinstance(self.last_who, int) and words[at].text in _OBJECTS:
            yield self.last_who, found.length
        elif len(found.whos) == 1 and isinstance(found.whos[0], int):
            yield found.whos[0], found.length

    def subject(self, words: Sequence[Word], at: int) -> Subject | None:
        """The subject at a place, found once for all places that ask."""
        if at not in self._subjects:
            self._subjects[at] = self.names.match(words, at)
        return self._subjects[at]

    def who(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """Pups, or the dam."""
        found = self.subject(words, at)
        if found is not None and found.whos and not found.unknown:
            whos = list(found.whos)
            everyone = found.how == "all" or (len(whos) > 1 and set(whos) == set(self.names.living))
            yield None if everyone else whos[0] if len(whos) == 1 else whos, found.length

    def dam(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        found = self.subject(words, at)
        if found is not None and found.whos == ("dam",):
            yield "dam", found.length

    def dams(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        if words[at].text.endswith("'s"):
            yield from self.dam(words, at)

    def person(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        for person in self.card.people:
            texts = person.lower().split()
            for length in {len(texts), 1}:
                if [word.text for word in words[at : at + length]] == texts[:length]:
                    yield person, length

    def persons(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """`Theo's`, and `theos` as it is typed in haste."""
        for person in self.card.people:
            first = person.lower().split()[0]
            if words[at].text in (f"{first}'s", f"{first}s"):
                yield person, 1

    def me(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        if self.by is not None and words[at].text in _ME:
            yield self.by, 1

    def name(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        return new_names.names(words, at, self.end)

    def newcomer(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        if words[at].text not in _NO_GUEST and not self.names.is_name(words[at].text):
            yield from new_names.names(words, at, self.end)

    def proper(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        return new_names.sure_names(words, at, self.names)

    def damname(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        return new_names.dam_names(words, at, self.names, fresh=not self.card.pups)

    def mark(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        return new_names.marks(words, at, self.end)

    def care(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        found = setup_words.cares().at(words, at + (1 if words[at].text == "the" and at + 1 < self.end else 0))
        if found:
            yield found[0], found[1] + (1 if words[at].text == "the" else 0)

    def what(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """Whose reminders: of a care, or of a drug."""
        for care, length in self.care(words, at):
            yield {"care": _SETUP["care_names"][care]}, length
        if (found := setup_words.table("reminded").at(words, at)) is not None:
            yield {"care": found[0]}, found[1]
        for drug, length in self.drug(words, at):
            yield {"care": "dose", "drug": drug}, length

    def drug(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        skip = 0
        while at + skip + 1 < self.end and skip < 2 and words[at + skip].text in _BEFORE_DRUG:
            skip += 1
        place = at + skip
        for dose in self.card.doses:
            texts = dose.drug.lower().split()
            if [word.text for word in words[place : place + len(texts)]] == texts:
                planned = dose.drug, skip + len(texts)
                break
        else:
            planned = None
        found = setup_words.drugs().at(words, place)
        if found and (planned is None or skip + found[1] > planned[1]):
            yield found[0], skip + found[1]
        elif planned:
            yield planned
        elif len(words[place].text) > _SHORT_DRUG and words[place].text.endswith(_ENDINGS):
            yield words[place].text, skip + 1

    def every(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """How often, in minutes: every 2 hours, hourly, twice a day, q4h."""
        found = setup_words.table("intervals").at(words, at)
        if found:
            yield float(found[0]), found[1]
        if words[at].text in _EVERY and at + 1 < self.end:
            for minutes, length in self._lengths(words, at + 1):
                yield minutes, length + 1

    def _lengths(self, words: Sequence[Word], at: int) -> Iterator[tuple[float, int]]:
        for one in measures(words, at):
            if one.dimension == "duration" and one.unit != "s" and not one.joined and one.value > 0:
                yield one.value, one.length

    def minutes(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """A length of time; a number alone counts minutes."""
        start = at + (1 if words[at].text in _ABOUT and at + 1 < self.end else 0)
        for phrase in _COUPLES:
            if [word.text for word in words[start : start + len(phrase)]] == list(phrase) and start + len(phrase) < self.end:
                worth = _WORTH.get(words[start + len(phrase)].text)
                if worth:
                    yield 2.0 * worth, start - at + len(phrase) + 1
        if start + 2 < self.end and words[start].kind == "number" and words[start + 1].text == "more" and words[start + 2].text in _WORTH:
            yield (words[start].value or 0) * _WORTH[words[start + 2].text], start - at + 3
        found = list(self._lengths(words, start))
        for minutes, length in found:
            yield minutes, start - at + length
        if not found and (words[start].kind == "number" or words[start].kind == "word"):
            for number in readings(words, start):
                if not number.joined and not number.tenths and number.value > 0:
                    yield number.value, start - at + number.length

    def clock(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """A clock time: the next such moment."""
        said = times.clock(words, at)
        if said is not None and said.hour is not None:
            yield times.next_after(said, self.now, self.card.tz), said.length

    def wall(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """A time on the wall, for a watch that comes back every day."""
        said = times.clock(words, at, to=False)
        if said is not None and said.hour is not None:
            yield said, said.length

    def past(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        found = times.match(words, at, now=self.now, tz=self.card.tz, born=None)
        if found is not None and found.at is not None and (found.problem is None or (found.problem == "future" and self._today(found.at))):
            yield found.at, found.length  # told after midnight, `at 9:40 this morning` is taken as said

    def _today(self, at: datetime) -> bool:
        return at.astimezone(self.card.tz).date() == self.now.astimezone(self.card.tz).date()

    def grams(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        for one in measures(words, at):
            if one.dimension == "mass" and not one.joined and one.value > 0:
                yield round(one.value, 2), one.length

    def number(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        for number in readings(words, at):
            if not number.joined and not number.tenths and number.value > 0:
                yield number.value, number.length

    def amount(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """How much of a drug: what the plan here has no room for, so it is left to be kept as it was said."""
        for one in measures(words, at):
            if one.dimension in ("dose", "volume", "mass"):
                yield (at, at + one.length), one.length

    def count(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        for number in readings(words, at):
            if number.whole and not number.joined and not number.tenths and 0 < number.value <= _MOST_PUPS:
                yield int(number.value), number.length

    def volume(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """A volume in ml, of one where no number is said."""
        unit = setup_words.volumes().at(words, at)
        if unit:
            yield float(unit[0]), unit[1]
        for number in readings(words, at):
            unit = setup_words.volumes().at(words, at + number.length)
            if unit and number.value > 0 and not number.tenths:
                yield number.value * float(unit[0]), number.length + unit[1]

    def phone(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """A telephone number, as it was typed."""
        place, said, digits = at, "", 0
        while (
            place < self.end
            and (words[place].kind in ("number", "mark", "clock"))
            and (words[place].text[0].isdigit() or words[place].text in _PHONE_MARKS)
        ):
            word = words[place]
            said += (" " if word.spaced and said else "") + word.text
            digits += sum(letter.isdigit() for letter in word.text)
            place += 1
        while place > at and not words[place - 1].text[-1].isdigit():
            place -= 1
            said = said[:-1].rstrip()
        if digits in _PHONE_DIGITS:
            yield said, place - at

    def breed(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        found = setup_words.breeds().at(words, at)
        if found:
            yield found

    def words(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """A breed that was named as one: what stands to the end of the part."""
        known = list(self.breed(words, at))
        if known and closing(words, at + known[0][1], self.end):
            yield from known
            return
        for length in range(1, 6):
            if at + length > self.end or words[at + length - 1].kind != "word" or (length == 1 and not new_names.may_be_name(words[at])):
                return
            if closing(words, at + length, self.end):
                yield new_names.joined(words[at : at + length]), length
                return

    def delivery(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        found = setup_words.deliveries().at(words, at)
        if found:
            yield found

    def units(self, words: Sequence[Word], at: int) -> Iterable[Filling]:
        """Units: of weight, of warmth, or of both (`ounces and fahrenheit`)."""
        found = setup_words.units().at(words, at)
        if not found:
            return
        unit, length = found
        yield setup_words.UNITS[unit], length
        joint = at + length
        if joint + 1 < self.end and words[joint].text in ("and", "&", "/", ","):
            second = setup_words.units().at(words, joint + 1)
            if second and not setup_words.UNITS[unit].keys() & setup_words.UNITS[second[0]].keys():
                yield setup_words.UNITS[unit] | setup_words.UNITS[second[0]], length + 1 + second[1]


_SHORT_DRUG = 6
_OBJECTS = frozenset(("him", "her", "it", "that one", "this one", "that", "this", "the"))
_ME = frozenset(("me", "i", "i'm", "im", "i'll", "i've"))
_NO_GUEST = frozenset(_SETUP["invite"]["nobody"])
_BEFORE_DRUG = frozenset(("the", "her", "some", "of", "a"))
_ABOUT = frozenset(("about", "around", "another", "roughly", "like"))
_COUPLES = (("a", "couple", "of"), ("a", "couple"), ("couple", "of"), ("couple",))
_WORTH = {"hours": 60.0, "hrs": 60.0, "hour": 60.0, "hr": 60.0, "h": 60.0, "minutes": 1.0, "mins": 1.0, "min": 1.0, "minute": 1.0}
_FILLERS: Mapping[str, Callable[[Places, Sequence[Word], int], Iterable[Filling]]] = {
    each.__name__: each
    for each in (
        Places.pup, Places.who, Places.dam, Places.person, Places.me, Places.name, Places.newcomer, Places.proper, Places.damname,
        Places.mark, Places.care, Places.what, Places.drug, Places.every, Places.minutes, Places.clock, Places.past, Places.grams,
        Places.number, Places.amount, Places.count, Places.volume, Places.phone, Places.breed, Places.words, Places.delivery, Places.units,
    )
} | {
    "person's": Places.persons,
    "dam's": Places.dams,
    "start": Places.wall,
    "end": Places.wall,
    "kin": Places.breed,
    "units_not": Places.units,
}  # fmt: skip
"""Every place by its name, with what fills it."""
