"""A pup declined one feed."""

from typing import Literal

from parsers.events.base import Event, Units, Who


class Refused(Event):
    """One feed or nursing declined (the lasting state is the sign `not nursing`)."""

    kind: Literal["refused"] = "refused"
    who: Who

    def say(self, units: Units) -> str:
        return "refused the nipple"
