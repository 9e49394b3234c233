"""The words by which a keeper asks for a link to the calendar, or ends all of them. They stay the note that they are."""

from __future__ import annotations

import re

from bot.conversation.scene import Scene
from bot.conversation.setting_up import only_keepers

_A_LINK = "(?:calendar|calender) (?:link|feed|address|url|subscription)"
_NEW = re.compile(
    rf"(?:(?:a |the |new |another |my |make |give |send |get |show |me |us |i want |i need )*{_A_LINK}"
    r"|subscribe (?:me )?(?:to )?(?:the )?calendar|(?:the )?calendar (?:on|for|to) (?:my |our |the )?phone"
    r"|link (?:to|for) (?:the )?calendar)(?: please)?"
)
_END = re.compile(rf"(?:stop|end|revoke|cancel|delete|remove|kill|close) (?:all |the |my |every |old )*{_A_LINK}s?(?: please)?")


def answer(text: str, scene: Scene) -> str | None:
    """What is said to these words; None where they are something else."""
    words = " ".join(text.casefold().split()).strip(" .!?")
    if not (new := _NEW.fullmatch(words)) and not _END.fullmatch(words):
        return None
    sender = scene.sender
    if not sender.keeper:
        return only_keepers(sender.keepers)
    if sender.calendar is None:
        return "The bot on the home network makes the calendar's link: ask it there."
    return sender.calendar(not new, sender.name, scene.now)
