"""From doings to events: who is meant, which reading of a number fits, and what must be confirmed first."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from parsers import plausibility
from parsers.doings import SLOT, Doing, in_celsius
from parsers.events import Event, Who, make
from parsers.litter_card import LitterCard
from parsers.measures import GRAMS_PER_OUNCE, Measure, say_number, tidy
from parsers.plausibility import LIMITS, Fit
from parsers.sharing import share
from parsers.subjects import Names
from parsers.vocabulary import load
from parsers.walk import Draft

_DAM_KINDS = ("dose", "intake")
_TIMES = {
    "future": "That time is still to come. When was it?",
    "either half": "That may be just ahead, or twelve hours back. When was it?",
    "before birth": "That is before the litter was born. When was it?",
    "vague": "That was not just now. When was it, roughly?",
    "skipped": "The clocks skipped that time. When was it?",
}
_SIGNS_OF_DAM_ALONE = frozenset(load("signs")["dam"]) - frozenset(load("signs")["pup"])


@dataclass(slots=True)
class Verdict:
    """The events of one reading, and how far they can be trusted."""

    events: list[Event] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    fit: Fit = Fit.PLAUSIBLE
    missing_who: bool = False
    choices: list[list[Event]] = field(default_factory=list)
    spans: list[tuple[int, int]] = field(default_factory=list)
    whos: list[int | str] = field(default_factory=list)
    between: int = 0
    empty: set[str] = field(default_factory=set)
    """Kinds that were logged without the number they can have: nursed for how long?"""
    left: int = 0
    """How many items no event accounts for."""

    @property
    def rank(self) -> tuple[int, int, int, int]:
        """The lower the likelier: nothing in doubt, then how it fits, then how many words are left over."""
        return (len(self.doubts) > 0, int(self.missing_who) + int(self.fit), self.left, len(self.doubts))


class Judge:
    """Turns the doings of one reading into events, for one litter at one moment."""

    def __init__(self, card: LitterCard, names: Names, now: datetime, *, by: str | None, last_who: Who | None, text: str) -> None:
        self.card, self.names, self.now, self.by, self.last_who, self.text = card, names, now, by, last_who, text

    def judge(self, draft: Draft) -> Verdict:
        """All events of the draft, with what is to be confirmed and what was assumed."""
        self.verdict = Verdict()
        self.toilets: dict[Any, dict[str, Any]] = {}
        self.seen: set[Event] = set()
        self._list(draft)
        share(draft.doings)
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
        before = (list(self.verdict.doubts), self.verdict.fit, self.verdict.between)
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
            and len(self.verdict.doubts) > len(before[0])
        ):
            self.verdict.doubts, self.verdict.fit, self.verdict.between = before
            return
        if "_apart" in doing.sets and (self.verdict.fit, self.verdict.between) != (before[1], before[2]):
            self.verdict.doubts, self.verdict.fit, self.verdict.between = before
            return
        if "_clock" in doing.sets:
            if self.verdict.fit is Fit.IMPLAUSIBLE:
                self.verdict.doubts, self.verdict.fit, self.verdict.between = before
                return
            self.verdict.doubts.append("Is that a time or a weight?")
        made = [event for event in made if event not in self.seen]
        self.seen.update(made)
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
        if slot is not None and any(getattr(event, slot, None) is None for event in made):
            self.verdict.empty.add(kind)
        self.verdict.events.extend(made)
        self.verdict.spans.extend(doing.spans)
        self.verdict.whos.extend(whos)

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
        if kind == "fed" and (doing.weak or (sets.get("food") == "water" and not number and "ml" not in sets)):
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

    # --- one event ----------------------------------------------------------------------------------------------

    def _event(self, doing: Doing, who: int | str) -> Event | None:
        build = getattr(self, f"_{doing.kind.replace(' ', '_')}", self._plain)
        fields: dict[str, Any] | None = build(doing, who)
        if fields is None:
            return None
        kind = str(fields.pop("kind", doing.kind))
        if who not in ("", 0):
            fields["who"] = who
        elif who == 0:
            fields["who"] = 0
        if doing.when is not None:
            fields["at"] = doing.when
        return make(kind, **fields)

    def _plain(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        return {key: value for key, value in doing.sets.items() if not key.startswith("_")}

    def _doubt(self, judgement: plausibility.Judgement) -> None:
        if judgement.fit is Fit.IMPLAUSIBLE and judgement.why not in self.verdict.doubts:
            self.verdict.doubts.append(judgement.why)
        self.verdict.fit = max(self.verdict.fit, judgement.fit)
        self.verdict.between += judgement.fit is Fit.BETWEEN

    def _number(self, doing: Doing) -> float:
        return float(doing.numbers[0].value)

    def _weight(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        if "grams" in doing.sets:
            grams = tidy(doing.sets["grams"])
        else:
            grams = self._in_house(self._number(doing))
        if who and not doing.unknown_pup:
            judgement = plausibility.weight(self.card, who, grams, self.now)
            self._doubt(judgement)
            if judgement.fit is Fit.IMPLAUSIBLE and doing.goes_on:
                doing.problem = doing.problem
        elif who == 0 and not LIMITS["lightest"] <= grams <= LIMITS["heaviest"]:
            self.verdict.fit = Fit.IMPLAUSIBLE
        return {"grams": grams}

    def _in_house(self, number: float) -> float:
        return tidy(number * (GRAMS_PER_OUNCE if self.card.weights_in == "oz" else 1.0))

    def _dam_number(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        """A bare number of the dam is her temperature where it can be one, else her weight."""
        number = self._number(doing)
        tenths = [one.value for one in doing.numbers if one.tenths]
        for value in (number, *tenths):
            if LIMITS["dam_celsius_low"] <= value <= LIMITS["dam_celsius_high"]:
                return {"kind": "temperature", "celsius": tidy(value)}
            if LIMITS["dam_fahrenheit_low"] <= value <= LIMITS["dam_fahrenheit_high"]:
                return {"kind": "temperature", "celsius": in_celsius(value, "F", house="F", low=25, high=43)[0]}
        grams = self._in_house(number)
        self._doubt(plausibility.weight(self.card, "dam", grams, self.now))
        if self.card.dam.last_grams is None:
            self.verdict.doubts.append(f"Is {say_number(number)} the dam's weight or her temperature?")
        return {"kind": "weight", "grams": grams}

    def _nursed(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        if who == "dam":
            return None
        minutes = doing.sets.get("minutes")
        if minutes is None and doing.numbers:
            minutes = self._number(doing)
        if minutes is None:
            return {}
        self._doubt(plausibility.nursing(minutes))
        return {"minutes": _short(minutes)}

    def _fed(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        fields = self._plain(doing, who) or {}
        if "ml" not in fields and doing.numbers:
            fields["ml"] = self._number(doing)
        if "ml" in fields:
            fields["ml"] = _short(tidy(fields["ml"]))
            self._doubt(plausibility.feed(self.card, who, fields["ml"]))
        if who == "dam":
            return None
        return fields

    def _cleared(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        return None if who == "dam" else self._plain(doing, who)

    def _refused(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        return {"kind": "intake", "what": "food", "amount": "none"} if who == "dam" else {}

    def _temperature(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        low, high = LIMITS["body_low"], LIMITS["body_high"]
        if doing.warmth is not None:
            value, unit = doing.warmth
            celsius, other = in_celsius(value, unit, house=self.card.temperatures_in, low=low, high=high)
        else:
            best: tuple[float, bool] | None = None
            for number in sorted(doing.numbers, key=lambda one: -one.length):
                celsius, other = in_celsius(number.value, None, house=self.card.temperatures_in, low=low, high=high)
                if best is None or (low <= celsius <= high and not low <= best[0] <= high):
                    best = (celsius, other)
            assert best is not None
            celsius, other = best
        if other:
            self.verdict.assumed.append(
                f"Read as degrees {'Celsius' if self.card.temperatures_in == 'F' else 'Fahrenheit'}: only that can be right."
            )
        self._doubt(plausibility.body(self.card, celsius))
        return {"celsius": celsius}

    def _climate(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        fields: dict[str, Any] = {"place": doing.sets["place"]}
        value = doing.warmth or ((self._number(doing), "") if doing.numbers else None)
        if value is not None:
            celsius, other = in_celsius(
                value[0], value[1] or None, house=self.card.temperatures_in, low=LIMITS["coldest_air"], high=LIMITS["hottest_air"]
            )
            if other:
                self.verdict.assumed.append(
                    f"Read as degrees {'Celsius' if self.card.temperatures_in == 'F' else 'Fahrenheit'}: only that can be right."
                )
            fields["celsius"] = celsius
            self._doubt(plausibility.air(self.card, celsius))
        if "humidity" in doing.sets:
            fields["humidity"] = _short(doing.sets["humidity"])
        return fields

    def _dose(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        fields = self._plain(doing, who) or {}
        if "amount" not in fields and doing.numbers:
            fields["amount"] = self._number(doing)
        if fields.get("amount") is not None:
            fields["amount"] = _short(fields["amount"])
        else:
            fields.pop("amount", None)
        return fields

    def _intake(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        if who != "dam":
            return {"kind": "sign", "sign": "not nursing"} if doing.sets.get("amount") == "none" else None
        fields = self._plain(doing, who) or {}
        fields.setdefault("what", "food")
        return fields

    def _sign(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        sign = doing.sets.get("_dam" if who == "dam" else "_pup")
        return None if sign is None else {"sign": sign}

    def _placed(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        return None if who == "dam" else self._plain(doing, who)

    def _toilet(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        """What one message says of one pup is one event."""
        fields = self._plain(doing, who) or {}
        kept = self.toilets.get(who)
        if kept is None or (doing.when is not None and kept.get("at") not in (None, doing.when)):
            self.toilets[who] = fields | ({"at": doing.when} if doing.when else {})
            return fields
        merged = {**fields, **kept}
        for part in ("urine", "stool"):
            if part in fields and part in kept and fields[part] != kept[part]:
                merged[part] = fields[part]
        if doing.when is not None:
            merged["at"] = doing.when
        self.toilets[who] = merged
        for place, event in enumerate(self.verdict.events):
            if event.kind == "toilet" and getattr(event, "who", None) == who:
                self.verdict.events[place] = make("toilet", **({"who": who} | merged))
                self.verdict.spans.extend(doing.spans)
        return None

    def _born(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        if who == "dam":
            return None
        fields = self._plain(doing, who) or {}
        if "grams" in fields:
            fields["grams"] = tidy(fields["grams"])
        elif doing.numbers:
            fields["grams"] = self._in_house(self._number(doing))
        if "grams" in fields:
            self._doubt(plausibility.birth_weight(self.card, int(who), fields["grams"]))
        return fields

    def _died(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        return None if who == "dam" else self._plain(doing, who)

    def _visitor(self, doing: Doing, who: int | str) -> dict[str, Any] | None:
        start, end = doing.sets["_name"]
        return {"name": self.text[start:end]}

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
        if draft.strange and not header:
            return
        bare = not (header or worth)
        if bare and not self._lists_all(draft, numbers):
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

    def _lists_all(self, draft: Draft, numbers: list[Any]) -> bool:
        """True for `244 231 257 203 179 266` alone: as many numbers as living pups, each of which can be a pup's weight."""
        grams = [self._in_house(one.value) for one in numbers]
        weighty = all(LIMITS["lightest"] <= each <= LIMITS["heaviest"] for each in grams)
        return not draft.doings and not draft.strange and not draft.named and len(grams) == len(self.names.living) > 1 and weighty

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


def _short(value: float) -> float | int:
    """A whole number without its point, as keepers say it: 15 min."""
    return int(value) if float(value).is_integer() else tidy(value)
