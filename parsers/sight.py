"""What a scanner sees around a word: what stands there, and what a number there could be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from parsers.items import Item, Pick
from parsers.lexicon import NUMBER_OF, lexicon
from parsers.numbers import readings, starts_number
from parsers.subjects import Names
from parsers.times import match as match_time
from parsers.vocabulary import Tag
from parsers.words import Word, texts_of

_LINKING = frozenset(
    (
        "up",
        "down",
        "over",
        "'s",
        "seems",
        "looks",
        "feels",
        "keeps",
        "gone",
        "went",
        "felt",
        "seemed",
        "looked",
        "kept",
        "is",
        "was",
        "are",
        "were",
        "at",
        "weighs",
        "'s",
        "has",
        "had",
        "got",
        "did",
        "just",
        "now",
        "only",
        "still",
        "also",
        "both",
        "all",
        "is at",
        "finally",
        "then",
        "been",
        "took",
        "on",
        "in",
        "back",
        "with",
        "to",
        "s",
    )
)


def _as_mom(words: Sequence[Word], called: frozenset[str]) -> list[Word]:
    """The words with `mom` where the dam is called by her name."""
    return [replace(word, text="mom's" if word.text[-2:] == "'s" else "mom") if word.text in called else word for word in words]


class Sight:
    """What all rooms of the scanner share: the words, the items so far, and a look at what comes."""

    def __init__(self, words: Sequence[Word], names: Names, now: datetime, pick: Pick) -> None:
        self.words, self.names, self.now, self.pick = words, names, now, pick
        self.items: list[Item] = []
        self.several_cuts = False
        """True where a spoken run of weights could be cut in other ways than it was."""
        self._lexical = words if names.of_dam.isdisjoint(texts_of(words)) else _as_mom(words, names.of_dam)
        """The words as phrases are looked for in them: `back with juniper` is `back with mom`."""
        self._tz, self._born = names.card.tz, names.card.born
        self._phrases = lexicon().paths

    def _wants_number(self, item: Item) -> bool:
        kinds = item.kinds()
        return any(kind in NUMBER_OF for kind in kinds) and not ("cleared" in kinds or "toilet" in kinds or "cleaned" in kinds)

    def _what(self, at: int) -> str:
        """What stands at a place, without making an item of it."""
        if at >= len(self.words):
            return "pause"
        word = self.words[at]
        if word.kind in ("number", "fraction") or starts_number(word):
            return "number"
        found = lexicon().longest(self._lexical, at) if word.kind == "word" else None
        if found is not None and any(tag.role == "do" for tag in found[1]):
            return "do"
        if found is not None and found[0] > 1 and any(tag.role.endswith(" sign") for tag in found[1]):
            return "sign"
        if found is not None and found[0] > 1 and any(tag.role in ("plan", "agenda") for tag in found[1]):
            return "plan"
        if word.text in _LINKING:
            return (
                "linking"
                if at + 1 < len(self.words) and self._what(at + 1) in ("number", "do", "sign", "deny", "place", "look", "linking", "filler")
                else "unknown"
            )
        if found is None:
            return "pause" if word.kind == "mark" else "unknown"
        roles = [tag.role for tag in found[1]]
        for role in ("deny", "look"):
            if role in roles:
                return role
        return "sign" if any(role.endswith(" sign") for role in roles) else roles[0]

    def _weighs(self, value: float) -> bool:
        return 1.5 <= value <= 53 if self.names.card.weights_in == "oz" else 40 <= value <= 1500

    def _weighty(self, at: int) -> bool:
        """True where the number at a place can be the weight of a pup in the litter's unit."""
        if at >= len(self.words):
            return False
        return any(self._weighs(one.value) for one in readings(self.words, at)[:1])

    def _clock_at(self, at: int) -> bool:
        """True where a time of day stands here: `cleaned the box at 3:13 am` is no heat of the box."""
        if at >= len(self.words):
            return False
        when = match_time(self.words, at, now=self.now, tz=self._tz, born=self._born)
        return when is not None and not (when.weak and self.words[at].kind != "clock")

    def _phrase(self, at: int) -> tuple[int, list[Tag]] | None:
        """The longest phrase of the lexicon from here; the number of a pup is left out of `lay on pup 4`."""
        found = lexicon().longest(self._lexical, at)
        if found is not None and found[0] > 1 and self.words[at + found[0] - 1].text == "at" and self._clock_at(at + found[0]):
            return lexicon().longest(self.words[: at + found[0] - 1], at)
        if (
            found is not None
            and found[0] == 2
            and self.words[at].text == "no"
            and self.words[at + 1].text == "one"
            and at + 2 < len(self.words)
            and starts_number(self.words[at + 2])
        ):
            return 1, next(tags for length, tags in lexicon().every(self.words, at) if length == 1)
        if (
            found is not None
            and found[0] > 2
            and self.words[at + found[0] - 1].text in ("pup", "puppy")
            and at + found[0] < len(self.words)
        ):
            following = self.words[at + found[0]]
            if following.kind == "number" or starts_number(following):
                shorter = [one for one in lexicon().every(self.words, at) if one[0] < found[0]]
                return shorter[-1] if shorter else None
        return found
