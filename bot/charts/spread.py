"""Words beside points that lie close together: moved apart until none covers another."""

from __future__ import annotations

from collections.abc import Sequence


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Places as near as may be to those wanted, in the same order, at least `gap` apart, and between low and high where there is room.

    Neighbours that would touch are moved as one block around the middle of what they wanted.
    """
    order = sorted(range(len(wanted)), key=lambda index: wanted[index])
    blocks: list[list[float]] = []  # [sum of what its members wanted, each less its own offset; how many they are]
    for index in order:
        blocks.append([wanted[index], 1.0])
        while len(blocks) > 1 and _start(blocks[-2], gap, low, high) + blocks[-2][1] * gap > _start(blocks[-1], gap, low, high):
            total, count = blocks.pop()
            blocks[-1][0] += total - count * blocks[-1][1] * gap
            blocks[-1][1] += count
    placed = [0.0] * len(wanted)
    members = iter(order)
    for block in blocks:
        start = _start(block, gap, low, high)
        for offset in range(int(block[1])):
            placed[next(members)] = start + offset * gap
    return placed


def _start(block: Sequence[float], gap: float, low: float, high: float) -> float:
    """Where a block's first member stands: as its members want it on the whole, kept inside."""
    total, count = block
    return max(low, min(total / count, high - (count - 1) * gap))
