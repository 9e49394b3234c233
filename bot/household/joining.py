"""How someone joins: a link good once for one device, under a name they type; only hashes of its secrets are kept."""

from __future__ import annotations

import re
import secrets
from collections.abc import Callable
from datetime import datetime, timedelta
from functools import lru_cache
from hashlib import sha256

from pydantic import BaseModel

from storage import Journal, Person

KEEPER = "keeper"
"""May do everything."""
HELPER = "helper"
"""May log, ask, snooze and take the watch."""
INVITE_HOLDS = timedelta(hours=24)
"""How long a link can be used. Derived: long enough for someone to come home, short enough to be forgotten safely."""

_NAME = re.compile(r"[^\W\d_][\w .'’\-]{0,39}")
_NO_NAME = frozenset({"bot", "all", "everyone", "everybody", "dam", "mom", "mum", "mama", "pup", "lampwatch"})
"""Words that mean something else in a message or in the log."""


class JoinRefused(Exception):
    """Someone cannot join so; the text is a sentence for them."""


def new_secret() -> str:
    """A token that nobody can guess (128 bits), fit for a link."""
    return secrets.token_urlsafe(16)


@lru_cache(maxsize=64)
def hashed(token: str) -> str:
    """What is kept of a token."""
    return sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


def fit_name(name: str) -> str:
    """A name as it is kept; raises JoinRefused where it cannot be one."""
    name = " ".join(name.split())
    if not _NAME.fullmatch(name):
        raise JoinRefused("A name starts with a letter and has at most 40 letters. What are you called?")
    if name.casefold() in _NO_NAME:
        raise JoinRefused(f"“{name}” means something else in the log. Take another name.")
    return name


class Door:
    """Lets people in."""

    def __init__(self, journal: Journal[BaseModel], make_secret: Callable[[], str] = new_secret) -> None:
        self._journal = journal
        self._register = journal.register
        self._secret = make_secret

    def invite(self, by: str, name: str | None, now: datetime) -> str:
        """A new token for a link, for a named person or for whoever opens it; the first person of a household becomes its keeper.

        Raises JoinRefused where the name cannot be one.
        """
        name = None if name is None else fit_name(name)
        known = None if name is None else self._register.person(name)
        rights = KEEPER if not self._register.people() else HELPER
        token = self._secret()
        self._register.add_invite(
            hashed(token), by, name if known is None else known.name, known.rights if known else rights, now, now + INVITE_HOLDS
        )
        return token

    def join(self, token: str, name: str, now: datetime, label: str = "") -> str:
        """Join one device, under a name: gives the session's token, which is kept nowhere. Raises JoinRefused with a sentence."""
        invite = self._register.invite(hashed(token))
        if invite is None:
            raise JoinRefused("This link is not one of ours, or was copied in part. Ask a keeper for a new one.")
        if invite.used_at is not None:
            raise JoinRefused("This link was used already; it joins one device. Ask a keeper for a new one.")
        if invite.expires_at <= now:
            raise JoinRefused("This link is too old. Ask a keeper for a new one.")
        name = fit_name(name)
        person = self._register.person(name)
        if person is not None and (invite.name is None or invite.name.casefold() != name.casefold()):
            raise JoinRefused(
                f"{person.name} is in the household already. If that is you, ask for a link of your own with “invite {person.name}”; "
                "else take another name."
            )
        session = self._secret()
        with self._journal.together():
            if not self._register.use_invite(hashed(token), name, now):
                raise JoinRefused("This link was used already; it joins one device. Ask a keeper for a new one.")
            if person is None:
                self._register.add_person(name, invite.rights if self._register.people() else KEEPER, now)
            self._register.add_device(hashed(session), name if person is None else person.name, label[:80], now)
        return session

    def take_in(self, name: str, now: datetime) -> Person:
        """Join someone who is known to be at home already (a line of a transcript, a terminal of the machine): no link, no device."""
        name = fit_name(name)
        person = self._register.person(name)
        if person is None:
            self._register.add_person(name, HELPER if self._register.people() else KEEPER, now)
            person = self._register.person(name)
            assert person is not None
        return person
