"""The gate: who is not joined sees nothing, no foreign page may speak for someone who is, and nothing but our own page runs."""

from __future__ import annotations

import re
from collections.abc import Callable
from urllib.parse import urlsplit

from aiohttp import web
from aiohttp.typedefs import Handler, Middleware

from bot.channels.web.door import NOT_JOINED, not_joined_page
from bot.channels.web.sensor import CLIMATE

SESSION = "lampwatch"
"""The name of the cookie that holds a device's session."""
SESSION_SECONDS = 400 * 24 * 3600
"""How long a device stays joined without being seen: the longest that browsers keep a cookie."""
JOIN = "/join/"
"""Under this path alone something is shown to a device that is not joined: the form to join by. (A sensor has a door of its own.)"""
CALENDAR = "/calendar/"
"""Under this path a phone's calendar reads what is coming, by a secret link of its own; without one there is nothing there."""
PERSON = web.RequestKey("person", str)
"""Who is at the other end of a request."""

Who = Callable[[str], str | None]
"""Gives the person that a session belongs to."""


def gate(who: Who) -> Middleware:
    """The middleware that every request passes."""

    @web.middleware
    async def pass_gate(request: web.Request, handler: Handler) -> web.StreamResponse:
        if not same_origin(request):
            return sealed(request, web.Response(status=403, text="This page belongs to another site: open lampwatch by its own address."))
        if not request.path.startswith((JOIN, CALENDAR)) and request.path != CLIMATE:
            person = who(session_of(request))
            if person is None:
                return sealed(request, _not_joined(request))
            request[PERSON] = person
        try:
            return sealed(request, await handler(request))
        except web.HTTPException as refusal:
            return sealed(request, web.Response(status=refusal.status, text=f"{refusal.reason}.", headers=_kept(refusal)))

    return pass_gate


def _kept(refusal: web.HTTPException) -> dict[str, str]:
    return {name: refusal.headers[name] for name in ("Location", "Allow") if name in refusal.headers}


def _not_joined(request: web.Request) -> web.Response:
    if request.path in ("/", "/bedside") and request.method in ("GET", "HEAD"):
        return web.Response(status=401, text=not_joined_page(), content_type="text/html")
    return web.Response(status=401, text=NOT_JOINED)


def session_of(request: web.Request) -> str:
    """The session that a device shows, or an empty one."""
    return request.cookies.get(SESSION, "")


def remember(response: web.Response, session: str) -> None:
    """Give a device its session: never seen by a script, never sent along from another site."""
    response.set_cookie(SESSION, session, max_age=SESSION_SECONDS, path="/", httponly=True, samesite="Strict")


def same_origin(request: web.Request) -> bool:
    """Whether the request comes from our own page, or from no page at all; browsers always name the page of a socket and of a form."""
    origin = request.headers.get("Origin")
    return origin is None or urlsplit(origin).netloc.lower() == request.host.lower() != ""


def sealed(request: web.Request, response: web.StreamResponse) -> web.StreamResponse:
    """Put the seals on a response: only our own files run, no one frames us, nothing is kept in a cache or told to another site."""
    if response.prepared:
        return response
    host = request.host if re.fullmatch(r"[\w.\-]+(:\d+)?|\[[0-9a-fA-F:.]+\](:\d+)?", request.host) else ""
    line = f"connect-src 'self' ws://{host} wss://{host}" if host else "connect-src 'self'"  # older phones do not count a socket as self
    response.headers.setdefault(
        "Content-Security-Policy",
        f"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; {line}; form-action 'none'; "
        "base-uri 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'; trusted-types lampwatch",
    )
    response.headers["Cache-Control"] = "no-store"
    response.headers["Cross-Origin-Opener-Policy"] = "same-origin"
    response.headers["Cross-Origin-Resource-Policy"] = "same-origin"
    response.headers["Referrer-Policy"] = "same-origin"  # with "no-referrer" browsers would send our own form from a null origin
    response.headers["Server"] = "lampwatch"
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["X-Frame-Options"] = "DENY"
    return response
