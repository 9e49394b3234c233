"""Patterns of questions: how the written patterns of topics.toml become one regular expression over a stretch's tokens."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

_PART = re.compile(r"\.\.|[()\[\]|*]|<[^<>]+>|\{[a-z_]+\}|[^\s()\[\]|*<>{}]+")

GAP = r"(?:(?!\S*~(?:unknown|mark|asks|number)~|[^~]*~milestone~ |(?:and|but|so)~)\S+ )*?"
"""Any run of known words, the shortest first: no unknown word, no mark, no number can hide in it (`..` of a pattern)."""
_PRESENT = GAP.replace("number)~", "number|did|has)~|(?:was|were)~")
_GAPS = {"..": GAP, "~": _PRESENT}
_REST = r"~\S* "
"""What follows a token's word: its tags, each between two tildes, and the space that ends it."""
_WORD = re.compile(r"[^~ ()|]+" + re.escape(_REST))


class PatternError(ValueError):
    """A pattern is wrong: says which, and what to do."""


def one_of(patterns: Sequence[str], parts: Mapping[str, str]) -> str:
    """The expression for any of these patterns; a part in <> is put in as it stands in `parts`. Raises PatternError with the remedy."""
    return _choice([_whole(pattern, parts) for pattern in patterns])


def _whole(pattern: str, parts: Mapping[str, str]) -> str:
    found = _PART.findall(pattern)
    expression, left = _sequence(found, 0, pattern, parts)
    if left != len(found):
        raise PatternError(f"the pattern {pattern!r} has a bracket too many: every [ needs its ], every ( its ).")
    return expression


def _sequence(found: Sequence[str], at: int, pattern: str, parts: Mapping[str, str]) -> tuple[str, int]:
    """The expression for the parts from `at` up to a `|` or a closing bracket, and where it stopped."""
    pieces: list[str] = []
    while at < len(found) and found[at] not in (")", "]", "|"):
        part = found[at]
        at += 1
        if part in ("(", "["):
            choices: list[str] = []
            while True:
                choice, at = _sequence(found, at, pattern, parts)
                choices.append(choice)
                if at >= len(found):
                    raise PatternError(f"the pattern {pattern!r} has a bracket that is never closed.")
                at += 1
                if found[at - 1] != "|":
                    break
            if found[at - 1] != ("]" if part == "[" else ")"):
                raise PatternError(f"the pattern {pattern!r} has brackets that do not fit: every [ needs its ], every ( its ).")
            pieces.append(_choice(choices) + ("?" if part == "[" else ""))
        elif part == "*":
            pieces.append("*?")
        elif part in _GAPS:
            pieces.append(_GAPS[part])
        elif part == "?":
            pieces.append(_tag("asks"))
        elif part[0] == "<":
            name = part[1:-1]
            if name not in parts:
                raise PatternError(f"the pattern {pattern!r} speaks of <{name}>, which asking.toml does not have among its parts.")
            pieces.append(f"(?:{_whole(parts[name], parts)})")
        elif part[0] == "{":
            pieces.append(_tag(part[1:-1]))
        else:
            pieces.append(re.escape(part) + _REST)
    return "".join(pieces), at


def _tag(name: str) -> str:
    """The expression for one token that has this tag."""
    return rf"\S*~{name}~\S* "


def _choice(choices: Sequence[str]) -> str:
    """One expression for several: what ends alike is written once, which makes it shorter and faster to try."""
    alike = [choice[: -len(_REST)] for choice in choices if _WORD.fullmatch(choice)]
    others = [choice for choice in choices if not _WORD.fullmatch(choice)]
    if len(alike) > 1:
        others.append(f"(?:{'|'.join(sorted(set(alike)))}){_REST}")
    else:
        others.extend(choice + _REST for choice in alike)
    return f"(?:{'|'.join(others)})"
