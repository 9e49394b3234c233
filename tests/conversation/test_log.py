"""The log in memory: folded bit by bit, with corrections here and there, it is what it would be folded at once."""

from __future__ import annotations

import random
from datetime import timedelta

from pydantic import BaseModel

from bot.care.nursery import Nursery
from bot.conversation.log import STRIDE, Log
from parsers.events import KINDS
from storage import Entry
from tests.conversation.talk import CHICAGO, Talk

START = Talk().at("03:00")


def entry(id: int, grams: float, *, replaces: int | None = None) -> Entry[BaseModel]:
    return Entry(
        id, id, START + timedelta(minutes=id), "Ines", KINDS["weight"].model_validate({"who": id % 5 + 1, "grams": grams}), replaces
    )


def last_weights(nursery: Nursery) -> list[tuple[object, object, int]]:
    return [(pup.who, pup.weighings.latest(), len(pup.weighings)) for pup in nursery.pups.values()]


def test_corrections_anywhere_give_the_same_nursery_as_a_fold_of_what_stands() -> None:
    chance = random.Random(7)
    log = Log([entry(id, 200.0 + id / 100) for id in range(1, 2 * STRIDE + 3)], CHICAGO)
    next_id = 2 * STRIDE + 3
    for turn in range(400):
        old = chance.choice(log.entries[-40:] if turn % 3 else log.entries)
        gone = [old.id] if turn % 2 else []
        new = [] if turn % 5 == 1 else [entry(next_id, 250.0 + turn, replaces=old.id if gone else None)]
        next_id += 1
        expected = log.with_new(new, gone)
        log.take(new, gone, expected if not gone else None)
        assert last_weights(log.nursery) == last_weights(expected)
    assert last_weights(log.nursery) == last_weights(Nursery.fold(log.entries, CHICAGO))
    assert log.nursery.count == len(log.entries)


def test_asking_what_would_be_changes_nothing() -> None:
    log = Log([entry(id, 200.0) for id in range(1, 20)], CHICAGO)
    before = last_weights(log.nursery)
    log.with_new([entry(20, 300.0)], [3])
    assert last_weights(log.nursery) == before
    assert len(log.entries) == 19
