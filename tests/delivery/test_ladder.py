"""Which way is gone next, and when: in order, each in its time, all again, and an end."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest

from bot.delivery.ladder import AGAIN_AFTER, ROUNDS, Came, Step, Try, Way, arrived, next_step

NOW = datetime(2026, 3, 2, 3, 14, tzinfo=UTC)
PAGE, PUSH, SPEAKER = Way("page", timedelta(seconds=8)), Way("push", timedelta(minutes=1)), Way("speaker", shared=True)
WAYS = (PAGE, PUSH, SPEAKER)


def ago(seconds: float) -> datetime:
    return NOW - timedelta(seconds=seconds)


@pytest.mark.parametrize(
    ("tries", "step"),
    [
        ((), Step(PAGE)),
        ((Try("page", ago(0), Came.FAILED),), Step(PUSH)),
        ((Try("page", ago(3), Came.HANDED),), Step(again=NOW + timedelta(seconds=5))),
        ((Try("page", ago(8), Came.HANDED),), Step(PUSH)),
        ((Try("page", ago(9), Came.FAILED), Try("push", ago(9), Came.HANDED)), Step(again=NOW + timedelta(seconds=51))),
        ((Try("page", ago(70), Came.FAILED), Try("push", ago(70), Came.FAILED)), Step(SPEAKER)),
        ((Try("page", ago(3), Came.FAILED), Try("push", ago(1), Came.ARRIVED)), Step()),
    ],
)
def test_the_ways_are_gone_in_order_each_in_its_time(tries: tuple[Try, ...], step: Step) -> None:
    assert next_step(WAYS, tries, NOW) == step


def test_a_way_that_was_not_there_the_first_time_is_gone_once_it_is() -> None:
    tries = (Try("page", ago(200), Came.FAILED, ROUNDS), Try("speaker", ago(200), Came.FAILED, ROUNDS))
    assert next_step(WAYS, tries, NOW) == Step(PUSH)


def test_where_all_failed_there_is_another_round_after_a_while_and_in_it_no_waiting() -> None:
    tries = [Try("page", ago(30), Came.FAILED), Try("push", ago(29), Came.FAILED), Try("speaker", ago(28), Came.FAILED)]
    assert next_step(WAYS, tries, NOW) == Step(again=ago(28) + AGAIN_AFTER)
    assert next_step(WAYS, tries, ago(28) + AGAIN_AFTER) == Step(PAGE)
    assert next_step(WAYS, [Try("page", NOW, Came.FAILED, 2), *tries[1:]], NOW) == Step(PUSH)


def test_it_ends() -> None:
    assert next_step(WAYS, [Try(way.name, ago(500), Came.FAILED, ROUNDS) for way in WAYS], NOW) == Step()
    assert next_step((), (), NOW) == Step()


@pytest.mark.parametrize("came", [Came.HANDED, Came.FAILED])
def test_a_clock_that_was_set_back_keeps_nobody_waiting(came: Came) -> None:
    ahead = NOW + timedelta(hours=3)
    assert next_step((PAGE,), [Try("page", ahead, came)], NOW) == Step(PAGE)
    assert next_step(WAYS, [Try("page", ahead, came)], NOW) == Step(PUSH)


def test_every_way_is_tried_again_and_again_until_one_arrives_and_no_more() -> None:
    """Played through: nothing confirms; every way has its rounds, none sooner than the one before had its time."""
    tries: dict[str, Try] = {}
    now, gone = NOW, list[tuple[str, datetime]]()
    while (step := next_step(WAYS, tries.values(), now)) != Step():
        if step.way is None:
            assert step.again is not None
            assert step.again > now
            now = step.again
            continue
        before = tries.get(step.way.name)
        tries[step.way.name] = Try(step.way.name, now, Came.HANDED, before.times + 1 if before else 1)
        gone.append((step.way.name, now))
    assert [name for name, _ in gone] == ["page", "push", "speaker"] * ROUNDS
    assert not arrived(tries.values())
    assert all(later - sooner >= timedelta(seconds=8) for (name, sooner), (_, later) in pairwise(gone) if name == "page")
