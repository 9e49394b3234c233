"""Nights of random trouble: whatever is told, undone and corrected, a restart knows the same, and no warning is told twice."""

from __future__ import annotations

from datetime import timedelta
from random import Random

import pytest

from bot.care.notices import next_moment, standing
from bot.care.nursery import Nursery
from tests.conversation.talk import CHICAGO, Talk

PUPS = range(1, 6)
SAYINGS = (
    *(
        f"pup {{pup}} {sign}"
        for sign in ("limp", "gasping", "milk at nose", "congested", "crying", "weak", "cold", "not nursing", "twitching")
    ),
    *(f"pup {{pup}} temp {fahrenheit}" for fahrenheit in (93.2, 94.5, 95.8, 97.5, 99.4)),
    *(
        f"mom {sign}"
        for sign in ("is panting", "is restless", "is trembling", "is weak", "temp 103.4", "won't eat", "ate half", "calcium 1 click")
    ),
    *("pup {pup} refused", "pup {pup} refused", "all nursed 10", "pup {pup} nursed 10", "pup {pup} yellow urine", "box 97", "box 86"),
    *("undo", "undo", "that was pup 2", "no, 97", "that was 30 min ago", "snooze 30"),
)


@pytest.mark.parametrize("seed", range(2))
def test_a_restart_knows_the_same_and_nothing_is_told_twice(seed: int) -> None:
    random, talk = Random(seed), Talk()
    talk.hear("09:00", "Ines", "new litter of 5 from Juniper, c-section at 6 am")
    talk.hear("09:01", "Ines", "calcium every 3 hours")
    weights, clock, warned = {pup: 300 + 7 * pup for pup in PUPS}, talk.at("09:05"), 0
    while clock < talk.at("2026-03-05 09:00"):
        clock = max(clock, talk.last) + timedelta(minutes=random.choice((1, 3, 7, 20, 45, 90, 180)))
        wall = f"{clock.astimezone(CHICAGO):%Y-%m-%d %H:%M}"
        talk.until(wall)
        text = random.choice(SAYINGS).format(pup=random.choice(PUPS))
        if random.random() < 0.2:
            weights = {pup: round(grams * random.choice((1.05, 1.0, 0.96))) for pup, grams in weights.items()}
            text = ", ".join(f"{pup} {grams} g" for pup, grams in weights.items())
        heard = talk.hear(wall, random.choice(("Ines", "Theo")), text)
        assert heard.kept
        warned += sum(said.says == "warning" for said in heard.said)
        [conversation] = talk.house.conversations
        again = Nursery.fold((entry for line in talk.house.log() for entry in line.entries if entry.id in line.standing), CHICAGO)
        known = conversation.nursery
        assert [(one.text, one.causes) for one in standing(known, clock)] == [(one.text, one.causes) for one in standing(again, clock)]
        assert next_moment(known, frozenset(), clock) == next_moment(again, frozenset(), clock)
    assert warned > 10
