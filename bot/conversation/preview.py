"""A preview says in few words what a message would be read as, while it is still being typed; it keeps nothing and changes nothing."""

from __future__ import annotations

from collections.abc import Sequence

from bot.care.wording import say_change
from bot.conversation import checks, interview, replying
from bot.conversation.corrections import Corrected, correct
from bot.conversation.keeping import with_note
from bot.conversation.scene import Scene
from parsers import read_back
from parsers.events import Event, Units
from parsers.events.weight import Weight
from parsers.litter_card import LitterCard
from parsers.reading import Fix, Reading


def preview(text: str, scene: Scene) -> str:
    """What the words would do if they were sent now; empty where there are none."""
    if not text.strip():
        return ""
    if (check := scene.open_check) is not None and checks.answered(
        text, check[0].notes["check"], scene.card(), at_once=check[1]
    ) is not None:
        return "the answer to what I asked"
    reading = scene.read(text)
    if scene.mends is not None:
        return _fix(reading.fix, scene) if reading.fix is not None else "no correction"
    if reading.does == "note" and interview.asked(scene) is not None:
        return "the answer to what I asked, or a note"
    return " ".join(_parts(reading, scene))


def _parts(reading: Reading, scene: Scene) -> list[str]:
    """What it corrects, what it would ask back, what it logs, sets and asks, and what is not read of it."""
    card = scene.card()
    if reading.does == "note":
        return ["a note, nothing to log"]
    parts: list[str] = []
    if reading.fix is not None:
        parts.append(_fix(reading.fix, scene))
    if reading.why is not None:
        return [*parts, f"I would ask first: {reading.why}"]
    seen = [event for event in with_note(reading) if not (event.kind == "note" and reading.unread)]
    if seen:
        parts += [read_back(seen, card, scene.now), *_changes(seen, card)]
    if reading.setup is not None:
        parts.append("A setting.")
    if reading.about is not None:
        parts.append(f"A question: {reading.about.topic}.")
    return [*parts, *replying.how_it_was_read(reading)]


def _fix(fix: Fix, scene: Scene) -> str:
    found = correct(fix, scene.last_logged())
    if not isinstance(found, Corrected):
        return "A correction."
    old = read_back([one.event for one in found.old], scene.card(), scene.now)
    new = [event for event in found.new if event is not None]
    return f"Corrects to: {read_back(new, scene.card(), scene.now)}" if new else f"Takes back: {old}"


def _changes(events: Sequence[Event], card: LitterCard) -> list[str]:
    """The change of each weight against the last one: by pup where there are several."""
    weights = [event for event in events if isinstance(event, Weight)]
    units = Units(card.weights_in, card.temperatures_in)
    changes = [
        (event.who, say_change(event.grams - last.last_grams, units))
        for event in weights
        if (last := card.dam if event.who == "dam" else card.by_number.get(event.who)) is not None and last.last_grams is not None
    ]
    if not changes:
        return []
    return [f"({'; '.join(change if len(weights) == 1 else f'{who}: {change}' for who, change in changes)})"]
