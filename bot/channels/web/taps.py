"""What the bot can be answered with by a tap, to a question and to a nudge: taken from what is kept beside it, not from its words."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from bot.conversation import checks
from bot.conversation.replying import LISTED

SETTING_UP = {"delivery": ["yes", "no", "skip"], "weights_in": ["grams", "ounces", "skip"], "zone": ["yes", "skip"]}
"""The answers to each question of the first night that has a few; to all others the one answer is to skip it."""

DONE = {
    "nursing": "nursed",
    "clearing": "cleared",
    "toilet": "stimulated",
    "first milk": "nursed",
    "supervision": "looked in on them",
}
"""What is said of dogs once the care that a nudge asks for is done, where that needs no figure."""
CAN_BE_REFUSED = ("nursing", "first milk")
MOST_REFUSED = 4
"""For more pups than this a refusal is typed: so many buttons would hide the one that is wanted."""
LATER = "snooze 20"
TRY_IT = "test my alarm"


def nudge_taps(about: str | None, who: Sequence[int | str], values: Mapping[str, Any], living: Collection[int]) -> list[str]:
    """The likely answers to a nudge about these dogs, as they would be typed: that it is done, that it is refused, and not now."""
    pups = [one for one in who if isinstance(one, int)]
    done: list[str] = []
    if about == "dose":
        done = _given(who, values)
    elif about == "supervision":
        done = [DONE[about]]
    elif about in DONE and pups:
        done = [f"{'all' if len(pups) > 1 and set(pups) >= set(living) else ', '.join(map(str, pups))} {DONE[about]}"]
    refused = [f"{pup} refused" for pup in pups] if about in CAN_BE_REFUSED and len(pups) <= MOST_REFUSED else []
    return [*done, LATER, *refused]


def _given(who: Sequence[int | str], values: Mapping[str, Any]) -> list[str]:
    """That a dose was given, to each dog by itself: a number beside a drug could be an amount."""
    drugs = {one: values.get("drug") or (values.get(str(one)) or {}).get("drug") for one in who}
    return [f"gave {'mom' if one == 'dam' else f'pup {one}'} {drug}" for one, drug in drugs.items() if drug]


def taps(notes: Mapping[str, Any]) -> list[str]:
    """The answers to what is asked back, as they would be typed; none where nothing is asked, or where only words will do."""
    if "check" in notes:
        return _to_check(notes["check"])
    if "asks" in notes:
        return SETTING_UP.get(str(notes["asks"]), ["skip"])
    return []


def _to_check(check: Mapping[str, Any]) -> list[str]:
    options = checks.options_of(check)
    if pups := checks.by_pup(options):
        return [*(str(pup) for pup in pups), "no"]
    if not options or check.get("which_pup"):
        return []
    if len(options) == 1:
        return ["yes", "no"]
    return [*(str(number) for number in range(1, len(options[:LISTED]) + 1)), "no"]
