"""The sensors of a household: one is let in with a token of its own, and what it tells is written into the log where it changes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from pydantic import BaseModel

from bot.care.sensors import Heard, Place, Sensed, known_place
from bot.household.joining import hashed
from storage import Journal, Sensor

HEARD_EVERY = timedelta(seconds=50)
"""How much later a sensor must be heard for that to be written down: one that speaks each second must not wear out a memory card."""
SENDER = "{place} sensor"
"""The name by which a sensor speaks in the log."""


class Sensors:
    """Who of the sensors is known, and what each said last."""

    def __init__(self, journal: Journal[BaseModel], make_secret: Callable[[], str]) -> None:
        self._journal = journal
        self._secret = make_secret
        self._known = {sensor.token_hash: sensor for sensor in journal.sensors.all()}
        self._listening_since: datetime | None = None

    def add(self, place: Place, by: str, now: datetime) -> str:
        """Let a sensor in: gives its token, which is kept nowhere. Raises NotKept."""
        token = self._secret()
        self._add(hashed(token), place, by, now)
        return token

    def of_broker(self, place: Place, now: datetime) -> Sensor:
        """The sensor that comes by the household's own broker for this place: it is let in when it is first heard."""
        key = f"broker {place}"
        if key not in self._known:
            self._add(key, place, "broker", now)
        return self._known[key]

    def with_token(self, token: str) -> Sensor | None:
        """The sensor that shows this token; None: nobody's."""
        return self._known.get(hashed(token))

    def heard(self, sensor: Sensor, now: datetime) -> None:
        """It was heard from, and what it said is as it was."""
        if sensor.heard_at is None or now - sensor.heard_at >= HEARD_EVERY:
            self._journal.sensors.heard(sensor.token_hash, now)
        self._known[sensor.token_hash] = replace(sensor, heard_at=now.astimezone(UTC))

    def kept(self, sensor: Sensor, sensed: Sensed, now: datetime) -> None:
        """What it said is written down."""
        self._journal.sensors.kept(sensor.token_hash, now, sensed.celsius, sensed.humidity)
        moment = now.astimezone(UTC)
        self._known[sensor.token_hash] = replace(sensor, heard_at=moment, kept_at=moment, celsius=sensed.celsius, humidity=sensed.humidity)

    def listening(self, now: datetime) -> Sequence[Heard]:
        """Every sensor that was ever heard, and when last: not before the bot itself began to listen, for it may have been off."""
        if self._listening_since is None:
            self._listening_since = now.astimezone(UTC)
        return [
            Heard(known_place(sensor.place), max(sensor.heard_at, self._listening_since))
            for sensor in self._known.values()
            if sensor.heard_at is not None
        ]

    def _add(self, key: str, place: Place, by: str, now: datetime) -> None:
        self._journal.sensors.add(key, place, by, now)
        self._known[key] = Sensor(key, place, by, now.astimezone(UTC))
