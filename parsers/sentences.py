"""Where a sentence begins anew: what it tells first is of the pup it names later, not of the one named before it."""

from __future__ import annotations

from parsers.doings import Doing
from parsers.items import Item
from parsers.objects import Objects
from parsers.walk import _FAR

_QUIET = frozenset(("filler", "small", "person", "thanks", "hedge", "join"))
_ASIDE = _QUIET | {"pause", "colon"}
_OFF = frozenset(("unknown", "person", "plan", "elsewhere"))
"""In a sentence with these, what was told of nobody named is told of nobody named later, and its figures are in no list."""
_TOLD = frozenset(("do", "sign", "measure", "number", "look", "drug", "deny"))
_TO_WHOM = frozenset(("for", "to", "from", "on", "of", "into", "onto", "in"))
_DONE_TO = frozenset(("fed", "cleared", "weight", "nursed", "dose", "temperature"))
"""What a keeper does to a pup, so that the pup may stand right behind it with its value: `tubed pink 4`."""
_DAMS = frozenset(("calcium", "oxytocin"))
"""Given to dams, hardly ever to pups: without a subject in its own sentence such a dose is hers."""
_IT = frozenset(("it", "it's", "its"))
_ADJECTIVES = frozenset(("limp", "cold", "hot", "weak", "stiff", "pale", "thin", "chilly", "icy"))
_ME = frozenset(("i", "i've", "ive", "i'm", "im", "we", "we've"))
_EATEN = frozenset(("drunk", "drank", "ate", "eaten", "drinking", "eating"))
_DETERMINERS = frozenset(("a", "an", "the", "some"))


