"""Worry: someone asks what to do now. The act comes first, the call second, the reason after it, in at most 60 words."""

from __future__ import annotations

import re
from collections.abc import Sequence

from bot.care.dog import Dog
from bot.care.figures import figures, source_in_short
from bot.care.notice import URGENCIES, Notice
from bot.care.notices import standing
from bot.care.nursery import Nursery
from bot.care.sign_table import Row, table
from bot.care.warning import say_call
from bot.care.wording import say_temperature
from bot.reports.answer import Answer
from bot.reports.asked import Asked

_WARM_TO = figures("warmth").number("warm_before_a_feed")
_ACTS = {
    "pup": "warm it slowly against your skin, clear mouth and nose gently, nothing by mouth while it is under {warm}, limp or gasping",
    "dam": "stay with her and keep her calm; take the pups off her and keep them warm if she trembles, is stiff or growls",
    "litter": "warm the pup first, slowly against your skin, then clear mouth and nose; nothing by mouth under {warm}, limp or gasping",
}
"""The steps where nothing particular was seen: warm first, clear, call."""
_WHY = "A newborn weakens within hours, and I only keep the log: your vet knows."
_NOT_SEEN = "first milk"
"""The warning that is not of what was seen, but of what was not logged: who is frightened has seen something else."""
_SMALL = frozenset({"at", "the", "of", "a", "not"})


def answer(asked: Asked) -> Answer:
    """What to do: for the worst that stands of those asked about, or for what the question names, else the first steps."""
    nursery = asked.nursery
    dogs = (nursery.dam,) if asked.question.who == "dam" else asked.pups if asked.named else ()
    who = tuple(dog.who for dog in dogs)
    worry, row = _worry(asked, dogs), _row_named(asked)
    if worry is not None and (who or row is None):
        return Answer(f"{worry.text}{_if_soon(nursery, worry)}", dict(worry.values), "worry", who or worry.who)
    subject = nursery.together(who) if who else ""
    act, why = _ACTS["dam" if who == ("dam",) else "pup" if who else "litter"], _WHY
    if row is not None:
        act, why = row.act, f"{f'{row.why}. ' if row.why else ''}Source: {source_in_short(row.source)}."
    act = act.format(warm=say_temperature(_WARM_TO, nursery.temperatures_in))
    said = f"{subject}: {act}" if subject else f"{act[:1].upper()}{act[1:]}"
    return Answer(f"{said}{say_call(nursery, 'emergency')}. {why}", {}, "worry", who)


def _worry(asked: Asked, dogs: Sequence[Dog]) -> Notice | None:
    """The worst warning that stands of them, what this very message told included; of anyone where none is named."""
    whos = {dog.who for dog in dogs}
    seen = (one for one in standing(asked.nursery, asked.now) if one.about != _NOT_SEEN)
    return next((one for one in seen if not whos or whos & set(one.who)), None)


def _row_named(asked: Asked) -> Row | None:
    """The most urgent sign that the question itself names: `what do I do if milk comes out of the nose`."""
    words = frozenset(re.findall(r"[a-z]+", asked.words.casefold()))
    rows = [
        row
        for whose in (("dam",) if asked.question.who == "dam" else ("pup",) if asked.named else ("pup", "dam"))
        for row in table(whose)
        if not row.with_ and any(frozenset(name.split()) - _SMALL <= words for name in row.seen)
    ]
    return max(rows, key=lambda row: URGENCIES.index(row.urgency), default=None)


def _if_soon(nursery: Nursery, worry: Notice) -> str:
    """Whoever asks is told to call also where the warning alone would not say it."""
    call = say_call(nursery, "vet today").replace(", and call", ", call")
    return f" If in doubt, or if it does not pass soon{call}." if worry.urgency == "soon" else ""
