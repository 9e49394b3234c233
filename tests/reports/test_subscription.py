"""The calendar as a file for phones: checked by reading it back, and by the rules of RFC 5545 on its very bytes."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta

import pytest
from icalendar import Calendar
from icalendar import Event as CalendarEvent

from bot.reports.subscription import LitterCalendar, calendar_file
from tests.care.written_log import Log, event, litter

KEY = "1/2026-03-01T16:30:00+00:00"


def file_of(log: Log, wall: str = "2026-03-02 05:00", key: str = KEY, name: str = "Juniper's litter") -> bytes:
    return calendar_file([LitterCalendar(key, name, log.nursery())], log.moment(wall))


def events(file: bytes) -> list[CalendarEvent]:
    read = Calendar.from_ical(file)
    assert isinstance(read, Calendar)
    return list(read.events)


def named(file: bytes, words: str) -> CalendarEvent:
    (one,) = [one for one in events(file) if words in str(one["SUMMARY"])]
    return one


def a_night() -> Log:
    log = litter(3).at("2026-03-01 11:00", name={"pup": 2, "as": "Olive, the loud; \\ one"})
    log.at("2026-03-01 11:01", every={"care": "dose", "drug": "calcium", "minutes": 150})
    log.at("2026-03-02 04:30", event("nursed", 1, minutes=10), event("nursed", 2, minutes=10), event("dose", "dam", drug="calcium"))
    return log.at("2026-03-02 04:31", event("nursed", 3, minutes=5))


def rule_by_rule(file: bytes) -> None:
    """RFC 5545: 3.1 lines, folding and characters; 3.4 the object; 3.6 and 3.8 what must be there, once, and in which form."""
    assert file.endswith(b"END:VCALENDAR\r\n")
    assert re.search(rb"(?<!\r)\n|\r(?!\n)", file) is None, "3.1: lines end with CRLF"
    lines = file.split(b"\r\n")[:-1]
    for octets in lines:
        assert len(octets) <= 75, "3.1: no line over 75 octets"
        octets.decode("utf-8")  # no letter is cut in two
        assert re.search(rb"[\x00-\x08\x0a-\x1f\x7f]", octets) is None, "3.1: no control characters"
    whole = re.sub(rb"\r\n[ \t]", b"", file).decode("utf-8").split("\r\n")[:-1]
    assert all(re.fullmatch(r"[A-Z-]+(;[A-Z-]+=[^:;]+)*:.*", line) for line in whole), "3.1: name *(;param) : value"
    assert whole[0] == "BEGIN:VCALENDAR"
    assert [line for line in whole if line.startswith(("VERSION:", "PRODID:"))] == ["VERSION:2.0", "PRODID:-//lampwatch//calendar//EN"]
    depth: list[str] = []
    for line in whole:
        verb, _, value = line.partition(":")
        if verb == "BEGIN":
            depth.append(value)
        elif verb == "END":
            assert depth.pop() == value
    assert depth == []
    blocks = "\n".join(whole).split("BEGIN:VEVENT\n")[1:]
    assert blocks, "3.6: at least one component"
    uids = []
    for block in blocks:
        for once in ("UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "TRANSP"):
            assert len(re.findall(rf"^{once}[;:]", block, re.M)) == 1, f"3.6.1: {once} once"
        assert re.search(r"^DTSTAMP:\d{8}T\d{6}Z$", block, re.M), "3.8.7.2: DTSTAMP is in UTC"
        start, end = (re.search(rf"^{name}(;VALUE=DATE)?:(\d{{8}}(T\d{{6}}Z)?)$", block, re.M) for name in ("DTSTART", "DTEND"))
        assert start
        assert end
        assert start[1] == end[1], "3.8.2.2: of the same type"
        assert end[2] > start[2], "3.8.2.2: the end is later"
        for text in re.findall(r"^(?:SUMMARY|DESCRIPTION):(.*)$", block, re.M):
            assert re.fullmatch(r"(?:[^\\,;]|\\[\\,;nN])*", text), "3.3.11: commas, semicolons and backslashes are escaped"
        uids += re.findall(r"^UID:(.*)$", block, re.M)
    assert len(set(uids)) == len(uids), "3.8.4.7: each UID is one event"


@pytest.mark.parametrize(
    "log",
    [
        a_night(),
        litter(1),
        Log(),
        litter(2).at("2026-03-01 11:00", litter={"dam": "Jun\u0000iper\u001b[31m, née \U0001f436" * 12}),
        litter(2).at("2026-03-01 11:00", name={"pup": 1, "as": "Großmütterchen " * 9}).at("2026-03-02 04:30", event("nursed", 1)),
    ],
)
def test_the_file_keeps_the_rules_of_rfc_5545(log: Log) -> None:
    rule_by_rule(file_of(log, name=f"{log.nursery().dam.called}'s litter"))


def test_whole_days_are_the_litters_own_dates() -> None:
    eyes = named(file_of(litter(3)), "Eyes open")
    assert (eyes.start, eyes.end) == (date(2026, 3, 11), date(2026, 3, 18))  # the end is not counted any more
    assert "Swollen or weeping: vet today." in str(eyes["DESCRIPTION"])
    assert "Your vet's plan and your local law go first" in str(eyes["DESCRIPTION"])
    dates = sorted(one.start for one in events(file_of(litter(3))) if "Deworm" in str(one["SUMMARY"]))
    assert dates == [date(2026, 3, 15), date(2026, 3, 29), date(2026, 4, 12), date(2026, 4, 26)]


def test_care_that_is_due_stands_at_its_moment_those_of_one_round_together() -> None:
    file = file_of(a_night())
    nursing = named(file, "Nurse")
    assert nursing.start == datetime(2026, 3, 2, 12, 20, tzinfo=UTC)  # began 4:20, two hours on, in Chicago
    assert str(nursing["SUMMARY"]) == "Nurse: Pup 1, Pup 2 Olive, the loud; \\ one and Pup 3"
    assert str(named(file, "Calcium")["SUMMARY"]) == "Calcium: Juniper"
    assert named(file, "Calcium").start == datetime(2026, 3, 2, 13, 0, tzinfo=UTC)


def test_a_reminder_that_was_stopped_is_not_in_it() -> None:
    log = a_night().at("2026-03-02 04:55", reminders={"care": "nursing", "on": False})
    assert not [one for one in events(file_of(log)) if "Nurse" in str(one["SUMMARY"])]


def test_what_was_due_half_a_day_ago_is_left_out() -> None:
    assert [one for one in events(file_of(a_night(), "2026-03-02 18:00")) if "Nurse" in str(one["SUMMARY"])]
    assert not [one for one in events(file_of(a_night(), "2026-03-02 19:00")) if "Nurse" in str(one["SUMMARY"])]


def test_ids_stay_and_an_event_that_moves_keeps_its_own() -> None:
    before, later = (
        file_of(a_night()),
        file_of(a_night().at("2026-03-02 06:20", event("nursed", 1), event("nursed", 2)), "2026-03-02 06:25"),
    )
    ids = {str(one["UID"]): str(one["SUMMARY"]) for one in events(before)}
    same = {str(one["UID"]) for one in events(later)}
    assert {uid for uid, summary in ids.items() if not summary.startswith(("Clear", "Stimulate"))} <= same
    assert file_of(a_night()) == before
    assert named(before, "Eyes").get("UID") == named(later, "Eyes").get("UID")


def test_two_litters_share_a_file_and_no_id() -> None:
    log = a_night()
    file = calendar_file(
        [LitterCalendar("1/x", "Juniper's litter", log.nursery()), LitterCalendar("2/y", "Hazel's litter", litter(2).nursery())],
        log.moment("2026-03-02 05:00"),
    )
    rule_by_rule(file)
    assert {str(one["SUMMARY"]).partition(":")[0] for one in events(file)} == {"Juniper's litter", "Hazel's litter"}


def test_before_the_birth_it_says_what_it_waits_for() -> None:
    (one,) = events(file_of(Log()))
    assert str(one["SUMMARY"]) == "Tell the bot when the pups were born"


def test_a_corrected_birth_moves_the_dates_and_keeps_the_ids() -> None:
    log = litter(3)
    before = named(file_of(log), "Eyes")
    after = named(file_of(log.at("2026-03-02 05:00", litter={"born": "2026-02-28T09:40:00-06:00"})), "Eyes")
    assert (before["UID"], before.start - timedelta(days=1)) == (after["UID"], after.start)