class Sentences(Objects):
    """Tells which subject holds at the beginning of a sentence."""

    def _sentence(self) -> None:
        """A sentence begins behind this item."""
        if any(item.role in _OFF for item in self.items[max(self.sentence_start, self.index - _FAR) : self.index]):
            self.waiting = []  # `i finally peed after 6 hours. moss nursed 12`
            self.loose_numbers = [item for item in self.loose_numbers if item.place < self.sentence_start]
        self.sentence_start, self.sentence_subjects = self.index + 1, 0
        self.waiting = [doing for doing in self.waiting if not _dams_own(doing)]
        if self.open is not None and (self.open.kind == "dose" or not self.open.kept):
            self.open = None
        self._anew()

    def _anew(self) -> None:
        """The subject that held so far holds no more, where what comes is told of another."""
        if self.subject is not None and self._begins_anew():
            self.subject, self.subject_item, self.unknown_pup, self.dead_pup = None, None, False, None

    def _begins_anew(self) -> bool:
        """True for `supp wren 3 cc`, `nursed 10 and cleared teal`, `twitching, pup 2`, `weights 213 189 245`, behind another sentence."""
        sentence: list[Item] = []
        for item in self.items[self.index + 1 : self.index + 1 + _FAR]:
            if item.role == "stop":
                break
            sentence.append(item)
        people = self.names.people
        content = [item for item in sentence if item.role not in _ASIDE and item.text not in people]
        if content and content[0].text in _IT:
            content = content[1:]  # `it's 84 in the box`
        if not content or content[0].role not in _TOLD:
            return False
        if len(content) == 1:  # `weights`, and in each line one of them
            behind_it = self.items[content[0].place + 1 : content[0].place + 3]
            return "weight" in content[0].kinds() and [item.role for item in behind_it] == ["stop", "number"]
        if "weight" in content[0].kinds() and [item.role in ("number", "measure") for item in content[1:3]] == [True, True]:
            return True
        named = next((item for item in content if item.role == "subject"), None)
        if named is None or named.subject is None:
            return _is_list(content)
        if named.subject.how in ("pronoun", "both", "rest"):
            return False
        behind = content[content.index(named) + 1 :]
        before = sentence[: sentence.index(named)]
        if any(item.role == "pause" for item in before):
            if all(item.role == "do" for item in content[: content.index(named)]) and before[-1].role == "do":
                return True  # `fed, cleared, stimmed pearl`
            apart = self.items[named.place + 1 : named.place + 2]
            return before[-1].role == "pause" and (not behind or (bool(apart) and apart[0].role == "pause"))
        if before[-1].role == "filler" and before[-1].text in _TO_WHOM:
            return True
        lead = next(item for item in reversed(before) if item.role not in _QUIET or item.role == "join")
        if lead.role == "join":
            return False
        more = bool(behind) and behind[0].role == "do" and not content[0].kinds().keys().isdisjoint(behind[0].kinds())
        own = bool(behind) and behind[0].role in _TOLD and not more  # `formula 4 ml moss syringe`
        return not own or lead.role in ("drug", "look") or (lead.role == "do" and not _DONE_TO.isdisjoint(lead.kinds()))

    def _of_something_else(self, doing: Doing) -> bool:
        """True for `gil fed the cat`, `cleared my throat`, `the kids peed`, behind a sentence of a pup and with none named in its own."""
        if self.sentence_subjects or (self.subject is None and self._has_subject_ahead()):
            return False
        somebody = self.person.text if self.person is not None else ""
        if doing.kind == "toilet" and somebody and somebody not in ("i", "we"):
            return True
        eaten = any(item.text in _EATEN for item in self.items[max(0, self.index - 1) : self.index + 1])
        if somebody in _ME and (eaten or doing.kind in ("temperature", "sign")):
            return True
        other = self._of_a_thing_of_ours(doing.kind) or (doing.kind == "sign" and self._of_a_noun())
        self.condition = self.condition or other  # `nursing a sore back`
        return other

    def _of_a_noun(self) -> bool:
        """True for `limp lettuce for dinner`, which opens its sentence."""
        following = self.items[self.index + 1] if self.index + 1 < len(self.items) else None
        opens = self.index == self.sentence_start and self.items[self.index].text in _ADJECTIVES
        return opens and following is not None and following.role == "unknown" and not following.text.endswith("ly")

    def _of_a_thing_of_ours(self, kind: str) -> bool:
        """True where a strange thing stands as what it was done to: `a coffee`, `my throat`, `the cat`."""
        if kind not in ("nursed", "fed", "cleared", "sign"):
            return False
        ahead = self.items[self.index + 1 : self.index + 5]
        while ahead and ahead[0].text == "for":
            ahead = ahead[1:]
        if not ahead or any(item.role in ("number", "measure", "subject") for item in ahead[:3]):
            return False
        if kind == "cleared" and ahead[0].role == "unknown" and not ahead[0].text.endswith("ly"):
            return True
        if ahead[0].role == "person" and ahead[0].length > 1:
            return True
        owned = ahead[0].text in _DETERMINERS or ahead[0].text in ("my", "our")
        return owned and len(ahead) > 1 and ahead[1].role in ("unknown", "person", "amount", "sign")

    def _dams_drug(self, doing: Doing) -> None:
        """`pip temp 95.8. gave calcium`: the calcium is the dam's."""
        known = _DAMS | {plan.drug for plan in self.names.card.doses}
        if doing.whos is None or self.subject_item is None or doing.sets.get("drug") not in known or self.subject == ("dam",):
            return
        near = self.items[max(self.subject_item.place, doing.at_item - _FAR) : doing.at_item]
        if not any(one.role in ("join", "stop") for one in near):
            return
        doing.whos = None
        doing.spans = [span for span in doing.spans if span != doing.subject_span]


def _dams_own(doing: Doing) -> bool:
    """True for what is the dam's where no subject stands in its own sentence."""
    return doing.kind in ("dose", "intake") or (doing.kind == "sign" and doing.sets.get("_pup") is None)


def _is_list(content: list[Item]) -> bool:
    """True for a list of weights without pups, and for `84 in the box`."""
    if content[0].role == "number" and "climate" in content[1].kinds():
        return True
    figures = [item for item in content if item.role in ("number", "measure")]
    others = [item for item in content if item.role not in ("number", "measure") and "weight" not in item.kinds()]
    return len(figures) > 1 and not others
