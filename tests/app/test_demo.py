"""The night that `lampwatch serve --demo` tells."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from bot.app.demo import LONGEST_PAUSE, SHORTEST_PAUSE, Telling, first_zone, night, pause
from bot.app.running import Running
from bot.clock import StoryClock
from bot.conversation import Message
from bot.transcript import Line, run_replay
from tests.app.served import ROOT, run, serving

NIGHT = night()


class Told:
    """A bot to which the night is told, without waiting."""

    def __init__(self) -> None:
        self.clock = StoryClock(NIGHT.steps[0].at)
        self.running = Running(None, first_zone(NIGHT), self.clock)
        self.household = self.running.household
        self.pauses: list[float] = []

    async def wait(self, seconds: float) -> None:
        self.pauses.append(seconds)

    async def tell(self) -> None:
        await Telling(NIGHT, self.clock, self.running, self.wait).tell()


@pytest.fixture
def told() -> Iterator[Told]:
    told = Told()
    yield told
    told.running.stop()


def lines_of(people_only: bool) -> list[str]:
    return [line.text for line in NIGHT.lines if not people_only or line.by != "bot"]


async def test_the_page_shows_the_night_as_it_is_written(told: Told) -> None:
    told.running.opened.set()
    await told.tell()
    shown = [line.text for line in told.household.history(limit=500)]
    assert shown == lines_of(people_only=False)


async def test_what_is_before_the_last_day_is_told_at_once_and_the_rest_waits_for_the_page(told: Told) -> None:
    telling = asyncio.create_task(told.tell())
    for _ in range(100):  # turns of the loop, far more than it takes
        await asyncio.sleep(0)
    assert told.pauses == []
    before = [line.text for line in told.household.history(limit=500)]
    assert before == lines_of(people_only=False)[: len(before)]
    assert 0 < len(before) < len(NIGHT.lines)
    told.running.opened.set()
    await telling
    assert len(told.household.history(limit=500)) == len(NIGHT.lines)
    assert told.pauses


async def test_it_takes_well_under_a_minute_and_no_line_is_hurried(told: Told) -> None:
    told.running.opened.set()
    await told.tell()
    assert sum(told.pauses) < 60
    assert all(SHORTEST_PAUSE <= seconds <= LONGEST_PAUSE for seconds in told.pauses)


async def test_there_is_a_nudge_an_answer_a_question_back_and_a_second_person_in_it(told: Told) -> None:
    told.running.opened.set()
    await told.tell()
    history = told.household.history(limit=500)
    assert {"reply", "answer", "nudge"} <= {line.says for line in history}
    assert "check" in {line.does for line in history}
    assert len({line.by for line in NIGHT.lines}) == 3


async def test_the_newcomer_may_type_along_and_afterwards(told: Told) -> None:
    token = told.household.invite("lampwatch", None, told.clock())
    told.running.opened.set()
    told.household.join(token, "Newcomer", told.clock())
    await told.tell()
    heard = await told.running.hear(Message("Newcomer", "call pup 5 Bramble"))
    assert heard.kept
    assert "Bramble" in heard.said[0].text
    assert told.clock() - NIGHT.steps[-1].at < timedelta(minutes=1)


async def test_the_bell_is_set_by_the_machines_clock_and_not_by_the_storys(told: Told) -> None:
    told.running.opened.set()
    await told.tell()
    moment, ring = told.running.next_notice(), told.running._next_ring()
    assert moment is not None
    assert ring is not None
    assert moment < ring


def test_a_pause_is_in_proportion_within_bounds() -> None:
    assert pause(timedelta()) == SHORTEST_PAUSE
    assert pause(timedelta(minutes=4)) == 2.0
    assert pause(timedelta(hours=2)) == LONGEST_PAUSE


def test_the_night_is_a_transcript_that_holds() -> None:
    assert run_replay(ROOT / "demo_transcripts" / "demo_night.txt", check=True) == 0
    assert isinstance(NIGHT.steps[-1], Line)


def test_a_demo_starts_with_one_command_and_leaves_nothing_behind(tmp_path: Path) -> None:
    with serving(tmp_path / "data", "--demo") as bot:
        assert bot.printed[0].startswith("A demo: a made-up night")
        assert run("say", "who's due?", "--as", "Ines", data=bot.data).returncode == 0
        assert bot.stop()[0] == 0


def test_a_demo_never_writes_into_a_real_log(tmp_path: Path) -> None:
    with serving(tmp_path / "data") as bot:
        assert run("say", "pup 3 212 g", "--as", "Ines", data=bot.data).returncode == 0
    done = run("serve", "--demo", data=tmp_path / "data")
    assert done.returncode == 2
    assert "a demo writes into none" in done.stderr
    assert len(done.stderr.splitlines()) == 1
