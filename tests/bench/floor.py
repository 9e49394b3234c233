"""The floor: the least that any bot does between a message and its reply, a bare aiohttp echo and one bare SQLite FULL commit.

python -m tests.bench.floor PORT DATABASE
"""

from __future__ import annotations

import sqlite3
import sys

from aiohttp import WSMsgType, web


def application(database: str) -> web.Application:
    """An echo over a WebSocket that commits each message before it answers."""
    connection = sqlite3.connect(database, isolation_level=None)
    connection.execute("pragma journal_mode = wal")
    connection.execute("pragma synchronous = full")
    connection.execute("create table if not exists said (id integer primary key, text text not null)")

    async def line(request: web.Request) -> web.WebSocketResponse:
        socket = web.WebSocketResponse(compress=False)
        await socket.prepare(request)
        async for frame in socket:
            if frame.type is WSMsgType.TEXT:
                connection.execute("insert into said (text) values (?)", (frame.data,))
                await socket.send_str(frame.data)
        return socket

    app = web.Application()
    app.router.add_get("/socket", line)
    return app


if __name__ == "__main__":
    web.run_app(application(sys.argv[2]), host="127.0.0.1", port=int(sys.argv[1]), print=None, access_log=None)
