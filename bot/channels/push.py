"""Web Push: rings a locked phone by the push service of its own browser. What is sent is sealed for the phone: the service cannot read it.

The library is an extra and takes 10 MB, so it is loaded in a thread, once there is a phone to push to.
"""

from __future__ import annotations

import asyncio
import json
import logging
import os
from base64 import urlsafe_b64encode
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from importlib.util import find_spec
from pathlib import Path
from typing import Any, Protocol
from urllib.parse import urlsplit

from aiohttp import ClientError, ClientSession, ClientTimeout
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from bot.conversation import Said
from bot.delivery import Came, Way

_log = logging.getLogger(__name__)

SECONDS_TO_SHOW = timedelta(minutes=1)
"""How long a phone is given to confirm what a push service took for it."""
SECONDS_TO_TAKE = 10.0
"""How long a push service is given to take it."""
NUDGE_LIVES, WARNING_LIVES = 600, 4 * 3600
"""Seconds for which a push service keeps it for a phone that is off. An older nudge has been said again by then."""
KEY_HOLDS = timedelta(hours=12)
"""How long a signature for a push service holds; services take at most 24 hours (RFC 8292, section 2)."""
LONGEST = 1_200
"""Bytes of the words in a push: with all around it under 3 KB; services take about 4."""
GONE = (404, 410)
"""With these a push service says that the phone no longer listens: its subscription ends. After anything else it is tried again."""
NO_DETAILS = "Something is due. Open the page."


class Subscription(BaseModel):
    """How the push service of a phone's browser is reached, as the browser tells it; and whether what is shown names no details."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    endpoint: str = Field(max_length=1_000, pattern=r"^https?://[^\s/]+/\S*$")
    keys: Mapping[str, str]
    private: bool = False

    @staticmethod
    def read(text: str | bytes) -> Subscription | None:
        """What a device wrote; None where it is none."""
        try:
            found = Subscription.model_validate_json(text)
        except ValidationError:
            return None
        ok = {"p256dh", "auth"} <= found.keys.keys() and all(len(key) <= 200 for key in found.keys.values())
        return found if ok and (found.endpoint.startswith("https:") or urlsplit(found.endpoint).hostname == "127.0.0.1") else None


class Phones(Protocol):
    """What pushing needs of the household (bot.household has it)."""

    def reaches(self, person: str) -> Sequence[tuple[str, str]]:
        """How each device of a person is reached, by the hash of its session."""

    def set_reach(self, session_hash: str, reach: str | None) -> None:
        """Say how a device is reached; None where it no longer can be."""


@dataclass(frozen=True)
class Sealed:
    """What goes to a push service."""

    body: bytes
    headers: Mapping[str, str]


class Push:
    """A way to each phone that asked for it."""

    way = Way("push", SECONDS_TO_SHOW)

    def __init__(self, phones: Phones, clock: Callable[[], datetime], key: Path, contact: str) -> None:
        """`key` is the file of the household's own key, made once; `contact` the address that push services may write to."""
        self._phones = phones
        self._clock = clock
        self._key = key
        self._contact = contact
        self._own: Any = None
        self._making = asyncio.Lock()

    @staticmethod
    def is_possible() -> bool:
        """Whether the extra is installed."""
        return find_spec("pywebpush") is not None

    async def public_key(self) -> str:
        """The key by which a browser knows our pushes."""
        return _public(await self._loaded())

    async def _loaded(self) -> Any:
        """The household's own key; loaded in a thread with the library. Sealing then takes 0.4 ms, less than a thread's turn."""
        async with self._making:
            if self._own is None:
                self._own = await asyncio.to_thread(_vapid, self._key)
            return self._own

    async def say(self, said: Said, to: str) -> Came:
        """Push it to every phone of that person; handed over where a push service took it for one."""
        reaches = [(phone, one) for phone, reach in self._phones.reaches(to) if (one := Subscription.read(reach)) is not None]
        took = await asyncio.gather(*(self._push(phone, one, said) for phone, one in reaches))
        return Came.HANDED if any(took) else Came.FAILED

    async def _push(self, phone: str, subscription: Subscription, said: Said) -> bool:
        payload = json.dumps(shown(said, private=subscription.private), ensure_ascii=False).encode()
        try:
            sealed = seal(subscription, payload, await self._loaded(), self._contact, self._clock() + KEY_HOLDS)
            lives = NUDGE_LIVES if said.says == "nudge" else WARNING_LIVES
            headers = {**sealed.headers, "TTL": str(lives), "Urgency": "high"}
            async with (
                ClientSession(timeout=ClientTimeout(total=SECONDS_TO_TAKE)) as session,
                session.post(subscription.endpoint, data=sealed.body, headers=headers, allow_redirects=False) as answer,
            ):
                status = answer.status
        except (ClientError, TimeoutError, OSError) as problem:  # its address is a secret of the phone, and not logged
            _log.warning("A push service could not be reached (%s): it is tried again, and the next way is gone.", type(problem).__name__)
            return False
        if status in GONE:
            self._phones.set_reach(phone, None)
        elif not 200 <= status < 300:
            _log.warning("A push service did not take a push (%s): it is tried again, and the next way is gone.", status)
        return 200 <= status < 300


def shown(said: Said, *, private: bool) -> dict[str, object]:
    """What the phone is to show."""
    if private:
        return {"id": said.id, "title": "lampwatch", "body": NO_DETAILS}
    title = "due" if said.urgency in (None, "routine") else said.urgency
    return {"id": said.id, "title": f"lampwatch: {title}", "body": said.text.encode()[:LONGEST].decode(errors="ignore")}


def seal(subscription: Subscription, payload: bytes, own: Any, contact: str, until: datetime) -> Sealed:
    """Encrypt for the phone (RFC 8291) and sign for its push service (RFC 8292) with our own key."""
    from pywebpush import WebPusher

    body = WebPusher({"endpoint": subscription.endpoint, "keys": dict(subscription.keys)}).encode(payload)["body"]
    url = urlsplit(subscription.endpoint)
    claims = {"sub": contact, "aud": f"{url.scheme}://{url.netloc}", "exp": int(until.timestamp())}
    signature = own.sign(claims)["Authorization"]
    return Sealed(body, {"Authorization": signature, "Content-Encoding": "aes128gcm", "Content-Type": "application/octet-stream"})


def _vapid(key: Path) -> Any:
    """The household's own key, made where there is none yet, for its owner alone. Loads the library: for a thread."""
    import pywebpush  # noqa: F401 (so that it is there for the sealing)
    from py_vapid import Vapid02

    if not key.exists():
        fresh = Vapid02()
        fresh.generate_keys()
        part = key.with_suffix(".part")
        part.unlink(missing_ok=True)
        with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
            file.write(fresh.private_pem())
        part.rename(key)
    return Vapid02.from_pem(key.read_bytes())


def _public(vapid: Any) -> str:
    from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

    point = vapid.public_key.public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)
    return urlsafe_b64encode(point).rstrip(b"=").decode()
