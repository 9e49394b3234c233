"""Getting ready: what is still open on the list for the way home, what is done, and how to tick it."""

from __future__ import annotations

from collections.abc import Sequence

from pydantic import JsonValue

from bot.care.climate import box_range
from bot.care.ready import Thing, done, things
from bot.care.wording import say_range
from bot.reports.answer import Answer
from bot.reports.asked import Asked


def answer(asked: Asked) -> Answer:
    """The list: the open things by group, then the done ones."""
    nursery = asked.nursery
    ready = done(nursery.ready, nursery.choices)
    open_ = [thing for key, thing in things().items() if key not in ready]
    lines = [f"Ready for the way home: {len(ready)} of {len(things())} done."]
    for group in dict.fromkeys(thing.group for thing in open_):
        lines.append(f"{group}: {'; '.join(_what(thing, asked) for thing in open_ if thing.group == group)}.")
    if ready:
        lines.append(f"Done: {', '.join(ready)}.")
    if open_:
        lines.append(f"Tick it here, like “{_example(open_)} done”. Common practice; what your vet wants you to bring goes first.")
    values: dict[str, JsonValue] = {"done": list(ready), "open": [thing.key for thing in open_]}
    return Answer("\n".join(lines), values, "getting ready")


def _what(thing: Thing, asked: Asked) -> str:
    box = box_range(0)
    return thing.what.format(range=say_range(box.low_c, box.high_c, asked.nursery.temperatures_in))


def _example(open_: Sequence[Thing]) -> str:
    """A thing to show how it is ticked: one that no fact ticks, where there is one."""
    return next((thing.says[0] for thing in open_ if not thing.by), open_[0].says[0])
