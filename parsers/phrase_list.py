"""Fixed phrases, found word for word: nothing may stand between their words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from parsers.vocabulary import expand
from parsers.words import Word, cut


class PhraseList:
    """Phrases by what they stand for, found by the longest match from a word on."""

    def __init__(self, meanings: Mapping[str, Iterable[str]]) -> None:
        self._by_first: dict[str, list[tuple[tuple[str, ...], str]]] = {}
        for meaning, patterns in meanings.items():
            for pattern in patterns:
                for phrase in expand(pattern):
                    texts = tuple(word.text for word in cut(" ".join(phrase)))
                    self._by_first.setdefault(texts[0], []).append((texts[1:], meaning))
        for found in self._by_first.values():
            found.sort(key=lambda pair: -len(pair[0]))
        self.firsts = frozenset(self._by_first)
        """Every word that a phrase can begin with."""
        self.words = self.firsts | {text for found in self._by_first.values() for rest, _ in found for text in rest}

    def at(self, words: Sequence[Word], place: int) -> tuple[str, int] | None:
        """What the longest phrase at a place stands for, and how many words it takes; None where there is none."""
        if place >= len(words):
            return None
        for rest, meaning in self._by_first.get(words[place].text, ()):
            end = place + 1 + len(rest)
            if end <= len(words) and all(words[place + 1 + i].text == text for i, text in enumerate(rest)):
                return meaning, 1 + len(rest)
        return None
