"""The items of a message: subjects, doings, measures, numbers, times and small words, in order, each with its words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import islice

from parsers.lexicon import NUMBER_OF, is_alike, lexicon
from parsers.measures import GRAMS_PER_OUNCE, Measure, measures, unit_at
from parsers.numbers import Number, readings, starts_number
from parsers.subjects import Names, Subject
from parsers.times import When, loose
from parsers.times import match as match_time
from parsers.vocabulary import Tag
from parsers.words import Word

Pick = Callable[[int], int]
"""Chooses one of several readings of the same words (0 is the plainest); the reader tries the others in turn."""

_FAR = 16  # items back that a number looks for its doing
_MOST_CUTS = 64  # ways to cut a spoken run of weights that are looked at

_STOPS = frozenset((".", "!", "?", ";", "\n"))
_PAUSES = frozenset((",", "/", "|", "(", ")", "•"))
_JOINS = frozenset(
    ("and", "&", "+", "but", "then", "so", "because", "cause", "though", "although", "while", "plus", "yet", "however", "or", "nor")
)
_SILENT = frozenset(('"', "'", "*", "_", "“", "”", "=", "~", ">", "<", "[", "]", "{", "}", "\\"))
_POSSESSIVE = frozenset(("his", "its", "their", "her"))
_LOOKS = frozenset(("look",))
_PARTS = ("look", "amount", "what", "sex", "item", "drug")


@dataclass(slots=True)
class Item:
    """One item: its role and which words it takes; what else is set depends on the role."""

    role: str
    """subject, bare, do, measure, number, time, stop, pause, join, colon, small, unknown, or a part, sign or talk tag."""
    at: int
    length: int
    tags: list[Tag] = field(default_factory=list)
    subject: Subject | None = None
    measure: Measure | None = None
    numbers: list[Number] = field(default_factory=list)
    when: When | None = None
    text: str = ""
    place: int = 0
    """Its place among the items of the message."""

    def tag(self, role: str) -> Tag | None:
        """Its tag of a role; None where it has none."""
        for tag in self.tags:
            if tag.role == role:
                return tag
        return None

    def kinds(self) -> dict[str, Tag]:
        """Its doings by kind."""
        return {tag.name: tag for tag in self.tags if tag.role == "do"}

    @property
    def end(self) -> int:
        return self.at + self.length


class Scanner:
    """Turns the words of one message into items."""

    def __init__(self, words: Sequence[Word], names: Names, now: datetime, pick: Pick) -> None:
        self.words, self.names, self.now, self.pick = words, names, now, pick
        self.items: list[Item] = []
        self.several_cuts = False
        """True where a spoken run of weights could be cut in other ways than it was."""
        self._tz, self._born = names.card.tz, names.card.born

    def scan(self, start: int = 0, end: int | None = None) -> list[Item]:
        """All items of words[start:end], in order; every word lies in exactly one."""
        words, last = self.words, len(self.words) if end is None else end
        at = start
        while at < last:
            run = self._spoken_run(at)
            if run:
                self.items.extend(run)
                at = run[-1].end
                continue
            item = self._item(at)
            if item.end > last:
                item.length = last - at
            self.items.append(item)
            at = item.end
        return self.items

    def _item(self, at: int) -> Item:
        word = self.words[at]
        text = word.text
        if word.kind == "newline" or (word.kind == "mark" and text in _STOPS):
            return Item("stop", at, 1, text=text)
        if word.kind == "mark" and text not in ("#", "&", "+", "@", "½"):
            if text in _PAUSES or (text == "-" and word.spaced):
                return Item("pause", at, 1, text=text)
            return Item("colon" if text == ":" else "small", at, 1, text=text)
        phrase = self._phrase(at) if word.kind == "word" else None
        if text in _JOINS and (phrase is None or phrase[0] == 1):
            return Item("join", at, 1, text=text)
        length = phrase[0] if phrase else 0
        when = match_time(self.words, at, now=self.now, tz=self._tz, born=self._born)
        if when is not None and text == "at" and self.items and _growls(self.items[-1]):
            when = None
        if when is not None and when.length >= length and not self._weight_after(when, at) and not self._count_after(when, at):
            return Item("time", at, when.length, when=when)
        vague = (
            loose(self.words, at)
            if (word.kind in ("word", "number") and text in _VAGUE_STARTS) or (word.kind == "number" and self._ago_soon(at))
            else 0
        )
        if vague > length:
            return Item("vague", at, vague, text=text)
        if (word.kind == "word" and phrase is not None) or text in _BODY:
            across = self._across(at, length)
            if across is not None:
                return across
        subject = self._subject(at, length)
        if subject is not None:
            return subject
        if text in ("my", "our") and length == 1:
            return Item("person", at, 1, text=text)
        if text == "eight" and self.items and self.items[-1].subject is not None and at + 1 < len(self.words):
            ate = lexicon().longest(self.words, at + 1)
            if ate is not None and any(tag.role == "amount" for tag in ate[1]) and not any(tag.role == "do" for tag in ate[1]):
                return Item("do", at, 1, tags=[Tag("do", "intake")], text="ate")
        if word.kind in ("number", "fraction", "clock") or starts_number(word) or is_alike(text) or text in _MAY_COUNT:
            number = self._number(at, length)
            if number is not None:
                return number
        unit = unit_at(self.words, at) if word.kind == "word" and phrase is None else None
        if unit is not None and unit[0] in ("dose", "volume"):
            return Item("unit", at, unit[3], text=unit[1])
        if phrase is not None:
            return Item(_main_role(phrase[1]), at, length, tags=phrase[1], text=text)
        if word.kind == "clock":
            return self._clock(at)
        return Item("unknown" if word.kind in ("word", "number") else "small", at, 1, text=text)

    def _ago_soon(self, at: int) -> bool:
        return any(word.text in ("ago", "back") for word in self.words[at + 1 : at + 5])

    def _across(self, at: int, length: int) -> Item | None:
        """A phrase with its owner in the middle: `milk at pip's nose`, `discharge from mum's incision`."""
        for place in range(at + 1, min(at + 6, len(self.words))):
            on = self.words[place].text in ("on", "of") and place + 1 < len(self.words)
            if not on and (not self.words[place].text.endswith("'s") or self.words[place].kind != "word"):
                continue
            subject = self.names.match(self.words, place + on)
            if subject is None or not subject.whos:
                if on:
                    continue
                return None
            without = [*self.words[at:place], *self.words[place + on + subject.length : place + on + subject.length + 4]]
            found = lexicon().longest(without, 0)
            if (
                found is None
                or found[0] <= max(length, place - at)
                or not any(tag.role.endswith(" sign") or tag.role == "do" for tag in found[1])
            ):
                if on:
                    continue
                return None
            self.items.append(Item("subject", place + on, subject.length, subject=subject, text=self.words[place + on].text))
            return Item(_main_role(found[1]), at, found[0] + on + subject.length, tags=found[1], text=self.words[at].text)
        return None

    def _phrase(self, at: int) -> tuple[int, list[Tag]] | None:
        """The longest phrase of the lexicon from here; the number of a pup is left out of `lay on pup 4`."""
        found = lexicon().longest(self.words, at)
        if (
            found is not None
            and found[0] == 2
            and self.words[at].text == "no"
            and self.words[at + 1].text == "one"
            and at + 2 < len(self.words)
            and starts_number(self.words[at + 2])
        ):
            return 1, next(tags for length, tags in lexicon().every(self.words, at) if length == 1)
        if (
            found is not None
            and found[0] > 2
            and self.words[at + found[0] - 1].text in ("pup", "puppy")
            and at + found[0] < len(self.words)
        ):
            following = self.words[at + found[0]]
            if following.kind == "number" or starts_number(following):
                shorter = [one for one in lexicon().every(self.words, at) if one[0] < found[0]]
                return shorter[-1] if shorter else None
        return found

    def _count_after(self, when: When, at: int) -> bool:
        """True where `about eight` is how many minutes: a bare hour beside a doing that wants a number, or right behind a subject."""
        if not when.weak or when.length > 2 or self.words[at].kind in ("clock", "number"):
            return False
        last = next((item for item in reversed(self.items) if item.role in ("do", "subject", "number", "measure", "stop", "pause")), None)
        return last is not None and (last.role == "subject" or (last.role == "do" and self._wants_number(last)))

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

    def _weighs(self, value: float) -> bool:
        return 1.5 <= value <= 53 if self.names.card.weights_in == "oz" else 40 <= value <= 1500

    def _run_fits(self, numbers: list[Number]) -> int:
        """How many of the weights are far from their pup's last."""
        worth = GRAMS_PER_OUNCE if self.names.card.weights_in == "oz" else 1.0
        pups = zip(self.names.card.living, numbers, strict=True)
        return sum(bool(pup.last_grams) and abs(number.value * worth / (pup.last_grams or 1) - 1) > 0.25 for pup, number in pups)

    def _weight_after(self, when: When, at: int) -> bool:
        """True where a bare clock or figure is a weight: a unit of weight stands right behind it (`2:31 g`, `at 335 g`)."""
        unit = unit_at(self.words, at + when.length)
        return when.weak and unit is not None and unit[0] in ("mass", "volume", "warmth", "percent", "dose")

    def _subject(self, at: int, phrase_length: int) -> Item | None:
        word = self.words[at]
        text = word.text
        if text in _POSSESSIVE and not self._object(at):
            return None
        previous = self.items[-1] if self.items else None
        subject = self.names.match(
            self.words, at, after_doing=previous is not None and (previous.role == "do" or previous.text in ("or", "nor"))
        )
        if (
            text == "all"
            and previous is not None
            and ("intake" in previous.kinds() or (previous.role == "filler" and previous.text in _IS))
        ):
            return None
        if subject is None or subject.length < phrase_length or (subject.length == phrase_length and subject.how in ("rest",)):
            return self._spelled(at) if starts_number(word) and word.kind == "word" else None
        if subject.how == "bare" or (subject.how == "list" and starts_number(word)):
            return self._bare(at, subject)
        if subject.how == "name" and (self._is_look(at, subject) or self._is_mark(at)):
            return None
        return Item("subject", at, subject.length, subject=subject, text=text)

    def _object(self, at: int) -> bool:
        """True where `her` is she herself (`cleared her`) and not the owner of what follows (`her nose`)."""
        if self.words[at].text != "her" or (self.items and self.items[-1].role == "subject"):
            return False
        if at + 1 >= len(self.words):
            return True
        following = self.words[at + 1]
        return (
            following.kind != "word"
            or following.text in _JOINS
            or starts_number(following)
            or following.text in ("with", "on", "at", "for", "by", "again", "too", "back", "in", "to", "out")
        )

    def _is_look(self, at: int, subject: Subject) -> bool:
        """True where a mark that is a colour says how the stool or urine looked: `pup 1 pooped green`."""
        phrase = lexicon().longest(self.words, at)
        if phrase is None or not any(tag.role in _LOOKS for tag in phrase[1]) or phrase[0] < subject.length:
            return False
        for item in reversed(self.items):
            if item.text in ("from", "of", "on", "for"):
                return False
            if item.role in ("small", "filler", "hedge"):
                continue
            if item.role in ("stop", "pause", "join"):
                return False
            if item.role in ("subject", "bare"):
                break
            return item.role == "do" and "toilet" in item.kinds()
        if any(item.role in ("subject", "bare") for item in self.items):
            following = lexicon().longest(self.words, at + subject.length) if at + subject.length < len(self.words) else None
            return (
                following is not None
                and any(tag.role == "do" and tag.name == "toilet" for tag in following[1])
                and self.words[at + subject.length].text in _WASTE
            )
        return False

    def _is_mark(self, at: int) -> bool:
        """True where a colour behind a birth is the newborn's mark: `born 3:58 boy 204 g white tail tip`."""
        for item in reversed(self.items[-6:]):
            if item.role in ("stop", "pause", "join", "subject"):
                return False
            if item.role == "do":
                phrase = lexicon().longest(self.words, at)
                return "born" in item.kinds() and phrase is not None and any(tag.role == "look" for tag in phrase[1])
        return False

    def _bare(self, at: int, subject: Subject) -> Item | None:
        """A number that stands alone is a pup where its place says so."""
        return (
            Item("subject", at, subject.length, subject=subject, text="bare")
            if self._bare_place(at, at + subject.length, many=len(subject.whos) > 1)
            else None
        )

    def _spelled(self, at: int) -> Item | None:
        """`three nursed fifteen`, `three two twelve`: a spelled number in a pup's place."""
        found = readings(self.words, at)
        options = [one for one in found if one.whole and int(one.value) in self.names.numbers and not one.tenths]
        if not options or (
            at + options[-1].length < len(self.words) and self.words[at + options[-1].length].text in ("hundred", "point", "thousand")
        ):
            return None
        one, longest = options[-1], found[0]
        if longest.length > one.length and not self._weighty(at + one.length) and self._weighty(at):
            return None
        subject = self.names.match_spelled(self.words, at, one)
        if unit_at(self.words, at + longest.length) and longest.length == one.length:
            return None
        if not self._bare_place(at, at + subject.length, many=len(subject.whos) > 1):
            return None
        if self.words[at].text == "one" and subject.length == 1 and self._what(at + 1) not in ("number", "do"):
            return None
        if longest.length > one.length and self.pick(2) == 1:
            return None
        return Item("subject", at, subject.length, subject=subject, text="bare")

    def _weighty(self, at: int) -> bool:
        """True where the number at a place can be the weight of a pup in the litter's unit."""
        if at >= len(self.words):
            return False
        return any(self._weighs(one.value) for one in readings(self.words, at)[:1])

    def _bare_place(self, at: int, end: int, *, many: bool) -> bool:
        words = self.words
        previous = self.items[-1] if self.items else None
        back = previous
        if back is not None and back.role == "filler" and len(self.items) > 1:
            back = self.items[-2]
        if back is not None and back.role == "filler" and back is self.items[0]:
            back = None
        opens = (
            back is None
            or back.role in ("stop", "pause", "join", "colon", "hedge", "if")
            or (back.role == "small" and back.text in ("-", "–"))
        )
        if end < len(words) and words[end].text == "'s":
            end += 1
        follows = words[end] if end < len(words) else None
        if (
            follows is not None
            and follows.text in (":", "=")
            and not (end + 1 < len(words) and words[end + 1].kind == "word" and not opens)
        ):
            return True
        if back is not None and back.role == "do" and not self._wants_number(back) and previous is back:
            return True
        if previous is not None and (previous.role in ("swap", "except") or (previous.text == "no" and previous.role == "deny")):
            before = next((item for item in reversed(self.items) if item.role == "do"), None)
            if previous.role == "except" or before is None or not self._wants_number(before):
                return True
        if back is not None and back.role in ("do", "look", "sign") and not self._wants_number(back):
            if (
                previous is back
                or (previous is not None and previous.text == "at" and _growls(back))
                or (previous is not None and previous.text in ("from", "of", "on", "in", "for", "with"))
            ):
                return True
        if previous is not None and previous.text in _PUT:
            return True
        if (
            opens
            and follows is not None
            and follows.text == ","
            and end + 1 < len(words)
            and words[end + 1].kind == "number"
            and self._weighty(end + 1)
        ):
            return True
        if (
            previous is not None
            and previous.role == "filler"
            and previous.text in ("from", "on", "of")
            and (follows is None or follows.text in (",", ".", ";", "\n"))
        ):
            return True
        if follows is None:
            return False
        following = self._what(end)
        if many and opens and follows is None:
            return True
        if opens and follows is not None and follows.text in ("or", "nor") and not many:
            return True
        if many and (opens or (back is not None and back.role in ("do", "look", "deny"))):
            return following in ("do", "sign", "number", "look", "deny", "over", "hedge", "linking", "place")
        if opens:
            return following in ("do", "sign", "number", "deny", "linking", "place", "look")
        if (
            previous is not None
            and previous.role in ("do", "measure", "number", "time", "sign", "look", "amount")
            and self.words[at].kind == "number"
            and following in ("do", "number")
            and not (previous.role == "do" and self._wants_number(previous))
        ):
            return True
        if back is not None and "weight" in back.kinds() and not many and not self._weighty(at):
            return True
        return bool(
            back is not None
            and back.role == "do"
            and self._wants_number(back)
            and not ("weight" in back.kinds() and self._weighty(at))
            and follows is not None
            and (starts_number(follows) or follows.kind == "number")
        )

    def _wants_number(self, item: Item) -> bool:
        kinds = item.kinds()
        return any(kind in NUMBER_OF for kind in kinds) and not ("cleared" in kinds or "toilet" in kinds or "cleaned" in kinds)

    def _what(self, at: int) -> str:
        """What stands at a place, without making an item of it."""
        word = self.words[at]
        if word.kind in ("number", "fraction") or starts_number(word):
            return "number"
        found = lexicon().longest(self.words, at) if word.kind == "word" else None
        if found is not None and any(tag.role == "do" for tag in found[1]):
            return "do"
        if word.text in _LINKING:
            return (
                "linking"
                if at + 1 < len(self.words) and self._what(at + 1) in ("number", "do", "sign", "deny", "place", "look", "linking", "filler")
                else "unknown"
            )
        if found is None:
            return "pause" if word.kind == "mark" else "unknown"
        roles = {tag.role for tag in found[1]}
        for role in ("do", "deny", "look"):
            if role in roles:
                return role
        if any(role.endswith(" sign") for role in roles):
            return "sign"
        return next(iter(roles))

    def _number(self, at: int, phrase_length: int) -> Item | None:
        words = self.words
        alike = is_alike(words[at].text)
        found = measures(words, at, alike=True) if not (alike and at + 1 >= len(words)) else []
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
        if words[at].kind == "word" and phrase_length > max(one.length for one in numbers):
            return None
        plain_numbers = [one for one in numbers if not one.tenths]
        if not plain_numbers:
            return None
        chosen = numbers[0] if self._warm() else plain_numbers[0]
        if chosen.value == 1 and words[at].text == "one" and not self._wants_one(at):
            return Item("filler", at, 1, text="one")
        after = words[at + chosen.length].text if at + chosen.length < len(words) else ""
        if after in _PUP_WORDS:
            whole = chosen.value == len(self.names.living)
            if whole:
                return Item("subject", at, chosen.length + 1, subject=Subject(self.names.living, chosen.length + 1, "all"), text="all")
            return Item("unknown", at, chosen.length + 1, text=words[at].text)
        if after in _CLOCK_WORDS:
            return Item("unknown", at, chosen.length + 1, text=words[at].text)
        if chosen.tenths and words[at].kind == "number" and self._pup_behind(at, chosen):
            numbers = plain_numbers[-1:]
            chosen = numbers[0]
        if is_alike(after) and not self._warm() and not self._named_after(at + chosen.length):
            longer = [one for one in readings(words, at, alike=True) if one.alike and not one.tenths and one.length > chosen.length]
            if longer and self.pick(2) == 1:
                return Item("number", at, longer[0].length, numbers=longer[:1], text=words[at].text)
        elif is_alike(after) and self._warm():
            warmer = [one for one in readings(words, at, alike=True) if one.alike and one.tenths and one.length > chosen.length]
            if warmer:
                return Item("number", at, warmer[0].length, numbers=warmer[:1], text=words[at].text)
        if chosen.joined and len(plain_numbers) > 1:
            options2 = [plain_numbers[-1], chosen]
            chosen = options2[self.pick(2)]
        if at and words[at - 1].text in ("$", "£", "€"):
            return Item("unknown", at, chosen.length, text=words[at].text)
        tenths = [one for one in numbers if one.tenths]
        return Item("number", at, chosen.length, numbers=[chosen, *tenths], text=words[at].text)

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


