"""The first night: the few things that the bot must know of a litter, asked one short question at a time; any may be skipped."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from rapidfuzz.distance import OSA

from bot.care.wording import say_time

READ_AS_SETUP = Callable[[str], "Mapping[str, Any]"]
"""Reads words as the household's set-up (the contract's `sets`), empty where they are none."""

LITTER = ("pups", "dam", "born", "delivery")
"""What is asked of a litter in any case."""
UNITS = ("weights_in", "zone")
"""What is asked on a first night only; otherwise the usual is taken and said."""
ASKED_AT_MOST = 2
"""How often one question is put before it is let go."""
HELLO = "Hello, I keep the log. A few questions first; skip what you like."
ALL_SET = "That is all I need. Text me what you do, like “pup 3 212 g nursed 15 min”; “help” says the rest."

_SKIP = frozenset({
    "skip", "skip it", "later", "not now", "don't know", "dont know", "dunno", "no idea", "not sure", "pass", "next", "idk", "i don't know",
})  # fmt: skip
_STOP = frozenset({"stop", "stop asking", "skip all", "skip the rest", "no more questions", "enough"})
_YES = frozenset({"yes", "y", "yep", "yeah", "ok", "okay", "right", "correct", "that's right", "thats right", "it is", "sure", "fine"})
_NO = frozenset(
    {"no", "n", "nope", "natural", "naturally", "vaginal", "free whelped", "whelped naturally", "no, natural", "normal", "natural birth"}
)
_SECTION = re.compile(
    r"(?:yes,? )?(?:by |a |an )*(?:emergency |planned )?(?:c[ -]?sections?|caesarean|cesarean|caesarian|section)(?: section)?"
)
_SECTION_TOO = re.compile(rf",?\s*(?:by |via |with )?(?<!\w){_SECTION.pattern}(?!\w),?\s*")
"""A c-section told along with the time: `this morning at 9:15, by c-section`."""
_GRAMS = re.compile(r"(?:in |use )?(?:g|gr|gram|grams)(?: please)?")
_OUNCES = re.compile(r"(?:in |use )?(?:oz|ounce|ounces)(?: please)?")
_COUNT = re.compile(r"(?:there are |there's |we have |i have |just |only )?(.{1,20}?)(?: (?:pups?|puppies|of them))?(?: please)?")
_CALLED = re.compile(
    r"(?:(?:the |our )?(?:dam|mom|mum|mama)(?:'s name)? is|(?:her|the) name is|(?:her|the) name's|she is|she's|it's|it is|called)\s+", re.I
)
_NAME = re.compile(r"[^\W\d_][\w'’\-]*(?: [^\W\d_][\w'’\-]*){0,2}")
_NO_NAME = frozenset({
    "hi", "hello", "hey", "thanks", "thank you", "help", "what", "why", "who", "ok", "okay", "yes", "no", "wait", "hm", "hmm",
    "g", "gram", "grams", "oz", "ounce", "ounces", "celsius", "fahrenheit",
    "good morning", "good night", "good evening", "mom", "mum", "mama", "dam", "the dam",
})  # fmt: skip


@dataclass(frozen=True)
class Reply:
    """What an answer settles: the choices it makes (the contract's `sets`, and `zone`, `skipped`, which are ours)."""

    sets: Mapping[str, Any]


def ask(question: str, zone: ZoneInfo, now: datetime) -> str:
    """The question in words."""
    if question == "zone":
        return f"Is your time zone {zone.key}, where it is now {say_time(now, now, zone)}? (yes, or name the zone, or skip)"
    return {
        "pups": "How many pups? (a number, or skip)",
        "dam": "What is the dam's name? (or skip)",
        "born": "When were they born? (like 9:40 this morning, or skip)",
        "delivery": "By c-section? (yes, no, or skip)",
        "weights_in": "Do you weigh in grams or ounces? (or skip)",
    }[question]


def settled(choices: Iterable[Mapping[str, Any]]) -> frozenset[str]:
    """The questions that choices made so far have answered, or that were skipped."""
    done: set[str] = set()
    for sets in choices:
        done.update(name for name, value in dict(sets.get("litter") or {}).items() if value is not None and name in LITTER)
        done.update(name for name in UNITS if sets.get(name) is not None)
        done.update(sets.get("skipped") or ())
    return frozenset(done)


def next_question(done: frozenset[str], *, units_too: bool) -> str | None:
    """What is still to be asked; None where all is settled."""
    return next((question for question in (*LITTER, *(UNITS if units_too else ())) if question not in done), None)


def understand(question: str, text: str, *, zone: ZoneInfo, read: READ_AS_SETUP, left: Iterable[str]) -> Reply | None:
    """What the words answer to the question; None where they are no answer to it. `left` are all questions still open."""
    words = " ".join(text.casefold().split()).strip(" .!")
    if words in _STOP:
        return Reply({"skipped": list(left)})
    if words in _SKIP:
        return Reply({"skipped": [question]})
    if question == "pups" and (found := _COUNT.fullmatch(words)):
        return _of_the_litter("pups", read(f"new litter of {found[1]}"))
    if question == "dam":
        name = _CALLED.sub("", " ".join(text.split()).strip(" .!"), count=1)
        if _NAME.fullmatch(name) and name.casefold() not in _NO_NAME:
            return Reply({"litter": {"dam": name if name != name.lower() else name.title()}})
    if question == "born":
        when = _SECTION_TOO.sub("", words)
        bare = re.sub(r"^(?:they were |born |they came |around |about )+", "", when)
        delivery = {"delivery": "c-section"} if when != words else {}
        read_so = (_of_the_litter("born", read(f"new litter born {said}")) for said in (bare, f"at {bare}"))
        return next((Reply({"litter": {**reply.sets["litter"], **delivery}}) for reply in read_so if reply), None)
    if question == "delivery":
        if words in _YES or _SECTION.fullmatch(words):
            return Reply({"litter": {"delivery": "c-section"}})
        return Reply({"litter": {"delivery": "natural"}}) if words in _NO else None
    if question == "weights_in":
        return Reply({"weights_in": "g"}) if _GRAMS.fullmatch(words) else Reply({"weights_in": "oz"}) if _OUNCES.fullmatch(words) else None
    if question == "zone":
        named = zone.key if words in _YES else zone_named(text)
        return Reply({"zone": named}) if named else None
    return None


def zone_named(text: str) -> str | None:
    """The time zone that words name, by its city or in full (`Chicago`, `America/Chicago`), with a slip of a letter; None where unsure."""
    words = " ".join(text.split()).strip(" .!").casefold().replace(" ", "_")
    zones = available_timezones()
    for zone in zones:
        if zone.casefold() == words:
            return zone
    cities = [zone for zone in zones if "/" in zone and not zone.startswith(("Etc/", "posix/", "right/", "SystemV/"))]
    exact = [zone for zone in cities if zone.rsplit("/", 1)[1].casefold() == words]
    near = exact or [
        zone for zone in cities if len(words) >= 5 and OSA.distance(zone.rsplit("/", 1)[1].casefold(), words, score_cutoff=1) <= 1
    ]
    return min(near) if len({datetime(2026, 1, 15, tzinfo=ZoneInfo(zone)).utcoffset() for zone in near}) == 1 else None


def _of_the_litter(name: str, sets: Mapping[str, Any]) -> Reply | None:
    litter = dict(sets.get("litter") or {})
    return Reply({"litter": {name: litter[name]}}) if set(litter) == {name} else None
