"""Read events back in the reader's own language, so that reading the reply again gives the same events."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from parsers.events import Event, Units
from parsers.litter_card import LitterCard
from parsers.saying import say_at, say_list, say_pups


def read_back(events: Sequence[Event], card: LitterCard, now: datetime) -> str:
    """`Pup 3: 212 g, nursed 15 min, cleared.`: a sentence for each subject, pups with the same doings together.

    What a pup was given is a sentence of its own: behind other doings a drug is the dam's, if she has it too.
    """
    units = Units(card.weights_in, card.temperatures_in)
    told: dict[tuple[int | str, str], list[str]] = {}
    for event in events:
        phrase = event.say(units) + (f" {say_at(event.at, now, card.tz)}" if event.at is not None else "")
        who = getattr(event, "who", None)
        alone = phrase if event.kind == "dose" and isinstance(who, int) else ""
        told.setdefault(("" if event.reads_back_whole or who is None else who, alone), []).append(phrase)
    sentences: list[str] = []
    groups: dict[tuple[str, ...], list[int | str]] = {}
    for (who, _), phrases in told.items():
        groups.setdefault(tuple(phrases), []).append(who)
    for phrases_said, whos in groups.items():
        said = ", ".join(phrases_said)
        subject = _subject(whos, card)
        sentences.append(f"{subject}: {said}." if subject else f"{said[:1].upper()}{said[1:]}.")
    return " ".join(sentences)


def _subject(whos: Iterable[int | str], card: LitterCard) -> str:
    """Who it is of, as a person says it: `Pup 3 Olive`, `Pups 1, 2 and 5`, `Dam`."""
    pups = [who for who in whos if isinstance(who, int)]
    others = ["Dam" for who in whos if who == "dam"]
    if len(pups) == 1:
        names = card.by_number[pups[0]].names if pups[0] in card.by_number else ()
        return say_list([*others, f"Pup {pups[0]}{f' {names[0]}' if names else ''}"])
    if pups:
        said = say_pups(pups)
        return say_list([*others, said[:1].upper() + said[1:]])
    return "".join(others)
