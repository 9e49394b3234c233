"""The words we know, as data: loads the TOML files beside it and finds their phrases in a message."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from parsers.phrasings import END, Laid, Node, VocabularyError, expand, parsed, words_in, words_of
from parsers.words import Word

__all__ = ["BETWEEN", "Phrases", "Tag", "VocabularyError", "expand", "load", "says", "words_of"]

_FOLDER = files("parsers") / "vocabulary"


@cache
def load(name: str) -> dict[str, Any]:
    """The data of `vocabulary/<name>.toml`; raises VocabularyError with file and remedy where it cannot be read."""
    try:
        return tomllib.loads((_FOLDER / f"{name}.toml").read_text(encoding="utf-8"))
    except (OSError, tomllib.TOMLDecodeError) as error:
        raise VocabularyError(f"parsers/vocabulary/{name}.toml cannot be read ({error}): mend that line or put the file back.") from None


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


class Phrases:
    """Phrases and their tags, found by longest match from a word on."""

    def __init__(self) -> None:
        self._laid: Laid[Tag] = Laid()
        self.paths = self._laid.paths
        """By the first words of its phrases."""
        self.known: set[str] = set()

    def add(self, patterns: Iterable[str], tag: Tag) -> None:
        """Let every phrase of the patterns stand for `tag`, beside what it stands for already."""
        for pattern in patterns:
            phrasing = parsed(pattern)
            self.known.update(words_in(phrasing))
            self._laid.add(phrasing, tag)

    @property
    def firsts(self) -> frozenset[str]:
        """Every word that a phrase can begin with."""
        return frozenset(self.paths)

    def longest(self, words: Sequence[Word], at: int, end: int | None = None) -> tuple[int, list[Tag]] | None:
        """The longest phrase that starts at `at`: how many words it takes, and its tags; None where none does."""
        node = self.paths.get(words[at].text)
        if node is None:
            return None
        if isinstance(node, list):
            node = self._laid.begun(words[at].text)
        last = len(words) if end is None else end
        tags = node.get(END)
        found: tuple[int, list[Tag]] | None = (1, tags) if tags else None
        place = at + 1
        if place >= last or (words[place].text not in node and words[place].text not in BETWEEN):
            return found
        open_paths: list[tuple[Node, int, int]] = [(node, place, 0)]
        while open_paths:
            node, place, skipped = open_paths.pop()
            tags = node.get(END)
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
        node = self.paths.get(words[at].text)
        if isinstance(node, list):
            node = self._laid.begun(words[at].text)
        length = 1
        while node is not None:
            if END in node:
                yield length, node[END]
            if at + length >= len(words):
                return
            node = node.get(words[at + length].text)
            length += 1


def says(text: str) -> list[str]:
    """The words of a written phrase, small and without marks, for building phrases from names."""
    return re.findall(r"[^\W_]+(?:'[^\W_]+)*", text.lower())
