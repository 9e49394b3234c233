"""What an event of each kind says: its fields from a doing, and whether they are plausible."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from parsers import plausibility
from parsers.doings import Doing, in_celsius
from parsers.events import Event, make
from parsers.litter_card import LitterCard
from parsers.measures import GRAMS_PER_OUNCE, say_number, tidy
from parsers.plausibility import LIMITS, Fit
from parsers.verdict import Verdict


class Facts:
    """Makes events of doings, for one litter at one moment."""

    def __init__(self, card: LitterCard, now: datetime, text: str) -> None:
        self.card, self.now, self.text = card, now, text
        self.verdict = Verdict()
        self.toilets: dict[Any, dict[str, Any]] = {}
        self.toilet_places: dict[Any, list[int]] = {}  # where among the events they stand
        self.doubted: set[str] = set()  # what was said of values

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
        if judgement.fit is Fit.IMPLAUSIBLE and judgement.why not in self.doubted:
            self.doubted.add(judgement.why)
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
            self._doubt(plausibility.weight(self.card, who, grams, self.now))
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
        for place in self.toilet_places.get(who, ()):
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


def _short(value: float) -> float | int:
    """A whole number without its point, as keepers say it: 15 min."""
    return int(value) if float(value).is_integer() else tidy(value)
