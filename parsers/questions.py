"""What a message asks about the log: the topic, of whom, of which doing or drug, over what span; and whether it asks at all."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import cast, get_args

from parsers.events import Who
from parsers.litter_card import LitterCard
from parsers.patterns import ANYTHING, Pattern, any_of, compile_pattern
from parsers.reading import Question, Span, Topic
from parsers.subjects import Names, Subject
from parsers.vocabulary import Phrases, Tag, expand, load
from parsers.wording import Token, tokens, vocabulary_words
from parsers.words import Word

_ASKING = load("asking")
_TOPICS = load("topics")
_OPENERS = frozenset(_ASKING["words"]["openers"])
_AUX = frozenset(_ASKING["words"]["aux"])
_SAME: dict[str, str] = _ASKING["same"]
_WITH_OF = frozenset(("due", "last", "why"))
_LONGEST = 40  # words of one question; beyond it a stretch is a ramble and only its parts are looked at
_NO_SUBJECT = frozenset(("they", "them", "their", "they're", "they've"))
_OF_NOBODY = frozenset(("it", "its", "it's"))


@dataclass(frozen=True, slots=True)
class Asked:
    """A question about the log, and the words that it takes."""

    question: Question
    start: int
    end: int
    subject: Subject | None = None
    """A subject that depends on what was named before (`she`, `both`, `the rest`): the reader fills in the question's `who`."""


_ENDS = (
    r"(?:(?=$|\S*~(?:mark|asks)~)|(?<!~be~ )(?<!~did~ )(?<!~has~ )(?<!~does~ )(?<!~may~ )(?=\S*~conj~|\S*~who~\S* \S*~(?:num|do|drug)~))"
)
"""Where a question may end: with the stretch, a mark, a word that joins, or a subject with a doing of its own."""
_WHOLE = r"(?=(?:\S*~(?:asks|mark)~\S* )*$)"
"""Where a bare question ends: with the stretch."""


@cache
def _patterns() -> tuple[tuple[str, str, Pattern], ...]:
    """Every pattern in the order of its topic: (topic, its sort: asks, bare or wrapped, pattern)."""
    parts = _ASKING["parts"]
    return tuple((topic, sort, compile_pattern(written, parts)) for topic, entry in _TOPICS.items() for sort in _SORTS for written in entry.get(sort, ()))


_SORTS = ("asks", "wrapped", "bare")


@cache
def _beginnings() -> dict[str, frozenset[int]]:
    """What a pattern can begin with, and which patterns do."""
    found: dict[str, set[int]] = {}
    for index, (_, _, pattern) in enumerate(_patterns()):
        for begin in pattern.begins:
            found.setdefault(begin, set()).add(index)
    return {begin: frozenset(indexes) for begin, indexes in found.items()}


@cache
def _beginning_with(begins: frozenset[str], sorts: frozenset[str]) -> re.Pattern[str] | None:
    """The expression for all patterns that may begin so: only these are made ready, when they are first needed."""
    indexes = frozenset[int]().union(*(_beginnings().get(begin, frozenset()) for begin in begins))
    if not indexes:
        return None
    by_topic: dict[tuple[str, bool], list[Pattern]] = {}
    for index in sorted(indexes):
        topic, sort, pattern = _patterns()[index]
        if sort in sorts:
            by_topic.setdefault((topic, sort == "bare"), []).append(pattern)
    if not by_topic:
        return None
    names = {topic: index for index, topic in enumerate(_TOPICS)}
    groups = [f"(?P<t{names[topic]}{'b' if alone else ''}>{any_of(found).expression}){_WHOLE if alone else _ENDS}" for (topic, alone), found in by_topic.items()]
    return re.compile("|".join(groups))


@cache
def _wrap() -> re.Pattern[str]:
    return re.compile(any_of([compile_pattern(written, _ASKING["parts"]) for written in _ASKING["words"]["wraps"]]).expression)


