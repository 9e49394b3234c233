"""Several values for several pups: each its own where the counts agree, and a question where they do not."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from parsers.doings import SLOT, Doing

_FAR = 12  # doings back that an exception looks for what was said of all
_ROUNDED = 0.01  # of a weight, by which two scales or units may differ
_MEET = frozenset(("refused", "temperature", "dam number"))
"""Kinds that may belong together with one of another kind."""
_SMALL = 40  # minutes or ml: a bare number below it that goes on from a nursing is no weight


def share(doings: Sequence[Doing]) -> None:
    """Give `pup 1 and 2 221 and 230` one value each; mark as torn what has more values than one for the same pup."""
    kinds = {doing.kind for doing in doings}
    if len(kinds) == len(doings) and kinds.isdisjoint(_MEET) and not any("_beside" in doing.sets for doing in doings):
        return  # all of different sorts, as nearly always: no two are values of one
    _except(doings)
    _once(doings)
    for run in _runs([doing for doing in doings if doing.kept and not doing.denied and doing.whos]):
        whos = run[0].whos or ()
        if len(whos) == len(run):
            for who, doing in zip(whos, run, strict=True):
                doing.whos = (who,)
        else:
            for doing in run:
                doing.torn = True


def _except(doings: Sequence[Doing]) -> None:
    """`all nursed 12, pearl only 5`, `all nursed, red refused`: what is said of one pup holds for it, not what was said of all."""
    for place, one in enumerate(doings):
        if not (one.whos and one.kept) or (one.kind != "refused" and not (one.kind in ("nursed", "fed") and _valued(one))):
            continue
        for group in doings[max(0, place - _FAR) : place]:
            whos = group.whos or ()
            same = group.kind == one.kind or (one.kind == "refused" and group.kind in ("nursed", "fed"))
            if same and group.kept and group.when == one.when and set(one.whos) < set(whos) and one.at_item > group.at_item:
                group.whos = tuple(who for who in whos if who not in one.whos)


def _once(doings: Sequence[Doing]) -> None:
    """`nursed quarter of an hour, good strong suck` is one nursing: the bare noun behind it says how, not that there was another."""
    for before, doing in pairwise(doings):
        again = doing.kind == before.kind and doing.whos == before.whos and doing.when == before.when and before.kept
        if again and doing.bare and doing.kind == "nursed" and _value(doing) is None and _value(before) is not None:
            doing.over = True
            before.spans.extend(doing.spans)
        meal = again and doing.kind == "intake" and (before.sets.get("what") or "food") == (doing.sets.get("what") or "food")
        if meal and "amount" not in before.sets and not before.denied and not doing.denied:  # `fed mom, ate all`
            before.over = True
            doing.spans.extend(before.spans)


def _runs(doings: Sequence[Doing]) -> list[list[Doing]]:
    """The doings of one kind with different values that were told of the same pups at the same time."""
    runs: list[list[Doing]] = []
    for doing in doings:
        run = runs[-1] if runs and runs[-1] else None
        if run is not None and run[0].whos == doing.whos and _valued(doing) and _goes_on(run[0], doing):
            if doing.kind != run[0].kind:
                doing.kind, doing.sets = run[0].kind, {key: run[0].sets[key] for key in ("food", "by") if key in run[0].sets}
            run.append(doing)
        elif _valued(doing):
            runs.append([doing])
        elif run is not None and run[0].whos != doing.whos:
            runs.append([])
    return [run for run in runs if len(run) > 1 and len({_value(doing) for doing in run}) > 1 and not _told_twice(run)]


def _told_twice(run: Sequence[Doing]) -> bool:
    """`13 oz/368 g`: one weight in two units, of which the first counts."""
    values = [doing.sets["grams"] for doing in run if doing.kind == "weight" and "grams" in doing.sets]
    if len(values) < len(run) or max(values) - min(values) > _ROUNDED * max(values):
        return False
    for again in run[1:]:
        again.over = True
        run[0].spans.extend(again.spans)
    return True


def _goes_on(first: Doing, doing: Doing) -> bool:
    if first.when != doing.when:
        return False
    small = bool(doing.sets.get("_beside")) and bool(doing.numbers) and doing.numbers[0].value < _SMALL
    small = (
        small and first.sentence == doing.sentence and (first.kind == "fed" or doing.numbers[0].whole)
    )  # nobody tells tenths of a minute
    warm = {first.kind, doing.kind} == {"temperature", "dam number"}
    return doing.kind == first.kind or warm or (small and first.kind in ("nursed", "fed"))


def _valued(doing: Doing) -> bool:
    return doing.kind in ("weight", "nursed", "fed", "temperature", "dam number") and _value(doing) is not None


def _value(doing: Doing) -> float | None:
    if doing.warmth is not None:
        return doing.warmth[0]
    value = doing.sets.get(SLOT.get(doing.kind, "grams"))
    return float(value) if value is not None else (float(doing.numbers[0].value) if doing.numbers else None)
