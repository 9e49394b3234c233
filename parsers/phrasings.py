"""Written phrases: `[x]` may be left out, `(a|b c)` is a choice; taken apart, and laid out as far as they are needed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import product
from typing import Any, Generic, TypeVar

_PART = re.compile(r"\[|\]|\(|\)|\||[^\s\[\]()|]+")
_BRACKET = re.compile(r"[\[\]()|]")

T = TypeVar("T")
Node = dict[str, Any]
END = ""
"""The key of a node under which stands what the phrase that ends there stands for."""


class VocabularyError(ValueError):
    """A word list is wrong: says which file and key, and what to do."""


Phrasing = tuple["str | tuple[Phrasing, ...]", ...]
"""A pattern taken apart: words, and choices between sequences (an empty one where all of it may be left out)."""


def expand(pattern: str) -> list[tuple[str, ...]]:
    """Every phrase that a pattern stands for: `[x]` may be left out, `(a|b c)` is a choice."""
    return list(phrases(parsed(pattern)))


def words_of(patterns: Iterable[str]) -> set[str]:
    """Every word that stands in these patterns."""
    return {word for pattern in patterns for word in words_in(parsed(pattern))}


def words_in(phrasing: Phrasing) -> Iterator[str]:
    """Every word that stands in a phrasing, some of them twice."""
    for piece in phrasing:
        if isinstance(piece, str):
            yield piece
        else:
            for choice in piece:
                yield from words_in(choice)


def parsed(pattern: str) -> Phrasing:
    """A written pattern taken apart; raises VocabularyError where its brackets do not fit."""
    return tuple(pattern.lower().split()) if _BRACKET.search(pattern) is None else _parsed(pattern)


@cache
def _parsed(pattern: str) -> Phrasing:
    parts = _PART.findall(pattern.lower())
    sequence, left = _sequence(parts, 0)
    if left != len(parts):
        raise VocabularyError(f"the pattern {pattern!r} has a bracket too many: every [ needs its ], every ( its ).")
    return sequence


def _sequence(parts: list[str], at: int) -> tuple[Phrasing, int]:
    pieces: list[str | tuple[Phrasing, ...]] = []
    while at < len(parts) and parts[at] not in ("]", ")", "|"):
        if parts[at] in ("[", "("):
            choices: list[Phrasing] = [()] if parts[at] == "[" else []
            at += 1
            while True:
                choice, at = _sequence(parts, at)
                choices.append(choice)
                if at >= len(parts):
                    raise VocabularyError(f"the pattern {' '.join(parts)!r} has a bracket that is never closed.")
                at += 1
                if parts[at - 1] != "|":
                    break
            pieces.append(tuple(choices))
        else:
            pieces.append(parts[at])
            at += 1
    return tuple(pieces), at


def phrases(sequence: Phrasing) -> Iterator[tuple[str, ...]]:
    """Every phrase that a phrasing stands for."""
    pieces = ([(piece,)] if isinstance(piece, str) else [each for choice in piece for each in phrases(choice)] for piece in sequence)
    for chosen in product(*pieces):
        yield tuple(word for piece in chosen for word in piece)


def begins(sequence: Phrasing) -> tuple[set[str], bool]:
    """The words that its phrases can begin with, and whether one of them is empty."""
    found: set[str] = set()
    for piece in sequence:
        if isinstance(piece, str):
            found.add(piece)
            return found, False
        empty = False
        for choice in piece:
            words, may_be_empty = begins(choice)
            found |= words
            empty = empty or may_be_empty
        if not empty:
            return found, False
    return found, True


def behind(sequence: Phrasing, word: str) -> Iterator[tuple[str, ...]]:
    """What can follow a word in the phrases that begin with it."""
    for place, piece in enumerate(sequence):
        if isinstance(piece, str):
            if piece == word:
                yield from phrases(sequence[place + 1 :])
            return
        for choice in piece:
            for begun in behind(choice, word):
                for rest in phrases(sequence[place + 1 :]):
                    yield begun + rest
        if not any(begins(choice)[1] for choice in piece):
            return


class Laid(Generic[T]):
    """Phrases and what they stand for, as paths of words.

    They are kept by their first word, and laid out only when that word is met: of the vocabulary's tens of thousands a night needs few.
    """

    def __init__(self) -> None:
        self.paths: dict[str, Node | list[tuple[Phrasing, T]]] = {}
        """By first word: the node that it leads to, or what is still to be laid out of it; `begun` gives the one for the other."""

    def add(self, phrasing: Phrasing, leaf: T) -> None:
        """Let every phrase of a phrasing stand for `leaf` too."""
        for first in begins(phrasing)[0]:
            path = self.paths.setdefault(first, [])
            if isinstance(path, list):
                path.append((phrasing, leaf))
            else:
                _lay_out(path, first, phrasing, leaf)

    def begun(self, first: str) -> Node:
        """The node after a first word: what goes on from it by word, and under END all that it stands for, in the order added."""
        path = self.paths[first]
        if isinstance(path, list):
            node: Node = {}
            for phrasing, leaf in path:
                _lay_out(node, first, phrasing, leaf)
            path = self.paths[first] = node
        return path


def _lay_out(node: Node, first: str, phrasing: Phrasing, leaf: T) -> None:
    for rest in behind(phrasing, first):
        last = node
        for word in rest:
            last = last.setdefault(word, {})
        leaves: list[T] = last.setdefault(END, [])
        if leaf not in leaves:
            leaves.append(leaf)
