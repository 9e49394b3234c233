"""The same messages by a grammar: lark (LALR), with grammar.lark and the terminals made of words.toml."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from lark import Lark, Token, Tree
from lark.exceptions import LarkError

from parsers.litter_card import LitterCard
from parsers.measures import GRAMS_PER_OUNCE
from tests.bench.comparison.assemble import WORDS, Item, Plain, assemble, clock, dam_or_body, digits, grams, note

TERMINALS = (
    "group did fedverb food way tool look sign drug doseunit intake place air clean topic undo unit degrees span half scale"
).split()
STARTS = {
    "SIGN": ("sign", "sign"),
    "PLACE": ("placed", "place"),
    "CLEAN": ("cleaned", "item"),
    "DRUG": ("dose", "drug"),
    "AIR": ("climate", "place"),
}
ASKED = {
    "nurse": "nursed",
    "nursed": "nursed",
    "eat": "fed",
    "fed": "fed",
    "cleared": "cleared",
    "clear": "cleared",
    "pee": "toilet",
    "poop": "toilet",
}


def reader(card: LitterCard) -> Callable[[str, datetime, Any], Plain]:
    """Build the grammar for one litter, and give the function that reads its messages."""
    names = {name.lower(): pup.pup for pup in card.pups for name in pup.names}
    dams = {name.lower() for name in (*card.dam.names, "mom", "mum", "dam", "mama")}
    lines = [(Path(__file__).parent / "grammar.lark").read_text(encoding="utf-8")]
    lines += [_terminal(name.upper(), WORDS[name]) for name in TERMINALS]
    lines += [_terminal("NAME", names or ["no such name"], suffix="('s)?", rank=6), _terminal("DAM", dams, suffix="('s)?", rank=6)]
    lines.append(_terminal("PERSON", card.people or ["no such name"], rank=5))
    parser = Lark("\n".join(lines), parser="lalr", lexer="basic")

    def read(text: str, now: datetime, last_who: Any) -> Plain:
        try:
            tree = parser.parse(digits(text.strip()))
        except LarkError:
            return note()
        return _Walk(card, now, names).read(tree, last_who)

    return read


def _terminal(name: str, phrases: Iterable[str], suffix: str = "", rank: int = 5) -> str:
    longest_first = sorted(phrases, key=len, reverse=True)
    either = "|".join(re.escape(phrase).replace("/", r"\/") for phrase in longest_first)
    before = "" if name in ("UNIT", "DOSEUNIT", "DEGREES", "HALF") else r"(?<!\w)"
    return f"{name}.{rank}: /{before}({either}){suffix}(?!\\w)/i"


class _Walk:
    """One walk over the items of a message."""

    def __init__(self, card: LitterCard, now: datetime, names: dict[str, int]) -> None:
        self.card, self.now, self.names = card, now, names
        self.items: list[Item] = []
        self.doing: Plain | None = None
        self.unread: list[str] = []
        self.other: Plain = {}
        self.denied = False
        self.subject: Any = None

    def read(self, tree: Tree[Token], last_who: Any) -> Plain:
        for item in tree.children:
            if isinstance(item, Token):
                if item.type == "WORD":
                    self.unread.append(str(item))
                self.denied = self.denied or item.type == "NOT"
                continue
            getattr(self, f"_{item.data}")(item)
        self._end()
        reading = note() if self.denied else assemble(self.items, self.card, last_who)
        return self._with_other(reading) | {"unread": " ".join(self.unread)}

    def _with_other(self, reading: Plain) -> Plain:
        if "fix" in self.other:
            return {"does": "fix", "events": [], "fix": self._fixed()}
        if "sets" in self.other:
            return {"does": "setup", "events": [], "setup": {"sets": self.other["sets"]}}
        if "about" in self.other:
            about = self.other["about"]
            if about["topic"] in ("last", "status"):
                about |= {"who": self.subject} if self.subject is not None else {}
                return {"does": "ask", "events": [], "about": about}
            return reading | {"about": about, "does": reading["does"] if reading["does"] != "note" else "ask"}
        return reading

    def _fixed(self) -> Plain:
        if self.other["fix"] == "undo":
            return {"change": "undo"}
        doing = next((value for name, value in self.items if name == "did"), None)
        if doing:
            return {"change": "value"} | {key: value for key, value in doing.items() if key != "kind"}
        who = next((value for name, value in self.items if name == "who"), [None])
        return {"change": "who", "who": who[0] if isinstance(who, list) else who}

    def _end(self) -> None:
        if self.doing:
            self.items.append(("did", self.doing))
            self.doing = None

    def _subject(self, tree: Tree[Token]) -> None:
        if not (self.doing == {"kind": "temperature"} and not self.items):  # `temp on pearl 95.8`
            self._end()
        last = tree.children[-1]
        if isinstance(last, Tree):
            first, final = (int(str(token)) for token in last.children if isinstance(token, Token) and token.type == "NUMBER")
            living = [pup.pup for pup in self.card.living]
            self.items.append(("who", [pup for pup in living if first <= pup <= final]))
            return
        number = next((token for token in tree.children if isinstance(token, Token) and token.type == "NUMBER"), None)
        said = str(last).lower()
        if number is not None:
            self.subject = int(float(number))
        elif last.type == "NAME":
            self.subject = self.names[said.removesuffix("'s")]
        elif last.type == "DAM":
            self.subject = "dam"
        else:
            self.items.append(("who", WORDS["group"][said]))
            return
        if self.items and self.items[-1][0] == "who" and isinstance(self.items[-1][1], list):
            self.items[-1] = ("who", [*self.items[-1][1], self.subject])
        else:
            self.items.append(("who", [self.subject]))

    def _pair(self, tree: Tree[Token]) -> None:
        self._end()
        pup, weight, *unit = (str(token) for token in tree.children)
        self.items.append(("who", [int(float(pup))]))
        self.doing = {"kind": "weight", "grams": grams(self.card, _number(weight), WORDS["unit"][unit[0].lower()] if unit else None)}

    def _weight(self, tree: Tree[Token]) -> None:
        self._end()
        tokens = {token.type: str(token) for token in tree.children if isinstance(token, Token)}
        numbers = [_number(str(token)) for token in tree.children if isinstance(token, Token) and token.type == "NUMBER"]
        if "POUND" in tokens:
            value = round((numbers[0] * 16 + numbers[1]) * GRAMS_PER_OUNCE, 2)
        else:
            unit = tokens.get("UNIT") or tokens.get("OUNCE")
            value = grams(self.card, numbers[0], WORDS["unit"][unit.lower()] if unit else None)
        self.doing = {"kind": "weight", "grams": value}

    def _measure(self, tree: Tree[Token]) -> None:
        tokens = {token.type: str(token).lower() for token in tree.children if isinstance(token, Token)}
        value = float(WORDS["span"][tokens["SPAN"]]) if "SPAN" in tokens else _number(tokens["NUMBER"])
        kind = (self.doing or {}).get("kind")
        if "ML" in tokens and kind not in ("fed", "dose"):
            self._end()
            self.doing = {"kind": "fed", "ml": value}
        elif kind == "nursed" and self.doing is not None:
            self.doing["minutes"] = value
        elif kind == "fed" and self.doing is not None:
            self.doing["ml"] = value
        elif kind == "dose" and self.doing is not None:
            self.doing |= {"amount": value} | ({"unit": WORDS["doseunit"].get(tokens["DOSEUNIT"])} if "DOSEUNIT" in tokens else {})
            self.doing |= {"unit": "ml"} if "ML" in tokens else {}
        elif kind in ("temperature", "climate") and self.doing is not None:
            self.doing |= {"humidity": value} if "PERCENT" in tokens else {"celsius": dam_or_body(self.card, value, None)}
        elif set(tokens) == {"NUMBER"} and value.is_integer() and value in self.card.by_number and not self.items:
            self.items.append(("who", [int(value)]))
        else:
            self._end()
            self.doing = {"kind": "weight", "grams": grams(self.card, value, None)}

    def _doing(self, tree: Tree[Token]) -> None:
        token = tree.children[0]
        assert isinstance(token, Token)
        said, value = token.type, WORDS.get(token.type.lower(), {}).get(token.lower(), "")
        if said in ("FOOD", "WAY") and self.doing and self.doing["kind"] == "fed":
            self.doing["food" if said == "FOOD" else "by"] = value
            return
        if said == "TOOL" and self.doing:
            self.doing["with"] = value
            return
        if said == "STOOL":
            value = WORDS["look"].get(str(tree.children[-1]).lower(), "")
            self._end()
            self.doing = {"kind": "toilet", "stool": True} | ({"look": value} if value else {})
            return
        if said == "LOOK" and self.doing and self.doing["kind"] == "toilet":
            self.doing |= {"look": value, "stool": True}
            return
        self._end()
        self.doing = _started(said, value)

    def _when(self, tree: Tree[Token]) -> None:
        tokens = {token.type: str(token) for token in tree.scan_values(lambda value: isinstance(value, Token))}
        if "AGO" in tokens:
            span = float(WORDS["span"][tokens["SPAN"].lower()]) if "SPAN" in tokens else _number(tokens["NUMBER"])
            self.items.append(("at", self.now - timedelta(minutes=span * (60 if "HOUR" in tokens else 1))))
            return
        hour, _, minute = tokens.get("CLOCK", tokens.get("NUMBER", "0")).partition(":")
        half = WORDS["half"].get(tokens.get("HALF", "").lower())
        if float(hour) < 24 and int(minute or 0) < 60:
            self.items.append(("at", clock(self.card, self.now, int(float(hour)), int(minute or 0), half)))

    def _question(self, tree: Tree[Token]) -> None:
        token = tree.children[0]
        assert isinstance(token, Token)
        if token.type == "TOPIC":
            self.other.setdefault("about", {"topic": WORDS["topic"].get(token.lower(), "help")})
        else:
            self.other["about"] = {"topic": "last" if token.type == "WHENLAST" else "status"}

    def _fix(self, tree: Tree[Token]) -> None:
        token = tree.children[0]
        assert isinstance(token, Token)
        self.other["fix"] = "undo" if token.type == "UNDO" else "other"
        for part in tree.children[1:]:
            assert isinstance(part, Tree)
            getattr(self, f"_{part.data}")(part)

    def _sets(self, tree: Tree[Token]) -> None:
        tokens = {token.type: str(token).lower() for token in tree.children if isinstance(token, Token)}
        if "SNOOZE" in tokens:
            self.other["sets"] = {"snooze": {"minutes": _number(tokens["NUMBER"])}}
        elif "EVERY" in tokens:
            self.other["sets"] = {"every": {"care": "nursed", "minutes": _number(tokens["NUMBER"]) * 60}}
        elif "SCALE" in tokens:
            key, value = WORDS["scale"][tokens["SCALE"]].split()
            self.other["sets"] = {key: value}
        else:
            self.other["sets"] = {"on_duty": next(person for person in self.card.people if person.lower() == tokens["PERSON"])}


def _number(text: str) -> float:
    return float(text.replace(",", "."))


def _started(said: str, value: str) -> Plain:
    first, *more = value.split() or [""]
    if said == "DID":
        event: Plain = {"kind": first}
        event |= {part.removeprefix("no"): not part.startswith("no") for part in more if first == "toilet"}
        return event | ({"with": "bulb"} if "bulb" in more else {}) | ({"stillborn": True} if "stillborn" in more else {})
    if said == "FEDVERB":
        return {"kind": "fed"} | ({"by": more[0]} if more else {})
    if said == "INTAKE":
        return {"kind": "intake", "what": first} | ({"amount": more[0]} if more else {})
    if said == "LOOK":
        return {"kind": "toilet", "stool": True, "look": value}
    if said in ("FOOD", "WAY", "TOOL"):
        return {"kind": "fed", "food" if said == "FOOD" else "by": value}
    kind, field = STARTS.get(said, ("temperature", ""))
    return {"kind": kind} | ({field: value} if field else {})
