"""The words that no clause accounts for: nothing is dropped in silence."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from parsers.asides import Asides
from parsers.events import Event, make
from parsers.items import Item
from parsers.lexicon import NUMBER_OF
from parsers.verdict import Verdict
from parsers.words import Word

_QUIET = frozenset(("filler", "small", "pause", "stop", "join", "colon", "thanks", "except"))

_PLAIN = frozenset(("subject", "do", "sign", "number", "measure", "time"))
"""What a strange word may stand between without being read with it."""


def unread_words(text: str, words: Sequence[Word], items: Sequence[Item], best: Verdict, taken: Asides) -> tuple[str, int | str | None]:
    """The words that no clause accounts for, in order, and the one pup they stand beside."""
    covered = _covered(words, items, best, taken)
    left = _stretches(text, words, items, covered) if 0 in covered else []
    for start, end in sorted([*taken.silent, *taken.left]):
        left.append(text[words[start].start : words[end - 1].end])
    whos = {who for who in best.whos if who not in ("", 0)}
    return " ".join(left), (whos.pop() if len(whos) == 1 else None)


def _covered(words: Sequence[Word], items: Sequence[Item], best: Verdict, taken: Asides) -> bytearray:
    """By word, whether a clause or an aside accounts for it; a strange word in the midst of a clause is only passed over."""
    covered = bytearray(len(words))
    strange = {item.at for item in items if item.role == "unknown"}
    plain = {item.at for item in items if item.role in _PLAIN} if strange else strange
    asides = set(taken.spans)
    for span in {*best.spans, *taken.spans}:
        start, end = span[0], min(span[1], len(words))
        if strange and span not in asides and not plain.isdisjoint(range(start, end)):
            for place in range(start, end):
                covered[place] |= place not in strange
        elif start < end:
            covered[start:end] = b"\1" * (end - start)
    return covered


def _stretches(text: str, words: Sequence[Word], items: Sequence[Item], covered: bytearray) -> list[str]:
    """The text of each stretch that nothing accounts for, without the small words at its edges."""
    left: list[str] = []
    run: list[Item] = []

    def close() -> None:
        while run and run[-1].role in _QUIET:
            run.pop()
        while run and run[0].role in ("pause", "stop", "colon", "small"):
            run.pop(0)
        if any(item.role not in _QUIET for item in run):
            left.append(text[words[run[0].at].start : words[run[-1].end - 1].end])
        run.clear()

    for item in items:
        if item.length == 0 or covered.find(1, item.at, item.end) >= 0:
            close()
        else:
            run.append(item)
            if item.role == "stop":
                close()
    close()
    return left


def amiss(items: Sequence[Item], best: Verdict) -> bool:
    """True where a number or a measure is left over beside a doing that wanted one: then the doing was hardly read right.

    So it is where one of all was named for something that was not understood (`all nursed, red didn't`), and where a number and a
    name side by side are two pups (`Pup 4 Pearl` when Pearl is 5), and where a time right behind a value went unused.
    """
    covered = {place for start, end in best.spans for place in range(start, end)}
    for item, then in pairwise(items):
        if item.role == "except" and item.text == "except" and then.subject is None and best.whos:
            return True
        if then.role == "time" and then.at not in covered and item.role in ("measure", "number", "do") and item.at in covered:
            return True
        if item.subject is None or item.at in covered or not item.subject.whos:
            continue
        whos = set(item.subject.whos)
        if then.role == "deny" and _told_with_others(whos, best) and not _denies(items, then):
            return True
        named = then.subject is not None and then.subject.how in ("pup", "name", "bare", "list") and item.end == then.at
        if named and then.at in covered and then.subject is not None and not whos <= set(then.subject.whos):
            return True
    if not best.empty:
        return False
    waiting, over = False, False
    for item in [*items, Item("stop", 0, 0)]:
        if item.role in ("stop", "pause"):
            if waiting and over:
                return True
            waiting, over = False, False
        elif item.at in covered:
            waiting = waiting or any(kind in NUMBER_OF and kind in best.empty for kind in item.kinds())
        elif item.role in ("measure", "number") and item.text not in ("a", "an"):
            over = True
    return False


def _told_with_others(whos: set[int | str], best: Verdict) -> bool:
    """True where something was told of these and of others alike: `all nursed`."""
    kinds = {event.kind for event in best.events if getattr(event, "who", None) in whos}
    return any(event.kind in kinds and getattr(event, "who", None) not in whos for event in best.events)


def _denies(items: Sequence[Item], deny: Item) -> bool:
    """True where what is denied stands right behind: `Ivy not yet cleared` is whole."""
    following = next((item for item in items[deny.place + 1 : deny.place + 4] if item.role != "filler"), None)
    return following is not None and following.role in ("do", "sign")


def left_over(verdict: Verdict, items: Sequence[Item]) -> int:
    """How many items of a reading no event accounts for: the fewer, the likelier it is."""
    covered = {place for start, end in verdict.spans for place in range(start, end)}
    return sum(item.role not in _QUIET and item.at not in covered for item in items)


def as_note(text: str, items: Sequence[Item]) -> Event:
    """The whole message as a note, on its pup if it is about one."""
    whos = {who for item in items if item.subject is not None and not item.subject.unknown for who in item.subject.whos}
    return make("note", text=text, **({"who": whos.pop()} if len(whos) == 1 else {}))
