"""How the watch is said: who gets the nudges, until when, and who after that; and the words that ask for it, which stay notes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime, time, timedelta

from bot.care.choice import Shift
from bot.care.nursery import Nursery
from bot.care.wording import say_time

_ASKED = re.compile(
    r"who(?: is|'s|s)? (?:on|has|got|keeps|takes|have)(?: got)?(?: the)?(?: night)?(?: (?:watch|duty|shift|call))?(?: now| tonight| next)*"
    r"|who (?:gets|is getting|has) the (?:nudges|reminders)(?: now| tonight)?|whose (?:watch|shift|turn)(?: is it)?(?: now)?"
    r"|(?:the |show (?:me )?the |what's the )?(?:roster|rota|watch)"
)
_NAMED = re.compile(r"(\w[\w'-]*) (?:has|takes|gets|keeps|will take) the (?:watch|shift)\b.*", re.IGNORECASE)
_DAY = 24 * 60


def answer(text: str, nursery: Nursery, people: Sequence[str], now: datetime) -> str | None:
    """What is said to a message that was kept as a note, where it asks for the watch, or gives it to a stranger; else None."""
    words = " ".join(text.replace("’", "'").split()).strip(" .!?")
    if _ASKED.fullmatch(words.casefold()):
        return " ".join([say_watch(nursery, now), *([f"Every day: {_shifts(nursery)}."] if nursery.choices.roster else [])])
    named = _NAMED.fullmatch(words)
    if named and named[1].casefold() not in ("who", "nobody", *(person.casefold() for person in people)):
        return f"{named[1]} is not in the household, so nothing was changed: “invite {named[1]}” first. {say_watch(nursery, now)}"
    return None


def say_watch(nursery: Nursery, now: datetime) -> str:
    """Who gets the nudges now: `Theo has the watch until 4:00 am, then Ines by the roster.`."""
    who, end = nursery.on_duty(now), nursery.watch_ends(now)
    if who is None:
        return "Nobody has the watch: nudges go to everyone."
    if end is None:
        back = " “Back to the roster” ends that." if nursery.choices.roster else ""
        return f"{who} has the watch until someone else takes it.{back}"
    after = nursery.on_duty(end)
    then = "nudges go to everyone" if after is None else f"{after} by the roster"
    return f"{who} has the watch until {_clock(end, now, nursery)}, then {then}."


def say_roster(nursery: Nursery, now: datetime) -> str:
    """`Watch, every day: Theo 10 pm to 4 am; at other hours nudges go to everyone.`, and whose watch taken by hand goes before it."""
    watch = nursery.choices.watch
    by_hand = watch is not None and (watch.end is None or now < watch.end)
    if not nursery.choices.roster:
        return f"There is no roster now. {say_watch(nursery, now)}"
    gaps = "" if _covers_all(nursery.choices.roster) else "; at other hours nudges go to everyone"
    return f"Watch, every day: {_shifts(nursery)}{gaps}.{f' For now {say_watch(nursery, now)}' if by_hand else ''}"


def _shifts(nursery: Nursery) -> str:
    return ", ".join(f"{shift.who} {_wall(shift.start)} to {_wall(shift.end)}" for shift in nursery.choices.roster)


def _covers_all(roster: Sequence[Shift]) -> bool:
    return all(any(shift.covers(time(minute // 60, minute % 60)) for shift in roster) for minute in range(_DAY))


def _clock(moment: datetime, now: datetime, nursery: Nursery) -> str:
    """A moment ahead; within half a day the clock time says it all."""
    return say_time(moment, moment if moment - now < timedelta(hours=12) else now, nursery.zone)


def _wall(at: time) -> str:
    return f"{at.hour % 12 or 12}{f':{at.minute:02}' if at.minute else ''} {'am' if at.hour < 12 else 'pm'}"
