"""The same messages by sentence templates: hassil, with templates.yaml and the lists of words.toml."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import yaml
from hassil import Intents, recognize_all

from parsers.litter_card import LitterCard
from parsers.measures import GRAMS_PER_OUNCE
from tests.bench.comparison.assemble import WORDS, Item, Plain, assemble, clock, dam_or_body, digits, grams, note

PIECES = re.compile(r"\s*(?:[,;\n]|\.\s|\.$|\s-\s|\bthen\b)\s*")
RANGES = {"pup": (1, 20), "whole": (0, 2000), "hour": (0, 24), "minute": (0, 59)}


def reader(card: LitterCard) -> Callable[[str, datetime, Any], Plain]:
    """Build the templates for one litter, and give the function that reads its messages."""
    plain = yaml.safe_load((Path(__file__).parent / "templates.yaml").read_text(encoding="utf-8"))
    plain["lists"] = _lists(card)
    intents = Intents.from_dict(plain)

    def read(text: str, now: datetime, last_who: Any) -> Plain:
        said = _Said(card, now)
        pieces = [piece for piece in PIECES.split(digits(text.strip(" .!"))) if piece]
        for piece in pieces:
            results = list(recognize_all(piece.rstrip("?").strip(), intents, language="en"))
            if not results:
                said.unread.append(piece)
                continue
            best = max(results, key=lambda result: (result.intent.name != "Tell", -len(result.entities_list)))
            said.take(best.intent.name, [(entity.name, entity.value) for entity in best.entities_list])
        return said.whole(last_who)

    return read


def _lists(card: LitterCard) -> Plain:
    lists: Plain = {name: {"range": {"from": low, "to": high, "words": False}} for name, (low, high) in RANGES.items()}
    lists["measure"] = {"range": {"from": 0, "to": 120, "fractions": "tenths", "words": False}}
    for name, phrases in WORDS.items():
        lists[name] = {"values": [{"in": phrase, "out": value} for phrase, value in phrases.items()]}
    lists["name"] = {
        "values": [{"in": name, "out": pup.pup} for pup in card.pups for name in pup.names for name in (name, f"{name}'s")]
        or [{"in": "none", "out": 0}]
    }
    lists["dam"] = {
        "values": [{"in": name, "out": "dam"} for name in {*card.dam.names, "mom", "mum", "dam", "mama"} for name in (name, f"{name}'s")]
    }
    lists["person"] = {"values": [{"in": person, "out": person} for person in card.people] or [{"in": "nobody", "out": ""}]}
    lists["gaining"] = {"values": [{"in": "gaining", "out": "gains"}]}
    lists["last"] = {"values": [{"in": "last", "out": "last"}]}
    lists["wild"] = {"wildcard": True}
    return lists


class _Said:
    """What the pieces of one message have said so far."""

    def __init__(self, card: LitterCard, now: datetime) -> None:
        self.card, self.now = card, now
        self.items: list[Item] = []
        self.about: Plain | None = None
        self.fix: Plain | None = None
        self.sets: Plain | None = None
        self.unread: list[str] = []

    def take(self, intent: str, slots: list[tuple[str, Any]]) -> None:
        if intent == "Tell":
            self.items += list(_items(slots, self.card, self.now))
        elif intent == "Ask":
            self.about = _about(dict(slots))
        elif intent == "Fix":
            self.fix = _fix(dict(slots))
        else:
            self.sets = _sets(dict(slots))

    def whole(self, last_who: Any) -> Plain:
        reading = assemble(self.items, self.card, last_who) if self.items else note()
        reading |= {"unread": " ".join(self.unread)}
        if self.fix:
            return {"does": "fix", "fix": self.fix, "events": []}
        if self.about:
            reading |= {"about": self.about, "does": reading["does"] if self.items else "ask"}
        if self.sets:
            reading |= {"setup": {"sets": self.sets}, "does": reading["does"] if self.items else "setup"}
        return reading


def _items(slots: list[tuple[str, Any]], card: LitterCard, now: datetime) -> Iterable[Item]:
    subject: list[Any] = []
    doing: Plain = {}
    hour: tuple[int, int, str | None] | None = None
    for name, value in [*slots, ("end", None)]:
        if name in ("pup", "name", "dam"):
            subject.append(int(value) if name != "dam" else "dam")
            continue
        if subject:
            yield "who", subject
            subject = []
        if name == "group":
            yield "who", value
        elif name == "hour":
            hour = (int(value), 0, None)
        elif name == "minute" and hour:
            hour = (hour[0], int(value), None)
        elif name == "half" and hour:
            hour = (hour[0], hour[1], value)
        elif name in ("ago_minutes", "ago_hours"):
            yield "at", now - timedelta(minutes=float(value) * (60 if name == "ago_hours" else 1))
        else:
            feeding = name in ("ml", "food") and doing.get("kind") not in ("fed", "dose")
            started = {"kind": "fed", name: value} if feeding else _start(name, value, card)
            if started is not None:
                if doing:
                    yield "did", doing
                doing = started
            elif name != "end":
                _add(doing, name, value, card)
    if doing:
        yield "did", doing
    if hour:
        yield "at", clock(card, now, *hour)


def _start(name: str, value: Any, card: LitterCard) -> Plain | None:
    if name == "did":
        kind, *more = value.split()
        event: Plain = {"kind": kind}
        event |= {part.removeprefix("no"): not part.startswith("no") for part in more if kind == "toilet"}
        return event | ({"with": "bulb"} if "bulb" in more else {}) | ({"stillborn": True} if "stillborn" in more else {})
    if name == "fedverb":
        return {"kind": "fed"} | ({"by": value.split()[1]} if " " in value else {})
    if name == "intake":
        what, *amount = value.split()
        return {"kind": "intake", "what": what} | ({"amount": amount[0]} if amount else {})
    simple = {"sign": "sign", "place": "placed", "clean": "cleaned", "drug": "dose", "air": "climate"}
    if name in simple:
        field = {"sign": "sign", "place": "place", "clean": "item", "drug": "drug", "air": "place"}[name]
        return {"kind": simple[name], field: value}
    if name == "weight":
        return {"kind": "weight", "grams": grams(card, value, None)}
    if name == "pounds":
        return {"kind": "weight", "grams": grams(card, value, "lb")}
    if name == "temp":
        return {"kind": "temperature", "celsius": dam_or_body(card, value, None)}
    return {"kind": "toilet", "stool": True, "look": value} if name == "look" else None


def _add(doing: Plain, name: str, value: Any, card: LitterCard) -> None:
    if name == "ounces":
        doing["grams"] = round(doing["grams"] + value * GRAMS_PER_OUNCE, 2)
    elif name == "unit" and doing.get("kind") == "weight":
        doing["grams"] = grams(card, doing["grams"] / grams(card, 1, None), value)
    elif name == "degrees":
        pass  # told apart by size
    elif name == "climate":
        doing["celsius"] = dam_or_body(card, value, None)
    else:
        field = {"way": "by", "tool": "with", "doseunit": "unit"}.get(name, name)
        doing[field] = float(value) if name in ("minutes", "ml", "amount", "humidity") else value


def _about(slots: Plain) -> Plain:
    who = slots.get("pup") or slots.get("name") or slots.get("dam")
    topic = slots.get("topic") or slots.get("gaining") or ("last" if "last" in slots or "asked" in slots else "status")
    of = slots.get("asked") or slots.get("drug")
    return {"topic": topic} | ({"who": int(who) if who != "dam" else who} if who else {}) | ({"of": of} if of else {})


def _fix(slots: Plain) -> Plain:
    if "undo" in slots:
        return {"change": "undo"}
    if "pup" in slots:
        return {"change": "who", "who": int(slots["pup"])}
    return {"change": "value", "grams": float(slots["value"])}


def _sets(slots: Plain) -> Plain:
    if "snooze" in slots:
        return {"snooze": {"minutes": slots["snooze"]}}
    if "every_hours" in slots:
        return {"every": {"care": "nursed", "minutes": slots["every_hours"] * 60}}
    if "person" in slots:
        return {"on_duty": slots["person"]}
    if "scale" in slots:
        key, value = slots["scale"].split()
        return {key: value}
    if "as" in slots:
        return {"name": {"pup": int(slots["pup"]), "as": slots["as"]}}
    return {key: slots[key].strip() for key in ("breed", "invite") if key in slots}
