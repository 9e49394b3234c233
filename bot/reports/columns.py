"""Columns are cells that stand under each other where letters are even: a dog to the left, its figures to the right, words at the end."""

from __future__ import annotations

from collections.abc import Sequence


def columns(rows: Sequence[Sequence[str]]) -> list[str]:
    """Each row as a line. Its first cell stands to the left, its last is free; those between stand to the right. Rows may be shorter."""
    wide: dict[int, int] = {}
    for row in rows:
        for place, cell in enumerate(row[:-1]):
            wide[place] = max(wide.get(place, 0), len(cell))
    return [" ".join([row[0].ljust(wide[0]), *_figures(row, wide), row[-1]]).rstrip() for row in rows]


def _figures(row: Sequence[str], wide: dict[int, int]) -> list[str]:
    return [cell.rjust(wide[place]) for place, cell in enumerate(row[1:-1], start=1)]
