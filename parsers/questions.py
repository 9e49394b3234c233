"""What a message asks about the log: the topic, of whom, of which doing or drug, over what span; and whether it asks at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from parsers.asked import Asked, build
from parsers.cries import crying_words, find_cry, worry
from parsers.interrogatives import AUX, FORMS, OPENERS, OPENING, did_it, exclaims, is_question, may_ask, opens, signs_of_asking
from parsers.litter_card import LitterCard
from parsers.subjects import Names
from parsers.topics import Tape, triggers
from parsers.vocabulary import load
from parsers.wording import Token, tokens, vocabulary_words
from parsers.words import Word

__all__ = ["FORMS", "Asked", "asking_words", "find", "is_question", "known_words", "mended_words", "worry_span"]


def find(words: Sequence[Word], start: int, end: int, names: Names, card: LitterCard) -> Asked | None:
    """The question about the log in a sentence or the tail of one; None where nothing about the log is asked."""
    asking = may_ask(words, start, end, names)
    cry = find_cry(words, start, end)
    if not (asking or cry) or exclaims(words, start, end) or did_it(words, start, end, names):
        return None
    seen = tokens(words, start, end, names, card)
    worried = worry(seen, cry) if cry else None
    if worried or not asking:
        return worried
    kept = _kept(seen)
    tape = Tape(kept)
    tags = frozenset[str]().union(*[token.tags for token in seen])
    marked, timed = "asks" in tags, "time" in tags and "asks" not in tags
    begins = True
    for index, token in enumerate(kept):
        if begins or (token.text in OPENING and opens(kept, index)):
            found = None if not marked and _tells(kept, index) else tape.topic(index, bare=begins and not timed)
            if found:
                topic, stop = found
                first = _with_address(seen, kept[index].start)
                return build(topic, seen, first, _with_tail(seen, kept[stop - 1].end))
        begins = not _MARKS.isdisjoint(token.tags)
    return None


_MARKS = frozenset(("mark", "asks"))


@cache
def asking_words() -> frozenset[str]:
    """Words of which one stands in whatever asks, by its form or by what it cries for."""
    return signs_of_asking() | crying_words()


def cried(words: Sequence[Word], start: int, end: int, names: Names, card: LitterCard) -> Asked | None:
    """A cry for help in words[start:end] beside a sign in another sentence: `limp! pearl! help!`; its places count from start."""
    cry = find_cry(words, start, end)
    found = worry(tokens(words, 0, len(words), names, card), cry) if cry else None
    return None if found is None else replace(found, start=found.start - start, end=min(found.end, end) - start)


def worry_span(words: Sequence[Word], start: int, end: int) -> tuple[int, int] | None:
    """The words of a cry for help in a sentence (`what do I do`, `help`, `is that bad`), so that the sign beside it can be logged."""
    cry = find_cry(words, start, end)
    return (cry.start, cry.end) if cry else None


def known_words() -> frozenset[str]:
    """Every word of the questions' vocabulary: the speller leaves them as they are."""
    return triggers() | vocabulary_words()


def mended_words() -> frozenset[str]:
    """Words of the topics that the speller may mend a slip into (`handovr`, `gians`, `overdu`)."""
    return frozenset(load("asking")["words"]["mended"])


def _kept(seen: Sequence[Token]) -> list[Token]:
    """The tokens without noise, spans and times; a pronoun after a named subject is noise too (`did mom get her calcium`)."""
    kept: list[Token] = []
    named = False
    for token in seen:
        if token.dropped:
            continue
        if token.subject is None and not (kept and kept[-1].subject):
            if token.text in OPENERS or not _MARKS.isdisjoint(token.tags):
                named = False
            kept.append(token)
            continue
        how = token.subject.how if token.subject is not None else None
        if how == "pronoun" and named and "conj" not in token.tags and not (token.text in _DOES and kept[-1].text in AUX):
            continue
        last = kept[-1].subject if kept else None
        if last is not None and last.how == "pronoun" and how in ("all", "both"):
            kept.pop()  # `are they all gaining`
        named = named or how not in (None, "pronoun")
        if token.text in OPENERS or not _MARKS.isdisjoint(token.tags):
            named = False
        kept.append(token)
    return kept


def _tells(kept: Sequence[Token], index: int) -> bool:
    """True where words that may ask tell, for want of a question mark: `had all her breakfast`, `which is good`, `178, was 176`."""
    token, follows = kept[index], kept[index + 1] if index + 1 < len(kept) else None
    if follows is None:
        return False
    if token.text == "had":
        return follows.text in _OBJECTS or (follows.subject is not None and follows.subject.how in ("all", "both", "rest"))
    if token.text == "which" and "be" in follows.tags:
        return index + 2 < len(kept) and "state" in kept[index + 2].tags
    return token.text in ("was", "were") and "number" in follows.tags and follows.subject is None and index > 0


_OBJECTS = frozenset(("her", "his", "their", "its"))
_DOES = frozenset(("he", "she", "they", "it"))


def _with_address(seen: Sequence[Token], start: int) -> int:
    """The start of a question with the few words before it that only lead to it: `hey Theo,`, `pip,`, `ok so`."""
    before = [token for token in seen if token.end <= start]
    leads = all(token.tags & _LEADING and "number" not in token.tags for token in before)
    return seen[0].start if leads else start


_LEADING = frozenset(("any", "person", "who", "noise", "mark", "known", "span", "time"))


def _with_tail(seen: Sequence[Token], end: int) -> int:
    """Where the question really ends: over small words, an `or ...`, an `and` with another doing, and its question mark."""
    rest = [token for token in seen if token.start >= end]
    while rest and rest[0].dropped:
        end = rest.pop(0).end
    close = next((at for at, token in enumerate(rest) if token.tags & {"mark", "asks"}), len(rest))
    clause = rest[:close]
    marked = close < len(rest) and "asks" in rest[close].tags
    if clause:
        measured = any("number" in token.tags for token in clause)
        named = clause[0].text == "and" and any(token.subject is not None for token in clause)
        if measured or not (marked or (clause[0].text in ("or", "and", "if") and not named)):
            return end
        end = clause[-1].end
    return rest[close].end if marked else end
