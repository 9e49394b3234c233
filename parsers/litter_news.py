"""News of a litter: how many pups, from which dam, born when and how."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from parsers.telling import Attempt, Result, Sets, extra, plain
from parsers.templates import Found


def litter(attempt: Attempt, found: Found) -> Result | None:
    """A new litter, or what is said of this one; what belongs to it may go on after commas."""
    sets, end, pieces, breed = _of_litter(found.fills), found.end, 0, found.fills.get("kin")
    while True:
        place = attempt.over_joints(end)
        more = next(
            (each for each in attempt.next(extra("litter", "tail"), place) if not _of_litter(each.fills).keys() & sets.keys()), None
        )
        if more is None:
            break
        sets, end, pieces = sets | _of_litter(more.fills), more.end, pieces + len(_of_litter(more.fills))
        breed = breed or more.fills.get("kin")
    if not sets or (attempt.places.card.pups and not pieces and _too_little(attempt, found, sets)):
        return None
    if _to_come(attempt, sets) and _NEW.isdisjoint(word.text for word in attempt.words[attempt.opening.at : found.end]):
        return None
    if "born" not in sets and not _EARLIER.isdisjoint(word.text for word in attempt.words[end : end + _NEAR]):
        return None  # `she had 9 pups last time`
    return plain(attempt, Found("litter", end, {}), {"litter": sets} | ({"breed": breed} if breed else {}))


def _to_come(attempt: Attempt, sets: Sets) -> bool:
    """True for a birth later today, which only the news of a new litter may tell."""
    return "born" in sets and datetime.fromisoformat(sets["born"]) > attempt.places.now


_EARLIER = frozenset(("last", "previous", "ago", "before"))
_NEAR = 4  # words behind, that say it was another litter
_NEW = frozenset(("new", "litter"))


def _too_little(attempt: Attempt, found: Found, sets: Sets) -> bool:
    """True where a litter that is known already needs more to be meant: `5 pups` and `c-section` alone are talk of it."""
    opening = {word.text for word in attempt.words[attempt.opening.at : found.end]}
    if "count" in found.fills:
        first = attempt.words[attempt.opening.at].text
        return first not in _HAVE and "damname" not in found.fills and opening.isdisjoint(("litter", "new"))
    return set(sets) == {"delivery"} and opening.isdisjoint(_TOLD)


_HAVE = frozenset(("we", "we've", "weve", "there", "there's", "i", "i've", "it's", "got", "she", "all", "total", "a", "welcomed"))
_TOLD = frozenset(("was", "were", "came", "birth", "delivery", "by", "had"))


def _of_litter(fills: Mapping[str, Any]) -> Sets:
    sets: Sets = {}
    if "count" in fills:
        sets["pups"] = fills["count"]
    if "damname" in fills:
        sets["dam"] = fills["damname"]
    if "past" in fills:
        sets["born"] = fills["past"].isoformat()
    if "delivery" in fills:
        sets["delivery"] = fills["delivery"]
    return sets
