"""A glance is the top of the page: what is next, who has the watch, how warm the box is, what is wrong; and a row for each pup."""

from __future__ import annotations

from datetime import datetime, timedelta, tzinfo

from pydantic import JsonValue

from bot.care.climate import last_reading
from bot.care.doing import Doing
from bot.care.due import Due
from bot.care.figures import figures
from bot.care.growth import growth
from bot.care.nursery import Nursery
from bot.care.wording import iso, say_change, say_weight
from bot.reports.needs import Need, needs, say_worries

TOGETHER = timedelta(minutes=figures("rounds").number("together_within"))
"""Pups that are due this close to the first of them are told with it, as in a nudge."""


def glance(nursery: Nursery, now: datetime) -> dict[str, JsonValue]:
    """All of it as plain data for a page; moments are ISO times, so that the page itself counts down to them."""
    found = needs(nursery, nursery.living, now)
    dam = needs(nursery, [nursery.dam], now)[0]
    worries = say_worries(nursery, (), now)
    box, ends = last_reading(nursery, "box"), nursery.watch_ends(now)
    return {
        "now": iso(now, nursery.zone),
        "next": _next(nursery, [*found, dam]),
        "late": [*sorted({one.care for need in (*found, dam) for one in need.dues if one.at <= now})],
        "watch": nursery.on_duty(now),
        "until": None if ends is None else iso(ends, nursery.zone),
        "box": None if box is None else {"said": box[0].say(nursery.units), "at": iso(box[1].began, nursery.zone)},
        "worries": list(worries),
        "unit": nursery.units.weights_in,
        "rows": [_row(nursery, need) for need in found],
        "dam": {"called": nursery.dam.called, **_ahead(dam, nursery.zone), "worry": _worry(dam)},
    }


def _next(nursery: Nursery, found: list[Need]) -> JsonValue:
    """The earliest care that is due, with everyone for whom it is due at about that time."""
    dues = sorted((one for need in found for one in need.dues), key=lambda one: one.at)
    if not dues:
        return None
    first = dues[0]
    same = [one.who for one in dues if _what(one) == _what(first) and one.at - first.at <= TOGETHER]
    return {"care": _what(first), "who": nursery.together(sorted(same, key=str)), "at": iso(first.at, nursery.zone)}


def _row(nursery: Nursery, need: Need) -> dict[str, JsonValue]:
    pup, zone = need.dog, nursery.zone
    gain = growth(nursery, pup, until=need.now)
    done = {"fed_at": pup.last_fed(), "cleared_at": pup.last.get("cleared"), "passed_at": pup.last.get("toilet")}
    return {
        "n": pup.who,
        "called": pup.called,
        "grams": None if gain is None else gain.latest.grams,
        "weight": None if gain is None else say_weight(gain.latest.grams, nursery.units),
        "gain": None if gain is None or gain.gain_g is None else say_change(gain.gain_g, nursery.units),
        "worry": _worry(need),
        **{name: _at(one, zone) for name, one in done.items()},
        **_ahead(need, zone),
    }


def _ahead(need: Need, zone: tzinfo) -> dict[str, JsonValue]:
    return {"care": _what(need.dues[0]), "due_at": iso(need.dues[0].at, zone)} if need.dues else {}


def _what(one: Due) -> str:
    return one.drug or one.care


def _worry(need: Need) -> JsonValue:
    return {"urgency": need.urgency, "about": need.worries[0].about, "seen": need.worries[0].seen} if need.worries else None


def _at(done: Doing | None, zone: tzinfo) -> str | None:
    return None if done is None else iso(done.began, zone)
