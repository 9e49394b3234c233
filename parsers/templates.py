"""Templates are phrases with places to fill: `call {pup} {name}`, found in a message by one walk through all of them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from parsers.vocabulary import VocabularyError, expand
from parsers.words import Word

Filling = tuple[Any, int]
"""What fills a place, and how many words it takes."""
Filler = Callable[[Sequence[Word], int], Iterable[Filling]]
"""Every filling that the words from a place on allow."""

_SHARED = re.compile(r"<(\w+)>")
_END = ""
_Node = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Found:
    """One template found: its tag, the place after its last word, and what fills its places."""

    tag: str
    end: int
    fills: Mapping[str, Any]


def share(pattern: str, shared: Mapping[str, Sequence[str]]) -> str:
    """Put the shared choices in: `<please>` becomes `(please|pls)`; raises VocabularyError where there are none of that name."""

    def choices(name: re.Match[str]) -> str:
        if name[1] not in shared:
            raise VocabularyError(f"the template {pattern!r} speaks of <{name[1]}>, which stands nowhere under [shared]: add it there.")
        return "(" + "|".join(share(each, shared) for each in shared[name[1]]) + ")"

    return _SHARED.sub(choices, pattern)


class Templates:
    """Templates by tag. `places` holds every kind of place in them; each needs a filler when they are matched."""

    def __init__(self, shared: Mapping[str, Sequence[str]] | None = None) -> None:
        self._root: _Node = {}
        self._shared = shared or {}
        self.known: set[str] = set()
        self.places: set[str] = set()

    def add(self, tag: str, patterns: Iterable[str]) -> None:
        """Let every phrase of the patterns stand for `tag`."""
        for pattern in patterns:
            for phrase in expand(share(pattern, self._shared)):
                if not phrase:
                    raise VocabularyError(f"the template {pattern!r} ({tag}) can be no words at all: leave one word outside its brackets.")
                node = self._root
                for part in phrase:
                    (self.places if part[0] == "{" else self.known).add(part)
                    node = node.setdefault(part, {})
                tags = node.setdefault(_END, [])
                if tag not in tags:
                    tags.append(tag)

    def may_start(self, word: Word) -> bool:
        """False where no template begins with this word, so that none need be tried."""
        return word.text in self._root

    def match(self, words: Sequence[Word], at: int, end: int, fillers: Mapping[str, Filler]) -> list[Found]:
        """Every template that stands at `at` and ends at or before `end`, the longest first."""
        found = list(self._walk(self._root, words, at, end, fillers, {}))
        found.sort(key=lambda one: -one.end)
        return found

    def _walk(self, node: _Node, words: Sequence[Word], at: int, end: int, fillers: Mapping[str, Filler],
              fills: dict[str, Any]) -> Iterator[Found]:  # fmt: skip
        for tag in node.get(_END, ()):
            yield Found(tag, at, dict(fills))
        if at >= end:
            return
        literal = node.get(words[at].text)
        if literal is not None:
            yield from self._walk(literal, words, at + 1, end, fillers, fills)
        for part, after in node.items():
            if part[:1] == "{":
                name = part[1:-1]
                for value, length in fillers[name](words, at):
                    if at + length <= end:
                        yield from self._walk(after, words, at + length, end, fillers, fills | {name: value})