@cache
def _triggers() -> frozenset[str]:
    """Words of which one must stand in whatever asks and does not begin as a question does (`weights`, `the board`)."""
    found: set[str] = set(_ASKING["words"]["show"])
    for entry in _TOPICS.values():
        for pattern in entry["bare"]:
            found.update(word for word in re.findall(r"[a-z']+", re.sub(r"<[^>]*>|\{[^}]*\}", " ", pattern)) if len(word) > 2)
    for phrases in (*(_ASKING["groups"][name] for name in ("due", "birthweight", "climate", "milestone")), _ASKING["doings"]["temperature"]):
        found.update(words[0] for phrase in phrases for words in expand(phrase))
    return frozenset(found - frozenset(_ASKING["words"]["no_sign"]))


def _may_ask(words: Sequence[Word], start: int, end: int, names: Names) -> bool:
    """A fast look for whatever a question needs; most messages of the log have none of it."""
    triggers = _triggers()
    for place in range(start, end):
        word = words[place]
        text = word.text
        if text in _OPENERS or text in triggers or text == "?" or (text in _SAME and text not in _AUX_SHORT):
            return True
        if text in _AUX or text in _AUX_SHORT:
            before = words[place - 1] if place > start else None
            after = words[place + 1].text if place + 1 < end else ""
            if (
                before is None
                or before.kind in ("mark", "newline")
                or (before.kind != "word" and (after in _AFTER_NUMBER or names.is_name(after)))
                or before.text in _LEADS
                or before.text in _JOINTS
                or before.text in names.people
                or after in _INVERTED
                or (names.is_name(before.text) and names.is_name(after))
            ):
                return True
    return False


_AFTER_NUMBER = frozenset("pup puppy p the a mom mum dam mama any all".split()) | frozenset(_ASKING["drugs"]["says"])
_AUX_SHORT = frozenset(short for short, long in _SAME.items() if long.split()[0] in _AUX)


@cache
def _cries() -> tuple[Phrases, Phrases, frozenset[str]]:
    anywhere, at_an_end = Phrases(), Phrases()
    anywhere.add(_ASKING["cries"]["anywhere"], Tag("cry", "anywhere"))
    at_an_end.add(_ASKING["cries"]["at_an_end"], Tag("cry", "at an end"))
    return anywhere, at_an_end, frozenset(_ASKING["cries"]["not_after"])


def find(words: Sequence[Word], start: int, end: int, names: Names, card: LitterCard) -> Asked | None:
    """The question about the log in a sentence or the tail of one; None where nothing about the log is asked."""
    if not _may_ask(words, start, end, names):
        cry = _cry(words, start, end)
        return _worry(tokens(words, start, end, names, card), cry) if cry else None
    if _exclaims(words, start, end):
        return None
    cry = _cry(words, start, end)
    seen = tokens(words, start, end, names, card)
    if cry:
        worry = _worry(seen, cry)
        if worry:
            return worry
    kept = _kept(seen)
    places, encoded = [], ""
    for token in kept:
        places.append(len(encoded))
        encoded += token.encoded()
    timed = any("time" in token.tags for token in seen) and not any("asks" in token.tags for token in seen)
    for index in range(len(kept)):
        begins = index == 0 or bool(kept[index - 1].tags & {"mark", "asks"})
        if not begins and not _opens(kept, index):
            continue
        window = len(encoded) if index + _LONGEST >= len(kept) else places[index + _LONGEST]
        found = _match(kept, index, places, encoded, window, bare=begins and not timed)
        if found:
            topic, end_at = found
            stop = next((place for place, at in enumerate(places) if at >= end_at), len(kept))
            return _asked(topic, seen, kept, index, stop)
    return None


def _match(kept: Sequence[Token], index: int, places: Sequence[int], encoded: str, window: int, *, bare: bool) -> tuple[Topic, int] | None:
    """The topic whose pattern fits from this token on, over any wrapping, and where it ends."""
    starts = [index]
    at = places[index]
    sorts = {"asks", "bare"} if bare else {"asks"}
    while (wrapped := _wrap().match(encoded, at, window)) and wrapped.end() < window:
        at = wrapped.end()
        starts.append(places.index(at))
    for start in reversed(starts):
        token = kept[start]
        expression = _beginning_with(frozenset((token.text, ANYTHING, *(f"{{{tag}}}" for tag in token.tags))), frozenset(sorts | {"wrapped"} if start > index else sorts))
        place = places[start]
        match = expression.match(encoded, place, window) if expression else None
        if match and match.lastgroup:
            return cast(Topic, tuple(_TOPICS)[int(match.lastgroup[1:].rstrip("b"))]), match.end()
    return None


