"""The web channel: the page, the line that each open page holds, and the form to join by."""

from __future__ import annotations

import secrets
from collections.abc import Awaitable, Callable, Collection, Sequence
from datetime import datetime, timedelta
from importlib.resources import files
from typing import Any, Protocol
from zoneinfo import ZoneInfo

from aiohttp import WSCloseCode, WSMsgType, web

from bot.channels.web import door
from bot.channels.web.devices import Device, Devices
from bot.channels.web.frames import LONGEST_FRAME, Earlier, Got, Ping, Shown, Typing, Unusable, Words, lines_frame, read_frame, write_frame
from bot.channels.web.gate import CALENDAR, JOIN, PERSON, gate, remember, session_of
from bot.channels.web.pushing import PushDoor
from bot.channels.web.sensor import CLIMATE, SensorDoor
from bot.channels.web.showing import CHART, SHEET, ShowingDoor
from bot.channels.web.taps import TRY_IT, nudge_taps
from bot.conversation import EVERYONE, Heard, Message, Said
from bot.conversation.unheard import UNHEARD
from bot.delivery import Came, Way
from bot.household import JoinRefused

SECONDS_TO_SHOW = timedelta(seconds=8)
"""How long an open page is given to confirm that a line stands before someone's eyes: one in a pocket cannot, and the next way is gone."""
HEARTBEAT_SECONDS = 20.0
"""How often each line is tried: phones vanish without a word."""
SECONDS_TO_CLOSE = 0.4
"""How long a page is given to agree that its line is closed: one that has vanished never does, and must not hold up a stop."""
TAPPED_FOR = timedelta(hours=1, minutes=30)
"""How long the answers to a nudge can be tapped: half an hour longer than it is repeated. Later it is typed, with its time."""
LINES_AT_ONCE = 200
"""Lines of the log that a page is given when it opens, and each time it asks for earlier ones."""
FORM_BYTES = 16 * 1024
"""The largest form or upload that is read at all."""
DAY_HOURS = range(7, 19)
"""The hours by the household's clock in which the form to join by may be light."""

KINDS = {".css": "text/css", ".html": "text/html", ".js": "text/javascript", ".svg": "image/svg+xml"}
PAGE = files(__package__) / "page"
FILES = {"/": "page.html", "/bedside": "page.html", "/favicon.ico": "favicon.svg"} | {
    f"/{file.name}": file.name for file in PAGE.iterdir() if file.name.endswith((".css", ".js"))
}
"""What the page is made of, by its path. All of it is only for those who have joined."""


class House(Protocol):
    """What the page needs of the household (bot.household has it)."""

    def person(self, session: str) -> str | None:
        """Who a session belongs to."""

    def people(self) -> Sequence[str]:
        """Everyone's name."""

    def history(self, *, after: int = 0, before: int | None = None, limit: int = 200) -> Sequence[Shown]:
        """Lines of the log, oldest first: the latest, or those after or before an id."""

    def preview(self, by: str, text: str, now: datetime, mends: int | None = None) -> str:
        """What the words of a message that is still being typed would be read as."""

    def spoken_to(self, litter: int | None) -> tuple[Collection[int], str]:
        """The pups of a litter that live, and what stands before a message that is for it; empty where there is only one litter."""

    def glance(self, now: datetime) -> list[dict[str, Any]]:
        """What stands at the top of the page, for each litter."""

    def invited(self, token: str, now: datetime) -> str | None:
        """The name that a join link was made for, perhaps empty; None where it joins no one."""

    def join(self, token: str, name: str, now: datetime, label: str = "") -> str:
        """Join a device under a name and give its session; raises JoinRefused in words for the person."""

    def calendar(self, token: str, now: datetime) -> bytes | None:
        """The calendar file for who shows the token of a link to it; None: nobody's."""

    def welcome(self, person: str, now: datetime) -> Sequence[Said]:
        """What the bot says first to someone who has just come."""

    @property
    def zone(self) -> ZoneInfo:
        """The household's zone."""


Hear = Callable[[Message, timedelta], Awaitable[Heard]]
"""Gives the bot a message, and how long it had waited on its device."""


