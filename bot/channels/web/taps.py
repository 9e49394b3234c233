"""What a question of the bot can be answered with by a tap: taken from what is kept beside the message, not from the words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from bot.conversation import checks
from bot.conversation.replying import LISTED

SETTING_UP = {"delivery": ["yes", "no", "skip"], "weights_in": ["grams", "ounces", "skip"], "zone": ["yes", "skip"]}
"""The answers to each question of the first night that has a few; to all others the one answer is to skip it."""


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
