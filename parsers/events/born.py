"""A pup was born."""

from typing import Literal

from parsers.events.base import Event, Number, Units, Who


class Born(Event):
    """A birth: sex, birth weight and mark, as far as they were said."""

    kind: Literal["born"] = "born"
    who: Who
    sex: Literal["m", "f"] | None = None
    grams: Number | None = None
    mark: str | None = None

    def say(self, units: Units) -> str:
        words = ["born"]
        if self.sex:
            words.append("boy" if self.sex == "m" else "girl")
        if self.grams is not None:
            words.append(units.grams(self.grams))
        if self.mark:
            words.append(self.mark)
        return " ".join(words)
