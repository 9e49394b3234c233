"""Where a word or a bare number is a pup: 3 nursed, cleared 3 and 4, pooped green, born with a white tail tip."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from parsers.bare_places import JOINS, BarePlaces
from parsers.items import Item
from parsers.lexicon import lexicon
from parsers.measures import unit_at
from parsers.numbers import readings, starts_number
from parsers.pup_numbers import Subject
from parsers.vocabulary import Tag
from parsers.words import Words

_POSSESSIVE = frozenset(("his", "its", "their", "her"))
_LOOKS = frozenset(("look",))
_IS = frozenset(("is", "are", "was", "were", "looks", "look"))
_TAKEN = frozenset(("took", "had", "got", "finished", "downed"))
_GONE = frozenset(("gone", "went", "going", "goes"))
_WASTE = frozenset(("stool", "stools", "poop", "poo", "pee", "urine", "wee", "poops"))
_OF_IT = frozenset(("from", "of", "on", "in", "for", "again", "today", "tonight", "now", "?", "!", "."))
_TOLD = frozenset(("do", "sign", "look", "measure", "number"))
_TO_WHOM = frozenset(("on", "for", "from", "of", "to", "into"))
_ORDER = (
    "except",
    "agenda",
    "do",
    "inspect",
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
    "among",
    "elsewhere",
    "past",
    "person",
    "future_after",
    "thanks",
    "filler",
)

_OWNER_WITHIN = 5  # words from the beginning of a phrase to its owner


class PupPlaces(BarePlaces):
    """Finds the subjects among the words."""

    def _subject(self, at: int, phrase_length: int) -> Item | None:
        word = self.words[at]
        text = word.text
        if text in _POSSESSIVE and not self._object(at):
            return None
        previous = self.items[-1] if self.items else None
        subject = self.names.match(self.words, at, after_doing=self._after_doing())
        if subject is not None and len(subject.whos) > 1 and at and self.words[at - 1].text == "not":
            comma = next((place for place in range(at, at + subject.length) if self.words[place].text == ","), at + subject.length)
            subject = self.names.match(self.words[:comma], at)  # `not red, biscuit nursed`
        if text == "all" and previous is not None and self._all_of_it(previous):
            return None
        if subject is None or subject.length < phrase_length or (subject.length == phrase_length and subject.how in ("rest",)):
            return self._spelled(at) if starts_number(word) and word.kind == "word" else None
        if subject.how == "bare" or (subject.how == "list" and starts_number(word)):
            return self._bare(at, subject)
        if subject.how == "name" and (self._is_look(at, subject) or self._is_mark(at)):
            return None
        return Item("subject", at, subject.length, subject=subject, text=text)

    def _after_doing(self) -> bool:
        """True where what was told stands before a subject: right before, behind `on` or `for`, or before the first subject and a pause."""
        before = self.items[-1] if self.items else None
        if before is None or before.role == "do" or before.text in ("or", "nor"):
            return before is not None
        if before.role in _TOLD:
            return True
        earlier = self.items[-2] if len(self.items) > 1 else None
        if earlier is None or earlier.role not in _TOLD:
            return False
        if before.role == "filler":
            return before.text in _TO_WHOM
        return before.role == "pause" and not any(item.role == "subject" for item in self.items)

    def _all_of_it(self, previous: Item) -> bool:
        """True where `all` is how much, or how thoroughly: `ate all`, `took all 4 ml`, `it's all gone`."""
        if "intake" in previous.kinds() or previous.text in _GONE:
            return True
        return previous.text in _TAKEN or (previous.role == "filler" and previous.text in _IS)

    def _object(self, at: int) -> bool:
        """True where `her` is she herself (`cleared her`) and not the owner of what follows (`her nose`)."""
        if self.words[at].text != "her" or (self.items and self.items[-1].role == "subject"):
            return False
        if at + 1 >= len(self.words):
            return True
        following = self.words[at + 1]
        return (
            following.kind != "word"
            or following.text in JOINS
            or starts_number(following)
            or following.text in ("with", "on", "at", "for", "by", "again", "too", "back", "in", "to", "out")
        )

    def _is_look(self, at: int, subject: Subject) -> bool:
        """True where a mark that is a colour says how the stool or urine looked: `pup 1 pooped green`."""
        phrase = lexicon().longest(self.words, at)
        if phrase is None or not any(tag.role in _LOOKS for tag in phrase[1]):
            return False
        subject = self.names.match(self.words[: at + 1], at) or subject if len(subject.whos) > 1 else subject
        if phrase[0] < subject.length:
            return False
        behind = at + subject.length
        if behind < len(self.words) and (self.words[behind].kind == "number" or self._peed_before(behind)):
            return False  # `both peed green 222`, `peanut peed white peed`
        ends = behind >= len(self.words) or self.words[behind].text in (",", ".", "!", ";", "\n")
        for item in reversed(self.items):
            if item.text in ("from", "of", "on", "for"):
                return False
            if item.role in ("small", "filler", "hedge"):
                continue
            if item.role == "pause" and ends:  # `kiki pooped, brown`
                continue
            if item.role in ("stop", "pause", "join"):
                return False
            if item.role in ("subject", "bare"):
                break
            toilet = item.kinds().get("toilet")
            return item.role == "do" and toilet is not None and bool(toilet.sets)
        if not self.items or self.items[-1].role in ("stop", "join"):
            return self._alone_with_waste(at + subject.length)
        if any(item.role in ("subject", "bare") for item in self.items):
            following = lexicon().longest(self.words, at + subject.length) if at + subject.length < len(self.words) else None
            return (
                following is not None
                and any(tag.role == "do" and tag.name == "toilet" for tag in following[1])
                and self.words[at + subject.length].text in _WASTE
            )
        return False

    def _peed_before(self, at: int) -> bool:
        """True where a pup that peed stands before a colour, and a doing behind it."""
        before = self.items[-1].tag("do") if self.items else None
        return before is not None and dict(before.sets) == {"urine": True} and self._what(at) == "do" and self.words[at].text not in _WASTE

    def _alone_with_waste(self, at: int) -> bool:
        """`green poop` and `green poop from 4` tell of a stool; `green poop, blue pee` lists pups."""
        if at >= len(self.words) or self.words[at].text not in _WASTE:
            return False
        behind = self.words[at + 1].text if at + 1 < len(self.words) else ""
        return at + 1 == len(self.words) or behind in _OF_IT

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

    @cached_property
    def _near_owners(self) -> frozenset[int]:
        """The places from which `pip's`, `on` or `of` stands near enough to be the owner in the middle of a phrase."""
        words = self.words
        if not isinstance(words, Words):
            return frozenset(range(len(words)))
        found: frozenset[int] | None = words.worked_out.get(("near owners", self.names))
        if found is None:
            owners = [
                place
                for place, word in enumerate(words)
                if word.text[-2:] == "'s"
                or (
                    word.text in ("on", "of")
                    and place + 1 < len(words)
                    and (words[place + 1].kind != "word" or self.names.may_start(words[place + 1]))
                )
            ]
            found = frozenset(place for owner in owners for place in range(owner - _OWNER_WITHIN, owner))
            words.worked_out["near owners", self.names] = found
        return found

    def _across(self, at: int, length: int) -> Item | None:
        """A phrase with its owner in the middle: `milk at pip's nose`, `discharge from mum's incision`."""
        for place in range(at + 1, min(at + 1 + _OWNER_WITHIN, len(self.words))):
            on = self.words[place].text in ("on", "of") and place + 1 < len(self.words)
            word = self.words[place]
            apart = place + 1 < len(self.words) and self.words[place + 1].text == "'s"  # a number and its 's are two words
            if not on and not apart and (not word.text.endswith("'s") or word.kind != "word"):
                continue
            subject = self.names.match(self.words, place + on)
            if subject is None or not subject.whos:
                if on:
                    continue
                return None
            behind = place + on + subject.length
            if behind < len(self.words) and self.words[behind].text == "'s":
                behind += 1
            without = [*self.words[at:place], *self.words[behind : behind + 4]]
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
            length = found[0] + behind - place
            return Item(_main_role(found[1]), at, length, tags=found[1], text=self.words[at].text)
        return None


def _main_role(tags: Sequence[Tag]) -> str:
    """The first role of a phrase that has several, by what matters most."""
    if len(tags) == 1:
        role = tags[0].role
        return "filler" if role not in _ORDER else "sign" if role.endswith(" sign") else role
    roles = {tag.role for tag in tags}
    for role in _ORDER:
        if role in roles:
            return "sign" if role.endswith(" sign") else role
    return "filler"
