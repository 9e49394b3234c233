"""Templates are phrases with places to fill: `call {pup} {name}`, all of them found in a message by one walk.

They are kept as a graph of states, since the phrases that one template with many choices stands for may run into millions.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from parsers.vocabulary import VocabularyError
from parsers.words import Word

Filling = tuple[Any, int]
"""What fills a place, and how many words it takes."""
Filler = Callable[[str, Sequence[Word], int], Iterable[Filling]]
"""Every filling of a place of this name that the words from a place on allow."""

_SHARED = re.compile(r"<(\w+)>")
_PART = re.compile(r"\[|\]|\(|\)|\||[^\s\[\]()|]+")


class Found(NamedTuple):
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


@dataclass(slots=True)
class _State:
    """Where a template stands after some of its words: the words and places that go on from here, and the tags of those that end here."""

    words: dict[str, frozenset[int]] = field(default_factory=dict)
    places: dict[str, frozenset[int]] = field(default_factory=dict)
    tags: tuple[str, ...] = ()


class Templates:
    """Templates by tag. `places` holds every kind of place in them; each needs a filler when they are matched."""

    def __init__(self, shared: Mapping[str, Sequence[str]] | None = None) -> None:
        self._shared = shared or {}
        self._steps: list[list[tuple[str, int]]] = [[]]
        """By node: the part that leads on (a word, a place, or nothing) and the node it leads to. Node 0 begins every template."""
        self._ends: dict[int, list[str]] = {}
        self._states: dict[frozenset[int], _State] = {}
        self._start: frozenset[int] | None = None
        self.known: set[str] = set()
        self.places: set[str] = set()

    def add(self, tag: str, patterns: Iterable[str]) -> None:
        """Let every phrase of the patterns stand for `tag`."""
        for pattern in patterns:
            parts = _PART.findall(share(pattern, self._shared).lower())
            begins = self._node()
            self._steps[0].append(("", begins))
            last, left = self._sequence(parts, 0, begins)
            if left != len(parts):
                raise VocabularyError(f"the template {pattern!r} ({tag}) has a bracket too many: every [ needs its ], every ( its ).")
            self._ends.setdefault(last, []).append(tag)
            if last in self._closure((begins,)):
                raise VocabularyError(f"the template {pattern!r} ({tag}) can be no words at all: leave one word outside its brackets.")
        self._start = None
        self._states.clear()

    def _node(self) -> int:
        self._steps.append([])
        return len(self._steps) - 1

    def _sequence(self, parts: list[str], at: int, node: int) -> tuple[int, int]:
        """Lay the parts out from `node` on; gives the node they end at, and the place of the bracket or bar that ends them."""
        while at < len(parts) and parts[at] not in ("]", ")", "|"):
            after = self._node()
            if parts[at] in ("[", "("):
                if parts[at] == "[":
                    self._steps[node].append(("", after))
                while True:
                    begins = self._node()
                    self._steps[node].append(("", begins))
                    last, at = self._sequence(parts, at + 1, begins)
                    if at >= len(parts):
                        raise VocabularyError(f"the template {' '.join(parts)!r} has a bracket that is never closed.")
                    self._steps[last].append(("", after))
                    if parts[at] != "|":
                        break
            else:
                (self.places if parts[at][0] == "{" else self.known).add(parts[at].strip("{}"))
                self._steps[node].append((parts[at], after))
            node, at = after, at + 1
        return node, at

    def _closure(self, nodes: Iterable[int]) -> frozenset[int]:
        """The nodes, and all that they reach without a word."""
        reached, todo = set(nodes), list(nodes)
        while todo:
            for part, after in self._steps[todo.pop()]:
                if not part and after not in reached:
                    reached.add(after)
                    todo.append(after)
        return frozenset(reached)

    def _state(self, nodes: frozenset[int]) -> _State:
        """What goes on from a set of nodes, worked out the first time it is met."""
        state = self._states.get(nodes)
        if state is None:
            words: dict[str, set[int]] = {}
            places: dict[str, set[int]] = {}
            for node in nodes:
                for part, after in self._steps[node]:
                    if part:
                        (places if part[0] == "{" else words).setdefault(part.strip("{}"), set()).add(after)
            tags = dict.fromkeys(tag for node in sorted(nodes) for tag in self._ends.get(node, ()))
            state = _State({word: self._closure(after) for word, after in words.items()},
                           {place: self._closure(after) for place, after in places.items()}, tuple(tags))  # fmt: skip
            self._states[nodes] = state
        return state

    def match(self, words: Sequence[Word], at: int, end: int, fill: Filler) -> list[Found]:
        """Every template that stands at `at` and ends at or before `end`, the longest first."""
        if self._start is None:
            self._start = self._closure((0,))
        found: list[Found] = []
        self._walk(self._start, words, at, end, fill, {}, found)
        if len(found) > 1:
            found.sort(key=lambda one: -one.end)
        return found

    def longest(self, words: Sequence[Word], at: int) -> tuple[str, int] | None:
        """The longest template without places that stands at `at`: its tag and how many words it takes; None where none does."""
        if self._start is None:
            self._start = self._closure((0,))
        state, found, length = self._state(self._start), None, 0
        while at + length < len(words):
            after = state.words.get(words[at + length].text)
            if after is None:
                break
            state, length = self._state(after), length + 1
            if state.tags:
                found = (state.tags[0], length)
        return found

    def _walk(self, nodes: frozenset[int], words: Sequence[Word], at: int, end: int, fill: Filler, fills: dict[str, Any],
              found: list[Found]) -> None:  # fmt: skip
        state = self._states.get(nodes) or self._state(nodes)
        for tag in state.tags:
            found.append(Found(tag, at, fills))
        if at >= end:
            return
        after = state.words.get(words[at].text)
        if after is not None:
            self._walk(after, words, at + 1, end, fill, fills, found)
        for place, following in state.places.items():
            for value, length in fill(place, words, at):
                if at + length <= end:
                    self._walk(following, words, at + length, end, fill, fills | {place: value}, found)
