"""A statement that asks by what hangs on it: 3 was cleared, wasn't he? · you fed pearl right · 3 nursed when? · any poops today."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from parsers.asked import Asked, build
from parsers.litter_card import LitterCard
from parsers.subjects import Names
from parsers.vocabulary import load
from parsers.wording import Token, tokens
from parsers.words import Word

_DATA = load("asking")["hangers"]
HANGING = frozenset((*_DATA["aux"], "any", "right", "?"))
"""Words of which one stands in every statement that asks by what hangs on it."""
_TAG_AUX = frozenset(_DATA["aux"])
_TAG_WHO = frozenset(_DATA["who"])
_TAG_WORDS = frozenset(_DATA["says"])
_OPEN = frozenset(_DATA["open"])
_SIGNS = frozenset(_DATA["signs"])
_UNSURE = frozenset(_DATA["unsure"])
_QUIET = frozenset(_DATA["quiet"])
_ACTS = frozenset(("nursed", "fed", "cleared", "toilet", "dose", "intake", "cleaned", "refused", "drug"))
_STATES = frozenset(("sign", "state"))
_MEASURES = frozenset(("number", "weight", "temperature", "climate"))


def hung(words: Sequence[Word], names: Names, card: LitterCard) -> Asked | None:
    """The question of a sentence that ends in a tag (`didn't you`, `right?`, `yes?`, `when?`), with or without its question mark."""
    end = _before_tag(words)
    if end is None:
        return None
    begin = next((place + 1 for place in reversed(range(end)) if words[place].text == ","), 0)
    for start in dict.fromkeys((begin, 0)):
        asked = _asked(words, start, end, names, card, valued=True)
        if asked is not None:
            return asked
    return None


def stated(words: Sequence[Word], names: Names, card: LitterCard) -> Asked | None:
    """The question of an act told with a plain question mark: `so 3 nursed 15?`. One that is only thought or guessed is none."""
    if len(words) < 2 or words[-1].text != "?" or words[-2].text == "?":
        return None
    if any(word.text == "," for word in words[1:]) and words[0].text not in _QUIET:
        return None
    return _asked(words, 0, len(words) - 1, names, card, valued=False)


def any_of_it(words: Sequence[Word], names: Names, card: LitterCard) -> Asked | None:
    """`any poops today`, `any signs on 4`: nothing but what is asked for, of whom and since when."""
    begin = next((place for place, word in enumerate(words[:3]) if word.text not in _QUIET), 0)
    if begin >= len(words) or words[begin].text != "any":
        return None
    seen = tokens(words, begin + 1, len(words), names, card)
    kinds = [token for token in seen if token.subject is None and (token.tags & (_ACTS | _STATES) or token.text in _SIGNS)]
    plain = all(token.dropped or token in kinds or token.tags & {"asks", "who"} or token.text in _OF for token in seen)
    if not kinds or not plain or any("done" in token.tags for token in kinds):
        return None
    acted = any(token.tags & _ACTS for token in kinds)
    found = build("last" if acted else "status", seen, begin + 1, len(words))
    return None if found is None else replace(found, start=0)


_OF = frozenset(("of", "on", "from", "in", "for", "with", "at"))


def _before_tag(words: Sequence[Word]) -> int | None:
    """Where the statement before a tag ends; None where no tag hangs on it."""
    end = len(words)
    while end and words[end - 1].text == "?":
        end -= 1
    marked = end < len(words)
    if end < 3:
        return None
    last = words[end - 1].text
    if last in _TAG_WHO and words[end - 2].text in _TAG_AUX:
        end -= 2
    elif (last in _TAG_WORDS and marked) or (last == "right" and words[0].text in ("you", "u")):
        end -= 1
    elif marked and last in _OPEN:
        end -= 2 if words[end - 2].text in ("since", "until", "what") else 1
    else:
        return None
    while end and words[end - 1].text == ",":
        end -= 1
    return end if end > 1 else None


def _asked(words: Sequence[Word], start: int, end: int, names: Names, card: LitterCard, *, valued: bool) -> Asked | None:
    if any(word.text in _UNSURE for word in words[:end]):
        return None
    seen = tokens(words, start, end, names, card)
    if not any(token.subject is not None or token.tags & {"person", "any", "drug"} for token in seen):
        return None
    topic = _topic(seen, valued=valued)
    if topic is None:
        return None
    found = build("last" if topic == "last" else "status", seen, start, end)
    return None if found is None else Asked(found.question, start, len(words), found.subject)


def _topic(seen: Sequence[Token], *, valued: bool) -> str | None:
    """`last` for an act; with a tag also `status`, for a state or a value."""
    if any(token.tags & _ACTS and token.subject is None for token in seen):
        return "last"
    return "status" if valued and any(token.tags & (_STATES | _MEASURES) and token.subject is None for token in seen) else None
