"""Slips of spelling are mended before anything is read, and told to the sender."""

from __future__ import annotations

from functools import cache

from parsers.lexicon import lexicon, short_words, speller, trade_words
from parsers.numbers import starts_number
from parsers.subjects import Names
from parsers.vocabulary import load
from parsers.words import Word

_DAM = frozenset(("mum", "mom", "mama", "dam"))
_ASK_WITH_IS = frozenset(("who", "what", "when", "where", "why", "how", "that", "there", "here"))


def mend(words: list[Word], names: Names) -> list[tuple[str, str]]:
    """Mend slips of spelling in place; gives what was mended."""
    known, short, spell = lexicon().known, short_words(), speller()
    mended: list[tuple[str, str]] = []
    right = names.right
    for place, word in enumerate(words):
        text = word.text
        if text in right or word.kind != "word" or len(text) < 4:
            continue
        if text.endswith("'s") and text not in known and not names.is_name(text):
            stem = text[:-2]
            if (stem in trade_words() and stem not in _ASK_WITH_IS) or starts_number(Word(stem, "word", 0, 0, True)):
                word.text = stem
                continue
        if _owns(text, words, place, names):
            word.typed, word.text = text, text[:-1] + "'s"
            continue
        better = None
        if not (
            text in _dogs_names()
            or text in known
            or text in short
            or starts_number(word)
            or names.is_name(text)
            or text in names.people
            or text in names.zones
        ):
            better = names.mend(text) or spell.mend(text)
        if better is not None:
            word.typed, word.text = text, better
            mended.append((text, better))
        elif text[-1] != "s":  # one in s may be an owner, which its next word tells
            if len(right) >= _REMEMBERED:
                right.clear()
            right.add(text)
    return mended


_REMEMBERED = 5_000  # words; forgets them all rather than grow


@cache
def _dogs_names() -> frozenset[str]:
    """Names that many dogs have: `Bella` is no slip of belly."""
    return frozenset(load("setup")["not_names"]["common"])


def _owns(text: str, words: list[Word], place: int, names: Names) -> bool:
    """True for an owner typed without its apostrophe: `ferns gums`, `mums shaking`."""
    then = words[place + 1] if place + 1 < len(words) else None
    if not text.endswith("s") or text in names.people or names.is_name(text) or not (names.is_name(text[:-1]) or text[:-1] in _DAM):
        return False
    return then is not None and then.kind == "word" and then.text not in ("milk", "and", "or", "are", "all")