_SHOWS = frozenset(("can", "remind", "show", "tell", "catch"))
_CATCHES = frozenset(("catch", "fill", "show", "tell", "remind", "give"))
_DOES = frozenset(("he", "she", "they", "it"))
_JOINTS = frozenset(("and", "so", "but", "also", "plus", "or"))


def _kept(seen: Sequence[Token]) -> list[Token]:
    """The tokens without noise, spans and times; a pronoun after a named subject is noise too (`did mom get her calcium`)."""
    kept: list[Token] = []
    named = False
    for token in seen:
        if token.dropped:
            continue
        if token.subject is not None and token.subject.how == "pronoun" and named and "conj" not in token.tags and not (token.text in _DOES and kept[-1].text in _AUX):
            continue
        if token.subject is not None and kept and kept[-1].subject is not None and kept[-1].subject.how == "pronoun" and token.subject.how in ("all", "both"):
            kept.pop()  # `are they all gaining`
        named = named or (token.subject is not None and token.subject.how != "pronoun")
        if token.tags & {"mark", "asks"} or token.text in _OPENERS:
            named = False
        kept.append(token)
    return kept


def _opens(kept: Sequence[Token], index: int) -> bool:
    """True where a question may open in the middle of a stretch, without a mark before it."""
    token, before = kept[index], kept[index - 1]
    follows = kept[index + 1] if index + 1 < len(kept) else None
    if follows is None or (token.text == "which" and "be" in follows.tags) or (token.text in ("who", "which") and before.tags & {"pup", "person"}):
        return False  # `which is good`, `the one who's limp`: said of what stands before
    if before.text in _JOINTS:
        return token.text in _OPENERS or (token.text in _AUX and bool(follows.tags & {"who", "any", "person", "drug"}))
    if token.text in _OPENERS:
        return token.text not in ("who", "which", "when", "where", "what") or follows.text in _AUX or follows.text in ("needs", "time", "much") or before.text in _WRAPPING
    if token.text not in _AUX:
        return (token.text in _SHOWS and "number" in before.tags) or (token.text in _CATCHES and follows.text in ("me", "us"))
    if "be" in token.tags and follows.text in ("that", "this") and index + 2 < len(kept):
        return True
    if "number" in before.tags or (index == 1 and "person" in before.tags):
        return bool(follows.tags & {"who", "any", "person", "drug"})
    if before.subject is None or before.subject.how == "pronoun":
        return False
    return bool(follows.tags & {"any", "person"}) or (follows.subject is not None and follows.subject.how not in ("all", "both", "rest") and token.text != "had")


_WRAPPING = frozenset(("me", "know", "remember", "and", "us"))


def _asked(topic: Topic, seen: Sequence[Token], kept: Sequence[Token], index: int, stop: int) -> Asked | None:
    """The question in kept[index:stop], with the small words around it."""
    start, end = kept[index].start, kept[stop - 1].end
    if all(token.tags & {"any", "person", "who", "noise", "mark", "known", "span", "time"} for token in seen if token.end <= start) and all("number" not in token.tags for token in seen if token.end <= start):
        start = seen[0].start
    end = _absorbed(seen, start, end)
    inside = [token for token in seen if start <= token.start and token.end <= end]
    who, subject = _who(topic, inside)
    if topic == "status" and who is None and subject is None and any(token.text in ("that", "this") for token in inside):
        before = [token.subject for token in seen if token.end <= start and token.subject is not None]
        subject = before[-1] if before else Subject((), 1, "pronoun")
        if subject.how == "all":
            subject = None
        elif len(subject.whos) == 1:
            who, subject = cast(Who, subject.whos[0]), None
    of = _of(topic, inside, who, subject)
    if topic in ("last", "due") and not any(token.subject for token in inside) and _of_people(inside, of):
        return None
    span = next((cast(Span, token.said("span")) for token in inside if token.said("span") in get_args(Span)), None)
    return Asked(Question(topic=topic, who=who, of=of, span=span), start, end, subject)


