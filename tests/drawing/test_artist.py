"""The drawing process: begun at the first chart, kept, let go; and whatever becomes of it, there is a picture or a sentence."""

from __future__ import annotations

import asyncio
import os
import signal
import subprocess
import sys
from collections.abc import AsyncIterator

import pytest

from bot.drawing.artist import Artist, NotDrawn
from tests.drawing.test_picture import CURVES, NIGHT

PNG = b"\x89PNG\r\n\x1a\n"


@pytest.fixture
async def artist() -> AsyncIterator[Artist]:
    artist = Artist()
    yield artist
    artist.close()


async def test_the_process_begins_with_the_first_chart_and_draws_the_next_ones_too(artist: Artist) -> None:
    assert artist.process_id is None
    assert (await artist.draw(CURVES, "dark")).startswith(PNG)
    first = artist.process_id
    pictures = await asyncio.gather(artist.draw(NIGHT, "light"), artist.draw(CURVES, "paper"))
    assert all(picture.startswith(PNG) for picture in pictures)
    assert artist.process_id == first


async def test_a_process_that_died_while_it_was_idle_is_begun_again(artist: Artist) -> None:
    await artist.draw(CURVES, "dark")
    first = artist.process_id
    assert first is not None
    os.kill(first, signal.SIGKILL)
    assert (await artist.draw(CURVES, "dark")).startswith(PNG)
    assert artist.process_id not in (None, first)


async def test_a_process_that_takes_too_long_is_ended_and_there_is_a_sentence(caplog: pytest.LogCaptureFixture) -> None:
    artist = Artist(seconds_to_draw=0.001)
    with pytest.raises(NotDrawn, match=r"^That could not be drawn just now\."):
        await artist.draw(CURVES, "dark")
    assert artist.process_id is None
    assert "failed and is ended" in caplog.text


@pytest.mark.parametrize("python", ["/bin/false", "/nowhere/python"])
async def test_a_process_that_cannot_even_begin_gives_a_sentence(python: str) -> None:
    artist = Artist(python=python)
    with pytest.raises(NotDrawn, match="stands in the words"):
        await artist.draw(CURVES, "dark")
    artist.close()


async def test_what_cannot_be_drawn_gives_a_sentence_and_the_next_chart_is_drawn(artist: Artist) -> None:
    with pytest.raises(NotDrawn, match="stands in the words"):
        await artist.draw(CURVES.model_copy(update={"curves": ()}), "dark")
    assert (await artist.draw(CURVES, "dark")).startswith(PNG)


async def test_the_process_is_let_go_when_nothing_was_drawn_for_long() -> None:
    artist = Artist(idle_seconds=0.01)
    await artist.draw(CURVES, "dark")
    await asyncio.sleep(0.05)
    assert artist.process_id is None
    assert (await artist.draw(CURVES, "dark")).startswith(PNG)
    artist.close()


async def test_whoever_stops_waiting_leaves_no_answer_to_the_next(artist: Artist) -> None:
    dark = await artist.draw(CURVES, "dark")
    waiting = asyncio.ensure_future(artist.draw(NIGHT, "dark"))
    await asyncio.sleep(0)
    waiting.cancel()
    with pytest.raises(asyncio.CancelledError):
        await waiting
    assert await artist.draw(CURVES, "dark") == dark


def test_the_process_that_serves_never_loads_what_draws() -> None:
    """Idle memory and the time to start depend on it."""
    look = "import sys, bot.app.serve; print([name for name in ('matplotlib', 'numpy', 'PIL', 'reportlab') if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", look], capture_output=True, text=True, check=True, timeout=60)
    assert done.stdout.strip() == "[]"
