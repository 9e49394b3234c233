"""Naming pups: one, or a list of them, by a name, a collar or a mark."""

from __future__ import annotations

from parsers.new_names import Mark
from parsers.telling import Attempt, Result, Sets, extra, plain
from parsers.templates import Found


def name(attempt: Attempt, found: Found) -> Result | None:
    """`call pup 3 Olive`, and what goes on after commas: `1 is red, 2 is blue`."""
    first = _named(found)
    if first is None:
        return None
    items, end = [first], found.end
    go_on = True
    while go_on:
        go_on = False
        place = attempt.over_joints(end)
        for more in attempt.next(extra("name", "more"), place):
            item = _named(more, listed=True)
            if item is not None and (attempt.closed(more.end) is not None or attempt.next(extra("name", "more"), more.end)):
                items.append(item)
                end, go_on = more.end, True
                break
    if len(items) == 1 and (found.tag == "bare" or _is_alarming(found)):
        return None
    if found.tag == "bare" and attempt.opening.start != attempt.start:
        return None
    closed = attempt.closed(end)
    if found.tag == "alone" and len(items) == 1 and (attempt.opening.at != attempt.start or closed != attempt.end):
        return None
    if closed is None and not (found.tag == "firm" and len(items) == 1):
        return None
    return {"name": items[0] if len(items) == 1 else items}, end if closed is None else closed, ()


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
