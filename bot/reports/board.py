"""Board: every pup in a row of figures that stand under each other, those who need a person most first, the dam last."""

from __future__ import annotations

from datetime import timedelta

from pydantic import JsonValue

from bot.care.doing import Doing
from bot.care.growth import Growth, growth, litter_values
from bot.care.nudge import due_values
from bot.care.nursery import Nursery
from bot.care.wording import iso, say_change, say_weight
from bot.reports.answer import Answer
from bot.reports.asked import Asked, start_of_day
from bot.reports.columns import columns
from bot.reports.needs import Need, needs, say_due, say_worry

_NAME = 5
"""Letters of a name that a row has room for."""
_NOTHING = "-"
_KINDS = {"fed_at": "fed", "cleared_at": "clear", "passed_at": "pass"}
"""What a row tells the age of, by the name of its figure, and how its column is headed."""


def answer(asked: Asked) -> Answer:
    """A row for each living pup (or each one named): weight, gain, how long ago it was nursed, cleared and passed, and what is due in."""
    nursery, now = asked.nursery, asked.now
    pups = [pup for pup in asked.pups if pup.died_at is None]
    if not pups and asked.question.who != "dam":
        return Answer(
            f"{nursery.together(pup.who for pup in asked.pups)} died. I am sorry." if asked.pups else asked.no_such_pup,
            about="board",
            who=asked.named,
        )
    found = needs(nursery, pups, now)
    gains = {int(pup.who): gain for pup in pups if (gain := growth(nursery, pup, until=now)) is not None}
    rows = [_row(nursery, need, gains.get(int(need.dog.who))) for need in found]
    values: dict[str, JsonValue] = {str(need.dog.who): _values(nursery, need, gains.get(int(need.dog.who))) for need in found}
    today = start_of_day(nursery, now)
    not_weighed = [int(pup.who) for pup in pups if (gain := gains.get(int(pup.who))) is None or gain.latest.at < today]
    values |= litter_values(gains.values(), not_weighed)
    unit = nursery.units.weights_in
    heading = ["pup", unit, "gain", *_KINDS.values(), "due in", ""]
    lines = columns([heading, *rows]) if rows else []
    if not asked.named or asked.question.who == "dam":
        dam = needs(nursery, [nursery.dam], now)[0]
        lines.append(_of_dam(nursery, dam))
        values["dam"] = due_values(dam.dues, nursery.zone, flat=True)
    return Answer("\n".join(lines), values, "board", asked.named)


def _row(nursery: Nursery, need: Need, gain: Growth | None) -> list[str]:
    pup, now = need.dog, need.now
    name = (pup.names or (pup.mark or "",))[0][:_NAME]
    weight = _NOTHING if gain is None else say_weight(gain.latest.grams, nursery.units).partition(" ")[0]
    change = _NOTHING if gain is None or gain.gain_g is None else say_change(gain.gain_g, nursery.units).partition(" ")[0]
    ago = [_NOTHING if done is None else _hours(now - done.began) for done in _done(need).values()]
    due = _NOTHING if not need.dues else _hours(need.dues[0].at - now)
    return [f"{pup.who} {name}".strip(), weight, change, *ago, due, need.urgency or ""]


def _done(need: Need) -> dict[str, Doing | None]:
    """The last of each thing that a row tells, by the name of its figure."""
    pup = need.dog
    return dict(zip(_KINDS, (pup.last_fed(), pup.last.get("cleared"), pup.last.get("toilet")), strict=True))


def _of_dam(nursery: Nursery, need: Need) -> str:
    dam, now = need.dog, need.now
    told = [dam.last[kind] for kind in ("temperature", "intake") if kind in dam.last] + [given.last for given in dam.doses.values()]
    said = [say_worry(one) for one in need.worries]
    said += [f"{done.event.say(nursery.units)} {_hours(now - done.began)} ago" for done in told]
    said += [say_due(nursery, one, now) for one in need.dues]
    return f"{dam.called}: {', '.join(said) or 'nothing is in the log yet'}."


def _values(nursery: Nursery, need: Need, gain: Growth | None) -> dict[str, JsonValue]:
    zone = nursery.zone
    values: dict[str, JsonValue] = {} if gain is None else {"grams": gain.latest.grams, **gain.values(zone)}
    values |= due_values(need.dues, zone, flat=True)
    values |= {name: iso(done.began, zone) for name, done in _done(need).items() if done is not None}
    return values | ({"urgency": need.urgency} if need.urgency else {})


def _hours(span: timedelta) -> str:
    """Hours and minutes, `2:05`; what is past its time with a minus."""
    minutes = round(abs(span).total_seconds() / 60)
    return f"{'-' if span < timedelta(0) and minutes else ''}{minutes // 60}:{minutes % 60:02d}"
