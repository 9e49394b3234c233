"""What a message asks, sets up or corrects, and the words that this takes, before its doings are read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cache
from typing import Any

from parsers import corrections, hangers, household, questions
from parsers.events import Who
from parsers.litter_card import LitterCard
from parsers.pup_numbers import Subject
from parsers.reading import Fix, Question
from parsers.subjects import Names
from parsers.words import Word, Words, texts_of

_FIX_DOUBTS = {
    "future": "That time is still to come. When was it?",
    "either half": "That may be just ahead, or twelve hours back. When was it?",
    "before birth": "That is before the litter was born. When was it?",
    "skipped": "The clocks skipped that time. When was it?",
    "loose": "When was it, roughly?",
    "weight or time": "Is that a time or a weight?",
}
_LONGEST_STRETCH = 60  # words without a mark; a longer ramble is looked through for questions and setup in parts


@dataclass(slots=True)
class Asides:
    """What fixes, setups and questions took of a message, before its doings are read."""

    sender: str = ""
    """Who writes, where the message begins with it: `nadia: moss nursed 10`; it is kept with the words that are left."""
    fix: Fix | None = None
    setup: dict[str, Any] = field(default_factory=dict)
    about: Question | None = None
    asked_of: Subject | None = None
    """A subject of the question that depends on what was named before: `is she gaining?`."""
    spans: list[tuple[int, int]] = field(default_factory=list)
    silent: list[tuple[int, int]] = field(default_factory=list)
    """Stretches that are questions of no topic: nothing in them is logged."""
    left: list[tuple[int, int]] = field(default_factory=list)
    """Words inside a setup that no field of it holds: they are shown, not read as care."""
    doubt: str | None = None
    """What is to be confirmed of a correction."""
    unsure: list[tuple[int, int]] = field(default_factory=list)
    """Statements with a question mark: what they tell must be confirmed."""


def find(words: list[Word], names: Names, card: LitterCard, now: datetime, by: str | None, last_who: Who | None, taken: Asides) -> None:
    """Find corrections, setup and questions, and the words that they take."""
    begin = 0
    corrected = corrections.find(words, names, card, now, by=by)
    if corrected is not None:
        taken.fix = corrected.fix
        taken.doubt = _FIX_DOUBTS.get(corrected.problem) if corrected.problem else None
        taken.spans.append((corrected.start, corrected.end))
        begin = corrected.end
    told = (
        household.find(words, begin, len(words), names, card, now, by=by, last_who=last_who) if len(words) <= _LONGEST_STRETCH * 2 else []
    )
    taken.spans.extend((one.start, one.end) for one in told)
    plain = len(words) <= _LONGEST_STRETCH * 2 and _asking_words().isdisjoint(texts_of(words))
    for start, end in () if plain else _sentences(words):
        start = max(start, begin)
        if start >= end:
            continue
        length = end - start
        stretch: Sequence[Word] = words if length == len(words) else Words(words[start:end])
        if len(words) > _LONGEST_STRETCH * 2:
            found = household.find(stretch, 0, length, names, card, now, by=by, last_who=last_who)
            told.extend(
                replace(one, start=start + one.start, end=start + one.end, left=tuple((start + a, start + b) for a, b in one.left))
                for one in found
            )
        hung = hangers.hung(stretch, names, card) or hangers.any_of_it(stretch, names, card)
        if hung is not None and not inside(start + hung.start, taken.spans):
            if taken.about is None:
                taken.about, taken.asked_of = hung.question, hung.subject
            taken.spans.append((start + hung.start, start + hung.end))
            if hung.start == 0:
                continue
            stretch, length, end = stretch[: hung.start], hung.start, start + hung.start
        if taken.about is None:
            asked = questions.find(stretch, 0, length, names, card)
            if asked is not None and asked.question.topic == "help":
                asked = questions.cried(words, start, end, names, card) or asked
            asked = asked or hangers.stated(stretch, names, card)
            listed = (
                asked is not None
                and asked.question.topic == "weights"
                and end + 1 < len(words)
                and words[end].kind == "newline"
                and words[end + 1].kind == "number"
            )
            if asked is not None and not listed and not inside(start + asked.start, taken.spans):
                taken.about, taken.asked_of = asked.question, asked.subject
                taken.spans.append((start + asked.start, start + asked.end))
                continue
        asking = _asking(words, start, end, names)
        if asking is not None and any(one.start < asking[1] and asking[0] < one.end for one in told):
            continue
        if asking is not None:
            taken.silent.append(asking)
        elif words[end - 1].text == "?":
            taken.unsure.append((start, end))

    taken.setup = household.merged(told)
    whole = {(one.start, one.end) for one in told}
    taken.spans = [span for span in taken.spans if span not in whole]
    for one in told:
        taken.spans.extend(_without((one.start, one.end), one.left))
        taken.left.extend(one.left)


@cache
def _asking_words() -> frozenset[str]:
    """Words of which one stands in whatever asks; most messages of the log have none of them, and need not be looked through."""
    return questions.asking_words() | hangers.HANGING


def _sentences(words: Sequence[Word]) -> Iterator[tuple[int, int]]:
    """The stretches between sentence marks and line ends, and the parts of one that never ends."""
    start = 0
    for place, word in enumerate(words):
        if word.kind == "newline" or word.text in (".", "!", "?", ";"):
            if place > start:
                yield start, place + (word.text == "?")
            start = place + 1
        elif place - start >= _LONGEST_STRETCH and word.text in ("and", "but", "so", ",", "then", "because"):
            yield start, place
            start = place
    if start < len(words):
        yield start, len(words)


def _without(span: tuple[int, int], holes: Sequence[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """A span without some stretches inside it."""
    start = span[0]
    for hole in sorted(holes):
        if hole[0] > start:
            yield start, hole[0]
        start = hole[1]
    if span[1] > start:
        yield start, span[1]


def _asking(words: list[Word], start: int, end: int, names: Names) -> tuple[int, int] | None:
    """Which part of a stretch asks by its form: what stands before a comma is left to be read (`Olive 286, is that ok?`)."""
    marked = words[end - 1].text == "?"
    last = end
    while last > start and words[last - 1].text == "?":
        last -= 1
    form = next((place for place in range(last - 1, start - 1, -1) if words[place].text in questions.FORMS), -1)
    if form < 0:
        return None
    pauses = [place for place in range(start, last) if words[place].text == ","]
    for begin in [start, *(pause + 1 for pause in pauses)]:
        if begin <= form and questions.is_question(words[begin:last], 0, last - begin, names):
            return begin, end if marked else next((pause for pause in pauses if pause > begin), end)
    return None


def inside(place: int, spans: Sequence[tuple[int, int]]) -> bool:
    """True where a word lies in one of the spans."""
    return any(start <= place < end for start, end in spans)
