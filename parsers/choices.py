"""Choices of the household: intervals, snoozes, the watch, units, reminders, telephone numbers, and what the pups will be."""

from __future__ import annotations

from datetime import timedelta

from parsers import shifts
from parsers.telling import Attempt, Result, Sets, extra, plain
from parsers.templates import Found

_LONGEST_INTERVAL = 7 * 24 * 60
"""Minutes; what is due more seldom than weekly is no care of a newborn litter (own choice)."""


_LONGEST_BETWEEN_FEEDS = 12 * 60
"""Minutes; an interval without a care is that of nursing, and no litter waits longer (own choice)."""


def every(attempt: Attempt, found: Found) -> Result | None:
    """How often a care or a drug is due: `calcium every 4 hours`."""
    fills = found.fills
    minutes = fills.get("every", fills.get("minutes"))
    if minutes is None or not 1 < minutes <= _LONGEST_INTERVAL:
        return None
    if found.tag != "drug" and "care" not in fills and minutes > _LONGEST_BETWEEN_FEEDS:
        return None  # `daily` alone is of nothing that newborns do
    sets: Sets = {"care": "dose", "drug": fills["drug"]} if found.tag == "drug" else {"care": fills.get("care", "nursed")}
    left = (fills["amount"],) if "amount" in fills else ()
    return plain(attempt, found, {"every": sets | {"minutes": _tidy(minutes)}}, left)


def _tidy(value: float) -> float | int:
    return int(value) if float(value).is_integer() else round(value, 2)


_LONGEST_SNOOZE = 12 * 60
"""Minutes: a snooze longer than a night's watch is more likely a slip (own choice)."""


def snooze(attempt: Attempt, found: Found) -> Result | None:
    """`snooze pup 3 for 20 min`, `snooze until 4`."""
    fills = found.fills
    minutes = fills.get("minutes")
    if "clock" in fills:
        minutes = round((fills["clock"] - attempt.places.now).total_seconds() / 60)
    if minutes is None or not 0 < minutes <= _LONGEST_SNOOZE:
        return None
    who = fills.get("who")
    return plain(attempt, found, {"snooze": {"minutes": _tidy(minutes)} | ({} if who is None else {"who": who})})


def on_duty(attempt: Attempt, found: Found) -> Result | None:
    """Who has the watch, and until when: `I'm on until 4`. Nobody: the watch that was taken by hand ends, and the roster holds again."""
    fills, places = found.fills, attempt.places
    if found.tag == "nobody":
        return plain(attempt, found, {"on_duty": None})
    who = places.by if found.tag in ("me", "me_until") else fills.get("person's", fills.get("person"))
    if who is None:
        return None
    for more in attempt.next(extra("on_duty", "end"), found.end):
        closed = attempt.closed(more.end)
        if closed is not None:
            until = more.fills.get("clock") or (places.now + timedelta(minutes=more.fills["minutes"])).astimezone(places.card.tz)
            return {"on_duty": who, "until": until.isoformat()}, closed, ()
    return plain(attempt, found, {"on_duty": who}) if found.tag in ("me", "other") else None


def roster(attempt: Attempt, found: Found) -> Result | None:
    """Who has the watch by the clock on the wall, one shift after another; none: there is no roster any more."""
    if found.tag == "none":
        return plain(attempt, found, {"roster": []})
    places = attempt.places
    items: list[dict[str, str]] = []
    if found.tag == "item":
        first = shifts.shift(found.fills, [], places.now, places.card.tz)
        if first is None:
            return None
        items.append(first)
    end = found.end
    night = any(word.text in _NIGHT for word in attempt.words[attempt.opening.at : found.end])
    while True:
        place = attempt.over_joints(end)
        more = next((each for each in attempt.next(extra("roster", "item"), place)), None)
        item = shifts.shift(more.fills, items, places.now, places.card.tz, night=night) if more is not None else None
        if more is None or item is None:
            break
        items.append(item)
        end = more.end
    return plain(attempt, Found("roster", end, {}), {"roster": items}) if items else None


_NIGHT = frozenset(("night", "tonight", "tonight's", "nights"))


def units(attempt: Attempt, found: Found) -> Result | None:
    """`use ounces`; a single letter alone sets nothing."""
    if found.tag == "alone" and len(attempt.words[attempt.opening.at].text) == 1:
        return None
    return plain(attempt, found, dict(found.fills["units"]))


_KCAL = (0.2, 3.0)
"""What a milk replacer can hold, kcal per ml as fed: bitch's milk has about 1.5 (own bounds, wide; outside them it is another figure)."""


def formula(attempt: Attempt, found: Found) -> Result | None:
    """What the label of the milk replacer says, in kcal per ml."""
    kcal = found.fills["number"] / found.fills.get("volume", 1)
    if not _KCAL[0] <= kcal <= _KCAL[1]:
        return None
    return plain(attempt, found, {"formula": {"kcal_per_ml": round(kcal, 4)}})


def adult_grams(attempt: Attempt, found: Found) -> Result | None:
    """What a grown dog of this litter will weigh."""
    return plain(attempt, found, {"adult_grams": found.fills["grams"]})


def breed(attempt: Attempt, found: Found) -> Result | None:
    """The breed, by its own name where it is known."""
    return plain(attempt, found, {"breed": found.fills.get("breed") or found.fills["words"]})


def reminders(attempt: Attempt, found: Found) -> Result | None:
    """Reminders of a care, or all of them, on or off."""
    return plain(attempt, found, {"reminders": {**found.fills.get("what", {"care": "all"}), "on": found.tag == "on"}})


def invite(attempt: Attempt, found: Found) -> Result | None:
    """Somebody to be let in."""
    return plain(attempt, found, {"invite": found.fills["newcomer"]})


def phone(attempt: Attempt, found: Found) -> Result | None:
    """A telephone number of the vet or of the emergency clinic."""
    return plain(attempt, found, {"phone": {"of": found.tag, "number": found.fills["phone"]}})
