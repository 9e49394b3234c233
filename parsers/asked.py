"""A question about the log as it was found: whom it asks of, what of, over which days, and the words that it takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast, get_args

from parsers.events import Who
from parsers.pup_numbers import Subject
from parsers.reading import Question, Span, Topic
from parsers.wording import Token

Whom = tuple[Who | tuple[int, ...] | None, Subject | None]
"""(who, None), or (None, a subject that depends on what was named before)."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question about the log, and the words that it takes."""

    question: Question
    start: int
    end: int
    subject: Subject | None = None
    """A subject that depends on what was named before (`she`, `both`, `the rest`): the reader fills in the question's `who`."""


def build(topic: Topic, seen: Sequence[Token], start: int, end: int) -> Asked | None:
    """The question of this topic in the words from start to end; None where it is about people or the house."""
    inside = [token for token in seen if start <= token.start and token.end <= end]
    who, later = whom(topic, inside)
    if topic == "status" and who is None and later is None and any(token.text in ("that", "this") for token in inside):
        who, later = _pointed_at(seen, start)
    of = _what(topic, inside, who, later)
    if topic in ("last", "due") and not any(token.subject for token in inside) and _of_people(inside, of):
        return None
    span = next((cast(Span, said) for token in inside if (said := token.said("span")) in get_args(Span)), None)
    return Asked(Question(topic=topic, who=who, of=of, span=span), start, end, later)


def whom(topic: str, inside: Sequence[Token]) -> Whom:
    """Whom a question is about. The whole litter is nobody in particular, and neither is `they`."""
    pups: dict[int, None] = {}
    dam = False
    later: Subject | None = None
    for token in inside:
        subject = token.subject
        if subject is None or subject.how == "all":
            continue
        if not subject.whos and later is None and token.text not in _LITTER and (token.text not in _THING or topic in _OF_ONE):
            later = subject
        pups.update((who, None) for who in subject.whos if isinstance(who, int))
        dam = dam or "dam" in subject.whos
    dosed = dam and any(token.tags & {"drug", "dose", "intake"} for token in inside)
    if pups and not dosed:
        return (next(iter(pups)) if len(pups) == 1 else tuple(pups)), None
    return ("dam", None) if dam else (None, later)


_LITTER = frozenset(("they", "them", "their", "they're", "they've"))
_THING = frozenset(("it", "its", "it's"))
_OF_ONE = frozenset(("feed plan", "last", "gains"))
"""Topics in which `it` is a pup: elsewhere it is the box, the log or nothing."""


def _pointed_at(seen: Sequence[Token], start: int) -> Whom:
    """Whose value `is that ok` asks about: the pup or dam named last before it."""
    before = [token.subject for token in seen if token.end <= start and token.subject is not None]
    if not before:
        return None, Subject((), 1, "pronoun")
    if len(before[-1].whos) == 1:
        return cast(Who, before[-1].whos[0]), None
    return None, None if before[-1].how == "all" else before[-1]


_WITH_OF = frozenset(("due", "last", "why"))
"""Topics that have an `of`."""


def _what(topic: str, inside: Sequence[Token], who: object, later: Subject | None) -> str | None:
    """The drug or the kind of event that is asked about. What a pup eats it nurses; what the dam is fed she takes in."""
    if topic == "chart":
        return _plotted(inside)
    if topic not in _WITH_OF:
        return None
    drug = next((said for token in inside if (said := token.said("drug"))), None)
    if drug or topic == "why":
        return drug
    kind = next((said for token in inside if (said := token.said("do"))), None)
    if kind is None:
        return "sign" if topic == "last" and any("sign" in token.tags for token in inside) else None
    if kind == "intake" and who != "dam" and later is None:
        return "nursed"
    return "intake" if kind == "fed" and who == "dam" else kind


def _plotted(inside: Sequence[Token]) -> str | None:
    """What a chart is to show, where it is not growth: a kind of event (`temperature`, `nursed`), or the `night` with all its care."""
    kind = next((said for token in inside if (said := token.said("do")) in _PLOTTED), None)
    return kind or ("night" if any(token.text in _NIGHTS for token in inside) else None)


_PLOTTED = frozenset(("nursed", "fed", "refused", "cleared", "toilet", "temperature"))
_NIGHTS = frozenset(("night", "last_night", "overnight", "tonight", "rounds", "care"))


def _of_people(inside: Sequence[Token], of: str | None) -> bool:
    """True where people and the house are asked after (`have you eaten`, `when is dinner`, `did you get milk`), not the litter."""
    texts = {token.text for token in inside}
    tags = frozenset[str]().union(*(token.tags for token in inside))
    if of == "cleaned":
        return not (tags & {"item", "place"}) and not any("cleaned" in token.tags and "_" in token.text for token in inside)
    if texts & {"who", "which"}:
        return False
    if "person" in tags:
        return of in _OWN_DOINGS or "been" in texts or "amount" in tags
    return "intake" in tags and "any" not in tags


_OWN_DOINGS = frozenset(("nursed", "intake", "toilet", "born", "refused", "sign", "placed"))
"""What a pup or the dam does itself."""
