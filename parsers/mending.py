"""Slips of spelling are mended before anything is read, and told to the sender."""

from __future__ import annotations

from parsers.lexicon import lexicon, short_words, speller, trade_words
from parsers.numbers import starts_number
from parsers.subjects import Names
from parsers.words import Word

_ASK_WITH_IS = frozenset(("who", "what", "when", "where", "why", "how", "that", "there", "here"))


def mend(words: list[Word], names: Names) -> list[tuple[str, str]]:
    """Mend slips of spelling in place; gives what was mended."""
    known, short, spell = lexicon().known, short_words(), speller()
    mended: list[tuple[str, str]] = []
    for word in words:
        if word.kind != "word" or len(word.text) < 4:
            continue
        text = word.text
        if text.endswith("'s") and text not in known and not names.is_name(text):
            stem = text[:-2]
            if (stem in trade_words() and stem not in _ASK_WITH_IS) or starts_number(Word(stem, "word", 0, 0, True)):
                word.text = stem
                continue
        if text in known or text in short or starts_number(word) or names.is_name(text) or text in names.people:
            continue
        better = names.mend(text) or spell.mend(text)
        if better is not None:
            word.typed, word.text = text, better
            mended.append((text, better))
    return mended
