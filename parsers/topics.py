"""What each topic is asked with: the patterns of topics.toml, made ready when they are first needed."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Sequence
from functools import cache, cached_property
from typing import cast

from parsers.patterns import ANYTHING, Needs, Parts, Pattern, any_of, beginnings, compile_pattern, weight
from parsers.reading import Topic
from parsers.vocabulary import expand, load
from parsers.wording import Token

_ASKING = load("asking")
_TOPICS = load("topics")
_LONGEST = 40  # tokens of one question; beyond them a stretch is a ramble and only its parts are looked at
_ENDS = (
    r"(?:(?=$|\S*~(?:mark|asks)~)"
    r"|(?<!~be~ )(?<!~did~ )(?<!~has~ )(?<!~does~ )(?<!~may~ )(?=\S*~conj~|\S*~who~\S* \S*~(?:num|do|drug)~))"
)
"""Where a question may end: with the stretch, a mark, a word that joins, or a subject with a doing of its own."""
_WHOLE = r"(?=(?:\S*~(?:asks|mark)~\S* )*$)"
"""Where a bare question ends: with the stretch."""


class Tape:
    """The tokens that count, as one line of text for the patterns."""

    def __init__(self, kept: Sequence[Token]) -> None:
        self.kept = kept
        self._fitting: dict[int, list[_Way]] = {}

    @cached_property
    def _line(self) -> tuple[str, list[int]]:
        """The line, and where on it each token begins."""
        places: list[int] = []
        parts: list[str] = []
        length = 0
        for token in self.kept:
            places.append(length)
            parts.append(token.encoded())
            length += len(parts[-1])
        return "".join(parts), places

    @cached_property
    def _holds(self) -> frozenset[str]:
        """Every word on it, and the tags in braces."""
        return frozenset(token.text for token in self.kept).union(*(_braced(token.tags) for token in self.kept))

    def topic(self, index: int, *, bare: bool) -> tuple[Topic, int] | None:
        """The topic whose pattern fits from this token on, over any wrapping, and where it ends; `bare` lets bare patterns count."""
        for start in reversed([index, *self._wrapped(index)]):
            for way in self._ways_from(self.kept[start]):
                if way.sort == "asks" or (bare if way.sort == "bare" else start > index):
                    text, places = self._line
                    match = way.expression.match(text, places[start], self._last(index))
                    if match:
                        return way.topic, bisect_left(places, match.end())
        return None

    def _ways_from(self, token: Token) -> list[_Way]:
        """Every way to ask that may begin with a token and for which the words are there, by rank."""
        ways = _ways_from(token.text if token.text in _all_beginnings() else "", token.tags)
        found = self._fitting.get(id(ways))
        if found is None:
            found = self._fitting[id(ways)] = [way for way in ways if way.may_fit(self._holds)]
        return found

    def _last(self, index: int) -> int:
        """How far on the line a question from this token on is looked for."""
        text, places = self._line
        return len(text) if index + _LONGEST >= len(self.kept) else places[index + _LONGEST]

    def _wrapped(self, index: int) -> list[int]:
        """The tokens that stand behind one wrapping after another (`can you tell me`, `I forgot`) from this token on."""
        found: list[int] = []
        expression, beginnings = _wrapping()
        start = index
        while not beginnings.isdisjoint((self.kept[start].text, *_braced(self.kept[start].tags))):
            (text, places), last = self._line, self._last(index)
            wrapped = expression.match(text, places[start], last)
            if not wrapped or wrapped.end() >= last:
                break
            start = bisect_left(places, wrapped.end())
            found.append(start)
        return found


@cache
def _braced(tags: frozenset[str]) -> frozenset[str]:
    """Tags as the patterns write them."""
    return frozenset(f"{{{tag}}}" for tag in tags)


class _Way:
    """One way to ask for a topic: a pattern, made ready as far as a message comes near it, since all of them take a second."""

    def __init__(self, topic: Topic, sort: str, written: str) -> None:
        self.topic, self.sort, self._written = topic, sort, written

    @cached_property
    def _pattern(self) -> Pattern:
        return compile_pattern(self._written, _parts())

    @cached_property
    def _needs(self) -> Needs:
        return tuple(sorted(self._pattern.needs, key=weight)[:_NEEDS_LOOKED_AT])

    def may_fit(self, holds: frozenset[str]) -> bool:
        """False where a stretch has not the words for it."""
        return not any(map(holds.isdisjoint, self._needs))

    @cached_property
    def expression(self) -> re.Pattern[str]:
        """What it matches, up to where a question may end."""
        return re.compile(self._pattern.expression + (_WHOLE if self.sort == "bare" else _ENDS))


_NEEDS_LOOKED_AT = 3


@cache
def _parts() -> Parts:
    return Parts(_ASKING["parts"])


@cache
def _beginnings() -> dict[str, list[tuple[int, _Way]]]:
    """What a way to ask can begin with, and the ways that do, each with its rank: the topics in their order, single words last."""
    found: dict[str, list[tuple[int, _Way]]] = {}
    rank = 0
    for topic, entry in _TOPICS.items():
        for sorts in (("asks", "wrapped"), ("bare",)):
            ways = [(sort, written) for sort in sorts for written in entry.get(sort, ())]
            for sort, written in sorted(ways, key=lambda way: _SINGLE.fullmatch(way[1]) is not None):
                rank += 1
                way = _Way(cast(Topic, topic), sort, written)
                for begin in beginnings(written, _parts()):
                    found.setdefault(begin, []).append((rank, way))
    return found


_SINGLE = re.compile(r"[^\s<>{}()\[\]|?*.~^]+")


@cache
def _ways_from(text: str, tags: frozenset[str]) -> tuple[_Way, ...]:
    """Every way to ask that may begin with a token, by rank."""
    return _ranked((_braced(tags) | {text, ANYTHING}) & _all_beginnings())


@cache
def _all_beginnings() -> frozenset[str]:
    return frozenset(_beginnings())


@cache
def _ranked(begins: frozenset[str]) -> tuple[_Way, ...]:
    ways = dict(each for begin in begins for each in _beginnings()[begin])
    return tuple(ways[rank] for rank in sorted(ways))


@cache
def _wrapping() -> tuple[re.Pattern[str], frozenset[str]]:
    """What only wraps a question, and what that can begin with."""
    written = _ASKING["words"]["wraps"]
    expression = any_of([compile_pattern(each, _parts()) for each in written]).expression
    return re.compile(expression), frozenset[str]().union(*(beginnings(each, _parts()) for each in written))


@cache
def triggers() -> frozenset[str]:
    """Words of which one must stand in whatever asks and does not begin as a question does (`weights`, `the board`)."""
    found: set[str] = set(_ASKING["words"]["show"])
    for entry in _TOPICS.values():
        for pattern in entry["bare"]:
            plain = re.sub(r"<[^>]*>|\{[^}]*\}", " ", pattern)
            found.update(word for word in re.findall(r"[a-z']+", plain) if len(word) > 2)
    for phrases in (
        *(_ASKING["groups"][name] for name in ("due", "birthweight", "climate", "milestone")),
        _ASKING["doings"]["temperature"],
    ):
        found.update(words[0] for phrase in phrases for words in expand(phrase))
    return frozenset(found - frozenset(_ASKING["words"]["no_sign"]))
