"""The local socket: for its owner alone, one answer for each request, and a stale one in no one's way."""

from __future__ import annotations

import asyncio
import json
import socket
import stat
from collections.abc import AsyncIterator
from pathlib import Path

import pytest

from bot.channels.talk import SOCKET_NAME, Answer, NoBot, Request, Talk
from bot.channels.terminal import LONGEST_LINE, TerminalChannel


async def echo(request: Request) -> Answer:
    return {"kept": True, "text": str(request.get("text"))}


@pytest.fixture
async def terminal(tmp_path: Path) -> AsyncIterator[TerminalChannel]:
    terminal = TerminalChannel(tmp_path, echo)
    await terminal.start()
    yield terminal
    await terminal.stop()


async def asked(directory: Path, *texts: str) -> list[Answer]:
    def ask() -> list[Answer]:
        with Talk(directory) as talk:
            return [talk.ask({"text": text}) for text in texts]

    return await asyncio.to_thread(ask)


async def test_each_request_has_its_answer_in_order(terminal: TerminalChannel, tmp_path: Path) -> None:
    words = ["pup 3 212 g", "two\nlines", "שלום 🐕", "\x00", "a" * 200_000]
    assert [answer["text"] for answer in await asked(tmp_path, *words)] == words


async def test_only_the_owner_may_open_the_socket(terminal: TerminalChannel, tmp_path: Path) -> None:
    assert stat.S_IMODE((tmp_path / SOCKET_NAME).stat().st_mode) == 0o600


async def test_several_may_talk_at_once(terminal: TerminalChannel, tmp_path: Path) -> None:
    answers = await asyncio.gather(*(asked(tmp_path, f"a{number}", f"b{number}") for number in range(5)))
    assert [[answer["text"] for answer in each] for each in answers] == [[f"a{number}", f"b{number}"] for number in range(5)]


@pytest.mark.parametrize("line", [b"not json\n", b"[]\n", b"3\n", b"[" * 100_000 + b"\n", b"\xff\n", b"\n"])
async def test_what_is_no_request_is_answered_and_the_talk_goes_on(terminal: TerminalChannel, tmp_path: Path, line: bytes) -> None:
    reader, writer = await asyncio.open_unix_connection(tmp_path / SOCKET_NAME)
    writer.write(line + b'{"text": "after"}\n')
    assert json.loads(await reader.readline()) == {"kept": False, "text": "That could not be read, and nothing was kept."}
    assert json.loads(await reader.readline()) == {"kept": True, "text": "after"}
    writer.close()


async def test_a_line_beyond_all_limits_is_answered_before_the_talk_ends(terminal: TerminalChannel, tmp_path: Path) -> None:
    reader, writer = await asyncio.open_unix_connection(tmp_path / SOCKET_NAME)
    writer.write(b"a" * (LONGEST_LINE + 100_000))
    answer = json.loads(await reader.readline())
    assert answer["kept"] is False
    assert "send it in parts" in answer["text"]
    writer.close()


async def test_a_socket_that_a_crash_left_behind_is_put_aside(tmp_path: Path) -> None:
    left = socket.socket(socket.AF_UNIX)
    left.bind(str(tmp_path / SOCKET_NAME))
    left.close()
    with pytest.raises(NoBot):
        Talk(tmp_path)
    terminal = TerminalChannel(tmp_path, echo)
    await terminal.start()
    assert (await asked(tmp_path, "x"))[0]["kept"] is True
    await terminal.stop()
    assert not (tmp_path / SOCKET_NAME).exists()


async def test_where_no_bot_is_it_is_said_how_to_start_one(tmp_path: Path) -> None:
    with pytest.raises(NoBot, match="start it with `lampwatch serve`, or name its directory with --data"):
        Talk(tmp_path / "nowhere")


async def test_a_bot_that_goes_away_before_it_answers_leaves_the_sender_in_no_false_belief(tmp_path: Path) -> None:
    asked_for = asyncio.Event()

    async def never(request: Request) -> Answer:
        asked_for.set()
        await asyncio.Event().wait()
        raise AssertionError("it never comes so far")

    terminal = TerminalChannel(tmp_path, never)
    await terminal.start()
    asking = asyncio.create_task(asked(tmp_path, "pup 3 212 g"))
    await asked_for.wait()
    await terminal.stop()
    with pytest.raises(NoBot, match="stopped before it answered: look with `lampwatch log`"):
        await asking
