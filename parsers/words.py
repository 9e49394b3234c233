"""Cut a message into words with their places, and mend slips of spelling; nothing is thrown away."""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from rapidfuzz.distance import OSA

_PIECE = re.compile(r"\n+|\S+")
_TOKEN = re.compile(
    r"""
    (?P<link>https?://\S+|www\.\S+|[\w.]{1,64}+@[\w.]+\.\w+|(?<!\d)[a-zA-Z]{2,}\d+[a-zA-Z]\w*)
  | (?P<clock>\d{1,2}:\d{2}(?!\d|:\d))
  | (?P<fraction>(?<![\d/.])(?:1/[2348]|2/3|3/[48]|[57]/8)(?![\d/]|\.\d))
  | (?P<number>\d+[oO]+\d+ | \d+[oO]+(?![a-zA-Z]) | \d+\.\d+ | \d+ | \.\d+)
  | (?P<vulgar>[½¼¾⅓⅔])
  | (?P<shorthand>\b[wW]/(?!\d))
  | (?P<word>[^\W\d_]+(?:'[^\W\d_]+)*)
  | (?P<owner>'[sS](?![^\W\d_]))
  | (?P<mark>\S)
    """,
    re.VERBOSE,
)
_CLOSED = re.compile(r"\.?|[,;!?)].*", re.DOTALL)
"""What may stand tight behind a whole word."""
_VULGAR = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3}
_APOSTROPHES = str.maketrans({"’": "'", "‘": "'", "`": "'", "\u00a0": " ", "–": "-", "—": "-", "−": "-"})


@dataclass(slots=True)
class Word:
    """A word, a number or a mark of a message, with its place in the text.

    `text` is in small letters; `kind` is `word`, `number`, `fraction`, `clock`, `figures` (`2:71`), `mark` or
    `newline`; `value` is set for digits;
    `spaced` tells whether white space stands before it; `typed` is what was typed where a slip was mended.
    """

    text: str
    kind: str
    start: int
    end: int
    spaced: bool
    value: float | None = None
    typed: str | None = None
    capital: bool = False

    @property
    def whole(self) -> bool:
        """True for a run of digits without a point."""
        return self.kind == "number" and self.text.isdigit()


class Words(list[Word]):
    """The words of one message. Once their slips are mended they change no more, so what was worked out of them is kept beside them."""

    __slots__ = ("worked_out",)

    def __init__(self, words: Iterable[Word] = ()) -> None:
        super().__init__(words)
        self.worked_out: dict[Hashable, Any] = {}
        """By what was asked and the place it was asked of; one who asks gives it a key that no other has."""


def texts_of(words: Sequence[Word]) -> frozenset[str]:
    """All that stands in words, each once: what is not among it need not be looked for."""
    if not isinstance(words, Words):
        return frozenset([word.text for word in words])
    found: frozenset[str] | None = words.worked_out.get("texts")
    if found is None:
        found = words.worked_out["texts"] = frozenset([word.text for word in words])
    return found


def follows(words: Sequence[Word], at: int, texts: frozenset[str], within: int) -> bool:
    """True where one of these texts stands behind a place, less than `within` words away."""
    if not isinstance(words, Words):
        return not texts.isdisjoint([word.text for word in words[at + 1 : at + within]])
    if texts.isdisjoint(texts_of(words)):
        return False
    before: set[int] | None = words.worked_out.get((texts, within))
    if before is None:
        before = words.worked_out[texts, within] = set()
        for place, word in enumerate(words):
            if word.text in texts:
                before.update(range(place - within + 1, place))
    return at in before


def cut(text: str) -> Words:
    """Cut a message into its words. Every character but white space and the hyphens inside words lies in exactly one of them."""
    text = text.translate(_APOSTROPHES)
    words = Words()
    shouted = text.isupper()  # then a capital shows no name
    last_end = 0
    for found in _PIECE.finditer(text):
        piece, (start, end) = found.group(), found.span()
        spaced = start > last_end or start == 0
        if piece.isalpha():  # nearly every piece is a word, a run of digits, or a word with a mark behind it
            words.append(Word(piece.lower(), "word", start, end, spaced, None, None, not shouted and piece[0].isupper()))
        elif piece.isdecimal() and (value := _digits(piece)) is not None:
            words.append(Word(piece, "number", start, end, spaced, value))
        elif piece[-1] in ",.;!?)" and piece[:-1].isalpha():
            words.append(Word(piece[:-1].lower(), "word", start, end - 1, spaced, None, None, not shouted and piece[0].isupper()))
            words.append(Word(piece[-1], "mark", end - 1, end, False))
        elif piece[0] == "\n":
            words.append(Word("\n", "newline", start, end, spaced))
        else:
            _cut_piece(text, start, end, words, spaced=spaced, shouted=shouted)
        last_end = end
    return words


