"""Who is due to nurse, and what is said of it and when: the rules of the care contract, on times written down by hand."""

from __future__ import annotations

import pytest

from bot.care.rounds import due
from tests.care.written_log import Listening, event, litter


def test_a_pup_is_due_two_hours_after_it_began_to_nurse() -> None:
    log = litter().at("2026-03-02 03:14", event("nursed", 3, minutes=15))
    [one] = due(log.nursery())
    assert (one.care, one.who, one.at) == ("nursing", 3, log.moment("2026-03-02 04:59"))


def test_a_nudge_comes_at_the_due_time_then_twice_more_and_then_no_more() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))
    assert Listening(log).until("2026-03-03 12:00") == [
        "05:00 nursing 3 routine all",
        "05:30 nursing 3 soon all",
        "06:00 nursing 3 soon all",
    ]


@pytest.mark.parametrize("kind", ["nursed", "fed"])
def test_logging_the_care_ends_its_nudges(kind: str) -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))
    bot = Listening(log)
    assert bot.until("2026-03-02 05:10") == ["05:00 nursing 3 routine all"]
    log.at("2026-03-02 05:10", event(kind, 3))
    assert bot.until("2026-03-02 07:20") == ["07:10 nursing 3 routine all"]
