"""A transcript is held against what was said: every kind of fault is found, and the true lines can be written in."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.conversation import Heard, Message, Said
from bot.transcript.judge import faults, rewritten
from bot.transcript.replay import run
from bot.transcript.written import parse

SAID = datetime(2999, 1, 1, tzinfo=UTC)
"""Stands in the list for what was said."""


class Parrot:
    """A bot that repeats each message, and says `due` ten minutes after the last one; its store is a list."""

    def __init__(self, kept: list[datetime]) -> None:
        self._kept = kept

    def take_in(self, name: str, now: datetime) -> str:  # noqa: ARG002 (as the household has it)
        return name

    def hear(self, message: Message, now: datetime) -> Heard:
        self._kept.append(now)
        return Heard(True, (Said(now, message.by, "reply", f"I hear {message.text}"),))

    def speak_up(self, now: datetime) -> list[Said]:
        self._kept.append(SAID)
        return [Said(now, "all", "nudge", "due")]

    def next_notice(self, now: datetime) -> datetime | None:  # noqa: ARG002
        last = self._kept[-1] if self._kept else None
        return None if last is None or last == SAID else last + timedelta(minutes=10)

    def close(self) -> None:
        pass


def judged(text: str) -> list[str]:
    transcript = parse(text)
    kept: list[datetime] = []
    return faults(transcript, run(transcript, lambda _: Parrot(kept), bot_lines_too=True))


def accepted(text: str) -> str:
    transcript = parse(text)
    kept: list[datetime] = []
    return rewritten(transcript, run(transcript, lambda _: Parrot(kept), bot_lines_too=True))


DAY = "--- 2026-03-02 America/Chicago ---\n"
RIGHT = DAY + "[03:00] ines: one\n[03:00] bot: I hear one\n[03:10] bot: due\n[03:30] ines: two\n[03:30] bot: I hear two\n"


def test_what_is_as_written_has_no_fault() -> None:
    assert judged(RIGHT) == []


def test_a_line_that_does_not_come_is_missing() -> None:
    assert judged(DAY + "[03:00] ines: one\n[03:00] bot: I hear one\n[03:00] bot: and more\n") == ["line 4: missing at 03:00: and more"]


def test_a_line_that_is_not_written_is_extra() -> None:
    assert judged(DAY + "[03:00] ines: one\n[03:00] bot: I hear one\n[03:30] ines: two\n[03:30] bot: I hear two\n") == [
        "extra at 03:10, below line 3: due"
    ]


def test_a_line_at_another_minute_is_late_or_early() -> None:
    assert judged(RIGHT.replace("03:10", "03:05")) == ["line 4: late: it came at 03:10, not at 03:05: due"]
    assert judged(RIGHT.replace("03:10", "03:15")) == ["line 4: early: it came at 03:10, not at 03:15: due"]


def test_a_line_in_other_words_is_different() -> None:
    assert judged(RIGHT.replace("bot: due", "bot: overdue")) == ["line 4: different\n  wanted: overdue\n  said:   due"]


def test_a_line_on_the_wrong_side_of_a_persons_line_is_a_fault() -> None:
    wrong = DAY + "[03:00] ines: one\n[03:00] bot: I hear one\n[03:10] ines: two\n[03:10] bot: I hear two\n[03:10] bot: due\n"
    assert judged(wrong) == ["extra at 03:10, below line 3: due", "line 6: missing at 03:10: due"]


def test_accepting_writes_the_true_lines_and_leaves_the_prose() -> None:
    text = (
        f"A title.\n\n{DAY}\n[03:00] ines: one\n[03:00] bot: wrong\n    and more of it\n\n"
        "Ten minutes later.\n\n[03:10] bot: old\n\nThe end.\n"
    )
    assert accepted(text) == (
        f"A title.\n\n{DAY}\n[03:00] ines: one\n[03:00] bot: I hear one\n\nTen minutes later.\n\n[03:10] bot: due\n\nThe end.\n"
    )


def test_accepting_adds_what_was_not_written_below_what_it_follows() -> None:
    assert accepted(DAY + "[03:00] ines: one\n\nprose\n[03:30] ines: two\n") == (
        DAY + "[03:00] ines: one\n[03:00] bot: I hear one\n[03:10] bot: due\n\nprose\n[03:30] ines: two\n[03:30] bot: I hear two\n"
    )


def test_what_was_accepted_is_right() -> None:
    assert judged(accepted(DAY + "[03:00] ines: one\n[03:30] ines: two\n[03:45] bot: nothing like this\n")) == []


def test_while_the_machine_was_off_nothing_is_said_and_then_it_is_said_once() -> None:
    assert judged(DAY + "[03:00] ines: one\n[03:00] bot: I hear one\n--- off until 05:00 ---\n[05:00] bot: due\n") == []


def test_a_zone_belongs_to_the_minute() -> None:
    assert ZoneInfo("America/Chicago").key in DAY
    twice = "--- 2026-11-01 America/Chicago ---\n[01:55] ines: one\n[01:55] bot: I hear one\n[01:05] bot: due\n"
    assert judged(twice) == []
