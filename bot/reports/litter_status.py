"""The status of several pups, or of the whole litter: what is worrying and overdue first, then each pup in a line."""

from __future__ import annotations

from collections.abc import Mapping

from pydantic import JsonValue

from bot.care.growth import Growth, growth, litter_values
from bot.care.nursery import Nursery
from bot.care.wording import say_time
from bot.reports.answer import LINES, Answer, in_lines, on_a_screen
from bot.reports.asked import Asked, start_of_day
from bot.reports.columns import columns
from bot.reports.needs import Need, needs, say_dues, say_overdue, say_worries
from bot.reports.pup_status import pup_values
from bot.reports.weighed import weighed_when
from parsers.events import Who

_FIRST = LINES // 2
"""The most lines of what is worrying and overdue; the rest of them share the last of these."""


def litter_status(asked: Asked) -> Answer:
    """How these pups are; where none is named, how the litter, its box and the dam are too."""
    nursery, now, pups = asked.nursery, asked.now, asked.pups
    gains = {pup.who: growth(nursery, pup, until=now) for pup in pups}
    whole = needs(nursery, pups if asked.named else [*pups, nursery.dam], now)
    found = [need for need in whole if need.dog.who != "dam"]
    today = start_of_day(nursery, now)
    not_weighed = [int(pup.who) for pup in pups if (gain := gains[pup.who]) is None or gain.latest.at < today]
    values: dict[str, JsonValue] = {str(need.dog.who): pup_values(nursery, need, gains[need.dog.who]) for need in found}
    values |= litter_values([gain for gain in gains.values() if gain is not None], not_weighed)
    first = in_lines([f"{said}." for said in say_worries(nursery, asked.named, now)] + say_overdue(nursery, whole), _FIRST)
    last = [f"Not weighed today: {nursery.together(not_weighed)}."] if not_weighed else []
    last += [line for need in whole if need.dog.who == "dam" for line in say_dues(nursery, need.ahead, now)]
    if not asked.named and (watch := nursery.on_duty(now)) is not None:
        last.append(f"{watch} has the watch.")
    lines = _pups(nursery, found, gains, room=LINES - len(first) - bool(last))
    return Answer(on_a_screen([*first, *lines, *last]), values, "status", tuple(pup.who for pup in pups) if asked.named else ())


def _pups(nursery: Nursery, found: list[Need], gains: Mapping[Who, Growth | None], *, room: int) -> list[str]:
    """A line for each pup; where there are too many, those who need it least share one."""
    shown = found if len(found) <= room else found[: room - 1]
    lines = columns([_cells(nursery, need, gains[need.dog.who]) for need in shown])
    rest = sorted(int(need.dog.who) for need in found[len(shown) :])
    return [*lines, f"{nursery.together(rest)}: ask about one for more."] if rest else lines


def _cells(nursery: Nursery, need: Need, gain: Growth | None) -> list[str]:
    pup, now = need.dog, need.now
    if pup.died_at is not None:
        return [f"{pup.called}:", f"died {say_time(pup.died_at, now, nursery.zone)}."]
    fed = pup.last_fed()
    last = "not nursed or fed yet" if fed is None else f"{fed.event.kind} {say_time(fed.began, now, nursery.zone)}"
    if gain is None:
        return [f"{pup.called}:", f"not weighed yet, {last}."]
    *figures, when = weighed_when(nursery, gain, now)
    return [f"{pup.called}:", *figures, f"{when}, {last}."]