class WebChannel:
    """The chat page of the household, live on every device. A channel of bot.delivery."""

    way = Way("page", SECONDS_TO_SHOW)

    def __init__(
        self,
        house: House,
        hear: Hear,
        clock: Callable[[], datetime],
        *,
        opened: Callable[[str], Awaitable[None]],
        got: Callable[[Sequence[int], str, str], None] = lambda *_: None,
        pushes: PushDoor,
        sensors: SensorDoor,
        shows: ShowingDoor,
        story: str = "",
    ) -> None:
        """`shows` has what is shown beside answers; `opened` is told whose page was opened, `got` which
        lines a person's device has shown, by which way; `story` is said above the log of a demo."""
        self.address = ""
        """The page's address as others at home reach it, once it is known."""
        self._devices = Devices()
        self._opened = opened
        self._got = got
        self._shows = shows
        self._house = house
        self._hear = hear
        self._clock = clock
        self._story = story
        self._sensors = sensors
        self._pushes = pushes
        self._run = secrets.token_hex(8)
        """Marks this run of the bot: a page that comes back after another run takes the log afresh."""
        self._shown = max((line.id for line in house.history(limit=1)), default=0)

    def show_news(self, lines: Sequence[Shown] = ()) -> None:
        """Bring every line that was kept since the last time to all open pages, whoever said it and by whichever way.

        `lines` are those that were kept just now, where they are at hand: if nothing else was kept, the log need not be asked for them.
        """
        at_hand = lines and [line.id for line in lines] == list(range(self._shown + 1, self._shown + 1 + len(lines)))
        news = lines if at_hand else self._house.history(after=self._shown, limit=LINES_AT_ONCE)
        if news:
            self._shown = news[-1].id
            self._devices.post(lines_frame(news, self._offers))

    def _offers(self, line: Shown) -> list[str]:
        """The answers to tap under what was said unasked, while they are likely ones."""
        if self._clock() - line.at > TAPPED_FOR:
            return []
        if line.says == "nudge" and line.litter is not None:
            living, address = self._house.spoken_to(line.litter)
            return [f"{address}{tap}" for tap in nudge_taps(line.about, line.who, line.values, living)]
        return [TRY_IT] if line.about == UNHEARD else []

    def show_glance(self) -> None:
        """Bring every open page up to date on what stands at its top."""
        if len(self._devices):
            self._devices.post(write_frame({"glance": self._house.glance(self._clock())}))

    async def say(self, said: Said, to: str) -> Came:
        """Show it, on every page with the rest of the log; a page of that person's, where one is open, confirms that it was seen."""
        if said.id is None or said.id > self._shown:
            self.show_news()
        return Came.HANDED if any(to in (EVERYONE, device.person) for device in self._devices) else Came.FAILED

    async def close(self) -> None:
        """Close every page, after what it is still owed; the pages then try by themselves until the bot is back."""
        await self._devices.close()

    def application(self) -> web.Application:
        """The pages and the line, behind the gate."""
        app = web.Application(middlewares=[gate(self._house.person)], client_max_size=FORM_BYTES)
        for path in FILES:
            app.router.add_get(path, self._file)
        app.router.add_get("/socket", self._line)
        app.router.add_get(CALENDAR + "{token}.ics", self._calendar)
        app.router.add_post(CLIMATE, self._sensors.take)
        app.router.add_routes(self._pushes.routes())
        app.router.add_get(CHART, self._shows.chart)
        app.router.add_get(SHEET, self._shows.sheet)
        app.router.add_get(JOIN + "{token}", self._form)
        app.router.add_post(JOIN + "{token}", self._join)
        return app

    # The pages

    async def _file(self, request: web.Request) -> web.Response:
        name = FILES[request.path]
        return web.Response(body=PAGE.joinpath(name).read_bytes(), content_type=KINDS[name[name.rindex(".") :]], charset="utf-8")

    async def _calendar(self, request: web.Request) -> web.Response:
        file = self._house.calendar(request.match_info["token"], self._clock())
        if file is None:
            raise web.HTTPNotFound
        return web.Response(body=file, content_type="text/calendar", charset="utf-8")

    async def _form(self, request: web.Request) -> web.Response:
        if self._house.person(session_of(request)) is not None:
            raise web.HTTPSeeOther("/")  # a device that is in already uses up no one's link
        name = self._house.invited(request.match_info["token"], self._clock())
        if name is None:
            return self._door(door.used_page(day=self._day), 410)
        return self._door(door.join_page(name=name, day=self._day), 200)

    async def _join(self, request: web.Request) -> web.Response:
        try:
            name = (await request.post()).get("name", "")
        except (web.HTTPRequestEntityTooLarge, ValueError):
            name = ""
        token = request.match_info["token"]
        name = " ".join(name.split()) if isinstance(name, str) else ""
        if self._house.invited(token, self._clock()) is None:
            return self._door(door.used_page(day=self._day), 410)
        try:
            session = self._house.join(token, name, self._clock(), request.headers.get("User-Agent", ""))
            self._house.welcome(self._house.person(session) or name, self._clock())
        except JoinRefused as refusal:
            return self._door(door.join_page(name=name[: door.LONGEST_NAME], wrong=str(refusal), day=self._day), 400)
        self._devices.post(write_frame({"people": list(self._house.people())}))
        self.show_news()
        answer = web.Response(status=303, headers={"Location": "/"})
        remember(answer, session)
        return answer

    def _door(self, page: str, status: int) -> web.Response:
        return web.Response(text=page, status=status, content_type="text/html", headers={"Content-Security-Policy": door.POLICY})

    @property
    def _day(self) -> bool:
        return self._clock().astimezone(self._house.zone).hour in DAY_HOURS

    # The line to each page

    async def _line(self, request: web.Request) -> web.WebSocketResponse:
        socket = web.WebSocketResponse(heartbeat=HEARTBEAT_SECONDS, timeout=SECONDS_TO_CLOSE, max_msg_size=LONGEST_FRAME, compress=False)
        await socket.prepare(request)
        device = Device(request, socket, session_of(request), request[PERSON])
        try:
            device.post(self._welcome(request))
            self._devices.add(device)
            await self._opened(device.person)
            async for frame in socket:
                person = self._house.person(device.session)
                if person is None:
                    await socket.close(code=WSCloseCode.POLICY_VIOLATION, message=b"no longer joined")
                elif frame.type is WSMsgType.TEXT:
                    await self._take(device, person, frame.data)
                    await device.hand_over()
        finally:
            self._devices.remove(device)
        return socket

    def _welcome(self, request: web.Request) -> bytes:
        """The first frame: who you are, and the lines that this page has not seen."""
        after = request.query.get("after", "0")
        seen = int(after) if request.query.get("run") == self._run and after.isascii() and after.isdigit() and len(after) < 19 else 0
        missed = self._house.history(after=seen, limit=LINES_AT_ONCE) if seen else []
        fresh = not seen or len(missed) == LINES_AT_ONCE
        lines = self._house.history(limit=LINES_AT_ONCE) if fresh else missed
        more: dict[str, object] = {"earlier": len(lines) == LINES_AT_ONCE, "fresh": True} if fresh else {}
        return lines_frame(
            lines,
            self._offers,
            you=request[PERSON],
            people=list(self._house.people()),
            zone=self._house.zone.key,
            run=self._run,
            page=self.address,
            story=self._story,
            glance=self._house.glance(self._clock()),
            **more,
        )

    async def _take(self, device: Device, person: str, data: str) -> None:
        match read_frame(data):
            case Words(text=text, client_id=client_id, waited=waited, mends=mends):
                heard = await self._hear(Message(person, text, client_id=client_id, mends=mends), waited)
                if heard.kept:
                    if heard.again:
                        device.post(write_frame({"kept": client_id}))
                else:
                    device.post(write_frame({"not_kept": client_id, "why": "\n".join(said.text for said in heard.said)}))
            case Typing(text=text, turn=turn, mends=mends):
                device.post(write_frame({"reads": self._house.preview(person, text, self._clock(), mends), "turn": turn}))
            case Earlier(before=before):
                lines = self._house.history(before=before, limit=LINES_AT_ONCE)
                device.post(lines_frame(lines, self._offers, earlier=len(lines) == LINES_AT_ONCE))
            case Got(ids=ids):
                self._got(ids, person, self.way.name)
            case Ping():
                device.post(b'{"pong":1}')
            case Unusable(why=why, client_id=client_id):
                device.post(write_frame({"why": why} if client_id is None else {"why": why, "not_kept": client_id}))
