"""The heat or the humidity of the box, the incubator or the room was read."""

from typing import ClassVar, Literal

from parsers.events.base import Event, Number, Units


class Climate(Event):
    """A reading of the air where the pups lie: Celsius and percent."""

    kind: Literal["climate"] = "climate"
    place: Literal["box", "incubator", "room"]
    celsius: Number | None = None
    humidity: Number | None = None

    reads_back_whole: ClassVar[bool] = True

    def say(self, units: Units) -> str:
        words: list[str] = [self.place]
        if self.celsius is not None:
            words.append(units.celsius(self.celsius))
        if self.humidity is not None:
            words.append(f"{units.number(self.humidity)} percent")
        return " ".join(words)
