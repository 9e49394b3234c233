"""What is said of times, spans, pups and lists; what is said of a past time reads back to the same minute."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from parsers.saying import say_at, say_list, say_pups, say_span, say_time
from parsers.times import match
from parsers.words import cut

CHANGES = {
    "America/New_York": ("2026-03-08T07:00", "2026-11-01T06:00"),
    "America/Chicago": ("2026-03-08T08:00", "2026-11-01T07:00"),
    "Europe/London": ("2026-03-29T01:00", "2026-10-25T01:00"),
    "Europe/Berlin": ("2026-03-29T01:00", "2026-10-25T01:00"),
    "Australia/Adelaide": ("2026-10-03T16:30", "2026-04-04T16:30"),
    "America/Santiago": ("2026-09-06T04:00", "2026-04-05T03:00"),
    "Australia/Lord_Howe": ("2026-10-03T15:30", "2026-04-04T15:00"),
}
"""The moments, in UTC, at which clocks go forward and back in 2026, of the IANA zone data."""


def read_back(said: str, now: datetime, tz: ZoneInfo) -> datetime | None:
    words = cut(said)
    found = match(words, 0, now=now, tz=tz, born=None)
    assert found is not None, f"{said!r} is not read as a time"
    assert found.length == len(words), f"{said!r} is not read whole"
    assert found.problem is None, f"{said!r}: {found.problem}"
    return found.at


def the_minute(moment: datetime) -> datetime:
    return moment.astimezone(UTC).replace(second=0, microsecond=0)


@pytest.mark.parametrize(
    ("moment", "said"),
    [
        ("2026-11-25T03:14:00-06:00", "3:14 am"),
        ("2026-11-25T00:05:00-06:00", "12:05 am"),
        ("2026-11-24T23:05:00-06:00", "yesterday 11:05 pm"),
        ("2026-11-24T12:00:00-06:00", "yesterday 12:00 pm"),
        ("2026-11-23T02:40:00-06:00", "23 Nov 2:40 am"),
        ("2025-11-23T02:40:00-06:00", "23 Nov 2025 2:40 am"),
        ("2026-11-25T05:00:00-06:00", "5:00 am"),
        ("2026-11-26T05:00:00-06:00", "tomorrow 5:00 am"),
        ("2026-11-25T09:14:00+00:00", "3:14 am"),
        ("2026-11-01T01:30:00-05:00", "1 Nov 1:30 am CDT"),
        ("2026-11-01T01:30:00-06:00", "1 Nov 1:30 am CST"),
    ],
)
def test_a_moment_is_said_by_the_litters_clock(moment: str, said: str) -> None:
    now = datetime.fromisoformat("2026-11-25T03:20:00-06:00")

    assert say_time(datetime.fromisoformat(moment), now, ZoneInfo("America/Chicago")) == said


def test_the_first_minutes_of_a_day_are_told_apart_from_the_next_days() -> None:
    now = datetime.fromisoformat("2026-11-25T23:30:00-06:00")
    early = datetime.fromisoformat("2026-11-25T00:10:00-06:00")

    assert say_time(early, now, ZoneInfo("America/Chicago")) == "today 12:10 am"
    assert say_time(early + timedelta(days=1), now, ZoneInfo("America/Chicago")) == "tomorrow 12:10 am"


def test_the_hour_that_comes_twice_is_told_apart_where_the_zone_has_no_names() -> None:
    tz = ZoneInfo("America/Santiago")
    now = datetime.fromisoformat("2026-04-05T02:00:00-04:00")
    first, second = (datetime.fromisoformat(f"2026-04-04T23:30:00-0{hours}:00") for hours in (3, 4))

    assert say_time(first, now, tz) == "yesterday 11:30 pm before the clocks changed"
    assert say_time(second, now, tz) == "yesterday 11:30 pm after the clocks changed"
    assert read_back(say_time(first, now, tz), now, tz) == first
    assert read_back(say_time(second, now, tz), now, tz) == second


@given(
    zone=st.sampled_from(sorted(CHANGES)),
    now=st.datetimes(datetime(2026, 1, 1), datetime(2027, 12, 31)),  # noqa: DTZ001
    back=st.integers(0, 10 * 24 * 3600),
)
@example(zone="America/New_York", now=datetime(2026, 11, 1, 6, 40), back=600)  # noqa: DTZ001
@example(zone="America/Chicago", now=datetime(2026, 11, 26, 5, 30), back=84_000)  # noqa: DTZ001
def test_a_past_moment_reads_back_to_the_same_minute(zone: str, now: datetime, back: int) -> None:
    tz, instant = ZoneInfo(zone), now.replace(tzinfo=UTC)
    moment = instant - timedelta(seconds=back)

    assert read_back(say_time(moment, instant, tz), instant, tz) == the_minute(moment)
    assert read_back(say_at(moment, instant, tz), instant, tz) == the_minute(moment)
    assert read_back(f"at {say_time(moment, instant, tz)}", instant, tz) == the_minute(moment)


@given(
    zone=st.sampled_from(sorted(CHANGES)),
    which=st.integers(0, 1),
    minute=st.integers(-180, 180),
    later=st.integers(0, 600),
)
def test_it_reads_back_in_the_nights_when_clocks_change(zone: str, which: int, minute: int, later: int) -> None:
    tz = ZoneInfo(zone)
    moment = datetime.fromisoformat(CHANGES[zone][which]).replace(tzinfo=UTC) + timedelta(minutes=minute)
    now = moment + timedelta(minutes=later)

    assert read_back(say_time(moment, now, tz), now, tz) == moment


@pytest.mark.parametrize(
    ("moment", "said"),
    [
        ("2026-11-25T03:14:00-06:00", "at 3:14 am"),
        ("2026-11-24T23:05:00-06:00", "yesterday at 11:05 pm"),
        ("2026-11-23T02:40:00-06:00", "on 23 Nov at 2:40 am"),
        ("2026-11-01T01:30:00-06:00", "on 1 Nov at 1:30 am CST"),
    ],
)
def test_a_moment_is_said_inside_a_sentence(moment: str, said: str) -> None:
    now = datetime.fromisoformat("2026-11-25T03:20:00-06:00")

    assert say_at(datetime.fromisoformat(moment), now, ZoneInfo("America/Chicago")) == said


@pytest.mark.parametrize(
    ("minutes", "said"),
    [(0, "0 min"), (15, "15 min"), (59.6, "1 h"), (60, "1 h"), (130, "2 h 10 min"), (1500, "25 h"), (2880, "2 days"), (4560, "3 days 4 h")],
)
def test_a_length_of_time_is_said_in_two_units_at_most(minutes: float, said: str) -> None:
    assert say_span(minutes) == said


def test_pups_and_lists_are_said_as_people_say_them() -> None:
    assert say_pups([3]) == "pup 3"
    assert say_pups([1, 2, 5]) == "pups 1, 2 and 5"
    assert say_pups([]) == ""
    assert say_list(["Ines", "Theo"]) == "Ines and Theo"
    assert say_list(["Ines"]) == "Ines"
    assert say_list(["3 am", "3 pm"], last="or") == "3 am or 3 pm"
