"""How a question sees the words of a message: pups, people, doings, drugs, states, spans and numbers; small noise is set aside."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache, partial
from typing import Any, NamedTuple

from parsers.litter_card import LitterCard
from parsers.numbers import SPOKEN, readings, starts_number
from parsers.phrasings import END, begins, parsed
from parsers.pup_numbers import Subject
from parsers.subjects import Names
from parsers.vocabulary import BETWEEN, Phrases, Tag, load
from parsers.words import Word

_DATA = load("asking")
_SAME: dict[str, list[str]] = {short: long.split() for short, long in _DATA["same"].items()}
_KNOWN = frozenset(_DATA["words"]["known"])
_TIME_BEFORE = frozenset(("since", "in", "over", "within", "past", "last", "for", "during"))
_CLOCK_BEFORE = frozenset(("since", "at", "before", "after", "around", "until", "till", "by"))
_TIME_UNITS = frozenset("h hr hrs hour hours m min mins minute minutes day days am pm o'clock".split())
_DROPPED = frozenset(("noise", "span", "time"))
_IT = frozenset(("it", "its", "it's", "that_one"))
_ONE_AFTER = frozenset("which next that this any last each every no the little other what".split())
_HOURS = 24  # a bare number after `since`, `at`, `before` is an hour of the day up to here


class Token(NamedTuple):
    """One word or phrase as a question sees it: `tags` say what it may be, `start:end` are its places among the words."""

    text: str
    tags: frozenset[str]
    start: int
    end: int
    subject: Subject | None = None
    names: tuple[tuple[str, str], ...] = ()
    """(role, name) of what it tells: ("do", "nursed"), ("drug", "calcium"), ("span", "today")."""

    @property
    def dropped(self) -> bool:
        """True for what says nothing of the topic: small noise, a span, a time."""
        return self.tags <= _DROPPED

    def encoded(self) -> str:
        """The token as the patterns see it."""
        return self.text + _encoded(self.tags)

    def said(self, role: str) -> str | None:
        """The name of what it tells in this role."""
        return next((name for known, name in self.names if known == role), None)


@cache
def _encoded(tags: frozenset[str]) -> str:
    """What follows a token's word; an auxiliary's tags stand last: no question ends on one."""
    return f"~{'~'.join(sorted(tags, key=lambda tag: (tag in _AUX_ROLES, tag)))}~ "


@cache
def _phrases() -> Phrases:
    phrases = Phrases()
    for role, says in _DATA["groups"].items():
        phrases.add(says, Tag(role, role))
    for span, says in _DATA["span"].items():
        phrases.add(says, Tag("span", span))
    for kind, says in _DATA["doings"].items():
        phrases.add(says, Tag("do", kind))
    phrases.add(_DATA["drugs"]["any"], Tag("do", "dose"))
    for drug in _DATA["drugs"]["says"]:
        phrases.add([drug], Tag("drug", drug))
    for of in ("pup", "dam"):
        for name, says in load("signs")[of].items():
            phrases.add(says, Tag("state", name))
            phrases.add(says, Tag("sign", name))
    return phrases


def vocabulary_words() -> frozenset[str]:
    """Every word that the groups, doings, spans and drugs know."""
    return frozenset(_phrases().known) | _KNOWN


@cache
def _units() -> dict[str, str]:
    """The first words of the units of measure, and what each measures."""
    return {word: unit["dimension"] for unit in load("measures")["units"] for phrase in unit["says"] for word in phrase.split()[:1]}


def tokens(words: Sequence[Word], start: int, end: int, names: Names, card: LitterCard) -> list[Token]:
    """The words of a stretch as tokens, noise among them."""
    drugs = frozenset([dose.drug.lower() for dose in card.doses])
    whole = _MORE | drugs | names.people if drugs or names.people else _MORE
    typed, words = words, _plainly(words, start, end, names)
    paths = _phrases().paths
    found: list[Token] = []
    place = start
    while place < end:
        word = words[place]
        text = word.text
        token: Token | None = None
        if word.kind == "mark" or word.kind == "newline":
            if text != "#":
                found.append(_made(("?" if text == "?" else "_", _MARKS.get(text, _MARK), place, place + 1, None, ())))
                place += 1
                continue
        elif word.kind == "word" and text not in whole and not (text[-2:] == "'s" and text[:-2] in whole) and not names.may_start(word):
            token = _single(words, place, end, paths.get(text))
        if token is None and (text in _MAY_TIME or word.kind in _TIMED):
            token = _time(words, place, end)
        token = token or _token(words, place, end, names, drugs)
        found.append(token)
        place = token.end
        if (same := _SAME.get(typed[place - 1].text)) is not None:
            found.extend([_retagged(text, place - 1) for text in same[1:]])
    return found


def _plainly(words: Sequence[Word], start: int, end: int, names: Names) -> Sequence[Word]:
    """The words, those of the stretch without what was left out or drawn together in them; the same where that is none."""
    plain: list[Word] | None = None
    for place in range(start, end):
        text = words[place].text
        if (text[-1] == "s" or text in _SAME) and (word := _plain(words[place], names)) is not words[place]:
            plain = plain or list(words)
            plain[place] = word
    return plain or words


_made = partial(tuple.__new__, Token)
"""A token of all its fields at once: nothing is made as often."""
_MARKS = {"?": frozenset(("asks",)), "&": frozenset(("conj",)), "+": frozenset(("conj",))}
_MARK = frozenset(("mark",))


def _single(words: Sequence[Word], at: int, end: int, node: Any) -> Token | None:
    """The token of a word that is no part of a longer phrase; None where it may be. `node` is what the phrases have of it."""
    text = words[at].text
    said: tuple[tuple[str, str], ...] = ()
    leaf = None
    if node is not None:
        if isinstance(node, list):
            return None
        leaf = node.get(END)
        if text in _AUX_WORDS:
            if leaf is None:
                return None
        elif at + 1 < end:
            after = words[at + 1].text
            if after in node or (after in BETWEEN and text in _sign_words()):
                return None
    if leaf is None:
        tags = _AS_KNOWN if text in _KNOWN else _AS_UNKNOWN
    else:
        tags, said = _told_by(text, leaf)
    return _made((text, tags, at, at + 1, None, said))


@cache
def _sign_words() -> frozenset[str]:
    """The first words of signs, between whose words small ones may stand."""
    says = [*_DATA["groups"]["sign"], *(each for of in ("pup", "dam") for says in load("signs")[of].values() for each in says)]
    return frozenset(first for each in says for first in begins(parsed(each))[0])


_AS_KNOWN, _AS_UNKNOWN = frozenset(("known",)), frozenset(("unknown",))
_MAY_TIME, _TIMED = _TIME_BEFORE | _CLOCK_BEFORE, frozenset(("clock", "number"))
_MORE = _MAY_TIME | SPOKEN
"""Words that are no phrase of the questions, and still may begin a token of more than themselves."""


def _plain(word: Word, names: Names) -> Word:
    """The word without what its writer left out or drew together: `who's` (who is), `pips gain` (pip's)."""
    text = word.text
    if text in _SAME:
        return Word(_SAME[text][0], word.kind, word.start, word.end, word.spaced)
    if (
        len(text) > 3
        and text[-1] == "s"
        and word.kind == "word"
        and not names.is_name(text)
        and (names.is_name(text[:-1]) or text[:-1] in _DAM)
    ):
        return Word(f"{text[:-1]}'s", word.kind, word.start, word.end, word.spaced)
    return word


_DAM = frozenset(("mom", "mum", "mama", "dam", "mummy", "mommy"))


def _retagged(text: str, place: int) -> Token:
    """The word that a contraction ends in (`who's`: is)."""
    word = Word(text, "word", 0, 0, True)
    tags, names, _ = _named([word], 0, 1)
    return Token(text, tags or (_AS_KNOWN if text in _KNOWN else _AS_UNKNOWN), place, place + 1, None, names)


def _named(words: Sequence[Word], at: int, end: int) -> tuple[frozenset[str], tuple[tuple[str, str], ...], int]:
    """The tags of the longest phrase at a place, and its length."""
    phrases, text = _phrases(), words[at].text
    if text not in phrases.paths:
        return _NOTHING, (), 0
    best: tuple[int, list[Tag]] | None = None
    aux = text in _AUX_WORDS
    for phrase in phrases.every(words, at):
        if at + phrase[0] > end:
            break
        best = phrase
        if aux:
            break  # `is blue crying`: no phrase goes on from `is` (blue gums)
    if not aux and text in _sign_words():
        loose = phrases.longest(words, at, end)
        if loose and (best is None or loose[0] > best[0]) and any(tag.role == "sign" for tag in loose[1]):
            best = loose
    if best is None:
        return _NOTHING, (), 0
    length, tags = best
    return *_told_by(text, tags), length


def _told_by(first: str, tags: list[Tag]) -> tuple[frozenset[str], tuple[tuple[str, str], ...]]:
    """What `_roles` gives, worked out once for each phrase: its tags stay where they are."""
    told = _told.get(id(tags))
    if told is None:
        told = _told[id(tags)] = _roles(first, tags)
    return told


_NOTHING = frozenset[str]()
_told: dict[int, tuple[frozenset[str], tuple[tuple[str, str], ...]]] = {}


def _roles(first: str, tags: list[Tag]) -> tuple[frozenset[str], tuple[tuple[str, str], ...]]:
    """What the tags of a phrase that begins with this word make of it, and what it tells in which role."""
    roles = {tag.role for tag in tags}
    if roles & _AUX_ROLES:
        tags = [tag for tag in tags if tag.role not in ("state", "sign")]
        roles = (roles - {"state", "sign"}) | {"aux"}
    if "do" in roles:
        roles |= {tag.name for tag in tags if tag.role == "do"}
        roles.add("ing" if first.endswith("ing") and first not in _NOUNS else "done" if _is_past(first) else "plain")
    elif "sign" in roles and first.endswith("ing"):
        roles.add("ing")
    return frozenset(roles), tuple((tag.role, tag.name) for tag in tags)


_AUX_ROLES = frozenset(("be", "did", "has", "does", "may"))


_AUX_WORDS = frozenset(_SAME) | frozenset(word for role in _AUX_ROLES for word in _DATA["groups"][role])
_NOUNS = frozenset(("feeding", "bedding", "nothing", "evening", "morning"))
_IRREGULAR = frozenset("fed ate eaten drank drunk born taken took had changed nose noses put bottle tube temped".split())


def _is_past(word: str) -> bool:
    return word.endswith("ed") or word in _IRREGULAR


def _token(words: Sequence[Word], at: int, end: int, names: Names, drugs: frozenset[str]) -> Token:
    word = words[at]
    text = word.text
    subject = names.match(words, at)
    if subject is not None and (at + subject.length > end or _is_look(words, at, subject, end)):
        subject = None
    if subject is None and text == "#":
        return Token("_", _MARK, at, at + 1)
    tags, said, length = _named(words, at, end)
    if length > 1 and "span" in tags:
        return Token(_joined(words, at, length), tags, at, at + length, None, said)
    if starts_number(word) and not (text == "one" and at and words[at - 1].text in _ONE_AFTER):
        number = min(max([1, *[one.length for one in readings(words, at) if not one.tenths and not one.joined]]), end - at)
        if subject is None or number > subject.length or (subject.how == "bare" and _of_age(words, at, end)):
            unit = _units().get(words[at + number].text) if at + number < end else None
            return _made(("0", _number_tags(unit), at, at + number + (unit is not None), None, ()))
    if text in drugs or text.removesuffix("'s") in drugs:
        tags, said, length = tags | {"drug"}, (*said, ("drug", text.removesuffix("'s"))), max(length, 1)
    if text in names.people or text.removesuffix("'s") in names.people:
        tags, length = tags | {"person"}, max(length, 1)
    if subject is not None and text in _IT:
        return Token(text, tags | {"known"}, at, at + subject.length, subject)
    if subject is not None and subject.length >= length:
        more = (tags - {"noise"}) if subject.length == length else frozenset()
        stop = at + subject.length
        if stop < end and words[stop].text == "'s" and not words[stop].spaced:
            stop += 1  # `3's`
        elif stop + 1 < end and words[stop].text == "'" and words[stop + 1].text == "s" and not words[stop].spaced:
            stop += 2  # `3'S`
        tags = more | (_ALL if subject.how == "all" else _WHO) if more else (_ALL if subject.how == "all" else _WHO)
        return _made((_joined(words, at, subject.length), tags, at, stop, subject, said if more else ()))
    if length:
        return _made((_joined(words, at, length), tags, at, at + length, None, said))
    return _made((text, _AS_KNOWN if text in _KNOWN else _AS_UNKNOWN, at, at + 1, None, ()))


_WHO, _ALL = frozenset(("who",)), frozenset(("who", "all"))


@cache
def _number_tags(dimension: str | None) -> frozenset[str]:
    """The tags of a number, with a unit or without."""
    return frozenset(("num", "number") if dimension is None else ("num", "number", dimension))


def _is_look(words: Sequence[Word], at: int, subject: Subject, end: int) -> bool:
    """True where a colour that a pup is called by tells how something looks: `is green stool normal`; never behind `did`."""
    after = at + subject.length
    if at and words[at - 1].text in ("did", "does"):
        return False
    return subject.how == "name" and after < end and words[at].text in _COLORS and words[after].text in _LOOKS


_COLORS = frozenset(load("setup")["marks"]["colors"])
_LOOKS = frozenset(_DATA["hangers"]["looks"])
_AGES = frozenset("week weeks day days month months year years wk wks".split())


def _of_age(words: Sequence[Word], at: int, end: int) -> bool:
    """True for the number of `week 2`, `3 weeks`: no pup."""
    return (at + 1 < end and words[at + 1].text in _AGES) or (at > 0 and words[at - 1].text in _AGES)


def _joined(words: Sequence[Word], at: int, length: int) -> str:
    return words[at].text if length == 1 else "_".join([word.text for word in words[at : at + length]])


def _time(words: Sequence[Word], at: int, end: int) -> Token | None:
    """A time that the topic does not need: `since 2`, `in the last 3 hours`, `at 3:10`, `20 min ago`."""
    place = at
    if words[at].text in _TIME_BEFORE or words[at].text in _CLOCK_BEFORE:
        place += 1
        while place < end and words[place].text in ("the", "last", "past"):
            place += 1
        if place >= end:
            return None
    word = words[place]
    if word.kind == "clock":
        stop = place + 1
    elif (
        word.kind == "number"
        and place + 1 < end
        and words[place + 1].text in _TIME_UNITS
        and (place > at or (place + 2 < end and words[place + 2].text == "ago"))
    ):
        if word.value == 24 or (word.value == 7 and words[place + 1].text == "days"):
            return None
        stop = place + 2
    elif (
        word.whole
        and place > at
        and words[at].text in _CLOCK_BEFORE
        and 0 < (word.value or 0) <= _HOURS
        and (place + 1 == end or words[place + 1].kind != "word" or words[place + 1].text in ("am", "pm"))
    ):
        stop = place + 1
    else:
        return None
    while stop < end and words[stop].text in ("ago", "am", "pm", "o'clock"):
        stop += 1
    return Token("time", frozenset(("time",)), at, stop)