_PUP_WORDS = frozenset(("pups", "puppies", "babies"))
_CLOCK_WORDS = frozenset(("am", "pm", "o'clock", "oclock", "th", "st", "nd", "rd", "x"))
_VAGUE_STARTS = frozenset(
    "a few some sometime not recently earlier ages hours minutes several shortly last the in within just right soon any before after by past since until till til up ever yesterday".split()
)
_IS = frozenset(("is", "are", "was", "were", "looks", "look"))
_PUT = frozenset(("put", "moved", "placed", "set", "popped", "tucked", "brought"))
_BODY = frozenset(
    (
        "gums",
        "gum",
        "nose",
        "belly",
        "tummy",
        "eye",
        "eyes",
        "navel",
        "tongue",
        "stomach",
        "discharge",
        "milk",
        "mucus",
        "blood",
        "cut",
        "scratch",
        "pus",
        "goop",
        "gunk",
        "swelling",
        "redness",
        "hole",
        "gap",
    )
)
_MAY_COUNT = frozenset(("half", "quarter", "three", "a", "an", "point"))


def _growls(item: Item) -> bool:
    """True for a sign that she does to a pup: `growling at 4` is no time."""
    tag = item.tag("dam sign")
    return tag is not None and tag.name in ("growling", "mouthing pups hard")


