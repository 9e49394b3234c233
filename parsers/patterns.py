"""Patterns of questions: how the written patterns of topics.toml become regular expressions over a stretch's tokens."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

_PART = re.compile(r"\.\.|[()\[\]|*]|<[^<>]+>|\{[a-z_]+\}|[^\s()\[\]|*<>{}]+")

GAP = r"(?:(?!\S*~(?:unknown|mark|asks|number)~|[^~]*~milestone~ |(?:and|but|so)~)\S+ )*?"
"""Any run of known words, the shortest first: no unknown word, no mark, no number can hide in it (`..` of a pattern)."""
_PRESENT = GAP.replace("number)~", "number|did|has)~|(?:was|were)~")
"""The same without did, has and was (`~` of a pattern)."""
_WIDE = GAP.replace("|[^~]*~milestone~ ", "")
"""The same, milestones among them (`^` of a pattern)."""
_GAPS = {"..": GAP, "~": _PRESENT, "^": _WIDE}
_REST = r"~\S* "
"""What follows a token's word: its tags, each between two tildes, and the space that ends it."""
_WORD = re.compile(r"[^~ ()|]+" + re.escape(_REST))
ANYTHING = "*"


class PatternError(ValueError):
    """A pattern is wrong: says which, and what to do."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """A pattern as an expression, and what it can begin with: words, tags in braces, or ANYTHING."""

    expression: str
    begins: frozenset[str]
    empty: bool = False
    """True where it may also match nothing."""


class Parts:
    """The named parts of patterns, each made ready once."""

    def __init__(self, written: Mapping[str, str]) -> None:
        self._written = written
        self._ready: dict[str, Pattern] = {}

    def pattern(self, name: str, asked_by: str) -> Pattern:
        """The part of this name; raises PatternError where there is none."""
        if name not in self._written:
            raise PatternError(f"the pattern {asked_by!r} speaks of <{name}>, which asking.toml does not have among its parts.")
        if name not in self._ready:
            part = compile_pattern(self._written[name], self)
            self._ready[name] = Pattern(f"(?:{part.expression})", part.begins, part.empty)
        return self._ready[name]


def compile_pattern(written: str, parts: Parts) -> Pattern:
    """A written pattern, ready; a part in <> is put in as it stands among the parts. Raises PatternError with the remedy."""
    found = _PART.findall(written)
    pattern, left = _sequence(found, 0, written, parts)
    if left != len(found):
        raise PatternError(f"the pattern {written!r} has a bracket too many: every [ needs its ], every ( its ).")
    return pattern


def any_of(patterns: Sequence[Pattern]) -> Pattern:
    """Any one of several; what ends alike is written once, which makes it shorter and faster to try."""
    begins = frozenset[str]().union(*(one.begins for one in patterns))
    empty = any(one.empty for one in patterns)
    expressions = list(dict.fromkeys(one.expression for one in patterns))
    words = [expression[: -len(_REST)] for expression in expressions if _WORD.fullmatch(expression)]
    others = [expression for expression in expressions if not _WORD.fullmatch(expression)]
    if words:
        others.append(f"(?:{'|'.join(sorted(words))}){_REST}")
    return Pattern(f"(?:{'|'.join(others)})", begins, empty)


def _sequence(found: Sequence[str], at: int, written: str, parts: Parts) -> tuple[Pattern, int]:
    """The pattern of the parts from `at` up to a `|` or a closing bracket, and where it stopped."""
    pieces: list[Pattern] = []
    while at < len(found) and found[at] not in (")", "]", "|"):
        part = found[at]
        at += 1
        if part in ("(", "["):
            piece, at = _bracket(found, at, part, written, parts)
        elif part == "*":
            last = pieces.pop()
            piece = Pattern(f"(?:{last.expression})*?", last.begins, True)
        elif part in _GAPS:
            piece = Pattern(_GAPS[part], frozenset((ANYTHING,)), True)
        elif part[0] == "<":
            piece = parts.pattern(part[1:-1], written)
        elif part[0] == "{" or part == "?":
            tag = "asks" if part == "?" else part[1:-1]
            piece = Pattern(rf"\S*~{tag}~\S* ", frozenset((f"{{{tag}}}",)))
        else:
            piece = Pattern(re.escape(part) + _REST, frozenset((part,)))
        pieces.append(piece)
    begins: set[str] = set()
    for piece in pieces:
        begins |= piece.begins
        if not piece.empty:
            break
    return Pattern("".join(piece.expression for piece in pieces), frozenset(begins), all(piece.empty for piece in pieces)), at


def _bracket(found: Sequence[str], at: int, opened: str, written: str, parts: Parts) -> tuple[Pattern, int]:
    choices: list[Pattern] = []
    while True:
        choice, at = _sequence(found, at, written, parts)
        choices.append(choice)
        if at >= len(found):
            raise PatternError(f"the pattern {written!r} has a bracket that is never closed.")
        at += 1
        if found[at - 1] != "|":
            break
    if found[at - 1] != ("]" if opened == "[" else ")"):
        raise PatternError(f"the pattern {written!r} has brackets that do not fit: every [ needs its ], every ( its ).")
    chosen = any_of(choices)
    if opened == "[":
        return Pattern(f"{chosen.expression}?", chosen.begins, True), at
    return chosen, at