def _absorbed(seen: Sequence[Token], start: int, end: int) -> int:
    """Where the question really ends: over small words, an `or ...`, an `and` with another doing, and its question mark."""
    rest = [token for token in seen if token.start >= end]
    for place, token in enumerate(rest):
        if token.dropped:
            end = token.end
            continue
        tail = rest[place:]
        close = next((at for at, one in enumerate(tail) if one.tags & {"mark", "asks"}), len(tail))
        clause = tail[:close]
        ends_asking = close < len(tail) and "asks" in tail[close].tags
        joined = token.text in ("or", "and", "if") and not any("number" in one.tags or (token.text == "and" and one.subject) for one in clause)
        if clause and (joined or (ends_asking and not any("number" in one.tags for one in clause))):
            end = clause[-1].end
        elif clause:
            return end
        if ends_asking:
            end = tail[close].end
        return end
    return end


def _who(topic: str, inside: Sequence[Token]) -> tuple[Who | tuple[int, ...] | None, Subject | None]:
    """Whom a question is about: (who, None), or (None, the subject that depends on what was named before)."""
    pups: dict[int, None] = {}
    dam = False
    later: Subject | None = None
    for token in inside:
        subject = token.subject
        if subject is None or subject.how == "all" or (token.dropped and "who" not in token.tags):
            continue
        if not subject.whos:
            if later is None and token.text not in _NO_SUBJECT and not (token.text in _OF_NOBODY and topic not in _OF_ONE):
                later = subject
            continue
        for who in subject.whos:
            if isinstance(who, int):
                pups[who] = None
            else:
                dam = True
    dosed = dam and any(token.tags & {"drug", "dose", "intake"} for token in inside)
    if pups and not dosed:
        return (next(iter(pups)) if len(pups) == 1 else tuple(pups)), None
    return ("dam", None) if dam else (None, later)


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

_OF_ONE = frozenset(("feed plan", "last", "gains"))
"""Topics in which `it` is a pup: elsewhere it is the box, the log or nothing."""


def _of(topic: str, inside: Sequence[Token], who: object, subject: Subject | None) -> str | None:
    if topic not in _WITH_OF:
        return None
    drug = next((token.said("drug") for token in inside if token.said("drug")), None)
    if drug or topic == "why":
        return drug
    kinds = [kind for token in inside if (kind := token.said("do"))]
    if not kinds:
        return "sign" if topic == "last" and any("sign" in token.tags for token in inside) else None
    kind = kinds[0]
    if kind == "intake" and who != "dam" and subject is None:
        return "nursed"
    return "intake" if kind == "fed" and who == "dam" else kind


def _worry(seen: Sequence[Token], cry: tuple[int, int, bool]) -> Asked | None:
    """A cry for help as a question: about the pup or dam that stands nearest before it, or else first after it."""
    outside = [token for token in seen if token.end <= cry[0] or token.start >= cry[1]]
    alone = not any("sign" in token.tags for token in outside)
    if alone and cry[2]:
        return None
    before = [token for token in seen if token.end <= cry[0] and token.subject is not None]
    after = [token for token in seen if token.start >= cry[0] and token.subject is not None]
    end = cry[1]
    rest = [token for token in seen if token.start >= cry[1]]
    if rest and rest[0].text in ("if", "when"):
        end = next((token.start for token in rest if token.tags & {"mark", "asks"}), rest[-1].end)
    elif rest and rest[0].text in ("about", "with", "for"):
        end = rest[0].end
        if len(rest) > 1 and rest[1].subject is not None and (len(rest) == 2 or rest[2].tags & {"mark", "asks"}):
            end = rest[1].end
    while True:
        mark = next((token for token in seen if token.start == end), None)
        if mark is None or not (mark.tags & {"asks"} or "noise" in mark.tags):
            break
        end = mark.end
    who: Who | tuple[int, ...] | None = None
    subject: Subject | None = None
    named = [token for token in before if token.subject is not None and token.subject.whos]
    for token in [*reversed(named), *reversed(before), *after]:
        who, subject = _who("status", [token])
        if who is not None or subject is not None:
            break
    return Asked(Question(topic="worry", who=who), cry[0], end, subject)


def worry_span(words: Sequence[Word], start: int, end: int) -> tuple[int, int] | None:
    """The words of a cry for help in a sentence (`what do I do`, `help`, `is that bad`), so that the sign beside it can be logged."""
    found = _cry(words, start, end)
    return found[:2] if found else None


