"""Worry: someone asks what to do now. The act comes first, the reason second, and the vet always."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from bot.care.dog import Dog
from bot.care.figures import figures
from bot.care.nursery import Nursery
from bot.care.wording import say_temperature
from bot.reports.answer import Answer
from bot.reports.asked import Asked

_WARM_TO = figures("warmth").number("warm_before_a_feed")

_CALL = "Call your vet or the emergency clinic now"
_ACTS: Mapping[str, str] = {
    "cold": "Until then warm the pup slowly against your skin, and give no feed before it is {warm}: a cold gut cannot take milk.",
    "hot": "Until then cool the box and give the pup room to move away from the heat.",
    "breath": "Until then hold the pup level, clear its mouth and nose gently, keep it warm, and give nothing by mouth.",
    "nothing by mouth": "Until then keep the pup warm and quiet against your skin, and give nothing by mouth.",
    "off her": "Until then take the pups off her and keep them warm: trembling or stiffness can be low calcium, and it moves fast.",
    "part them": "Until then take the pups from her, keep them warm, and never leave them alone with her.",
    "the dam": "Until then stay with her, keep her calm, and keep the pups warm at her side or apart from her.",
    "the litter": "Until then keep the pups warm and dry, and give nothing by mouth to one that is cold, limp or struggling for breath.",
}
_OF_A_PUP: Mapping[str, str] = {
    "cold": "cold",
    "hot": "hot",
    **dict.fromkeys(("gasping", "blue gums", "milk at nose", "aspirated", "congested"), "breath"),
}
_OF_THE_DAM: Mapping[str, str] = {
    **dict.fromkeys(("trembling", "stiff", "seizure", "panting"), "off her"),
    **dict.fromkeys(("growling", "mouthing pups hard", "lay on pup", "rejecting pups"), "part them"),
}


def answer(asked: Asked) -> Answer:
    """What to do until the vet answers, for what was just seen; the vet's number where the household told it."""
    nursery = asked.nursery
    dogs = (nursery.dam,) if asked.question.who == "dam" else asked.pups if asked.named else ()
    act = _ACTS[_act(dogs, asked.now)].format(warm=say_temperature(_WARM_TO, nursery.temperatures_in))
    names = " and ".join(dog.called for dog in dogs)
    about = f" about {'the dam' if names == 'The dam' else names}" if names else ""
    return Answer(f"{_CALL}{about}{_numbers(nursery)}. {act}", about="worry", who=tuple(dog.who for dog in dogs))


def _act(dogs: tuple[Dog, ...], now: datetime) -> str:
    """The act for the sign that was told in this very message, if one was."""
    if not dogs:
        return "the litter"
    is_dam = dogs[0].who == "dam"
    for dog in dogs:
        seen = dog.last.get("sign")
        if seen is not None and seen.told_at == now:
            sign = str(getattr(seen.event, "sign", ""))
            found = (_OF_THE_DAM if is_dam else _OF_A_PUP).get(sign)
            if found is not None:
                return found
    return "the dam" if is_dam else "nothing by mouth"


def _numbers(nursery: Nursery) -> str:
    said = [f"{phone.of} {phone.number}" for phone in nursery.choices.phones.values()]
    return f" ({', '.join(said)})" if said else ""
