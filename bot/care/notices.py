"""Notices together: all that is to be said unasked, the warnings before the nudges, and when there will next be something to say."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from datetime import datetime

from pydantic import BaseModel

from bot.care.concern import Concern
from bot.care.concerns import concerns, of_weights
from bot.care.notice import Notice
from bot.care.nursery import Nursery
from bot.care.rounds import next_nudge, nudges
from bot.care.warning import as_notices


def notices(nursery: Nursery, told: Collection[str], now: datetime, heard: datetime | None = None) -> list[Notice]:
    """What is to be said by now and was not: warnings first, then what is due or overdue.

    `heard` is the moment of the last message from anyone; None: nobody ever wrote.
    """
    return [*warnings(nursery, told, now), *nudges(nursery, told, now, heard)]


def warnings(
    nursery: Nursery, told: Collection[str], now: datetime, besides: Collection[str] = (), *, of: Raised = concerns
) -> list[Notice]:
    """The warnings among the notices, the worst first: what a reply may have to say first. `besides` was told too, just now.

    `of` gives the concerns to look at, where not all can have changed.
    """
    told = {*told, *besides} if besides else told
    fresh = [concern for concern in of(nursery) if concern.holds(now) and not concern.is_told(told)]
    return as_notices(nursery, fresh, now, told) if fresh else []


Raised = Callable[[Nursery], list[Concern]]
"""Gives some of a litter's concerns."""
_RAISE = frozenset({"weight", "born", "died", "sign", "temperature", "toilet", "intake", "refused", "dose", "climate", "choice"})


def raised_by(events: Iterable[BaseModel]) -> Raised | None:
    """The concerns among which are those that these events can bring about; None: none. What time brings is said by the bell."""
    kinds = _RAISE.intersection([getattr(event, "kind", "") for event in events])
    if not kinds:
        return None
    return of_weights if kinds == {"weight"} else concerns


def standing(nursery: Nursery, now: datetime) -> tuple[Notice, ...]:
    """All warnings whose facts hold now, told or not, the worst first; one for each dog and thing.

    How long a fact holds is *derived* (the figures are in figures/signs.toml, growth.toml and climate.toml):

    - a sign 12 h, for no message ends one; `cold` and `hot` until the next temperature, `not nursing` until the next nursing,
      a look of what was passed until the next look;
    - a temperature until the next one, 24 h at most;
    - `dam not eating` until she eats, 24 h at most; `refusals` until the pup takes something, 12 h at most;
    - a dose too soon 12 h, a reading of the box until the next one, 12 h at most;
    - `weight loss`, `no gain`, `slow litter` until the next weighing, 48 h at most; `scale` until all that dropped are weighed again,
      3 h at most; `small at birth` for three weeks, over which its deaths are counted.
    """
    return tuple(as_notices(nursery, [concern for concern in concerns(nursery) if concern.holds(now)], now))


def next_moment(nursery: Nursery, told: Collection[str], now: datetime, heard: datetime | None = None) -> datetime | None:
    """When there will next be a notice: not after `now` where there is one already; None: nothing lies ahead."""
    moments = [concern.at for concern in concerns(nursery) if now < concern.until and not concern.is_told(told)]
    nudge = next_nudge(nursery, told, now, heard)
    return min([*moments, *([] if nudge is None else [nudge])], default=None)
