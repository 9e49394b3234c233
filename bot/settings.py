"""Settings are what a household may choose before the bot starts: port, address, zone, and where the log is kept."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from difflib import get_close_matches
from ipaddress import ip_address
from pathlib import Path
from typing import Annotated, Any
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo, available_timezones

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError
from pydantic_core import ErrorDetails

from bot.data_home import FILE_NAME, SetupError, data_home

__all__ = ["FILE_NAME", "Settings", "SetupError", "data_home", "load"]


def _known_zone(name: str) -> str:
    if name not in available_timezones():
        near = get_close_matches(name.replace(" ", "_"), available_timezones(), n=1, cutoff=0.6)
        raise ValueError(f"did you mean {near[0]}?" if near else "write it like America/Chicago")
    return name


def _own_address(address: str) -> str:
    return str(ip_address(address)) if address else ""


def _a_broker(address: str) -> str:
    url = urlsplit(address)
    if url.scheme not in ("mqtt", "mqtts") or not url.hostname:
        raise ValueError("no broker's address")
    return address


def _hours(said: str) -> str:
    if not said:
        return said
    hours = said.replace(" ", "").split("-")
    if len(hours) != 2 or not all(hour.isascii() and hour.isdigit() and int(hour) <= 24 for hour in hours) or hours[0] == hours[1]:
        raise ValueError("no hours")
    return "-".join(hours)


def _contact(address: str) -> str:
    if not address.startswith(("mailto:", "https://")):
        raise ValueError("no address")
    return address


def _web_address(address: str) -> str:
    if address and (urlsplit(address).scheme not in ("http", "https") or not urlsplit(address).hostname):
        raise ValueError("no web address")
    return address


class Settings(BaseModel):
    """Everything that `lampwatch.toml` may hold; a key it does not know is refused, so that no slip goes unseen."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    port: Annotated[int, Field(ge=0, le=65535)] = 8420
    """The port of the page; 0 takes any that is free."""
    address: Annotated[str, AfterValidator(_own_address)] = ""
    """The machine's own address to listen on; empty: all of them, so that phones at home reach it."""
    zone: Annotated[str, AfterValidator(_known_zone)] | None = None
    """The household's time zone; None: the machine's."""
    broker: Annotated[str, AfterValidator(_a_broker)] | None = None
    """The household's own MQTT broker, by which sensors may speak; None: none."""
    speaker: bool = False
    """Whether what is said unasked is spoken on this machine's sound output."""
    speaker_volume: Annotated[int, Field(ge=0, le=100)] = 100
    """How loud, in percent."""
    speaker_hours: Annotated[str, AfterValidator(_hours)] = ""
    """The hours by the household's clock in which nudges are spoken, such as 22-7; empty: all. Warnings are spoken at any hour."""
    webhook: Annotated[str, AfterValidator(_web_address)] = ""
    """An address that is told what is said unasked, as JSON; empty: none."""
    webhook_token: str = ""
    """What is shown to it, as a bearer token; empty: nothing."""
    notify: list[str] = []
    """Addresses of services in the notation of the extra `notify`."""
    push_contact: Annotated[str, AfterValidator(_contact)] = "mailto:lampwatch@example.org"
    """The address that push services may write to about our pushes; some refuse one that looks made up."""
    data: str | None = None
    """Where the log is kept; None: `lampwatch` in the user's data directory."""

    @property
    def directory(self) -> Path:
        """The data directory."""
        return Path(self.data).expanduser() if self.data else data_home()

    @property
    def speaks(self) -> tuple[int, int] | None:
        """From and until which hour nudges are spoken; None: at any."""
        begin, _, end = self.speaker_hours.partition("-")
        return (int(begin), int(end)) if end else None

    @property
    def tz(self) -> ZoneInfo | None:
        """The zone that was set, or None."""
        return ZoneInfo(self.zone) if self.zone else None


_WANTED = {
    "port": "a whole number from 0 to 65535",
    "address": "an address of this machine such as 192.168.1.20, or empty for all",
    "zone": "the name of a time zone such as America/Chicago",
    "broker": "the address of a broker such as mqtt://192.168.1.5/lampwatch",
    "speaker": "true or false",
    "speaker_volume": "a whole number from 0 to 100",
    "speaker_hours": 'two hours of the day such as "22-7", or empty for all',
    "webhook": "a web address such as http://192.168.1.5/nudges",
    "webhook_token": "a word, in quotes",
    "notify": 'a list of addresses such as ["json://192.168.1.5/nudges"]',
    "push_contact": "an address such as mailto:you@example.org",
    "data": "the path of a directory, in quotes",
}
"""What each setting holds, in the words of an error."""
_SECRET = frozenset({"broker", "webhook", "webhook_token", "notify"})
"""What may hold a password, and is quoted nowhere."""


def load(*, config: str | None = None, data: str | None = None, port: int | str | None = None) -> Settings:
    """The settings of a start: the file `config` (or the one in the data directory), over it what the command line says.

    Raises SetupError where the file or a value is wrong; nothing is guessed in its place.
    """
    path = Path(config).expanduser() if config else (Path(data).expanduser() if data else data_home()) / FILE_NAME
    table = _table(path, needed=config is not None)
    said: dict[str, Any] = {"data": data, "port": _whole(port)}
    settings = _checked(table, f"{path}: ")
    return _checked(settings.model_dump() | {key: value for key, value in said.items() if value is not None}, "--")


def _table(path: Path, *, needed: bool) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        if not needed:
            return {}
        raise SetupError(f"There is no settings file {path}: check the name after --config, or leave it away.") from None
    except OSError as problem:
        raise SetupError(f"The settings file {path} cannot be read ({_reason(problem)}): make it readable for this user.") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as problem:
        raise SetupError(f"The settings file {path} is not TOML ({problem}): a line looks like  port = 8420.") from None


def _whole(port: int | str | None) -> int | str | None:
    """A port from the command line as a number, where it is one; else as it was typed, to be quoted in the error."""
    return int(port) if isinstance(port, str) and port.isascii() and port.isdigit() else port


def _checked(values: Mapping[str, Any], where: str) -> Settings:
    try:
        return Settings.model_validate(values)
    except ValidationError as problem:
        raise SetupError(_sentence(problem.errors()[0], where)) from None


def _sentence(error: ErrorDetails, where: str) -> str:
    key = str(error["loc"][0])
    if error["type"] == "extra_forbidden":
        near = get_close_matches(key, _WANTED, n=1)
        known = f"did you mean {near[0]}?" if near else f"known are {', '.join(_WANTED)}."
        return f"{where}there is no setting {key!r}: {known}"
    given = str(error["input"])
    if key in _SECRET:
        return f"{where}{key} must be {_WANTED[key]}."
    shown = given if len(given) <= 60 else given[:57] + "..."
    hint = f" ({error['ctx']['error']})" if key == "zone" and error["type"] == "value_error" else ""
    return f"{where}{key} must be {_WANTED[key]}, not {shown!r}{hint}."


def _reason(problem: OSError) -> str:
    return (problem.strerror or str(problem)).lower()
