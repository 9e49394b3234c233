"""The reply to a message in words: what was understood first, then what was assumed, respelled, and not read."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime

from bot.care import ready
from bot.care.feeding import caution
from bot.care.nursery import Nursery
from bot.care.wording import say_list, say_time
from bot.conversation.checks import Option, by_pup, stranger
from parsers import plausibility, read_back
from parsers.events import Event, Units, Who
from parsers.events.fed import Fed
from parsers.events.note import Note
from parsers.events.nursed import Nursed
from parsers.events.weight import Weight
from parsers.litter_card import LitterCard
from parsers.measures import say_grams
from parsers.reading import Reading

LONGEST_QUOTE = 200
"""How much of unread words is quoted back, in characters; all of them are kept."""
_STEERING = re.compile(r"[\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]+")
LISTED = 6
"""How many options of a question back are listed."""


def logged(events: Sequence[Event], reading: Reading, before: LitterCard, card: LitterCard, now: datetime) -> str:
    """The read-back of what is kept, and all that the keeper should see of how it was read. `before` is the card without these events."""
    seen = [event for event in events if not _unread_note(event, reading)]
    parts = [read_back(seen, card, now)] if seen else []
    return " ".join([*parts, *remarks(seen, before, now), *how_it_was_read(reading)])


def cautions(events: Sequence[Event], after: Nursery, now: datetime) -> list[str]:
    """What the keeper should hear of a feed or a nursing that is being logged; `after` is the nursery that knows it."""
    return [said for event in events if isinstance(event, (Fed, Nursed)) and (said := caution(after, event, now)) is not None]


def ticked(events: Sequence[Event], after: Nursery) -> str | None:
    """What notes ticked on the list for the way home, or opened again, and what is left of it; None where they are other notes."""
    told: dict[str, bool] = {}
    for event in events:
        told |= ready.ticks(event) if isinstance(event, Note) else {}
    if not told:
        return None
    done, opened = ([key for key, on in told.items() if on is which] for which in (True, False))
    left = [key for key in ready.things() if key not in ready.done(after.ready, after.choices)]
    parts = [f"{head}: {', '.join(keys)}." for head, keys in (("Ticked", done), ("Open again", opened)) if keys]
    parts.append(f"Still open: {', '.join(left)}." if left else "All of the list for the way home is done.")
    return " ".join(parts)


def remarks(events: Sequence[Event], before: LitterCard, now: datetime) -> list[str]:
    """A sentence for each weight that is logged though it is a good way off the last one."""
    said: list[str] = []
    for event in events:
        if not isinstance(event, Weight):
            continue
        last = before.dam if event.who == "dam" else before.by_number.get(event.who)
        if last is None or last.last_grams is None or last.last_at is None:
            continue
        percent = (event.grams / last.last_grams - 1) * 100
        if abs(percent) <= plausibility.LIMITS["weight_near"]:
            continue
        if plausibility.weight(before, event.who, event.grams, now).fit is not plausibility.Fit.BETWEEN:
            continue
        way = f"{abs(round(percent))} % {'above' if percent > 0 else 'below'} {'her' if event.who == 'dam' else 'its'} last weight"
        weighed = f"{say_grams(last.last_grams, before.weights_in)}, {say_time(last.last_at, now, before.tz)}"
        said.append(f"{_whose(event.who).capitalize()} is {way} ({weighed}): weigh again if in doubt.")
    return said


def how_it_was_read(reading: Reading) -> list[str]:
    """What was taken from the litter's state, what was read in another spelling, and what was not read."""
    parts = [_sentence(said) for said in reading.assumed]
    if reading.spelled:
        parts.append("Read " + ", ".join(f"“{typed}” as “{meant}”" for typed, meant in reading.spelled) + ".")
    if reading.unread:
        kept = f"kept as a note on {_whose(reading.unread_who)}" if reading.unread_who is not None else "kept as a note"
        parts.append(f"Not read, {kept}: “{quote(reading.unread)}”.")
    return parts


def question_back(why: str, options: Sequence[Option], card: LitterCard, now: datetime) -> str:
    """What must be confirmed, with every reading to pick from; nothing is in the log yet."""
    why = _sentence(why)
    if not options or stranger(options, card) is not None:
        return f"{why} Nothing is logged yet: answer with the pup, or say it again."
    if pups := by_pup(options):
        units = Units(card.weights_in, card.temperatures_in)
        doing = ", ".join(event.say(units) for event in options[0])
        return f"{why} Not logged yet: {doing}. Answer with the pup ({say_list([str(who) for who in pups])}), or no."
    if len(options) == 1:
        return f"{why} Not logged yet. Yes logs: {read_back(options[0], card, now)}"
    listed = "\n".join(f"{number}. {read_back(option, card, now)}" for number, option in enumerate(options[:LISTED], 1))
    return f"{why} Not logged yet. Which one? (a number, or no)\n{listed}"


def quote(words: str) -> str:
    """Words as they are shown back: on one line, no signs that steer a terminal or turn the line round, cut where very long."""
    line = " ".join(_STEERING.sub("\N{REPLACEMENT CHARACTER}", " ".join(words.split())).split())
    return line if len(line) <= LONGEST_QUOTE else f"{line[:LONGEST_QUOTE]}… ({len(words)} characters, all kept)"


def _sentence(said: str) -> str:
    said = said.strip()
    return said if said.endswith((".", "!", "?")) else f"{said}."


def _unread_note(event: Event, reading: Reading) -> bool:
    return bool(reading.unread) and event.kind == "note" and getattr(event, "text", None) == reading.unread


def _whose(who: Who) -> str:
    return "the dam" if who == "dam" else f"pup {who}"
