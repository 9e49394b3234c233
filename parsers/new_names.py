"""New names and marks: what a pup, a dam or a helper is called from now on, as it was typed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from parsers.edges import closing
from parsers.lexicon import lexicon
from parsers.numbers import SPOKEN
from parsers.subjects import Names
from parsers.vocabulary import Phrases, Tag, load
from parsers.words import Word

_MARKS = load("setup")["marks"]
_NOT = frozenset(load("setup")["not_names"]["words"])
_COMMON = frozenset(load("setup")["not_names"]["common"])
_ADJECTIVES, _UNSAFE = frozenset(_MARKS["adjectives"]), frozenset(_MARKS["unsafe"])
_ALONE, _ALARMING = frozenset(_MARKS["alone"]), frozenset(_MARKS["alarming"])
_QUOTES = {'"': '"', "“": "”", "'": "'", "„": "“", "«": "»"}
_ARTICLES = frozenset(("the", "a", "an", "his", "her", "its", "their"))
_MOST_WORDS = 3
_LEAST_LETTERS = 2

Filled = Iterator[tuple[str, int]]


@dataclass(frozen=True, slots=True)
class Mark:
    """A collar or a mark: `text` is what the pup is called by it."""

    text: str
    color: bool
    """True for a colour alone, False for a mark on the coat."""
    plain: bool
    """True where neither `the` nor `collar` stands beside it."""

    @property
    def alarming(self) -> bool:
        """True where the words may be a sign of trouble: `pup 3 is blue`."""
        return self.plain and self.color and self.text in _ALARMING

    @property
    def unsafe(self) -> bool:
        """True where `has` before it may tell a sign of trouble: `has a red belly`."""
        return (self.plain and self.color) or (not self.color and any(word in _UNSAFE for word in self.text.split()))


@cache
def _colors() -> Phrases:
    phrases = Phrases()
    phrases.add(_MARKS["colors"], Tag("mark", "color"))
    return phrases


@cache
def _nouns() -> Phrases:
    phrases = Phrases()
    phrases.add(_MARKS["collars"], Tag("mark", "collar"))
    return phrases


@cache
def _parts() -> Phrases:
    phrases = Phrases()
    phrases.add(_MARKS["parts"], Tag("mark", "part"))
    return phrases


def as_typed(word: Word) -> str:
    """A name's word with a capital; a mended one as it was typed."""
    return (word.typed or word.text).capitalize()


def joined(words: Sequence[Word]) -> str:
    """Words as one name; those that a hyphen joined get it back."""
    return "".join((" " if word.spaced and place else "-" if place else "") + as_typed(word) for place, word in enumerate(words))


def names(words: Sequence[Word], at: int, end: int) -> Filled:
    """A new name where one is asked for (`call pup 3 ...`): words with capitals, a quotation, or one word in small letters."""
    close = _QUOTES.get(words[at].text)
    if close is not None:
        last = next((place for place in range(at + 1, min(end, at + 6)) if words[place].text == close), None)
        if last is not None and last > at + 1:
            yield joined(words[at + 1 : last]), last + 1 - at
        return
    if not words[at].capital:
        yield from ((mark.text, length) for mark, length in marks(words, at, end) if mark.plain)
    if not may_be_name(words[at]):
        return
    most = 1
    while most < _MOST_WORDS and at + most < end and _goes_on(words[at], words[at + most]):
        most += 1
    if words[at].capital:
        yield joined(words[at : at + most]), most
        return
    for length in range(most, 1, -1):
        if closing(words, at + length, end):
            yield joined(words[at : at + length]), length
    yield joined(words[at : at + 1]), 1


def may_be_name(word: Word) -> bool:
    """True where a word can be a name at all: no small word, no state, no possessive."""
    text = word.typed.lower() if word.typed and word.capital else word.text  # `invite Greta` is no slip of great
    return word.kind == "word" and text not in _NOT and text not in SPOKEN and not text.endswith("'s") and len(text) >= _LEAST_LETTERS


def _goes_on(first: Word, word: Word) -> bool:
    if not may_be_name(word):
        return False
    if first.capital:
        return word.capital
    return lexicon().longest([word], 0) is None


def sure_names(words: Sequence[Word], at: int, litter: Names) -> Filled:
    """A name beyond doubt, for `pup 3 is ...`: a capital inside the sentence, or a name that many dogs have."""
    word = words[at]
    if not may_be_name(word) or word.text in litter.people or _is_dam(word.text, litter):
        return
    inside = at > 0 and words[at - 1].text not in (".", "!", "?", "\n")
    if word.text in _COMMON or (word.capital and inside and lexicon().longest([word], 0) is None):
        most = 1
        while most < _MOST_WORDS and at + most < len(words) and word.capital and words[at + most].capital and may_be_name(words[at + most]):
            most += 1
        yield joined(words[at : at + most]), most


