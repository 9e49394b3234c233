"""The words of corrections: what leads one in, what stands between its parts, what takes back, what may follow."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

from parsers.templates import Templates
from parsers.vocabulary import load

_DATA = load("corrections")
STOPS = frozenset(_DATA["stops"]["says"])
"""Words that begin a new part of a sentence."""
END_MARKS = frozenset((".", "!", ";", "\n", "?", "…"))
SKIPPED = frozenset((",", "-", ".", "!", ":", "…", "\n", "*", "(", '"'))
"""Marks that may stand between what leads a correction in and the correction."""
STRONG = {"sure", "no", "who"}
"""The leads that make a correction of whatever fits behind them."""
SMALL_LEADS = {"quiet", "ask"}


def _phrases(meanings: Mapping[str, Sequence[str]]) -> Templates:
    templates = Templates(_DATA["shared"] | {"what": _DATA["undo"]["what"]})
    for meaning, patterns in meanings.items():
        templates.add(meaning, patterns)
    return templates


@cache
def leads() -> Templates:
    """What leads a correction in, by how surely one follows."""
    return _phrases(_DATA["lead"])


@cache
def undo() -> Templates:
    """What takes back the last message."""
    return _phrases({"undo": _DATA["undo"]["says"]})


@cache
def small() -> Templates:
    """Small words between the parts of a correction."""
    return _phrases({"between": _DATA["between"]["says"]})


@cache
def nots() -> Templates:
    """What makes the next part the old one (`not`), or all before it (`to`)."""
    return _phrases({"not": _DATA["between"]["not"], "to": _DATA["between"]["to"]})


@cache
def tails() -> Templates:
    """What may stand behind a correction; `telling` makes one of what stands before it."""
    telling = set(_DATA["tail"]["telling"])
    return _phrases({"telling": _DATA["tail"]["telling"], "tail": [tail for tail in _DATA["tail"]["says"] if tail not in telling]})


@cache
def known_words() -> frozenset[str]:
    """Every word of the corrections' vocabulary, for the speller."""
    return frozenset(word for phrases in (leads(), undo(), small(), nots(), tails()) for word in phrases.known if word.isalpha())
