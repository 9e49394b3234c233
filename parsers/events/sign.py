"""A sign of trouble was seen on a pup or the dam."""

from typing import Literal

from parsers.events.base import Event, Units, Who

PupSign = Literal[
    "milk at nose", "aspirated", "congested", "gasping", "blue gums", "pale gums", "limp", "weak", "cold", "hot", "crying", "restless",
    "not nursing", "vomiting", "diarrhea", "bloated", "dehydrated", "twitching", "wound", "navel swollen", "eye discharge", "cleft", "thin",
]  # fmt: skip
DamSign = Literal[
    "trembling", "stiff", "pale gums", "seizure", "panting", "restless", "weak", "vomiting", "diarrhea", "heavy bleeding", "foul discharge",
    "green discharge", "breast hot", "incision swollen", "incision open", "incision discharge", "rejecting pups", "growling",
    "mouthing pups hard", "lay on pup",
]  # fmt: skip


class Sign(Event):
    """Something seen that is not as it should be."""

    kind: Literal["sign"] = "sign"
    who: Who
    sign: PupSign | DamSign

    def say(self, units: Units) -> str:
        return str(self.sign)
