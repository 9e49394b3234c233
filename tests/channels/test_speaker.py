"""The speaker at the box, with Debian's espeak-ng, which writes a file in place of the sound card."""

from __future__ import annotations

import shutil
import wave
from collections.abc import Sequence
from pathlib import Path
from typing import Literal
from zoneinfo import ZoneInfo

import pytest

from bot.channels.speaker import PROGRAM, Speaker, spoken
from bot.conversation import Said
from bot.delivery import Came
from tests.channels.house import START, HeldClock

pytestmark = pytest.mark.skipif(shutil.which(PROGRAM) is None, reason="needs Debian's espeak-ng: apt-get install espeak-ng")

WORDS = "Pups 1 and 2 are due to nurse: last nursed 3:14 am."


def said(text: str = WORDS, says: Literal["nudge", "warning"] = "nudge", to: str = "all") -> Said:
    return Said(START, to, says, text, id=1)


def speaker(more: Sequence[str], *, clock: HeldClock | None = None, **settings: object) -> Speaker:
    return Speaker(clock or HeldClock(), lambda: ZoneInfo("America/Chicago"), more=more, **settings)  # type: ignore[arg-type]


def sound(file: Path) -> tuple[float, int]:
    """How long it is, in seconds, and how loud at its loudest."""
    with wave.open(str(file)) as heard:
        frames = heard.readframes(heard.getnframes())
        samples = [int.from_bytes(frames[at : at + 2], "little", signed=True) for at in range(0, len(frames), 2)]
        return heard.getnframes() / heard.getframerate(), max(map(abs, samples))


def names(folder: Path) -> list[str]:
    return [file.name for file in folder.iterdir()]


async def test_a_nudge_is_spoken_and_has_then_arrived(tmp_path: Path) -> None:
    assert await speaker(["-w", str(tmp_path / "said.wav")]).say(said(), "Ines") is Came.ARRIVED
    seconds, loudest = sound(tmp_path / "said.wav")
    assert 2 < seconds < 8
    assert loudest > 5_000


async def test_the_volume_is_that_of_the_settings(tmp_path: Path) -> None:
    for percent in (100, 20):
        await speaker(["-w", str(tmp_path / f"{percent}.wav")], volume=percent).say(said(), "Ines")
    assert sound(tmp_path / "20.wav")[1] < sound(tmp_path / "100.wav")[1] / 2


async def test_nudges_keep_to_the_hours_and_warnings_do_not(tmp_path: Path) -> None:
    clock, file = HeldClock(), tmp_path / "said.wav"  # 3:14 am
    for hours, came in (((22, 7), Came.ARRIVED), ((7, 22), Came.FAILED), ((3, 4), Came.ARRIVED)):
        assert await speaker(["-w", str(file)], clock=clock, hours=hours).say(said(), "Ines") is came
    assert await speaker(["-w", str(file)], clock=clock, hours=(7, 22)).say(said(says="warning"), "Ines") is Came.ARRIVED


async def test_words_that_look_like_an_option_or_a_command_are_only_words(tmp_path: Path) -> None:
    evil = f"-w {tmp_path / 'evil.wav'} $(touch {tmp_path / 'evil'}); \x00 <break/>"
    assert await speaker(["-w", str(tmp_path / "said.wav")]).say(said(evil), "Ines") is Came.ARRIVED
    assert names(tmp_path) == ["said.wav"]


@pytest.mark.parametrize("more", [["-w", "/nowhere/said.wav"], ["-v", "no-such-voice"]])
async def test_what_could_not_be_heard_has_not_arrived_and_is_logged_once(more: list[str], caplog: pytest.LogCaptureFixture) -> None:
    broken = speaker(more)
    assert [await broken.say(said(), "Ines") for _ in range(2)] == [Came.FAILED, Came.FAILED]
    assert len([record for record in caplog.records if "speaker" in record.message]) == 1


async def test_what_does_not_come_to_an_end_is_ended(tmp_path: Path) -> None:
    hung = speaker(["-w", str(tmp_path / "said.wav")], seconds=0.0)
    assert await hung.say(said(), "Ines") is Came.FAILED


async def test_without_the_program_nothing_has_arrived() -> None:
    assert await speaker([], program="/nowhere/espeak-ng").say(said(), "Ines") is Came.FAILED


def test_it_is_said_for_whom_and_each_line_is_a_sentence() -> None:
    assert spoken(said("Two things:\npup 1\npup 2.", to="Theo")) == "Theo! Two things. pup 1. pup 2."
