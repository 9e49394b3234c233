"""Naming pups: one, or a list of them, by a name, a collar or a mark."""

from __future__ import annotations

from parsers.new_names import Mark
from parsers.numbers import SPOKEN
from parsers.telling import Attempt, Result, Sets, extra, plain
from parsers.templates import Found
from parsers.words import Word


def name(attempt: Attempt, found: Found) -> Result | None:
    """`call pup 3 Olive`, and what goes on after commas: `1 is red, 2 is blue`."""
    first = _named(found)
    if first is None:
        return None
    items, end = [first], found.end
    firm = found.tag == "firm"
    sure = firm or _gives(attempt, found, attempt.opening.at)
    go_on = True
    while go_on:
        go_on = False
        place = attempt.over_joints(end)
        for more in attempt.next(extra("name", "more"), place):
            item = _named(more, listed=True)
            if item is not None and (attempt.closed(more.end) is not None or attempt.next(extra("name", "more"), more.end)):
                items.append(item)
                sure = sure and (firm or _gives(attempt, more, place))
                end, go_on = more.end, True
                break
    if not sure or (not firm and not _is_collar(attempt, found) and _given_away(attempt, items)):
        return None
    if len(items) == 1 and (found.tag == "bare" or (_is_alarming(found) and not _says(attempt, found, _MEANT))):
        return None
    if found.tag == "bare" and attempt.opening.start != attempt.start:
        return None
    closed = attempt.closed(end)
    if found.tag == "alone" and len(items) == 1 and (attempt.opening.at != attempt.start or closed != attempt.end):
        return None
    if closed is None and not (found.tag == "firm" and len(items) == 1):
        return None
    return {"name": items[0] if len(items) == 1 else items}, end if closed is None else closed, ()


def _gives(attempt: Attempt, found: Found, at: int) -> bool:
    """False where a pup that is called by its name only looks so: `moss is pink`, `red is pale yellow`."""
    mark = found.fills.get("mark")
    if not isinstance(mark, Mark) or not (mark.plain and mark.color) or _says(attempt, found, _MEANT, at):
        return True
    return any(_is_number(word) for word in attempt.words[at : found.end])


def _is_collar(attempt: Attempt, found: Found) -> bool:
    """True for `the green collar`, `wearing green`: a collar may have been another pup's before."""
    mark = found.fills.get("mark")
    return isinstance(mark, Mark) and (not (mark.plain and mark.color) or _says(attempt, found, _MEANT))


def _given_away(attempt: Attempt, items: list[Sets]) -> bool:
    """True where one pup would get what another goes by: `blue is moss`, `3 is pink, 4 is pink`; a list may hand names round."""
    given = [str(item["as"]).lower() for item in items]
    if len(set(given)) < len(given):
        return True
    pups = {item["pup"] for item in items}
    others = {name.lower() for pup in attempt.places.card.living if pup.pup not in pups for name in pup.names}
    if len(items) == 1:
        own = attempt.places.card.by_number.get(items[0]["pup"])
        return given[0] in others or (own is not None and given[0] in (name.lower() for name in own.names))
    return False


def _says(attempt: Attempt, found: Found, any_of: frozenset[str], at: int | None = None) -> bool:
    """True where one of these words stands in what was found."""
    begin = attempt.opening.at if at is None else at
    return any(word.text in any_of for word in attempt.words[begin : found.end])


def _is_number(word: Word) -> bool:
    return word.kind == "number" or (word.text in SPOKEN and word.text != "one")


_MEANT = frozenset(
    "= -> > collar collars colour color mark marking ribbon band yarn call wears wear wearing put tied gave give giving switch switched "
    "changed change moved move marked marks belongs goes".split()
)
"""Words with which a colour is a mark beyond doubt, not how the pup looks."""


def _is_alarming(found: Found) -> bool:
    mark = found.fills.get("mark")
    return isinstance(mark, Mark) and mark.alarming


def _named(found: Found, *, listed: bool = False) -> Sets | None:
    fills = found.fills
    mark = fills.get("mark")
    if isinstance(mark, Mark):
        if found.tag == "has" and mark.unsafe and not listed:
            return None
        return {"pup": fills["pup"], "as": mark.text}
    return {"pup": fills["pup"], "as": fills.get("name") or fills["proper"]}


def list_of_names(attempt: Attempt, found: Found) -> Result | None:
    """`names: 1 Olive, 2 Pip, 3 Moss`."""
    items: list[Sets] = []
    end = found.end
    while True:
        place = attempt.over_joints(end)
        nexts = [(more, item) for more in attempt.next(extra("name", "more"), place) if (item := _named(more, listed=True)) is not None]
        if not nexts:
            break
        items.append(nexts[0][1])
        end = nexts[0][0].end
    return plain(attempt, Found("list", end, {}), {"name": items[0] if len(items) == 1 else items}) if items else None
