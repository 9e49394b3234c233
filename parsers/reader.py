"""Read a message: words, then numbers and subjects, clauses, denials, plausibility; never raises, never drops a word.

The language in one breath: a *subject* (pup 3, olive, the rest, mom) holds for the *doings* behind it (212 g, nursed 15 min,
cleared) until the next subject; a *time* holds for its clause; plans, denials, doubts and talk make no event. Where the words can be
cut in several ways every cut is read, and the litter's state chooses only where exactly one of them is plausible.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from itertools import pairwise
from typing import Any

from parsers import corrections, household, questions
from parsers.clauses import clauses
from parsers.events import Event, Who, make
from parsers.items import Item
from parsers.lexicon import NUMBER_OF, lexicon, short_words, speller, trade_words
from parsers.litter_card import LitterCard
from parsers.numbers import starts_number
from parsers.plausibility import LIMITS, Fit
from parsers.reading import Fix, Question, Reading, Setup, first_of
from parsers.scanner import Scanner
from parsers.subjects import Names, Subject
from parsers.verdict import Judge, Verdict
from parsers.walk import Draft
from parsers.words import Word, cut


@dataclass(slots=True)
class Steps:
    """What the reader did, step by step, for `explain`."""

    words: list[Word] = field(default_factory=list)
    spelled: list[tuple[str, str]] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    draft: Draft | None = None
    verdicts: list[Verdict] = field(default_factory=list)
    reading: Reading | None = None


_known_names: dict[Hashable, Names] = {}
_MOST_LITTERS = 16  # litters whose names are kept ready; a household has one or two


def _names(card: LitterCard) -> Names:
    """The subjects of a litter, built anew only when someone was born, named or lost."""
    pups = tuple((pup.pup, pup.names, pup.sex, pup.died) for pup in card.pups)
    key = (pups, card.dam.names, card.people, card.zone, card.born, card.weights_in)
    names = _known_names.get(key)
    if names is None:
        if len(_known_names) >= _MOST_LITTERS:
            _known_names.clear()
        names = _known_names[key] = Names(card)
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
    steps.spelled = _mend(words, names)
    taken = _Taken()
    _told(words, names, card, now, by, last_who, taken)
    return _settle(text, words, names, card, now, by, last_who, taken, steps)


def _too_long(text: str) -> Reading:
    why = "This is too long to read. It is kept as a note, and nothing of it was logged. Please send it in parts."
    return Reading(text=text, does="note", events=(make("note", text=text),), why=why)


@dataclass(slots=True)
class _Taken:
    """What fixes, setups and questions took of a message, before its doings are read."""

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


def _mend(words: list[Word], names: Names) -> list[tuple[str, str]]:
    """Mend slips of spelling in place; gives what was mended."""
    known, short, spell = lexicon().known, short_words(), speller()
    mended: list[tuple[str, str]] = []
    for word in words:
        if word.kind != "word" or len(word.text) < 4:
            continue
        text = word.text
        if text.endswith("'s") and text not in known and not names.is_name(text):
            stem = text[:-2]
            if (stem in trade_words() and stem not in _ASK_WITH_IS) or starts_number(Word(stem, "word", 0, 0, True)):
                word.text = stem
                continue
        if text in known or text in short or starts_number(word) or names.is_name(text) or text in names.people:
            continue
        better = names.mend(text) or spell.mend(text)
        if better is not None:
            word.typed, word.text = text, better
            mended.append((text, better))
    return mended


_ASK_WITH_IS = frozenset(("who", "what", "when", "where", "why", "how", "that", "there", "here"))
_LONGEST_STRETCH = 60  # words without a mark; a longer ramble is looked through for questions and setup in parts


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


def _told(words: list[Word], names: Names, card: LitterCard, now: datetime, by: str | None, last_who: Who | None, taken: _Taken) -> None:
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
    for start, end in _sentences(words):
        start = max(start, begin)
        if start >= end:
            continue
        stretch = words[start:end]
        length = len(stretch)
        if len(words) > _LONGEST_STRETCH * 2:
            found = household.find(stretch, 0, length, names, card, now, by=by, last_who=last_who)
            told.extend(
                replace(one, start=start + one.start, end=start + one.end, left=tuple((start + a, start + b) for a, b in one.left))
                for one in found
            )
        if taken.about is None:
            asked = questions.find(stretch, 0, length, names, card)
            listed = (
                asked is not None
                and asked.question.topic == "weights"
                and end + 1 < len(words)
                and words[end].kind == "newline"
                and words[end + 1].kind == "number"
            )
            if asked is not None and not listed and not _inside(start + asked.start, taken.spans):
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
    for one in told:
        taken.spans = [*(span for span in taken.spans if span != (one.start, one.end)), *_without((one.start, one.end), one.left)]
        taken.left.extend(one.left)


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
    pauses = [place for place in range(start, last) if words[place].text == ","]
    for begin in [start, *(pause + 1 for pause in pauses)]:
        if begin < last and questions.is_question(words[begin:last], 0, last - begin, names):
            return begin, end if marked else next((pause for pause in pauses if pause > begin), end)
    return None


def _inside(place: int, spans: Sequence[tuple[int, int]]) -> bool:
    return any(start <= place < end for start, end in spans)


def _settle(
    text: str,
    words: list[Word],
    names: Names,
    card: LitterCard,
    now: datetime,
    by: str | None,
    last_who: Who | None,
    taken: _Taken,
    steps: Steps,
) -> Reading:
    judge = Judge(card, names, now, by=by, last_who=last_who, text=text)
    subject = _set_up_subject(taken)
    found: list[tuple[Verdict, Draft, list[Item], list[Word]]] = []
    for way in _ways(words, names):
        for scanner in _cuts(way, names, now, _free(len(words), len(way) - len(words), taken)):
            items = scanner.items
            draft = clauses(items, way, names, subject=subject)
            for doing in draft.doings:
                doing.hedged = doing.hedged or any(_inside(span[0], taken.unsure) for span in doing.spans)
            verdict = judge.judge(draft)
            if scanner.several_cuts:
                verdict.assumed.append("The weights were cut so that they fit the last ones.")
            verdict.spans.extend(draft.taken_back)
            found.append((verdict, draft, items, way))
    if not found:
        found.append((Verdict(), Draft(), [], words))
    if len(found) > 1:
        for verdict, _, items, _ in found:
            verdict.left = _left_over(verdict, items)
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


def _left_over(verdict: Verdict, items: Sequence[Item]) -> int:
    covered = {place for start, end in verdict.spans for place in range(start, end)}
    return sum(item.role not in _QUIET and item.at not in covered for item in items)


def _set_up_subject(taken: _Taken) -> tuple[int | str, ...] | None:
    name = taken.setup.get("name")
    if isinstance(name, dict) and "pup" in name:
        return (name["pup"],)
    return None


def _free(count: int, more: int, taken: _Taken) -> list[tuple[int, int]]:
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
            ways = []
            for split in range(1, min(3, len(word.text) - 1)):
                head, tail = word.text[:split], word.text[split:]
                if int(head) in names.numbers and tail[0] != "0" and len(tail) >= 2:
                    middle = word.start + split
                    cut_in_two = [
                        Word(head, "number", word.start, middle, word.spaced, float(head)),
                        Word(tail, "number", middle, word.end, True, float(tail)),
                    ]
                    ways.append([*words[:place], *cut_in_two, *words[place + 1 :]])
            return ways or [words]
    return [words]


_FIX_DOUBTS = {
    "future": "That time is still to come. When was it?",
    "either half": "That may be just ahead, or twelve hours back. When was it?",
    "before birth": "That is before the litter was born. When was it?",
    "skipped": "The clocks skipped that time. When was it?",
    "loose": "When was it, roughly?",
    "weight or time": "Is that a time or a weight?",
}
_MOST_DOUBTS = 3
_CUT_EFFORT = 500  # words times ways: a ramble of thousands of words is cut in one way only


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
    taken: _Taken,
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
    elif check and distinct and best.events:
        options = [
            tuple(one.events) for one in [best, *distinct] if one.events and all(getattr(event, "who", None) != 0 for event in one.events)
        ]
    if not check and events and _amiss(items, best):
        check = True
        best.doubts.append("Something beside it was not understood. Is that all of it?")
    unread, who = _unread(text, words, items, best, taken)
    if taken.doubt is not None:
        check = True
        best.doubts.insert(0, taken.doubt)
    does = first_of(fix=taken.fix if taken.doubt is None else None, check=check, events=events, setup=taken.setup, about=taken.about)
    if does == "note":
        events, unread = [_note(text, items)], ""
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


def _amiss(items: Sequence[Item], best: Verdict) -> bool:
    """True where a number or a measure is left over beside a doing that wanted one: then the doing was hardly read right."""
    covered = {place for start, end in best.spans for place in range(start, end)}
    waiting, over = False, False
    for item in [*items, Item("stop", 0, 0)]:
        if item.role in ("stop", "pause"):
            if waiting and over:
                return True
            waiting, over = False, False
        elif item.at in covered:
            waiting = waiting or any(kind in NUMBER_OF and kind in best.empty for kind in item.kinds())
        elif item.role in ("measure", "number") and item.text not in ("a", "an"):
            over = True
    return False


def _why(doubts: Sequence[str]) -> str | None:
    """What to confirm, in a sentence or two; a long list is cut short, since nobody reads it at three in the morning."""
    different = list(dict.fromkeys(doubts))
    if len(different) > _MOST_DOUBTS:
        different = [*different[:_MOST_DOUBTS], f"And {len(different) - _MOST_DOUBTS} more like that."]
    return " ".join(different) or None


def _note(text: str, items: Sequence[Item]) -> Event:
    """The whole message as a note, on its pup if it is about one."""
    whos = {who for item in items if item.subject is not None and not item.subject.unknown for who in item.subject.whos}
    return make("note", text=text, **({"who": whos.pop()} if len(whos) == 1 else {}))


_QUIET = frozenset(("filler", "small", "pause", "stop", "join", "colon", "thanks"))


def _unread(text: str, words: Sequence[Word], items: Sequence[Item], best: Verdict, taken: _Taken) -> tuple[str, int | str | None]:
    """The words that no clause accounts for, in order, and the one pup they stand beside."""
    covered = [False] * len(words)
    for start, end in [*best.spans, *taken.spans]:
        for place in range(start, min(end, len(words))):
            covered[place] = True
    left: list[str] = []
    run: list[Item] = []

    def close() -> None:
        while run and run[-1].role in _QUIET:
            run.pop()
        while run and run[0].role in ("pause", "stop", "colon", "small"):
            run.pop(0)
        if any(item.role not in _QUIET for item in run):
            left.append(text[words[run[0].at].start : words[run[-1].end - 1].end])
        run.clear()

    for item in items:
        if item.length == 0 or any(covered[item.at : item.end]):
            close()
        else:
            run.append(item)
            if item.role == "stop":
                close()
    close()
    for start, end in sorted([*taken.silent, *taken.left]):
        left.append(text[words[start].start : words[end - 1].end])
    whos = {who for who in best.whos if who not in ("", 0)}
    return " ".join(left), (whos.pop() if len(whos) == 1 else None)
