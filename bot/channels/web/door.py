"""The small pages around the log: the form to join by, and what is said to a device that may see nothing."""

from __future__ import annotations

from base64 import b64encode
from hashlib import sha256
from html import escape
from importlib.resources import files

NOT_JOINED = "This device has not joined."
"""All that an uninvited device is told."""

USED = (
    "This link cannot be used: each link joins one device, once, and only for a while. "
    "Ask someone who has joined to type “invite” and your name, or run “lampwatch invite” on the machine."
)
"""What a link says that was used, has expired, or never was."""

LONGEST_NAME = 40
"""Characters in a person's name, so that it fits above their lines."""

_LOOK = files(__package__).joinpath("door.css").read_text(encoding="utf-8")

POLICY = (
    f"default-src 'none'; style-src 'sha256-{b64encode(sha256(_LOOK.encode()).digest()).decode()}'; img-src data:; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
"""The content policy of these pages: their own style, their own form, no script at all."""


def join_page(*, name: str = "", wrong: str = "", day: bool = False) -> str:
    """The form that a join link opens. It uses nothing up by being looked at: links are opened ahead by those who carry them."""
    fault = f'<p class="wrong" role="alert">{escape(wrong)}</p>' if wrong else ""
    return _page(
        f"""<p>A night log for the litter, shared by those who keep watch. Under what name do you write in it?</p>{fault}
<form method="post"><label for="name">Your name</label>
<input id="name" name="name" value="{escape(name)}" maxlength="{LONGEST_NAME}" required autofocus autocomplete="given-name"
 enterkeyhint="go">
<button type="submit">Join on this device</button></form>""",
        day=day,
    )


def used_page(*, day: bool = False) -> str:
    """What a link shows that joins no one any more."""
    return _page(f"<p>{USED}</p>", day=day)


def not_joined_page() -> str:
    """What the address shows to a device that is not joined."""
    return _page(f"<p>{NOT_JOINED} It needs a link: from someone who has joined, or from the machine that keeps the log.</p>", day=False)


def _page(inside: str, *, day: bool) -> str:
    return f"""<!doctype html>
<html lang="en"{' class="day"' if day else ""}>
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex"><title>lampwatch</title><link rel="icon" href="data:,"><style>{_LOOK}</style></head>
<body><main><h1>lampwatch</h1>{inside}</main></body>
</html>
"""
