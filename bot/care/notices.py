"""Notices together: all that is to be said unasked, the warnings before the nudges, and when there will next be something to say."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from bot.care.doses import too_soon
from bot.care.notice import URGENCIES, Notice
from bot.care.nursery import Nursery
from bot.care.rounds import next_nudge, nudges


def notices(nursery: Nursery, told: Collection[str], now: datetime) -> list[Notice]:
    """What is to be said by now and was not: warnings first, then what is due or overdue."""
    return [*warnings(nursery, told, now), *nudges(nursery, told, now)]


def warnings(nursery: Nursery, told: Collection[str], now: datetime) -> list[Notice]:
    """The warnings among the notices: what a reply may have to say first. Cheaper than `notices`, for every message asks."""
    return list(too_soon(nursery, told, now))


def standing(nursery: Nursery, now: datetime) -> tuple[Notice, ...]:
    """All warnings whose facts hold now, told or not, the worst first.

    How long a fact holds is *derived*: a dose too soon for as long as it is worth saying at all, 12 h.
    """
    return tuple(sorted(too_soon(nursery, (), now), key=lambda notice: -URGENCIES.index(notice.urgency)))


def next_moment(nursery: Nursery, told: Collection[str], now: datetime) -> datetime | None:
    """When there will next be a notice: not after `now` where there is one already; None: nothing lies ahead."""
    moments = [warning.at for warning in too_soon(nursery, told, now)]
    nudge = next_nudge(nursery, told, now)
    return min([*moments, *([] if nudge is None else [nudge])], default=None)
