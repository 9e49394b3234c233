"""A broker of the household (MQTT) brings readings of sensors: what is published under PREFIX/box, PREFIX/incubator or PREFIX/room."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Awaitable, Callable
from urllib.parse import unquote, urlsplit

from bot.care.sensors import Place, Sensed, known_place
from bot.channels.sensing import LONGEST, read_sensed

_log = logging.getLogger(__name__)

AGAIN_AFTER = 5.0
"""Seconds until the broker is tried again once it went away."""
USUAL_PORT, SECURE_PORT = 1883, 8883

Sense = Callable[[Place, Sensed], Awaitable[object]]


async def listen(address: str, sense: Sense, *, again_after: float = AGAIN_AFTER) -> None:
    """Take readings from the broker at `mqtt://[user:secret@]host[:port][/prefix]` for as long as this runs; it comes back by itself.

    A reading that the broker kept for later listeners is passed over: nobody knows how old it is. The address is never logged.
    """
    import aiomqtt  # only where a broker is used: it is an extra

    url = urlsplit(address)
    prefix = url.path.strip("/") or "lampwatch"
    secure = url.scheme == "mqtts"
    told = False
    while True:
        try:
            async with aiomqtt.Client(
                url.hostname or "localhost",
                url.port or (SECURE_PORT if secure else USUAL_PORT),
                username=unquote(url.username) if url.username else None,
                password=unquote(url.password) if url.password else None,
                identifier=f"lampwatch-{prefix.replace('/', '-')}",
                clean_session=True,  # what was published while the bot was off is past, and would come as if it were now
                tls_params=aiomqtt.TLSParameters() if secure else None,
            ) as client:
                await client.subscribe(f"{prefix}/+", qos=1)
                told = False
                async for message in client.messages:
                    if not message.retain:
                        await _take(str(message.topic), message.payload, sense)
        except aiomqtt.MqttError as problem:
            if not told:
                _log.warning("The broker cannot be reached (%s): it is tried again every few seconds.", problem)
                told = True
            await asyncio.sleep(again_after)


async def _take(topic: str, payload: object, sense: Sense) -> None:
    """One reading; one that cannot be read is logged, for there is nobody to be answered."""
    try:
        place = known_place(topic.rpartition("/")[2])
    except ValueError as problem:
        _log.warning("A reading came under a topic that names no place. %s", problem)
        return
    sensed = read_sensed(payload[: LONGEST + 1]) if isinstance(payload, bytes | str) else "Not text."
    if isinstance(sensed, str):
        _log.warning("A reading of the sensor at the %s could not be used. %s", place, sensed)
        return
    await sense(place, sensed)
