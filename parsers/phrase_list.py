"""Fixed phrases, found word for word: nothing may stand between their words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from parsers.vocabulary import expand
from parsers.words import Word, cut


class PhraseList:
    """Phrases by what they stand for, found by the longest match from a word on."""

    def __init__(self, meanings: Mapping[str, Iterable[str]]) -> None:
        self._root: dict[str, Any] = {}
        self.words: frozenset[str] = frozenset()
        """Every word of its phrases."""
        known: set[str] = set()
        for meaning, patterns in meanings.items():
            for pattern in patterns:
                for phrase in expand(pattern):
                    node = self._root
                    for word in cut(" ".join(phrase)):
                        node = node.setdefault(word.text, {})
                        known.add(word.text)
                    node.setdefault(_END, meaning)
        self.firsts = frozenset(self._root)
        """Every word that a phrase can begin with."""
        self.words = frozenset(known)

    def at(self, words: Sequence[Word], place: int) -> tuple[str, int] | None:
        """What the longest phrase at a place stands for, and how many words it takes; None where there is none."""
        node = self._root
        found: tuple[str, int] | None = None
        end = place
        while end < len(words):
            step = node.get(words[end].text)
            if step is None:
                return found
            node = step
            end += 1
            if _END in node:
                found = (node[_END], end - place)
        return found


_END = ""
