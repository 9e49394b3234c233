"""What a log warns of, a line each: for the tests of the warnings."""

from __future__ import annotations

from bot.care.notice import Notice
from bot.care.notices import standing, warnings
from tests.care.written_log import Log


def warned(log: Log, wall: str, told: set[str] | None = None) -> list[str]:
    """What is said by then and was not told: `sign 3 emergency`."""
    return [line(notice) for notice in warnings(log.nursery(), told or set(), log.moment(wall))]


def told_one_by_one(log: Log, *about: str) -> list[str]:
    """What is said with each message, as the messages come: `03:14 sign 3 emergency`. With `about`, only those."""
    said: list[str] = []
    told: set[str] = set()
    sofar = Log(log.zone)
    for entry in log.entries:
        sofar.entries.append(entry)
        if entry is not log.entries[-1] and log.entries[len(sofar.entries)].message == entry.message:
            continue
        for notice in warnings(sofar.nursery(), told, entry.told_at):
            told |= set(notice.causes)
            if not about or notice.about in about:
                said.append(f"{entry.told_at.astimezone(log.zone):%H:%M} {line(notice)}")
    return said


def stands(log: Log, wall: str) -> list[str]:
    """What holds then, told or not."""
    return [line(notice) for notice in standing(log.nursery(), log.moment(wall))]


def line(notice: Notice) -> str:
    who = ",".join(str(who) for who in notice.who)
    return " ".join(part for part in (notice.about, who, notice.urgency) if part)
