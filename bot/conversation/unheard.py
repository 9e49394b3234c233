"""Whether something said unasked still matters, and the warning that nobody got it."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import datetime

from bot.care.notice import EVERYONE, Notice
from bot.care.nursery import Nursery
from bot.care.wording import say_list, say_time
from bot.conversation.replying import quote
from bot.conversation.said import Said

UNHEARD = "unheard"
"""What such a warning is about."""


def still_due(nursery: Nursery, untold: Sequence[Notice], causes: frozenset[str], now: datetime) -> bool:
    """Whether any of these causes is among what would be said now, had it not been told: the care is not logged, and not snoozed."""
    stand = [notice for notice in untold if not causes.isdisjoint(notice.causes)]
    resting = [rest for rest in nursery.choices.quiet if rest.start <= now < rest.end]
    return any(not any(rest.covers(who) for rest in resting) for notice in stand for who in notice.who)


def unheard(missed: Sequence[Said], nursery: Nursery, told: Collection[str], now: datetime) -> Notice | None:
    """The warning that these reached nobody, once for each; None where that was said of all."""
    fresh = [one for one in missed if f"{UNHEARD}/{one.id}" not in told]
    if not fresh:
        return None
    what = say_list([f"{quote(one.text)} ({say_time(one.at, now, nursery.zone)})" for one in fresh])
    return Notice(
        says="warning",
        about=UNHEARD,
        who=tuple(dict.fromkeys(who for one in fresh for who in one.who)),
        at=now,
        urgency="soon",
        text=f"This reached nobody: {what}. See to it now, and then say “test my alarm” to see which ways reach you.",
        to=EVERYONE,
        causes=tuple(f"{UNHEARD}/{one.id}" for one in fresh),
    )