def _cry(words: Sequence[Word], start: int, end: int) -> tuple[int, int, bool] | None:
    """A cry for help and whether it is one only beside a sign (`help`, `is that ok`, `any ideas`)."""
    anywhere, at_an_end, not_after = _cries()
    first = anywhere.known
    for place in range(start, end):
        text = words[place].text
        if text not in first and text not in at_an_end.known:
            continue
        found = _last(anywhere, words, place, end)
        if found:
            after = place + found
            if after < end and words[after].text in ("next", "first", "wrong", "without", "here", "differently", "tomorrow", "today"):
                continue
            helps = "help" in {word.text for word in words[place:after]}
            if helps and after < end and words[after].kind == "word" and words[after].text not in _AFTER_HELP:
                continue
            return place, after, helps
        found = _last(at_an_end, words, place, end)
        if found:
            after = place + found
            begins = place == start or words[place - 1].kind in ("mark", "newline")
            closes = after >= end or words[after].kind in ("mark", "newline")
            if (closes or (begins and words[place].text == "help" and words[after].text != "yourself")) and not (place > start and words[place - 1].text in not_after):
                return place, after, words[place].text not in _ALARMS
    return None


_ALARMS = frozenset(("emergency", "sos", "omg", "oh"))
"""What is a cry without any sign beside it."""
_AFTER_HELP = frozenset("please pls plz now asap what she he it my her his mom mum is the and pup puppy quick fast".split())


def _last(phrases: Phrases, words: Sequence[Word], at: int, end: int) -> int:
    length = 0
    for long, _ in phrases.every(words, at):
        if at + long > end:
            break
        length = long
    return length


@cache
def _exclamations() -> Phrases:
    phrases = Phrases()
    phrases.add(_ASKING["words"]["exclaims"], Tag("exclaims", "exclaims"))
    return phrases


def _exclaims(words: Sequence[Word], start: int, end: int) -> bool:
    """True for `what a night`, `who's a good girl`: said with the words of a question, and none."""
    return start < end and _last(_exclamations(), words, start, end) > 0


def known_words() -> frozenset[str]:
    """Every word of the questions' vocabulary, for the speller."""
    return frozenset(_triggers()) | frozenset(vocabulary_words())


def is_question(words: Sequence[Word], start: int, end: int, names: Names | None = None) -> bool:
    """True where a stretch has the form of a question, about the log or not: nothing in it is logged."""
    if start >= end or _exclaims(words, start, end):
        return False
    if any(word.text == "?" for word in words[start:end]):
        return True
    place = start
    while place < end and (words[place].text in _LEADS or words[place].text == "," or (names is not None and words[place].text in names.people)):
        place += 1
    if place >= end:
        return False
    text = words[place].text
    text = _SAME.get(text, text).split()[0] if text not in _OPENERS else text
    whole = _SAME.get(words[place].text, words[place].text).split()
    follows = whole[1] if len(whole) > 1 else (words[place + 1].text if place + 1 < end else "")
    if text in ("why", "whose", "who", "which"):
        return True
    if text in _OPENERS:
        return follows in _AUX or follows in _AFTER_OPENER.get(text, ())
    if text in _AUX:
        if follows in _INVERTED or (follows in _DETERMINERS and text != "had") or (names is not None and follows in names.people):
            return True
        return names is not None and place + 1 < end and _is_subject(words, place + 1, end, names)
    return False


_LEADS = frozenset("hey hi ok okay so and but um uh hmm please well also oh right".split())
_AFTER_OPENER = {
    "how": frozenset("much many long often warm hot cold old big heavy come about far fast bad soon late well".split()),
    "what": frozenset("about time next happened do if else i we temp temperature weight".split()),
    "when": frozenset(),
    "where": frozenset(),
}
_DETERMINERS = frozenset(("the", "your", "my", "our"))
_INVERTED = frozenset("you we i anyone anybody someone somebody everyone everybody he she it they there that this these those u ya".split())


def _is_subject(words: Sequence[Word], at: int, end: int, names: Names) -> bool:
    """True where a subject stands here that is not a measure or the object of what was done (`did his business`)."""
    subject = names.match(words, at)
    if subject is None or at + subject.length > end:
        return False
    return subject.how not in ("both", "rest") and not (subject.how == "pronoun" and words[at].text in ("his", "her", "its", "their"))
