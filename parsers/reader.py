"""Read a message: words, then numbers and subjects, clauses, denials, plausibility; never raises, never drops a word.

The language in one breath: a *subject* (pup 3, olive, the rest, mom) holds for the *doings* behind it (212 g, nursed 15 min,
cleared) until the next subject; a *time* holds for its clause; plans, denials, doubts and talk make no event. Where the words can be
cut in several ways every cut is read, and the litter's state chooses only where exactly one of them is plausible.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import pairwise
from typing import Any

from parsers.asides import Asides, find, inside
from parsers.clauses import clauses
from parsers.events import Event, Who, make
from parsers.items import Item
from parsers.judge import Judge
from parsers.leftovers import amiss, as_note, left_over, unread_words
from parsers.litter_card import LitterCard
from parsers.mending import mend
from parsers.plausibility import LIMITS, Fit
from parsers.pup_numbers import Subject
from parsers.reading import Reading, Setup, first_of
from parsers.scanner import Scanner
from parsers.subjects import Names
from parsers.trimming import sender, trim
from parsers.verdict import Verdict
from parsers.walk import Draft
from parsers.words import Word, Words, cut

_known_names: dict[Hashable, Names] = {}
_MOST_LITTERS = 16  # litters whose names are kept ready; a household has one or two
_MOST_DOUBTS = 3
_CUT_EFFORT = 500  # words times ways: a ramble of thousands of words is cut in one way only


@dataclass(slots=True)
class Steps:
    """What the reader did, step by step, for `explain`."""

    words: list[Word] = field(default_factory=list)
    spelled: list[tuple[str, str]] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    draft: Draft | None = None
    verdicts: list[Verdict] = field(default_factory=list)
    reading: Reading | None = None


def _names(card: LitterCard) -> Names:
    """The subjects of a litter as it stands, built anew only when someone was born, named or lost."""
    names = _known_names.get(card.called)
    if names is None:
        if len(_known_names) >= _MOST_LITTERS:
            _known_names.clear()
        names = Names(card)
    elif names.card is not card:
        names = names.on(card)
    _known_names[card.called] = names
    return names


def read(text: str, card: LitterCard, *, now: datetime, by: str | None = None, last_who: Who | None = None) -> Reading:
    """What a message means, for the litter of `card` at the moment `now`.

    `by` is the sender; `last_who` the pup (or "dam") that the sender named last, within the last three minutes. Never raises.
    """
    return _read(text, card, now, by, last_who, Steps())


def _read(text: str, card: LitterCard, now: datetime, by: str | None, last_who: Who | None, steps: Steps) -> Reading:
    if len(text) > LIMITS["longest_message"]:
        return _too_long(text)
    names = _names(card)
    words = cut(text)
    if len(words) > LIMITS["most_words"]:
        return _too_long(text)
    steps.words = words
    steps.spelled = mend(words, names)
    start, end = trim(words)
    taken = Asides()
    if told := sender(words, start, end, names.people):
        taken.sender, start = text[words[start].start : words[start].end], start + told
    words = steps.words = Words(words[start:end])
    find(words, names, card, now, by, last_who, taken)
    if taken.about is not None:
        _ask_whole(words, taken)
    return _settle(text, words, names, card, now, by, last_who, taken, steps)


def _ask_whole(words: Sequence[Word], taken: Asides) -> None:
    """`should I tube pearl 4 ml` asks with all its words: nothing of it was done."""
    for place, (word, then) in enumerate(pairwise(words)):
        if word.text in ("should", "shall") and then.text in ("i", "we"):
            end = next((at for at in range(place, len(words)) if words[at].text in (".", "!", "?", ";", "\n")), len(words))
            taken.spans.append((place, end))


def _too_long(text: str) -> Reading:
    why = "This is too long to read. It is kept as a note, and nothing of it was logged. Please send it in parts."
    return Reading(text=text, does="note", events=(make("note", text=text),), why=why)


def _settle(
    text: str,
    words: list[Word],
    names: Names,
    card: LitterCard,
    now: datetime,
    by: str | None,
    last_who: Who | None,
    taken: Asides,
    steps: Steps,
) -> Reading:
    judge = Judge(card, names, now, by=by, last_who=last_who, text=text)
    subject = _set_up_subject(taken)
    found: list[tuple[Verdict, Draft, list[Item], list[Word]]] = []
    for way in _ways(words, names):
        for scanner in _cuts(way, names, now, _free(len(words), len(way) - len(words), taken)):
            items = scanner.items
            draft = clauses(items, way, names, subject=subject)
            for doing in draft.doings if taken.unsure else ():
                doing.hedged = doing.hedged or any(inside(span[0], taken.unsure) for span in doing.spans)
            verdict = judge.judge(draft)
            if scanner.several_cuts:
                verdict.assumed.append("The weights were cut so that they fit the last ones.")
            verdict.spans.extend(draft.taken_back)
            found.append((verdict, draft, items, way))
    if not found:
        found.append((Verdict(), Draft(), [], words))
    if len(found) > 1:
        for verdict, _, items, _ in found:
            verdict.left = left_over(verdict, items)
        found.sort(key=lambda one: one[0].rank)
    best, draft, items, way = found[0]
    if taken.about is not None and taken.asked_of is not None:
        taken.about = taken.about.model_copy(update={"who": _asked_of(taken.asked_of, draft, last_who)})
    steps.items, steps.draft, steps.verdicts = items, draft, [one[0] for one in found]
    return _reading(text, way, taken, best, [one[0] for one in found[1:]], items, steps)


def _asked_of(subject: Subject, draft: Draft, last_who: Who | None) -> Any:
    """Whom `is she gaining?` asks about: the last named here, else whom the sender named last."""
    pups = tuple(who for who in draft.named if isinstance(who, int))
    if subject.how == "both" and len(pups) > 1:
        return pups[-2:]
    return draft.named[-1] if draft.named else last_who


def _set_up_subject(taken: Asides) -> tuple[int | str, ...] | None:
    name = taken.setup.get("name")
    if isinstance(name, dict) and "pup" in name:
        return (name["pup"],)
    return None


def _free(count: int, more: int, taken: Asides) -> list[tuple[int, int]]:
    """The stretches of words that no fix, setup or question took; `more` words were made by cutting a number in two."""
    spans = sorted([*taken.spans, *taken.silent, *taken.left])
    edges = [(0, 0), *spans, (count, count)]
    free: list[tuple[int, int]] = []
    reach = 0
    for (_, end), (start, _) in pairwise(edges):
        reach = max(reach, end)
        if start > reach:
            free.append((reach, start))
    if free and more:
        free[-1] = (free[-1][0], free[-1][1] + more)
    return free


def _ways(words: list[Word], names: Names) -> list[list[Word]]:
    """The words as they stand; where a number swallowed its pup (`pup 3212 g`), every way to cut it instead."""
    for place, word in enumerate(words):
        if (
            word.whole
            and len(word.text) >= 3
            and place
            and words[place - 1].text in ("pup", "puppy", "p", "pub", "pups")
            and int(word.text) not in names.numbers
        ):
            ways: list[list[Word]] = []
            for split in range(1, min(3, len(word.text) - 1)):
                head, tail = word.text[:split], word.text[split:]
                if int(head) in names.numbers and tail[0] != "0" and len(tail) >= 2:
                    middle = word.start + split
                    cut_in_two = [
                        Word(head, "number", word.start, middle, word.spaced, float(head)),
                        Word(tail, "number", middle, word.end, True, float(tail)),
                    ]
                    ways.append(Words([*words[:place], *cut_in_two, *words[place + 1 :]]))
            return ways or [words]
    return [words]


def _cuts(words: list[Word], names: Names, now: datetime, free: list[tuple[int, int]]) -> Iterator[Scanner]:
    """The items of the message, once for each way its numbers can be cut, the plainest first."""
    choices: list[int] = []
    for _ in range(max(1, min(int(LIMITS["most_readings"]), _CUT_EFFORT // max(1, len(words))))):
        sizes: list[int] = []

        def pick(size: int, sizes: list[int] = sizes, choices: list[int] = choices) -> int:
            sizes.append(size)
            return choices[len(sizes) - 1] if len(sizes) <= len(choices) else 0

        scanner = Scanner(words, names, now, pick)
        for start, end in free or [(0, 0)]:
            if scanner.items and scanner.items[-1].role != "stop":
                scanner.items.append(Item("stop", start, 0))
            scanner.scan(start, end)
        yield scanner
        choices = [*choices, *([0] * (len(sizes) - len(choices)))][: len(sizes)]
        while choices and choices[-1] + 1 >= sizes[len(choices) - 1]:
            choices.pop()
        if not choices:
            return
        choices[-1] += 1


def _reading(
    text: str,
    words: list[Word],
    taken: Asides,
    best: Verdict,
    others: list[Verdict],
    items: list[Item],
    steps: Steps,
) -> Reading:
    events = [event for event in best.events if getattr(event, "who", None) != 0]
    check = bool(best.doubts)
    assumed = list(dict.fromkeys(best.assumed))
    if len(words) > len(steps.words):
        assumed.append("The number was cut in two, into a pup and its weight.")
    options: list[tuple[Event, ...]] = []
    distinct = [one for one in others if one.events != best.events]
    if not check and distinct:
        rivals = [
            one for one in distinct if not one.doubts and (one.fit, one.missing_who, one.left) == (best.fit, best.missing_who, best.left)
        ]
        if rivals and best.fit is not Fit.IMPLAUSIBLE:
            check = True
            options = [tuple(one.events) for one in [best, *rivals]]
            best.doubts.append("That can be read in more than one way. Which is it?")
        else:
            assumed.append("The number was cut so that it fits the last weights.")
    elif best.choices:
        options = [tuple(best.events), _other_choice(best)]
    elif check and distinct and best.events:
        options = [
            tuple(one.events) for one in [best, *distinct] if one.events and all(getattr(event, "who", None) != 0 for event in one.events)
        ]
    if not check and events and amiss(items, best):
        check = True
        best.doubts.append("Something beside it was not understood. Is that all of it?")
    unread, who = unread_words(text, words, items, best, taken)
    unread = f"{taken.sender} {unread}".strip()
    if taken.doubt is not None:
        check = True
        best.doubts.insert(0, taken.doubt)
    does = first_of(fix=taken.fix if taken.doubt is None else None, check=check, events=events, setup=taken.setup, about=taken.about)
    if does == "note":
        events, unread = [as_note(text, items)], ""
    reading = Reading(
        text=text,
        does=does,
        events=tuple(events),
        options=tuple(options) if check and len(options) > 1 else (),
        why=_why(best.doubts),
        about=taken.about,
        fix=taken.fix,
        setup=Setup(sets=taken.setup) if taken.setup else None,
        assumed=tuple(assumed),
        spelled=tuple(steps.spelled),
        unread=unread,
        unread_who=who,
    )
    steps.reading = reading
    return reading


def _other_choice(best: Verdict) -> tuple[Event, ...]:
    """The events of a reading with the second of two values that were offered."""
    second = {id(event): other for made, others in best.choices for event, other in zip(made, others, strict=False)}
    return tuple(second.get(id(event), event) for event in best.events)


def _why(doubts: Sequence[str]) -> str | None:
    """What to confirm, in a sentence or two; a long list is cut short, since nobody reads it at three in the morning."""
    different = list(dict.fromkeys(doubts))
    if len(different) > _MOST_DOUBTS:
        different = [*different[:_MOST_DOUBTS], f"And {len(different) - _MOST_DOUBTS} more like that."]
    return " ".join(different) or None
