"""What has the form of a question: an interrogative, an auxiliary before its subject, a question mark."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from parsers.numbers import starts_number
from parsers.subjects import Names
from parsers.topics import triggers
from parsers.vocabulary import Phrases, Tag, load
from parsers.wording import Token
from parsers.words import Word

_ASKING = load("asking")
_WORDS: dict[str, frozenset[str]] = {name: frozenset(words) for name, words in _ASKING["words"].items()}
_SAME: dict[str, str] = _ASKING["same"]
_AFTER_OPENER: dict[str, frozenset[str]] = {opener: frozenset(words) for opener, words in _ASKING["after_opener"].items()}
OPENERS = _WORDS["openers"]
AUX = _WORDS["aux"]
OPENING = OPENERS | AUX | _WORDS["wishes"] | {"can"}
"""Words of which one opens whatever is asked in the middle of a stretch."""
_JOINTS = _WORDS["joints"]
FORMS = OPENERS | AUX | _SAME.keys() | {"?"}
"""Words of which one stands in whatever has the form of a question."""
_SHORT_AUX = frozenset(short for short, long in _SAME.items() if long.split()[0] in AUX)
_AFTER_NUMBER = _WORDS["after_number"] | frozenset(_ASKING["drugs"]["says"])


@cache
def signs_of_asking() -> frozenset[str]:
    """Words of which one stands in whatever asks, by its form or by what it is about."""
    return FORMS | _IF | triggers()


_SO = frozenset(("did", "has", "is", "was"))


def is_question(words: Sequence[Word], start: int, end: int, names: Names | None = None) -> bool:
    """True where a stretch has the form of a question, about the log or not: nothing in it is logged."""
    said = {word.text for word in words[start:end]}
    if FORMS.isdisjoint(said) or exclaims(words, start, end):
        return False
    if "?" in said:
        return True
    if names is not None and did_it(words, start, end, names):
        return False
    people = names.people if names is not None else frozenset[str]()
    place = start
    while place < end and (words[place].text in _WORDS["leads"] or words[place].text == "," or words[place].text in people):
        place += 1
    if place >= end or (place > start and words[place - 1].text == "so" and words[place].text in _SO):
        return False  # `so did moss` tells
    asked = _SAME.get(words[place].text, words[place].text).split()
    follows = asked[1] if len(asked) > 1 else (words[place + 1].text if place + 1 < end else "")
    if asked[0] in OPENERS:
        return asked[0] not in _AFTER_OPENER or follows in AUX or follows in _AFTER_OPENER[asked[0]]
    if asked[0] not in AUX:
        return False
    if follows in _WORDS["inverted"] or (follows in _WORDS["determiners"] and asked[0] != "had") or follows in people:
        return True
    if place + 1 >= end:
        return False
    if names is None:
        return follows in _WORDS["subjects"]
    return _is_subject(words, place + 1, end, names)


def _is_subject(words: Sequence[Word], at: int, end: int, names: Names) -> bool:
    """True where a subject stands here that is not a measure or the object of what was done (`did his business`)."""
    subject = names.match(words, at)
    if subject is None or at + subject.length > end:
        return False
    return subject.how not in ("both", "rest") and not (subject.how == "pronoun" and words[at].text in ("his", "her", "its", "their"))


@cache
def _exclamations() -> Phrases:
    phrases = Phrases()
    phrases.add(_ASKING["words"]["exclaims"], Tag("exclaims", "exclaims"))
    return phrases


def exclaims(words: Sequence[Word], start: int, end: int) -> bool:
    """True for `what a night`, `who's a good girl`: said with the words of a question, and none."""
    return start < end and any(start + length <= end for length, _ in _exclamations().every(words, start))


_DOERS = frozenset(("i", "we", "and", "then", "so", "just", "ok", "okay"))


def did_it(words: Sequence[Word], start: int, end: int, names: Names) -> bool:
    """True for `did blue 266 now pearl`: with a value right behind the subject it tells what was done, unless a question mark asks."""
    at = start
    while at < end and (words[at].text in _DOERS or words[at].text in names.people):
        at += 1
    if at + 1 >= end or words[at].text != "did" or any(word.text == "?" for word in words[start:end]):
        return False
    subject = names.match(words, at + 1)
    after = at + 1 + subject.length if subject is not None else end
    return after < end and starts_number(words[after])


def may_ask(words: Sequence[Word], start: int, end: int, names: Names) -> bool:
    """A fast look for whatever a question needs; most messages of the log have none of it."""
    known = triggers()
    for place in range(start, end):
        text = words[place].text
        if text in AUX or text in _SHORT_AUX:
            if _may_invert(words, place, start, end, names):
                return True
        elif text in OPENERS or text in known or text == "?" or text in _SAME or (text in _IF and _checks(words, place, start)):
            return True
    return False


_IF = frozenset(("if", "whether"))


def _checks(words: Sequence[Word], place: int, start: int) -> bool:
    """`check if pip peed`."""
    return place > start and words[place - 1].text == "check"


def _may_invert(words: Sequence[Word], place: int, start: int, end: int, names: Names) -> bool:
    """True where an auxiliary may stand before its subject, as far as its neighbours tell."""
    if place == start:
        return True
    before = words[place - 1]
    after = words[place + 1].text if place + 1 < end else ""
    if before.kind in ("mark", "newline") or after in _WORDS["inverted"]:
        return True
    if before.kind != "word":
        return after in _AFTER_NUMBER or names.is_name(after)
    if before.text in _WORDS["leads"] or before.text in _JOINTS or before.text in names.people:
        return True
    return names.is_name(before.text) and names.is_name(after)


def opens(kept: Sequence[Token], index: int) -> bool:
    """True where a question may open in the middle of a stretch, without a mark before it."""
    token, before = kept[index], kept[index - 1]
    follows = kept[index + 1] if index + 1 < len(kept) else None
    if (
        follows is None
        or (token.text == "which" and "be" in follows.tags)
        or (token.text in ("who", "which") and before.tags & {"pup", "person"})
    ):
        return False  # `which is good`, `the one who's limp`: said of what stands before
    if before.text in _JOINTS:
        return token.text in OPENERS or (token.text in AUX and bool(follows.tags & {"who", "any", "person", "drug"}))
    if token.text in OPENERS:
        return (
            token.text in ("why", "how", "whose")
            or follows.text in AUX
            or follows.text in ("needs", "time", "much")
            or before.text in _WRAPPING
        )
    if token.text not in AUX:
        wish = token.text in _WORDS["wishes"]
        return ((wish or token.text == "can") and "number" in before.tags) or (wish and follows.text in ("me", "us"))
    return _inverts(token, before, follows, first=index == 1)


_WRAPPING = frozenset(("me", "know", "remember", "us"))


def _inverts(token: Token, before: Token, follows: Token, *, first: bool) -> bool:
    """True where an auxiliary in mid-stretch stands before its subject (`cleared 2 did anyone clear 3`, not `3 is all good`)."""
    if "be" in token.tags and follows.text in ("that", "this"):
        return True
    if "number" in before.tags or (first and "person" in before.tags):
        return bool(follows.tags & {"who", "any", "person", "drug"})
    if before.subject is None or before.subject.how == "pronoun":
        return False
    if follows.tags & {"any", "person"}:
        return True
    return follows.subject is not None and follows.subject.how not in ("all", "both", "rest") and token.text != "had"
