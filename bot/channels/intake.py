"""What every way in asks of a message before the bot hears it: that it is of a bearable length, and of whole characters."""

from __future__ import annotations

LONGEST_TEXT = 150_000
"""Characters in one message; a longer one is answered politely and not kept. (A night's worth of typing is a tenth of it.)"""


def too_long(text: str) -> str | None:
    """What to tell the sender of a message that is too long; None where it is not."""
    if len(text) <= LONGEST_TEXT:
        return None
    return f"That is {len(text):,} characters long, and one message holds {LONGEST_TEXT:,}. Nothing was kept: send it in parts."


def whole(text: str) -> str:
    """The text with a replacement sign for each half of a character, which no file could keep."""
    return text if text.isascii() else text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")
