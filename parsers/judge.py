"""From doings to events: who is meant, which reading of a number fits, and what must be confirmed first."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from parsers import plausibility
from parsers.doings import SLOT, Doing
from parsers.events import Event, Who, make
from parsers.facts import Facts
from parsers.litter_card import LitterCard
from parsers.measures import Measure, tidy
from parsers.plausibility import LIMITS, Fit
from parsers.sharing import share
from parsers.subjects import Names
from parsers.verdict import Verdict
from parsers.walk import Draft

_DAM_KINDS = ("dose", "intake")
_LISTED = 2  # pups with minutes beside them: a list of nursings; of one alone it is asked
_TIMES = {
    "future": "That time is still to come. When was it?",
    "either half": "That may be just ahead, or twelve hours back. When was it?",
    "before birth": "That is before the litter was born. When was it?",
    "vague": "That was not just now. When was it, roughly?",
    "skipped": "The clocks skipped that time. When was it?",
}


class Judge(Facts):
    """Turns the doings of one reading into events, for one litter at one moment."""

    def __init__(self, card: LitterCard, names: Names, now: datetime, *, by: str | None, last_who: Who | None, text: str) -> None:
        super().__init__(card, now, text)
        self.names, self.by, self.last_who = names, by, last_who

    def judge(self, draft: Draft) -> Verdict:
        """All events of the draft, with what is to be confirmed and what was assumed."""
        self.verdict = Verdict()
        self.toilets, self.toilet_places, self.doubted = {}, {}, set()
        self.seen: set[Event] = set()
        self._list(draft)
        share(draft.doings)
        self.nursings = len({doing.whos for doing in draft.doings if doing.kept and doing.kind == "nursed"})
        for doing in draft.doings:
            if doing.kept:
                self._doing(doing)
        return self.verdict

    # --- one doing ----------------------------------------------------------------------------------------------

    def _doing(self, doing: Doing) -> None:
        kind = doing.kind
        if doing.denied and not self._denial(doing):
            return
        if not self._complete(doing):
            return
        if (
            doing.whos is None
            and (doing.actor or (doing.strangers and kind not in ("cleaned", "climate", "visitor")))
            and kind not in ("cleaned", "visitor")
            and not (kind == "dose" and "amount" in doing.sets and not doing.actor)
        ):
            return
        if "_guess" in doing.sets and (doing.strangers or doing.actor):
            return
        if kind == "climate" and doing.strangers and doing.numbers:
            return
        whos = self._whos(doing)
        if whos is None:
            return
        before = (len(self.verdict.doubts), self.verdict.fit, self.verdict.between)
        made: list[Event] = []
        for who in whos:
            event = self._event(doing, who)
            if event is not None:
                made.append(event)
        if not made:
            return
        if (
            ((doing.strangers and doing.numbers) or "_of" in doing.sets)
            and kind in ("weight", "dam number")
            and len(self.verdict.doubts) > before[0]
        ):
            self._undo(before)
            return
        if "_apart" in doing.sets and (self.verdict.fit, self.verdict.between) != (before[1], before[2]):
            self._undo(before)
            return
        if "_clock" in doing.sets:
            if self.verdict.fit is Fit.IMPLAUSIBLE:
                self._undo(before)
                return
            self.verdict.doubts.append("Is that a time or a weight?")
        made = [event for event in made if self._is_new(event)]
        if "_lone" in doing.sets and self.nursings < _LISTED:
            self.verdict.doubts.append("Was that nursing?")
        if doing.hedged and doing.kind != "sign":
            self.verdict.doubts.append("You were not sure of that. Shall I log it?")
        if doing.problem:
            self.verdict.doubts.append(_TIMES.get(doing.problem, "When was it?"))
        if doing.either:
            self.verdict.doubts.append("Which pup was that?")
        if doing.torn:
            self.verdict.doubts.append("There is more than one value for the same pup. Which value is whose?")
        if doing.unknown_pup and kind != "born":
            self.verdict.doubts.append(f"This litter has no pup {whos[0]}. Which pup?")
        if doing.dead_pup is not None and kind not in ("died", "born"):
            self.verdict.doubts.append(f"Pup {doing.dead_pup} has died. Which pup?")
        slot = SLOT.get(kind)
        if slot is not None and None in [getattr(event, slot, None) for event in made]:
            self.verdict.empty.add(kind)
        if doing.other is not None:
            self._offer(doing, doing.other, made)
        if kind == "toilet":
            for place, event in enumerate(made, start=len(self.verdict.events)):
                self.toilet_places.setdefault(getattr(event, "who", None), []).append(place)
        self.verdict.events.extend(made)
        self.verdict.spans.extend(doing.spans)
        self.verdict.whos.extend(whos)

    def _undo(self, before: tuple[int, Fit, int]) -> None:
        """Take back what was doubted since: (doubts, fit, values in between) as they stood."""
        doubts, self.verdict.fit, self.verdict.between = before
        self.doubted.difference_update(self.verdict.doubts[doubts:])
        del self.verdict.doubts[doubts:]

    def _is_new(self, event: Event) -> bool:
        """True for an event that was not told before in this message; it is known from now on."""
        known = len(self.seen)
        self.seen.add(event)
        return len(self.seen) > known

    def _offer(self, doing: Doing, other: float, made: list[Event]) -> None:
        """`nursed 10 to 15 min`, `3 or 4 ml`: which of the two it was is asked."""
        before = (len(self.verdict.doubts), self.verdict.fit, self.verdict.between)
        if doing.warmth is not None:
            doing.warmth = (other, doing.warmth[1])
        elif doing.numbers:
            doing.numbers = [doing.numbers[0]._replace(value=other)]
        else:
            doing.sets[SLOT[doing.kind]] = other
        again = [self._event(doing, getattr(event, "who", "")) for event in made]
        self._undo(before)
        self.verdict.choices.append((made, [event for event in again if event is not None]))
        self.verdict.doubts.append("That is two values. Which of them was it?")

    def _denial(self, doing: Doing) -> bool:
        """What a denied doing still tells: no poop, won't eat, wouldn't nurse; False where it tells nothing."""
        denied = doing.denied or ""
        if doing.kind == "toilet":
            if "urine" not in doing.sets and "stool" not in doing.sets:
                return False
            for part in ("urine", "stool"):
                if part in doing.sets:
                    doing.sets[part] = False
            doing.sets.pop("look", None)
            return True
        if doing.kind == "intake" and "amount" not in doing.sets:
            doing.sets["amount"] = "none"
            return True
        if doing.kind in ("nursed", "fed") and denied in ("won't", "wont", "wouldn't", "wouldnt", "will not", "would not"):
            doing.kind, doing.sets, doing.numbers = "refused", {}, []
            return True
        return False

    def _complete(self, doing: Doing) -> bool:
        """True where the doing has what its kind needs."""
        kind, sets = doing.kind, doing.sets
        number = bool(doing.numbers)
        if kind in ("weight", "dam number"):
            return "grams" in sets or number
        if kind == "temperature":
            return doing.warmth is not None or number
        if kind == "climate":
            return doing.warmth is not None or number or "humidity" in sets
        if kind == "cleaned":
            return "item" in sets
        if kind == "dose":
            return "drug" in sets
        if kind == "fed" and doing.weak:
            return number or "ml" in sets
        if kind == "nursed" and doing.short:
            return number or "minutes" in sets
        return True

    def _whos(self, doing: Doing) -> tuple[int | str, ...] | None:
        kind = doing.kind
        if kind in ("climate", "visitor"):
            return ("",)
        if kind == "cleaned":
            return doing.whos or ("",)
        if doing.whos:
            return doing.whos
        if kind in _DAM_KINDS:
            return ("dam",)
        if kind == "sign" and doing.sets.get("_pup") is None:
            return ("dam",)
        if doing.whos == ():
            return None
        if "_someone" in doing.sets:
            self.verdict.missing_who = True
            self.verdict.doubts.append("Which pup was that?")
            return (0,)
        last = self._last_named(kind)
        if last is not None:
            self.verdict.assumed.append(f"Taken for {'the dam' if last == 'dam' else f'pup {last}'}, whom you named last.")
            return (last,)
        self.verdict.missing_who = True
        self.verdict.doubts.append("Which pup was that?")
        return (0,)

    def _last_named(self, kind: str) -> int | str | None:
        """The pup that the sender named last, unless a weight of it has come since."""
        if self.last_who is None or self.last_who not in (*self.names.living, "dam"):
            return None
        if kind == "weight" and isinstance(self.last_who, int):
            last_at = self.card.by_number[self.last_who].last_at
            if last_at is not None and (self.now - last_at).total_seconds() < LIMITS["same_sender"] * 60:
                return None
        return self.last_who

    # --- lists of weights -----------------------------------------------------------------------------------------

    def _list(self, draft: Draft) -> None:
        """`weights 205 188 212`: each living pup its weight, in pup order; where the count differs it must be confirmed."""
        numbers = draft.weights
        header = [
            doing for doing in draft.doings if doing.kind == "weight" and doing.kept and "grams" not in doing.sets and not doing.denied
        ]
        listed = [doing for doing in header if doing.numbers]
        unit = draft.lone
        if not numbers:
            return
        if listed:
            numbers = [listed[0].numbers[0], *numbers]
        worth = None
        if unit is not None and isinstance(unit, Measure):
            worth = unit.value / unit.number if unit.number else None
        living = self.names.living
        if draft.strange and not header and not draft.run:
            return
        bare = not (header or worth)
        if bare and not self._lists_weights(draft, numbers):
            self._alone(draft, numbers, worth)
            return
        if len(numbers) == 1:
            self._alone(draft, numbers, worth)
            return
        grams = [tidy(one.value * worth) if worth else self._in_house(one.value) for one in numbers]
        for doing in listed:
            doing.planned = True
        if len(grams) != len(living):
            self.verdict.doubts.append(f"That is {len(grams)} weights for {len(living)} pups. Which weight is whose?")
        whos = list(living[: len(grams)])
        when = header[0].when if header else self._told(draft)
        for who, value in zip(whos, grams, strict=False):
            self._doubt(plausibility.weight(self.card, who, value, self.now))
            self.verdict.events.append(make("weight", who=who, grams=value, at=when))
            self.verdict.whos.append(who)
        if bare:
            self.verdict.assumed.append("Taken for the weights of all pups, in their order.")
        self.verdict.spans.append(draft.lone_span)
        for doing in header:
            self.verdict.spans.extend(doing.spans)
            if doing.problem:
                self.verdict.doubts.append(_TIMES.get(doing.problem, "When was it?"))

    def _lists_weights(self, draft: Draft, numbers: list[Any]) -> bool:
        """True for `244 231 257 203 179 266` alone: several numbers, each of which can be a pup's weight."""
        grams = [self._in_house(one.value) for one in numbers]
        weighty = all(LIMITS["lightest"] <= each <= LIMITS["heaviest"] for each in grams)
        alone = not draft.doings and not draft.strange and not draft.named
        return len(grams) > 1 and weighty and (alone or (draft.run and len(grams) == len(self.names.living)))

    def _alone(self, draft: Draft, numbers: list[Any], worth: float | None) -> None:
        """A number that stands with no subject and no doing."""
        if len(numbers) != 1 or draft.strange or (draft.doings and not all(doing.whos is None for doing in draft.doings)):
            return
        grams = tidy(numbers[0].value * worth) if worth else self._in_house(numbers[0].value)
        if not LIMITS["lightest"] <= grams <= LIMITS["heaviest"] and len(self.text.split()) > 1 and not worth:
            return
        doing = Doing("weight", 0, 0, {"grams": grams})
        whos = self._whos(doing)
        if whos is None:
            return
        fields = self._weight(doing, whos[0])
        if fields is not None:
            self.verdict.events.append(make("weight", who=whos[0], at=self._told(draft), **fields))
            self.verdict.spans.append(draft.lone_span)

    def _told(self, draft: Draft) -> datetime | None:
        """The time of weights that stand without a doing; a doubtful one is asked about."""
        if draft.told is None:
            return None
        self.verdict.spans.append(draft.told_span)
        if draft.told.problem:
            self.verdict.doubts.append(_TIMES.get(draft.told.problem, "When was it?"))
        return draft.told.at
