"""Where a bare number is a pup: 3 nursed · cleared 3 and 4 · 4 ml for 5 · 3: 212."""

from __future__ import annotations

from parsers.items import Item
from parsers.numbers import starts_number
from parsers.sameness import ENDS, REJECTS, denied_behind, same_before, too_behind
from parsers.sight import Sight

JOINS = frozenset(
    ("and", "&", "+", "but", "then", "so", "because", "cause", "though", "although", "while", "plus", "yet", "however", "or", "nor")
)
_PUT = frozenset(("put", "moved", "placed", "set", "popped", "tucked", "brought"))
_OF_WHOM = frozenset(("from", "of", "on", "in", "for", "with"))
_COUNTED = frozenset(("first", "last", "other", "next", "these", "those", "all", "only"))
"""Before a number these make it a count: `the first three`."""

_FAR = 8  # items back that a pup can be likened to
_GRAMS = 40  # what stands behind `1-` and is lighter may be a pup: `1-4`
_LISTS = frozenset((")", ".", "-"))
"""Behind the numbers of a list."""


class BarePlaces(Sight):
    """Tells by its place whether a bare number is a pup."""

    def _bare_place(self, at: int, end: int, *, many: bool) -> bool:
        words = self.words
        previous = self.items[-1] if self.items else None
        back = previous
        if back is not None and back.role == "filler" and len(self.items) > 1:
            back = self.items[-2]
        if back is not None and back.role == "filler" and back is self.items[0]:
            back = None
        if previous is not None and (previous.tag("difference") is not None or self.words[at - 1].text in _COUNTED):
            return False
        if end < len(words) and words[end].text == "of":
            return False
        opens = (
            back is None
            or back.role in ("stop", "pause", "join", "colon", "hedge", "if")
            or (back.role == "small" and back.text in ("-", "–"))
        )
        if end < len(words) and words[end].text == "'s":
            end += 1
        follows = words[end] if end < len(words) else None
        if follows is not None and follows.text in _LISTS and self._listed(end, opens=opens):
            return True
        if (
            follows is not None
            and follows.text in (":", "=")
            and not (end + 1 < len(words) and words[end + 1].kind == "word" and not opens)
        ):
            return True
        if back is not None and back.role == "do" and not self._wants_number(back) and previous is back:
            return True
        if previous is not None and previous.role == "swap" and len(self.items) > 1 and self.items[-2].role == "measure":
            return False
        if previous is not None and (previous.role in ("swap", "except") or (previous.text == "no" and previous.role == "deny")):
            before = next((item for item in reversed(self.items) if item.role in ("do", "drug")), None)
            wanted = before is not None and (before.role == "drug" or self._wants_number(before))
            if previous.role == "except" or not wanted:
                return True
        if previous is not None and previous.text == "but" and follows is None and any(item.role == "do" for item in self.items):
            return True
        if self._given_to(end) or same_before(words, at) or (opens and self._likewise(end)):
            return True
        if back is not None and back.role in ("do", "look", "sign") and not self._wants_number(back):
            between = previous.text if previous is not None and previous is not back else ""
            if previous is back or between in _OF_WHOM or (between == "at" and growls(back)):
                return True
        if previous is not None and (previous.text in _PUT or previous.text in REJECTS):
            return True
        if at and self.words[at - 1].text in ("of", "for", "on") and follows is not None and follows.text in ("is", "was", "now"):
            return True  # `temp of 5 is 97`
        if (
            opens
            and follows is not None
            and follows.text == ","
            and end + 1 < len(words)
            and words[end + 1].kind == "number"
            and self._weighty(end + 1)
        ):
            return True
        if (
            previous is not None
            and previous.role == "filler"
            and previous.text in ("from", "on", "of")
            and (follows is None or follows.text in (",", ".", ";", "\n"))
        ):
            return True
        if follows is None:
            other = (
                previous is not None and previous.text in ("or", "nor") and self.items[-2].role == "subject"
                if len(self.items) > 1
                else False
            )
            return (many and opens) or other
        following = self._what(end)
        if opens and follows.text in ("or", "nor") and not many:
            return True
        if many and (opens or (back is not None and back.role in ("do", "look", "deny"))):
            return following in ("do", "sign", "number", "look", "deny", "over", "hedge", "linking", "place")
        if opens:
            return following in ("do", "sign", "number", "deny", "linking", "place", "look", "hedge", "plan", "agenda")
        if previous is not None and previous.role in ("number", "measure") and self._weighs_behind(end):
            return True
        if (
            previous is not None
            and previous.role in ("do", "measure", "number", "time", "sign", "look", "amount")
            and (self.words[at].kind == "number" or (previous.role == "number" and following in ("do", "deny")))
            and following in ("do", "number", "deny")
            and not (previous.role == "do" and self._wants_number(previous))
        ):
            return True
        if back is not None and "weight" in back.kinds() and not many and not self._weighty(at):
            return True
        return bool(
            back is not None
            and back.role == "do"
            and self._wants_number(back)
            and not ("weight" in back.kinds() and self._weighty(at))
            and (starts_number(follows) or follows.kind == "number")
        )

    def _likewise(self, end: int) -> bool:
        """True where the number goes on what was told before: `3 pooped, 5 same`."""
        told = any(item.role in ("do", "sign", "measure") for item in self.items[-_FAR:])
        length = too_behind(self.words, end) or denied_behind(self.words, end) if told else 0
        behind = end + length
        return length > 0 and (
            behind >= len(self.words) or self.words[behind].kind in ("mark", "newline") or self.words[behind].text in ENDS
        )

    def _weighs_behind(self, end: int) -> bool:
        """True for the next pup of a list of weights: `4 is 201 5 is 180`, `green 256 four 201`."""
        place = end + (self.words[end].text in ("is", "was", "at", "weighs"))
        return place < len(self.words) and self.words[place].kind == "number" and self._weighty(place)

    def _listed(self, end: int, *, opens: bool) -> bool:
        """True for the number that opens a line or a part of a list: `1) 244 2) 231`, `1. 244`, `1 - 244`."""
        if not self._weighty(end + 1):
            return False
        previous = self.items[-1] if self.items else None
        tight = self.words[end].text == "-" and not self.words[end].spaced and (self.words[end + 1].value or 0) >= _GRAMS
        if self.words[end].text == ")" or tight:
            return opens or (previous is not None and previous.role in ("number", "measure"))
        return previous is None or previous.text == "\n"

    def _given_to(self, end: int) -> bool:
        """True right behind `4 ml for`, `3 ml each to`, where the number ends its part."""
        last = next((item for item in reversed(self.items) if item.role != "filler"), None)
        if last is None or last.measure is None or last is self.items[-1] or self.items[-1].text not in (*_OF_WHOM, "to"):
            return False
        return (
            end >= len(self.words)
            or self.words[end].kind in ("mark", "newline")
            or self.words[end].text in JOINS
            or self._what(end) == "do"
        )


def growls(item: Item) -> bool:
    """True for a sign that she does to a pup: `growling at 4` is no time."""
    tag = item.tag("dam sign")
    return tag is not None and tag.name in ("growling", "mouthing pups hard")