def _is_dam(text: str, litter: Names) -> bool:
    return any(text == name.lower() for name in litter.card.dam.names)


def dam_names(words: Sequence[Word], at: int, litter: Names, *, fresh: bool) -> Filled:
    """What the dam is called: a name that she has, a word with a capital, or in small letters a name that many dogs have."""
    word = words[at]
    for name in litter.card.dam.names:
        texts = name.lower().split()
        if texts and texts[0] not in _MOTHERS and [each.text for each in words[at : at + len(texts)]] == texts:
            yield name, len(texts)
            return
    led = at > 0 and words[at - 1].text in _NAME_LED
    plain = at > 0 and words[at - 1].text in _NAME_SURE and lexicon().longest([word], 0) is None
    if not may_be_name(word) or not (word.text in _COMMON or plain or (word.capital and not _is_sign(word))):
        return
    if not led and not fresh:
        return
    most = 1
    while most < _MOST_WORDS and at + most < len(words) and word.capital and words[at + most].capital and may_be_name(words[at + most]):
        most += 1
    yield joined(words[at : at + most]), most


def _is_sign(word: Word) -> bool:
    """True for `MOM IS TREMBLING`: no dam is named after what she has."""
    found = lexicon().longest([word], 0)
    return found is not None and any(tag.role.endswith(" sign") for tag in found[1])


_NAME_SURE = frozenset(("from", "called", "named", "name"))
_NAME_LED = _NAME_SURE | {"is", ":", "of", "by", "'s"} | frozenset(load("setup")["shared"]["mother"])
_MOTHERS = frozenset(load("setup")["shared"]["mother"])


def marks(words: Sequence[Word], at: int, end: int) -> Iterator[tuple[Mark, int]]:
    """A collar's colour or a mark: `the green collar`, `red`, `the one with the white chest`, `stripe`."""
    place, article = at, False
    while place < end and place - at < 5 and words[place].text in _ARTICLES | {"one", "with", "in", "wearing", "pup"}:
        article = article or words[place].text in _ARTICLES
        place += 1
    if place >= end:
        return
    color = _colored(words, place, end, article)
    part = _marked(words, place, end)
    if part and (color is None or part[1] > color[1]):
        yield part[0], place + part[1] - at
    elif color:
        yield color[0], place + color[1] - at


def _colored(words: Sequence[Word], at: int, end: int, article: bool) -> tuple[Mark, int] | None:
    found = _colors().longest(words, at)
    if found is None or at + found[0] > end:
        return None
    length = found[0]
    if at + length + 1 < end and words[at + length].text in ("and", "&", "/"):
        second = _colors().longest(words, at + length + 1)
        noun = _nouns().longest(words, at + length + 1 + second[0]) if second and at + length + 1 + second[0] < end else None
        if second and noun:
            length += 1 + second[0]
    text = " ".join("and" if word.text in ("&", "/") else word.text for word in words[at : at + length])
    noun = _nouns().longest(words, at + length) if at + length < end else None
    while noun is not None:
        length += noun[0]
        article = True
        noun = _nouns().longest(words, at + length) if at + length < end else None
    if not article and words[at].capital:  # `call pup 4 Violet` names her so
        text = joined(words[at : at + length])
    return Mark(text, color=True, plain=not article), length


def _marked(words: Sequence[Word], at: int, end: int) -> tuple[Mark, int] | None:
    place = at
    while place < end and place - at < 4 and words[place].text in _ADJECTIVES:
        place += 1
    part = _parts().longest(words, place) if place < end and place > at else None
    if part is None:
        return (Mark(words[at].text, color=False, plain=True), 1) if words[at].text in _ALONE else None
    place += part[0]
    while place < end and _nouns().longest(words, place) is None and words[place].text in ("on", "and") and place + 1 < end:
        on = place + 1
        while on < end and words[on].text in _ARTICLES | _ADJECTIVES:
            on += 1
        more = _parts().longest(words, on) if on < end else None
        if more is None:
            break
        place = on + more[0]
    text = " ".join(word.text for word in words[at:place] if word.text not in _ARTICLES)
    noun = _nouns().longest(words, place) if place < end else None
    if noun is not None:
        place += noun[0]
    return Mark(text, color=False, plain=True), place - at
