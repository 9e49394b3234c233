"""The words we know, as data: loads the TOML files beside it and finds their phrases in a message."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import product
from typing import Any

from parsers.words import Word

_FOLDER = files("parsers") / "vocabulary"
_PART = re.compile(r"\[|\]|\(|\)|\||[^\s\[\]()|]+")


class VocabularyError(ValueError):
    """A word list is wrong: says which file and key, and what to do."""


@cache
def load(name: str) -> dict[str, Any]:
    """The data of `vocabulary/<name>.toml`; raises VocabularyError with file and remedy where it cannot be read."""
    try:
        return tomllib.loads((_FOLDER / f"{name}.toml").read_text(encoding="utf-8"))
    except (OSError, tomllib.TOMLDecodeError) as error:
        raise VocabularyError(f"parsers/vocabulary/{name}.toml cannot be read ({error}): mend that line or put the file back.") from None


def expand(pattern: str) -> list[tuple[str, ...]]:
    """Every phrase that a pattern stands for: `[x]` may be left out, `(a|b c)` is a choice."""
    parts = _PART.findall(pattern.lower())
    phrases, left = _sequence(parts, 0)
    if left != len(parts):
        raise VocabularyError(f"the pattern {pattern!r} has a bracket too many: every [ needs its ], every ( its ).")
    return phrases


def _sequence(parts: list[str], at: int) -> tuple[list[tuple[str, ...]], int]:
    pieces: list[list[tuple[str, ...]]] = []
    while at < len(parts) and parts[at] not in ("]", ")", "|"):
        if parts[at] in ("[", "("):
            optional, choices = parts[at] == "[", []
            at += 1
            while True:
                phrases, at = _sequence(parts, at)
                choices.extend(phrases)
                if at >= len(parts):
                    raise VocabularyError(f"the pattern {' '.join(parts)!r} has a bracket that is never closed.")
                at += 1
                if parts[at - 1] != "|":
                    break
            pieces.append([(), *choices] if optional else choices)
        else:
            pieces.append([(parts[at],)])
            at += 1
    return [tuple(word for piece in chosen for word in piece) for chosen in product(*pieces)], at


@dataclass(frozen=True, slots=True)
class Tag:
    """What a phrase is: its role in a message, its name, and the fields it sets."""

    role: str
    name: str
    sets: tuple[tuple[str, Any], ...] = ()
    bare: bool = False
    """True for words that are this only beside a measure or a subject (an infinitive, a noun)."""


BETWEEN = frozenset(
    "the a an his her its their my your some any very really quite so too bit just still is are was were be been being look looks "
    "looking looked seem seems seemed feel feels feeling felt has have had kinda pretty rather super "
    "awfully also got gets getting little slightly".split()
)
"""Small words that may stand inside a phrase of the vocabulary without being written there (`gums are very pale`)."""
_MOST_BETWEEN = 3  # small words in a row; more of them are another sentence

_END = ""
_Node = dict[str, Any]


class Phrases:
    """Phrases and their tags, found by longest match from a word on."""

    def __init__(self) -> None:
        self._root: _Node = {}
        self.known: set[str] = set()

    def add(self, patterns: Iterable[str], tag: Tag) -> None:
        """Let every phrase of the patterns stand for `tag`, beside what it stands for already."""
        for pattern in patterns:
            for phrase in expand(pattern):
                if not phrase:
                    continue
                node = self._root
                for word in phrase:
                    node = node.setdefault(word, {})
                self.known.update(phrase)
                tags: list[Tag] = node.setdefault(_END, [])
                if tag not in tags:
                    tags.append(tag)

    @property
    def firsts(self) -> frozenset[str]:
        """Every word that a phrase can begin with."""
        return frozenset(self._root)

    def longest(self, words: Sequence[Word], at: int, end: int | None = None) -> tuple[int, list[Tag]] | None:
        """The longest phrase that starts at `at`: how many words it takes, and its tags; None where none does."""
        node = self._root.get(words[at].text)
        if node is None:
            return None
        found: tuple[int, list[Tag]] | None = None
        last = len(words) if end is None else end
        open_paths: list[tuple[_Node, int, int]] = [(node, at + 1, 0)]
        while open_paths:
            node, place, skipped = open_paths.pop()
            tags = node.get(_END)
            if tags and not skipped and (found is None or place - at > found[0]):
                found = (place - at, tags)
            if place >= last:
                continue
            text = words[place].text
            if skipped < _MOST_BETWEEN and text in BETWEEN:
                open_paths.append((node, place + 1, skipped + 1))
            step = node.get(text)
            if step is not None:
                open_paths.append((step, place + 1, 0))
        return found

    def every(self, words: Sequence[Word], at: int) -> Iterator[tuple[int, list[Tag]]]:
        """Every phrase that starts at `at`, the shortest first."""
        node: _Node | None = self._root
        for length in range(1, len(words) - at + 1):
            node = node.get(words[at + length - 1].text) if node else None
            if node is None:
                return
            if _END in node:
                yield length, node[_END]


def says(text: str) -> list[str]:
    """The words of a written phrase, small and without marks, for building phrases from names."""
    return re.findall(r"[^\W_]+(?:'[^\W_]+)*", text.lower())
