"""Patterns of questions: how the written patterns of topics.toml become one regular expression over a stretch's tokens."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

_PART = re.compile(r"\.\.|[()\[\]|*]|<[^<>]+>|\{[a-z_]+\}|[^\s()\[\]|*<>{}]+")

GAP = r"(?:(?!\S*~(?:unknown|mark|asks|number)~)\S+ )*?"
"""Any run of known words, the shortest first: no unknown word, no mark, no number can hide in it."""


class PatternError(ValueError):
    """A pattern is wrong: says which, and what to do."""


def tag(name: str) -> str:
    """The expression for one token that has this tag."""
    return rf"\S*~{name}~\S* "


def literal(text: str) -> str:
    """The expression for one token that is this word."""
    return rf"{re.escape(text)}~\S* "


def compile_pattern(pattern: str, parts: Mapping[str, str]) -> str:
    """The expression for a pattern; a part in <> is put in as it stands in `parts`. Raises PatternError with the remedy."""
    pieces: list[str] = []
    depth: list[str] = []
    for part in _PART.findall(pattern):
        if part == "..":
            pieces.append(GAP)
        elif part in "([":
            depth.append(part)
            pieces.append("(?:")
        elif part in ")]":
            if not depth or depth.pop() != "(["[")]".index(part)]:
                raise PatternError(f"the pattern {pattern!r} has brackets that do not fit: every [ needs its ], every ( its ).")
            pieces.append(")" if part == ")" else ")?")
        elif part == "|":
            pieces.append("|")
        elif part == "*":
            pieces.append("*?")
        elif part[0] == "<":
            name = part[1:-1]
            if name not in parts:
                raise PatternError(f"the pattern {pattern!r} speaks of <{name}>, which asking.toml does not have among its parts.")
            pieces.append("(?:" + compile_pattern(parts[name], parts) + ")")
        elif part[0] == "{":
            pieces.append(tag(part[1:-1]))
        elif part == "?":
            pieces.append(tag("asks"))
        else:
            pieces.append(literal(part))
    if depth:
        raise PatternError(f"the pattern {pattern!r} has a bracket that is never closed.")
    return "".join(pieces)


def one_of(patterns: Sequence[str], parts: Mapping[str, str]) -> str:
    """The expression for any of these patterns."""
    return "(?:" + "|".join(compile_pattern(pattern, parts) for pattern in patterns) + ")"
