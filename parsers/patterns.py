"""Patterns of questions: how the written patterns of topics.toml become regular expressions over a stretch's tokens."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence, Set
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


Needs = tuple[frozenset[str], ...]


@dataclass(frozen=True, slots=True)
class Pattern:
    """A pattern as an expression over a stretch's tokens."""

    expression: str
    empty: bool = False
    """True where it may also match nothing."""
    needs: Needs = ()
    """What any stretch that it matches holds: of each set a word, or a token with the tag in braces."""


class Parts:
    """The named parts of patterns, each made ready once."""

    def __init__(self, written: Mapping[str, str]) -> None:
        self._written = written
        self._ready: dict[str, Pattern] = {}
        self._begins: dict[str, tuple[frozenset[str], bool]] = {}

    def written(self, name: str, asked_by: str) -> str:
        """The part of this name as it is written; raises PatternError where there is none."""
        if name not in self._written:
            raise PatternError(f"the pattern {asked_by!r} speaks of <{name}>, which asking.toml does not have among its parts.")
        return self._written[name]

    def pattern(self, name: str, asked_by: str) -> Pattern:
        """The part of this name; raises PatternError where there is none."""
        if name not in self._ready:
            part = compile_pattern(self.written(name, asked_by), self)
            self._ready[name] = Pattern(f"(?:{part.expression})", part.empty, _lightest(part.needs))
        return self._ready[name]

    def begins(self, name: str, asked_by: str) -> tuple[frozenset[str], bool]:
        """What the part of this name can begin with, and whether it can be nothing; raises PatternError where there is none."""
        if name not in self._begins:
            found, empty, _ = _begins(_tokens(self.written(name, asked_by)), name, self)
            self._begins[name] = frozenset(found), empty
        return self._begins[name]


def beginnings(written: str, parts: Parts) -> frozenset[str]:
    """What a pattern can begin with: words, tags in braces, or ANYTHING. Looks no further than it must."""
    return frozenset(_begins(_tokens(written), written, parts)[0])


def _tokens(written: str) -> Iterator[str]:
    return (found.group() for found in _PART.finditer(written))


def _begins(tokens: Iterator[str], written: str, parts: Parts, depth: int = 0) -> tuple[set[str], bool, str]:
    """The beginnings of the sequence that comes, whether it can be nothing, and the token that ended it."""
    found: set[str] = set()
    open_still, token = True, next(tokens, "")
    while token and token not in (")", "]", "|"):
        begins: Set[str]
        if token in ("(", "["):
            begins, empty, token = set(), token == "[", "|"
            while token == "|":
                more, nothing, token = _begins(tokens, written, parts, depth + 1)
                begins, empty = begins | more, empty or nothing
        elif token in _GAPS:
            begins, empty = {ANYTHING}, True
        elif token[0] == "<":
            begins, empty = parts.begins(token[1:-1], written)
        else:
            begins, empty = {"{asks}" if token == "?" else token}, False
        token = next(tokens, "")
        if token == "*":
            empty, token = True, next(tokens, "")
        if open_still:
            found |= begins
            open_still = empty
            if not (open_still or depth):
                break
    return found, open_still, token


def compile_pattern(written: str, parts: Parts) -> Pattern:
    """A written pattern, ready; a part in <> is put in as it stands among the parts. Raises PatternError with the remedy."""
    found = _PART.findall(written)
    pattern, left = _sequence(found, 0, written, parts)
    if left != len(found):
        raise PatternError(f"the pattern {written!r} has a bracket too many: every [ needs its ], every ( its ).")
    return pattern


def any_of(patterns: Sequence[Pattern]) -> Pattern:
    """Any one of several; what ends alike is written once, which makes it shorter and faster to try."""
    empty = any(one.empty for one in patterns)
    expressions = list(dict.fromkeys(one.expression for one in patterns))
    words = [expression[: -len(_REST)] for expression in expressions if _WORD.fullmatch(expression)]
    others = [expression for expression in expressions if not _WORD.fullmatch(expression)]
    if words:
        others.append(f"(?:{'|'.join(sorted(words))}){_REST}")
    lightest = [_lightest(one.needs) for one in patterns]
    needs = () if empty or not all(lightest) else (frozenset[str]().union(*(need for (need,) in lightest)),)
    return Pattern(f"(?:{'|'.join(others)})", empty, needs)


def _lightest(needs: Needs) -> Needs:
    """The one of several needs that the fewest stretches meet, as far as its size tells."""
    return (min(needs, key=weight),) if needs else ()


def weight(need: frozenset[str]) -> int:
    """How easily a need is met: a tag is on many words."""
    return sum(_TAG_WEIGHS if each[0] == "{" else 1 for each in need)


_TAG_WEIGHS = 8


def _sequence(found: Sequence[str], at: int, written: str, parts: Parts) -> tuple[Pattern, int]:
    """The pattern of the parts from `at` up to a `|` or a closing bracket, and where it stopped."""
    pieces: list[Pattern] = []
    while at < len(found) and found[at] not in (")", "]", "|"):
        part = found[at]
        at += 1
        if part in ("(", "["):
            piece, at = _bracket(found, at, part, written, parts)
        elif part == "*":
            piece = Pattern(f"(?:{pieces.pop().expression})*?", True)
        elif part in _GAPS:
            piece = Pattern(_GAPS[part], True)
        elif part[0] == "<":
            piece = parts.pattern(part[1:-1], written)
        elif part[0] == "{" or part == "?":
            tag = "asks" if part == "?" else part[1:-1]
            piece = Pattern(rf"\S*~{tag}~\S* ", False, (frozenset((f"{{{tag}}}",)),))
        else:
            piece = Pattern(re.escape(part) + _REST, False, (frozenset((part,)),))
        pieces.append(piece)
    needs = tuple([need for piece in pieces for need in piece.needs])
    return Pattern("".join([piece.expression for piece in pieces]), all(piece.empty for piece in pieces), needs), at


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
    return (Pattern(f"{chosen.expression}?", True) if opened == "[" else chosen), at
