"""Fixed phrases, found word for word: nothing may stand between their words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from parsers.phrasings import END, Laid, Phrasing, parsed, words_in
from parsers.words import Word, cut


class PhraseList:
    """Phrases by what they stand for, found by the longest match from a word on."""

    def __init__(self, meanings: Mapping[str, Iterable[str]]) -> None:
        self._laid: Laid[str] = Laid()
        self._paths = self._laid.paths
        known: set[str] = set()
        for meaning, patterns in meanings.items():
            for pattern in patterns:
                phrasing = _cut(parsed(pattern))
                known.update(words_in(phrasing))
                self._laid.add(phrasing, meaning)
        self.firsts = frozenset(self._paths)
        """Every word that a phrase can begin with."""
        self.words = frozenset(known)
        """Every word of its phrases."""

    def at(self, words: Sequence[Word], place: int) -> tuple[str, int] | None:
        """What the longest phrase at a place stands for, and how many words it takes; None where there is none."""
        node = self._paths.get(words[place].text) if place < len(words) else None
        if isinstance(node, list):
            node = self._laid.begun(words[place].text)
        found: tuple[str, int] | None = None
        end = place + 1
        while node is not None:
            if END in node:
                found = (node[END][0], end - place)
            node = node.get(words[end].text) if end < len(words) else None
            end += 1
        return found


def _cut(phrasing: Phrasing) -> Phrasing:
    """A phrasing with its words as they are cut in a message: `c-section` is two, and so is `5%`."""
    return tuple(_pieces(phrasing))


def _pieces(phrasing: Phrasing) -> Iterator[str | tuple[Phrasing, ...]]:
    for piece in phrasing:
        if not isinstance(piece, str):
            yield tuple(_cut(choice) for choice in piece)
        elif piece.isalpha():
            yield piece
        else:
            yield from (word.text for word in cut(piece))
