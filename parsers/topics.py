"""What each topic is asked with: the patterns of topics.toml, made ready when they are first needed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from typing import cast

from parsers.patterns import ANYTHING, Parts, Pattern, any_of, compile_pattern
from parsers.reading import Topic
from parsers.vocabulary import expand, load
from parsers.wording import Token

_ASKING = load("asking")
_TOPICS = load("topics")
_SORTS = ("asks", "wrapped", "bare")
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
        self.places: list[int] = []
        self.text = ""
        for token in kept:
            self.places.append(len(self.text))
            self.text += token.encoded()

    def topic(self, index: int, *, bare: bool) -> tuple[Topic, int] | None:
        """The topic whose pattern fits from this token on, over any wrapping, and where it ends; `bare` lets bare patterns count."""
        last = len(self.text) if index + _LONGEST >= len(self.kept) else self.places[index + _LONGEST]
        sorts = frozenset(("asks", "bare") if bare else ("asks",))
        starts = [index]
        while (wrapped := _wrapping().match(self.text, self.places[starts[-1]], last)) and wrapped.end() < last:
            starts.append(self.places.index(wrapped.end()))
        for start in reversed(starts):
            token = self.kept[start]
            begins = frozenset((token.text, ANYTHING, *(f"{{{tag}}}" for tag in token.tags)))
            expression = _beginning_with(begins, sorts | {"wrapped"} if start > index else sorts)
            match = expression.match(self.text, self.places[start], last) if expression else None
            if match and match.lastgroup:
                topic = tuple(_TOPICS)[int(match.lastgroup[1:].rstrip("b"))]
                return cast(Topic, topic), next((place for place, at in enumerate(self.places) if at >= match.end()), len(self.kept))
        return None


@cache
def _parts() -> Parts:
    return Parts(_ASKING["parts"])


@cache
def _patterns() -> tuple[tuple[str, str, Pattern], ...]:
    """Every pattern in the order of its topic: (topic, its sort, pattern)."""
    parts = _parts()
    return tuple(
        (topic, sort, compile_pattern(written, parts))
        for topic, entry in _TOPICS.items()
        for sort in _SORTS
        for written in entry.get(sort, ())
    )


@cache
def _beginnings() -> dict[str, frozenset[int]]:
    """What a pattern can begin with, and which patterns do."""
    found: dict[str, set[int]] = {}
    for index, (_, _, pattern) in enumerate(_patterns()):
        for begin in pattern.begins:
            found.setdefault(begin, set()).add(index)
    return {begin: frozenset(indexes) for begin, indexes in found.items()}


@cache
def _beginning_with(begins: frozenset[str], sorts: frozenset[str]) -> re.Pattern[str] | None:
    """The expression for all patterns of these sorts that may begin so: compiling them all at once would take a second."""
    indexes = frozenset[int]().union(*(_beginnings().get(begin, frozenset()) for begin in begins))
    by_topic: dict[tuple[str, bool], list[Pattern]] = {}
    for index in sorted(indexes):
        topic, sort, pattern = _patterns()[index]
        if sort in sorts:
            by_topic.setdefault((topic, sort == "bare"), []).append(pattern)
    numbers = {topic: number for number, topic in enumerate(_TOPICS)}
    groups = [
        f"(?P<t{numbers[topic]}{'b' if bare else ''}>{any_of(found).expression}){_WHOLE if bare else _ENDS}"
        for (topic, bare), found in by_topic.items()
    ]
    return re.compile("|".join(groups)) if groups else None


@cache
def _wrapping() -> re.Pattern[str]:
    return re.compile(any_of([compile_pattern(written, _parts()) for written in _ASKING["words"]["wraps"]]).expression)


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