_LINKING = frozenset(
    (
        "up",
        "down",
        "over",
        "'s",
        "seems",
        "looks",
        "feels",
        "keeps",
        "gone",
        "went",
        "felt",
        "seemed",
        "looked",
        "kept",
        "is",
        "was",
        "are",
        "were",
        "at",
        "weighs",
        "'s",
        "has",
        "had",
        "got",
        "did",
        "just",
        "now",
        "only",
        "still",
        "also",
        "both",
        "all",
        "is at",
        "finally",
        "then",
        "been",
        "took",
        "on",
        "in",
        "back",
        "with",
        "to",
        "s",
    )
)
_WASTE = frozenset(("stool", "stools", "poop", "poo", "pee", "urine", "wee", "poops"))
_ORDER = (
    "except",
    "agenda",
    "do",
    "pup sign",
    "dam sign",
    "drug",
    "look",
    "amount",
    "what",
    "item",
    "humidity",
    "sex",
    "deny",
    "swap",
    "plan",
    "if",
    "hedge",
    "over",
    "difference",
    "cry",
    "elsewhere",
    "person",
    "future_after",
    "thanks",
    "filler",
)


def _main_role(tags: Sequence[Tag]) -> str:
    """The first role of a phrase that has several, by what matters most."""
    roles = {tag.role for tag in tags}
    for role in _ORDER:
        if role in roles:
            return "sign" if role.endswith(" sign") else role
    return "filler"
