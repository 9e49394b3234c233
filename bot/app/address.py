"""Where the bot can be reached: the machine's address at home, the link to join by, and that link as a picture for a phone's camera."""

from __future__ import annotations

import io
import socket

ANYWHERE = "192.0.2.1"
"""An address that belongs to no one (RFC 5737): asking the way to it shows our own address, and sends nothing."""


def home_address(listening: str) -> str:
    """The address by which other devices reach this machine, given what it listens on (empty: everywhere)."""
    if listening and listening not in ("0.0.0.0", "::"):
        return listening
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way:
        try:
            way.connect((ANYWHERE, 9))
            return str(way.getsockname()[0])
        except OSError:  # no way out of this machine: only it can reach itself
            return "127.0.0.1"


def page_at(address: str, port: int) -> str:
    """The page's address as it is typed into a browser."""
    host = f"[{address}]" if ":" in address else address
    return f"http://{host}" if port == 80 else f"http://{host}:{port}"


def join_link(page: str, token: str) -> str:
    """The link by which one device joins, once."""
    return f"{page}/join/{token}"


def calendar_link(page: str, token: str) -> str:
    """The link by which a phone's calendar reads what is coming."""
    return f"{page}/calendar/{token}.ics"


def picture(link: str) -> str:
    """The link as a QR code in characters, for a terminal."""
    import segno  # late: only a start and an invite draw one

    drawn = io.StringIO()
    segno.make(link, error="l", micro=False).terminal(drawn, compact=True)
    return drawn.getvalue().rstrip("\n")
