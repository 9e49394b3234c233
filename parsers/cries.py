"""A cry for help: `what do I do`, `help`, `is that bad`; beside it a sign is logged, and the answer is when to call the vet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from parsers.asked import Asked, whom
from parsers.reading import Question
from parsers.vocabulary import Phrases, Tag, load
from parsers.wording import Token
from parsers.words import Word

_CRIES: dict[str, list[str]] = load("asking")["cries"]
_NOT_AFTER = frozenset(_CRIES["not_after"])
_NOT_BEFORE = frozenset(_CRIES["not_before"])
_AFTER_HELP = frozenset(_CRIES["after_help"])
_ALARMS = frozenset(_CRIES["alarms"])


@dataclass(frozen=True, slots=True)
class Cry:
    """The words of a cry for help."""

    start: int
    end: int
    needs_sign: bool
    """True where it is one only beside a sign (`help`, `is that ok`, `any ideas`)."""


@cache
def _phrases(sort: str) -> Phrases:
    phrases = Phrases()
    phrases.add(_CRIES[sort], Tag("cry", sort))
    return phrases


@cache
def crying_words() -> frozenset[str]:
    """Words with one of which every cry for help begins."""
    return frozenset(_phrases("anywhere").known | _phrases("at_an_end").known)


def find_cry(words: Sequence[Word], start: int, end: int) -> Cry | None:
    """The first cry for help in a stretch."""
    anywhere, at_an_end = _phrases("anywhere"), _phrases("at_an_end")
    for place in range(start, end):
        text = words[place].text
        if text in anywhere.paths:
            after = _end(anywhere, words, place, end)
            if after and not (after < end and words[after].text in _NOT_BEFORE):
                helps = any(word.text == "help" for word in words[place:after])
                if not helps or after == end or words[after].kind != "word" or words[after].text in _AFTER_HELP:
                    return Cry(place, after, helps)
        if text in at_an_end.paths:
            after = _end(at_an_end, words, place, end)
            if after and not (place > start and words[place - 1].text in _NOT_AFTER):
                begins = text == "help" and (place == start or words[place - 1].kind in ("mark", "newline"))
                if after == end or words[after].kind in ("mark", "newline") or (begins and words[after].text not in _NOT_BEFORE):
                    return Cry(place, after, text not in _ALARMS)
    return None


def _end(phrases: Phrases, words: Sequence[Word], at: int, end: int) -> int:
    """Where the longest phrase from here ends; 0 where none begins."""
    return max((at + length for length, _ in phrases.every(words, at) if at + length <= end), default=0)


def worry(seen: Sequence[Token], cry: Cry) -> Asked | None:
    """The cry as a question, about the pup or dam that stands nearest before it, or else first after it; None where it lacks its sign."""
    if cry.needs_sign and not any("sign" in token.tags for token in seen if token.end <= cry.start or token.start >= cry.end):
        return None
    before = [token for token in seen if token.end <= cry.start and token.subject is not None]
    named = [token for token in before if token.subject is not None and token.subject.whos]
    after = [token for token in seen if token.start >= cry.start and token.subject is not None]
    who, later = next(
        (found for token in [*reversed(named), *reversed(before), *after] if any(found := whom("worry", [token]))), (None, None)
    )
    return Asked(Question(topic="worry", who=who), cry.start, _stretched(seen, cry.end), later)


def _stretched(seen: Sequence[Token], end: int) -> int:
    """The end of a cry with what belongs to it: `if pip gets cold`, `about 3`, small words, the question mark."""
    rest = [token for token in seen if token.start >= end]
    if rest and rest[0].text in ("if", "when"):
        end = next((token.start for token in rest if token.tags & {"mark", "asks"}), rest[-1].end)
    elif rest and rest[0].text in ("about", "with", "for"):
        end = rest[0].end
        if len(rest) > 1 and rest[1].subject is not None and (len(rest) == 2 or rest[2].tags & {"mark", "asks"}):
            end = rest[1].end
    for token in seen:
        if token.start == end and token.tags & {"asks", "noise"}:
            end = token.end
    return end