def _cut_piece(text: str, start: int, end: int, words: list[Word], *, spaced: bool, shouted: bool) -> None:
    """Cut what stands between white space."""
    for found in _TOKEN.finditer(text, start, end):
        kind = found.lastgroup or "mark"
        raw, place = found.group(), found.start()
        value: float | None = None
        shown = raw.lower()
        if kind == "word" and place > start:
            if _hyphened(words, place):
                words.pop()
            elif shown == "s" and words[-1].whole and _CLOSED.fullmatch(text, found.end(), end):
                kind, shown = "mark", "'s"  # milk from 3s nose
        elif kind == "link":
            kind = "word"
        elif kind == "clock" and int(shown[-2:]) > 59:
            kind = "figures"
        elif kind == "owner":
            kind = "mark"
        elif kind == "shorthand":
            kind, shown = "word", "with"
        elif kind == "number":
            shown = shown.replace("o", "0")
            value = _digits(shown)
            if value is None:
                kind = "mark"
        elif kind == "vulgar":
            kind, value = "fraction", _VULGAR[raw]
        elif kind == "fraction":
            value = int(raw[0]) / int(raw[2])
        words.append(Word(shown, kind, place, found.end(), spaced, value, None, not shouted and raw[0].isupper()))
        spaced = False


def _hyphened(words: list[Word], start: int) -> bool:
    """True where a hyphen alone joins this word to the one before (`c-section`, `thirty-seven`): it is no word itself."""
    return len(words) > 1 and words[-1].text == "-" and words[-2].kind == "word" and words[-2].end == start - 1


def _digits(shown: str) -> float | None:
    """The value of a run of digits; None where it is longer than any number of this trade or in foreign digits."""
    if len(shown) > 12 or not shown.isascii():
        return None
    return float(shown)


_LONGEST_NAME = 4  # words of a name or mark


def without_owner(words: Sequence[Word], at: int) -> list[Word]:
    """The words of a name from `at` on, as far as one with an owner's ending, which is taken off: `white foot's`."""
    found: list[Word] = []
    for word in words[at : at + _LONGEST_NAME]:
        owner = word.text[-2:] == "'s" and len(word.text) > 2
        found.append(Word(word.text[:-2], "word", 0, 0, True) if owner else word)
        if owner:
            break
    return found


class Speller:
    """Mends a slip of a letter or two in words of five letters or more, by optimal string alignment (rapidfuzz).

    Digits and short words are never touched. A slip is mended only where one known word is clearly nearest.
    """

    def __init__(self, known: Iterable[str], leave: Iterable[str] = ()) -> None:
        self._known = frozenset(known)
        self._leave = frozenset(leave)
        self._memory: dict[str, str | None] = {}

    @cached_property
    def _by_start(self) -> dict[str, list[str]]:
        """Candidates by their first two letters each: a slip rarely spoils both."""
        index: dict[str, list[str]] = {}
        for word in sorted(self._known):
            if len(word) >= _SHORTEST and "'" not in word:
                for letter in set(word[:2]):
                    index.setdefault(letter, []).append(word)
        return index

    def mend(self, word: str) -> str | None:
        """The known word that `word` is a slip of; None where it is known itself, left alone, or no slip of one."""
        if len(word) < _SHORTEST - 1 or len(word) > _LONGEST or word in self._known or word in self._leave:
            return None
        if word not in self._memory:
            if len(self._memory) > _REMEMBERED:
                self._memory.clear()
            self._memory[word] = self._nearest(word)
        return self._memory[word]

    def _nearest(self, word: str) -> str | None:
        best: list[tuple[int, str]] = []
        for candidate in self._by_start.get(word[0], ()):
            if abs(len(candidate) - len(word)) > 2:
                continue
            allowed = 1 if len(candidate) < _TWO_SLIPS_FROM else 2
            distance = OSA.distance(word, candidate, score_cutoff=allowed)
            if distance <= allowed:
                best.append((distance, candidate))
        if not best:
            return None
        best.sort()
        nearest = [candidate for distance, candidate in best if distance == best[0][0]]
        for fits in (_same_letters, _same_edges, _letter_missing):
            if len(nearest) > 1:
                nearest = [candidate for candidate in nearest if fits(word, candidate)] or nearest
        return nearest[0] if len(nearest) == 1 else None


def _same_letters(word: str, meant: str) -> bool:
    """Two letters swapped, or one doubled or not doubled, are the likeliest slips."""
    return (len(word) == len(meant) and sorted(word) == sorted(meant)) or _undoubled(word) == _undoubled(meant)


def _undoubled(word: str) -> str:
    return "".join(letter for place, letter in enumerate(word) if not place or letter != word[place - 1])


def _same_edges(word: str, meant: str) -> bool:
    """A slip is rarest in the first and the last letter."""
    return word[0] == meant[0] and word[-1] == meant[-1]


def _letter_missing(word: str, meant: str) -> bool:
    """A letter left out is the likeliest slip, a doubled one above all."""
    return len(meant) == len(word) + 1


_SHORTEST = 5  # letters of the word meant, from which a slip still reads (the contract's Spelling rule)
_TWO_SLIPS_FROM = 7  # letters from which two slips are allowed; shorter ones look too much alike
_LONGEST = 24  # letters; nothing in the vocabulary is longer
_REMEMBERED = 5_000  # words; forgets them all rather than grow
