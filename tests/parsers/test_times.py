"""Told times: every way to say one, the words that only look like one, and the two nights a year when clocks change."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parsers.times import When, clock, loose, match, next_after, now_said, wall_after
from parsers.wall_clock import places
from parsers.words import cut

NOW = datetime.fromisoformat("2026-04-14T03:20:00-04:00")  # a Tuesday
NEW_YORK = ZoneInfo("America/New_York")
BORN = datetime.fromisoformat("2026-04-12T21:30:00-04:00")


def told(text: str, now: datetime = NOW, tz: ZoneInfo = NEW_YORK, born: datetime | None = BORN) -> list[tuple[str, When]]:
    """Every time told in a text, with the words that tell it, as the reader goes through them."""
    words, found, at = cut(text), [], 0
    while at < len(words):
        when = match(words, at, now=now, tz=tz, born=born)
        if when:
            found.append((text[words[at].start : words[at + when.length - 1].end], when))
        at += when.length if when else 1
    return found


def one(text: str, now: datetime = NOW, tz: ZoneInfo = NEW_YORK, born: datetime | None = BORN) -> When:
    found = told(text, now, tz, born)
    assert len(found) == 1, f"{text!r} tells {[words for words, _ in found]}"
    assert found[0][0] == text, f"of {text!r} only {found[0][0]!r} is read"
    return found[0][1]


def wall(moment: datetime | None) -> str:
    return moment.strftime("%d %H:%M") if moment else ""


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("at 3:10", "14 03:10"),
        ("at 310", "14 03:10"),
        ("at 0310", "14 03:10"),
        ("at 0255 hours", "14 02:55"),
        ("0255", "14 02:55"),
        ("@3", "14 03:00"),
        ("@ 3:10", "14 03:10"),
        ("@3pm", "13 15:00"),
        ("3:10 am", "14 03:10"),
        ("3:10am", "14 03:10"),
        ("3:10a", "14 03:10"),
        ("3:10 a.m.", "14 03:10"),
        ("3am", "14 03:00"),
        ("3 a.m.", "14 03:00"),
        ("3 a m", "14 03:00"),
        ("3 p.m", "13 15:00"),
        ("3.15 am", "14 03:15"),
        ("at 3.15", "14 03:15"),
        ("at 3h15", "14 03:15"),
        ("3 o'clock", "14 03:00"),
        ("at 3 oclock", "14 03:00"),
        ("at three", "14 03:00"),
        ("at three ten", "14 03:10"),
        ("at three-ten", "14 03:10"),
        ("at two oh five", "14 02:05"),
        ("at two forty five", "14 02:45"),
        ("at 2 forty five", "14 02:45"),
        ("at two 45", "14 02:45"),
        ("at to thirty", "14 02:30"),
        ("at ate o'clock", "13 20:00"),
        ("at tree am", "14 03:00"),
        ("half past to", "14 02:30"),
        ("at quarter past won", "14 01:15"),
        ("two thirty am", "14 02:30"),
        ("3 15 am", "14 03:15"),
        ("at 2 15", "14 02:15"),
        ("at ten past three", "14 03:10"),
        ("ten past 3", "14 03:10"),
        ("at twenty-five past two", "14 02:25"),
        ("twenty minutes past two", "14 02:20"),
        ("ten after three", "14 03:10"),
        ("half past two", "14 02:30"),
        ("half-past two", "14 02:30"),
        ("1/2 past 2", "14 02:30"),
        ("at half two", "14 02:30"),
        ("half three", "13 15:30"),
        ("quarter to 3", "14 02:45"),
        ("a quarter to three", "14 02:45"),
        ("quarter of 3", "14 02:45"),
        ("a quarter past 2", "14 02:15"),
        ("at quarter past", "14 03:15"),
        ("at half past", "14 02:30"),
        ("at ten to", "14 02:50"),
        ("twenty to three", "14 02:40"),
        ("ten till three", "14 02:50"),
        ("at ten of three", "14 02:50"),
        ("at noon", "13 12:00"),
        ("12 noon", "13 12:00"),
        ("midnight", "14 00:00"),
        ("at midnight", "14 00:00"),
        ("12 am", "14 00:00"),
        ("12 pm", "13 12:00"),
        ("at 12:30", "14 00:30"),
        ("at 10", "13 22:00"),
        ("at 14:05", "13 14:05"),
        ("at 14:05h", "13 14:05"),
        ("23:45", "13 23:45"),
        ("at 00:15", "14 00:15"),
        ("24:00", "14 00:00"),
        ("at 3ish", "14 03:00"),
        ("at 3-ish", "14 03:00"),
        ("at threeish", "14 03:00"),
        ("at 3 or so", "14 03:00"),
        ("around 2:30", "14 02:30"),
        ("about 3", "14 03:00"),
        ("~ 2:30", "14 02:30"),
        ("at about 3", "14 03:00"),
        ("at around quarter to three", "14 02:45"),
        ("at like 2:45", "14 02:45"),
        ("right at 3", "14 03:00"),
        ("earlier at 2", "14 02:00"),
        ("earlier today at 2", "14 02:00"),
        ("at 2 in the morning", "14 02:00"),
        ("2 in the afternoon", "13 14:00"),
        ("8 in the evening", "13 20:00"),
        ("11 at night", "13 23:00"),
        ("2 at night", "14 02:00"),
        ("last night at 11", "13 23:00"),
        ("late last night at 11", "13 23:00"),
        ("last night at half past ten", "13 22:30"),
        ("last night around 11:30", "13 23:30"),
        ("last night at 2", "14 02:00"),
        ("last night at midnight", "14 00:00"),
        ("at 11 last night", "13 23:00"),
        ("11 pm last night", "13 23:00"),
        ("at 12:30 last night", "14 00:30"),
        ("yesterday 11 pm", "13 23:00"),
        ("yesterday at 11", "13 23:00"),
        ("yesterday, at 11", "13 23:00"),
        ("at 5 pm yesterday", "13 17:00"),
        ("yesterday at 2 am", "13 02:00"),
        ("yesterday at noon", "13 12:00"),
        ("noon yesterday", "13 12:00"),
        ("yesterday morning at 7:30", "13 07:30"),
        ("yesterday evening at 8", "13 20:00"),
        ("this morning at 2", "14 02:00"),
        ("early this morning at 2", "14 02:00"),
        ("2:40 this morning", "14 02:40"),
        ("this morning at 12:30", "14 00:30"),
        ("tonight at 9", "13 21:00"),
        ("tonight at 2", "14 02:00"),
        ("tonight at 12:30", "14 00:30"),
        ("monday 3 pm", "13 15:00"),
        ("monday night at 11", "13 23:00"),
        ("on monday at 3", "13 15:00"),
        ("at 9 on monday", "13 21:00"),
        ("the day before yesterday at 10 pm", "12 22:00"),
        ("on 13 Apr at 2:40 am", "13 02:40"),
        ("13 Apr 2:40 am", "13 02:40"),
        ("on April 13 at 11 pm", "13 23:00"),
        ("11 pm on April 13", "13 23:00"),
        ("13th of April 2:40 am", "13 02:40"),
        ("on the 13th at 2:40 am", "13 02:40"),
        ("13 April 2026 at 2:40 am", "13 02:40"),
        ("3:10:25", "14 03:10"),
        ("1:30 am EDT", "14 01:30"),
    ],
)
def test_a_clock_time_is_the_latest_such_moment(text: str, at: str) -> None:
    assert wall(one(text).at) == at


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("20 min ago", 20),
        ("20m ago", 20),
        ("30 min. ago", 30),
        ("about 20 min ago", 20),
        ("five minutes ago", 5),
        ("twenty-five minutes ago", 25),
        ("a minute ago", 1),
        ("half an hour ago", 30),
        ("a half hour ago", 30),
        ("half hour ago", 30),
        ("quarter of an hour ago", 15),
        ("a quarter hour ago", 15),
        ("three quarters of an hour ago", 45),
        ("an hour ago", 60),
        ("a good hour ago", 60),
        ("1hr ago", 60),
        ("an hour and a half ago", 90),
        ("hour and a half ago", 90),
        ("one and a half hours ago", 90),
        ("1 1/2 hours ago", 90),
        ("1½ hours ago", 90),
        ("1.5 hours ago", 90),
        ("1,5 h ago", 90),
        ("1h20 ago", 80),
        ("1h20m ago", 80),
        ("1:20 ago", 80),
        ("1 hour 20 minutes ago", 80),
        ("an hour and 20 minutes ago", 80),
        ("an hour twenty ago", 80),
        ("a couple of hours ago", 120),
        ("a couple minutes ago", 2),
        ("2 hours 10 ago", 130),
        ("90 minutes ago", 90),
    ],
)
def test_so_long_ago_is_counted_back_from_now(text: str, minutes: float) -> None:
    when = one(text)

    assert when.at == NOW - timedelta(minutes=minutes)
    assert (when.minutes, when.problem, when.weak) == (None, None, False)


@pytest.mark.parametrize(
    ("text", "told_words"),
    [
        ("pup 3 20 min ago", "20 min ago"),
        ("nursed 15 20 min ago", "20 min ago"),
        ("pup three twenty minutes ago", "twenty minutes ago"),
        ("nursed 15 min 20 min ago", "20 min ago"),
        ("gave half two hours ago", "two hours ago"),
        ("nursed at two fifteen minutes", "at two"),
        ("nursed at 2 15 min", "at 2"),
        ("at 3 and 4 nursed", "at 3"),
        ("cleared at 3, 4 nursed", "at 3"),
        ("nursed at 3.", "at 3"),
        ("at 3 am it's cold", "at 3 am"),
        ("maybe 20 min ago", "20 min ago"),
        ("the 3 am feed", "3 am"),
        ("washed it 20 min ago", "20 min ago"),
        ("cleared it at 3:10", "at 3:10"),
        ("pup 3 pooped about 3", "about 3"),
        ("cleared 2 around 3", "around 3"),
        ("nursed 15 ten to three", "ten to three"),
        ("nursed quarter to three", "quarter to three"),
        ("nursed half past two", "half past two"),
    ],
)
def test_a_time_takes_its_own_words_and_no_others(text: str, told_words: str) -> None:
    assert [words for words, _ in told(text)] == [told_words]


@pytest.mark.parametrize(
    "text",
    [
        # durations and amounts
        "15 min", "for an hour", "nursed 15 min cleared", "nursed 10 to 15 min", "5 to 10 minutes", "half an hour", "a quarter of an hour",
        "pup 3 212", "pup 3 212 g", "at 212 g", "at 140 grams", "at two twelve grams", "at 7.40 oz", "2:41 g", "1: 205", "3: 212",
        "1:205", "1: 205 / 2: 188",
        "1 205, 2 188, 3 212", "weights 205 188 212", "212", "two hundred twelve", "two twelve", "7 1/2", "3 to 5 ml", "at 20 percent",
        "at 22 C", "at 31 degrees", "at 86",
        "box at 30", "at 37.5", "at 8 weeks", "at 260", "at 2400", "at 1/2", "at 0", "25:10", "2:60", "14:05 am",
        # subjects
        "2-4 nursed", "1 thru 4", "1 to 4", "1, 2 and 5", "pups 1-4", "two of them", "half her bowl", "gave a quarter to pup 3", "a 3",
        "all 3 cleared",
        # other words
        "at the nipple", "at mom's", "at all", "at least 20 min", "at one point", "at last", "at night", "at for her", "at to the vet",
        "look at tree bark",
        "on the scale", "on mom",
        "the rest 15", "back with mom",
        "sat with mum", "may weighed 205", "may 3 212", "looks like 3", "just now", "right now", "now", "from the bottle",
        "between the pups",
        # a number that the doing before it asks for
        "pup 3 nursed about 8", "nursed around 10", "nursed ten to twelve", "nursed 5 to 10", "bottle about 8", "gained from 205 to 212",
        "from 2 to 4 ml",
        # times that are no time of an event
        "since 2", "since about 2", "until 4", "till 4", "by 3", "just before 3", "just after 2:30", "every 2:30", "it's 3 am",
        "it is 3:10", "next is at 4", "due at 4", "nursed for 2:10", "hasn't peed since an hour ago",
        "since about an hour ago", "until around 2:30", "since 1 1/2 hours ago",
        # told too loosely
        "5-10 min ago", "10 or 15 minutes ago", "ten to fifteen minutes ago", "3 days ago", "a few minutes ago", "a while ago", "at 3-4",
        "at 2 or 3",
        "yesterday", "last night", "this morning", "monday", "24 nov", "205 yesterday", "weighed pup 3 yesterday", "fed 3 last night",
        "today 5",
    ],
)  # fmt: skip
def test_what_only_looks_like_a_time_is_none(text: str) -> None:
    assert told(text) == []


@pytest.mark.parametrize(
    ("text", "right"),
    [
        # What a general date library makes of these is wrong or nothing: see the reading of each here.
        ("half past 3", "13 15:30"),
        ("quarter to 4", "13 15:45"),
        ("ten past three", "14 03:10"),
        ("half an hour ago", "14 02:50"),
        ("2 and a half hours ago", "14 00:50"),
        ("4 o'clock", "13 16:00"),
        ("at 315am", "14 03:15"),
        ("3 15 am", "14 03:15"),
        ("couple of hours ago", "14 01:20"),
        ("last night at 11", "13 23:00"),
        ("at 11 last night", "13 23:00"),
        ("today at 2", "14 02:00"),
        ("0315", "14 03:15"),
        ("1h20m ago", "14 02:00"),
        ("3h15", ""),
        ("3", ""),
        ("may", ""),
        ("a", ""),
        ("mar", ""),
        ("1 h", ""),
        ("45min", ""),
        ("2h", ""),
        ("212", ""),
        ("pup 2 sat with mum", ""),
        ("may is 212 today", ""),
        ("mar nursed 10", ""),
    ],
)
def test_the_traps_of_general_date_libraries_are_passed_by(text: str, right: str) -> None:
    assert [wall(when.at) for _, when in told(text)] == ([right] if right else [])


@pytest.mark.parametrize(
    ("text", "at", "minutes"),
    [
        ("2:10-2:25", "14 02:10", 15),
        ("2:10 - 2:25", "14 02:10", 15),
        ("2:10 to 2:25", "14 02:10", 15),
        ("2:10 until 2:30", "14 02:10", 20),
        ("at 2:10-2:25", "14 02:10", 15),
        ("2:10-25", "14 02:10", 15),
        ("2:45-3", "14 02:45", 15),
        ("2:45 to 3", "14 02:45", 15),
        ("2-2:15", "14 02:00", 15),
        ("2 to 2:15", "14 02:00", 15),
        ("2 until 2:15", "14 02:00", 15),
        ("2.10-2.25", "14 02:10", 15),
        ("from 2:10 to 2:25", "14 02:10", 15),
        ("from 2 to 2:20", "14 02:00", 20),
        ("between 2 and 2:20", "14 02:00", 20),
        ("between half past two and three", "14 02:30", 30),
        ("from ten past two till twenty five past", "14 02:10", 15),
        ("from twenty to three to ten past", "14 02:40", 30),
        ("2:50-3:05 am", "14 02:50", 15),
        ("11:50-12:10", "13 23:50", 20),
        ("11:50 pm to 12:10 am", "13 23:50", 20),
        ("11:50 pm to 12:10", "13 23:50", 20),
        ("11:50 to 12:10 last night", "13 23:50", 20),
        ("yesterday 2:10-2:25", "13 14:10", 15),
        ("2:10-2:25 yesterday", "13 14:10", 15),
    ],
)
def test_a_span_has_its_beginning_and_its_minutes(text: str, at: str, minutes: float) -> None:
    when = one(text)

    assert (wall(when.at), when.minutes, when.problem) == (at, minutes, None)


@pytest.mark.parametrize(
    ("text", "problem", "at"),
    [
        ("at 4", "either half", "13 16:00"),
        ("at 3:40", "either half", "13 15:40"),
        ("3:25-3:40", "either half", "13 15:25"),
        ("last night at 5", "either half", "13 17:00"),
        ("yesterday at midnight", "either half", "14 00:00"),
        ("2:25-2:10", "either half", "13 14:25"),
        ("at 4:20", "either half", "13 16:20"),
        ("at 4:21", None, "13 16:21"),
        ("at 8", None, "13 20:00"),
        ("at 4 pm", None, "13 16:00"),
        ("at 3:20", None, "14 03:20"),
        ("at 3:35 am", "future", "14 03:35"),
        ("at 5 am", None, "13 05:00"),
        ("today at 4 am", "future", "14 04:00"),
        ("this morning at 9:40", "future", "14 09:40"),
        ("tomorrow at 10 am", "future", "15 10:00"),
        ("at 10 am tomorrow", "future", "15 10:00"),
        ("sunday at 8 pm", "before birth", "12 20:00"),
        ("on March 1 at 11 pm", "before birth", "01 23:00"),
        ("60 hours ago", "before birth", "11 15:20"),
    ],
)
def test_what_the_words_leave_open_is_told(text: str, problem: str | None, at: str) -> None:
    when = one(text)

    assert (when.problem, wall(when.at)) == (problem, at)


def test_the_minute_of_the_birth_is_not_before_it() -> None:
    born = BORN.replace(second=40)

    assert one("yesterday at 9:30 pm", now=NOW - timedelta(days=0.5), born=born).problem is None
    assert one("sunday at 9:30 pm", born=born).problem is None
    assert one("sunday at 9:29 pm", born=born).problem == "before birth"
    assert one("sunday at 9:29 pm", born=None).problem is None


@pytest.mark.parametrize(
    ("text", "weak"),
    [
        ("6:30", True), ("2:31", True), ("at 310", True), ("at 205", True), ("0315", True), ("about 8", True), ("half two", True),
        ("ten to two", True), ("at two twelve", True),
        ("at 20", True), ("at 3.15", True), ("between 2 and 3", True), ("10 after 3", True), ("10ish", True),
        ("at 6:30", False), ("6:30 am", False), ("2:31 this morning", False), ("at 310 am", False), ("at 3", False),
        ("half past two", False), ("@3", False), ("2:10-2:25", False),
        ("at half two", False), ("3 o'clock", False), ("at three", False), ("20 min ago", False), ("at 3ish", False),
        ("last night at 11", False),
    ],
)  # fmt: skip
def test_bare_figures_are_weak(text: str, weak: bool) -> None:
    assert one(text).weak is weak


# The nights when clocks change. UTC moments of 2026 from the IANA data: New York 8 Mar 07:00 and 1 Nov 06:00, Chicago an hour later,
# London and Berlin 29 Mar 01:00 and 25 Oct 01:00, Adelaide 3 Oct 16:30 and 4 Apr 16:30.


@pytest.mark.parametrize(
    ("zone", "now", "text", "at"),
    [
        # clocks go back
        ("America/New_York", "2026-11-01T01:40:00-05:00", "at 1:30", "2026-11-01T01:30:00-05:00"),
        ("America/New_York", "2026-11-01T01:40:00-05:00", "at 1:50", "2026-11-01T01:50:00-04:00"),
        ("America/New_York", "2026-11-01T01:40:00-04:00", "at 1:30", "2026-11-01T01:30:00-04:00"),
        ("America/New_York", "2026-11-01T01:20:00-05:00", "1:30 am", "2026-11-01T01:30:00-04:00"),
        ("America/New_York", "2026-11-01T03:15:00-05:00", "at 1:30 am", "2026-11-01T01:30:00-05:00"),
        ("America/New_York", "2026-11-01T03:15:00-05:00", "1:30 am EDT", "2026-11-01T01:30:00-04:00"),
        ("America/New_York", "2026-11-01T03:15:00-05:00", "1:30 am before the clocks changed", "2026-11-01T01:30:00-04:00"),
        ("America/New_York", "2026-11-01T01:40:00-05:00", "2 hours ago", "2026-11-01T00:40:00-04:00"),
        ("America/Chicago", "2026-11-01T01:40:00-06:00", "at 12:30", "2026-11-01T00:30:00-05:00"),
        ("America/Chicago", "2026-11-01T01:40:00-06:00", "45 min ago", "2026-11-01T01:55:00-05:00"),
        ("America/Chicago", "2026-11-01T03:15:00-06:00", "3 hours ago", "2026-11-01T01:15:00-05:00"),
        ("America/Chicago", "2026-11-01T01:40:00-06:00", "last night at 9", "2026-10-31T21:00:00-05:00"),
        ("America/Chicago", "2026-11-01T01:40:00-06:00", "at quarter to", "2026-11-01T01:45:00-05:00"),
        ("Europe/London", "2026-10-25T01:10:00+00:00", "at half past one", "2026-10-25T01:30:00+01:00"),
        ("Europe/London", "2026-10-25T01:40:00+00:00", "at half past one", "2026-10-25T01:30:00+00:00"),
        ("Europe/Berlin", "2026-10-25T02:40:00+01:00", "at 2:50", "2026-10-25T02:50:00+02:00"),
        ("Europe/Berlin", "2026-10-25T02:40:00+01:00", "2 hours ago", "2026-10-25T01:40:00+02:00"),
        ("Europe/Berlin", "2026-10-25T02:40:00+01:00", "yesterday at noon", "2026-10-24T12:00:00+02:00"),
        ("Australia/Adelaide", "2026-04-05T02:40:00+09:30", "at 2:50", "2026-04-05T02:50:00+10:30"),
        ("Australia/Adelaide", "2026-04-05T02:40:00+09:30", "at 2:30", "2026-04-05T02:30:00+09:30"),
        # clocks go forward
        ("America/New_York", "2026-03-08T03:25:00-04:00", "at 1:50", "2026-03-08T01:50:00-05:00"),
        ("America/New_York", "2026-03-08T03:25:00-04:00", "half an hour ago", "2026-03-08T01:55:00-05:00"),
        ("America/New_York", "2026-03-08T03:25:00-04:00", "at midnight", "2026-03-08T00:00:00-05:00"),
        ("America/New_York", "2026-03-08T15:00:00-04:00", "at 2:30", "2026-03-08T14:30:00-04:00"),
        ("America/Chicago", "2026-03-08T03:25:00-05:00", "last night at 11", "2026-03-07T23:00:00-06:00"),
        ("Europe/London", "2026-03-29T03:10:00+01:00", "half two", "2026-03-29T02:30:00+01:00"),
        ("Europe/London", "2026-03-29T03:10:00+01:00", "75 minutes ago", "2026-03-29T00:55:00+00:00"),
        ("Europe/Berlin", "2026-03-29T03:10:00+02:00", "20 min ago", "2026-03-29T01:50:00+01:00"),
        ("Australia/Adelaide", "2026-10-04T03:10:00+10:30", "at 1:55", "2026-10-04T01:55:00+09:30"),
    ],
)
def test_in_the_nights_when_clocks_change_it_is_the_latest_moment(zone: str, now: str, text: str, at: str) -> None:
    when = one(text, datetime.fromisoformat(now), ZoneInfo(zone), born=None)

    assert when.at is not None
    assert (when.at.isoformat(), when.problem) == (at, None)


@pytest.mark.parametrize(
    ("zone", "now", "text", "at", "minutes"),
    [
        ("America/New_York", "2026-03-08T03:25:00-04:00", "1:45-3:10", "2026-03-08T01:45:00-05:00", 25),
        ("Europe/Berlin", "2026-03-29T03:10:00+02:00", "1:50-3:05", "2026-03-29T01:50:00+01:00", 15),
        ("America/New_York", "2026-11-01T02:30:00-05:00", "1:50-2:10", "2026-11-01T01:50:00-05:00", 20),
        ("America/New_York", "2026-11-01T02:30:00-05:00", "from 12:50 to 1:10", "2026-11-01T00:50:00-04:00", 80),
        ("America/New_York", "2026-11-01T01:40:00-04:00", "1:20-1:35", "2026-11-01T01:20:00-04:00", 15),
    ],
)
def test_a_span_over_the_change_counts_real_minutes(zone: str, now: str, text: str, at: str, minutes: float) -> None:
    when = one(text, datetime.fromisoformat(now), ZoneInfo(zone), born=None)

    assert when.at is not None
    assert (when.at.isoformat(), when.minutes) == (at, minutes)


@pytest.mark.parametrize(
    ("zone", "now", "text", "at"),
    [
        ("America/New_York", "2026-03-08T03:50:00-04:00", "at 2:30", "2026-03-08T03:30:00-04:00"),
        ("America/New_York", "2026-03-08T03:10:00-04:00", "at 2:30 am", "2026-03-08T01:30:00-05:00"),
        ("America/Chicago", "2026-03-08T09:00:00-05:00", "half past two", "2026-03-08T03:30:00-05:00"),
        ("Europe/London", "2026-03-29T03:10:00+01:00", "half one", "2026-03-29T02:30:00+01:00"),
        ("Europe/Berlin", "2026-03-29T05:00:00+02:00", "2:15", "2026-03-29T03:15:00+02:00"),
        ("Australia/Adelaide", "2026-10-04T04:00:00+10:30", "at 2:15", "2026-10-04T03:15:00+10:30"),
    ],
)
def test_figures_that_the_clocks_skip_are_never_taken_in_silence(zone: str, now: str, text: str, at: str) -> None:
    when = one(text, datetime.fromisoformat(now), ZoneInfo(zone), born=None)

    assert when.at is not None
    assert (when.problem, when.at.isoformat()) == ("skipped", at)


ZONES = ["America/New_York", "Europe/London", "Europe/Berlin", "Australia/Adelaide", "America/Chicago"]


@given(
    zone=st.sampled_from(ZONES),
    now=st.datetimes(datetime(2026, 1, 1), datetime(2027, 12, 31)),  # noqa: DTZ001
    hour=st.integers(1, 12),
    minute=st.integers(0, 59),
    half=st.sampled_from(["", " am", " pm"]),
)
def test_a_told_time_shows_its_own_figures_and_is_never_silently_ahead(zone: str, now: datetime, hour: int, minute: int, half: str) -> None:
    instant, tz = now.replace(tzinfo=UTC), ZoneInfo(zone)
    when = one(f"at {hour}:{minute:02d}{half}", instant, tz, born=None)

    assert when.at is not None
    assert when.at.utcoffset() == when.at.astimezone(tz).utcoffset()
    if when.problem != "skipped":
        assert (when.at.hour % 12 or 12, when.at.minute) == (hour, minute)
    if when.problem is None:
        reach = timedelta(hours=25 if half else 13)
        assert instant - reach < when.at <= instant


def test_a_zone_shows_figures_once_twice_or_not_at_all() -> None:
    day = datetime.fromisoformat("2026-11-01T00:00:00-04:00").date()

    assert [place.turn for place in places(day, 3, 0, NEW_YORK)] == [None]
    assert [place.turn for place in places(day, 1, 30, NEW_YORK)] == [0, 1]
    spring = datetime.fromisoformat("2026-03-08T00:00:00-05:00").date()
    assert all(place.skipped for place in places(spring, 2, 30, NEW_YORK))


def test_a_time_of_the_hour_that_comes_twice_subtracts_in_real_time() -> None:
    """Two datetimes of one zone object would be subtracted by their figures, an hour off."""
    now = datetime.fromisoformat("2026-11-01T01:40:00-05:00")
    first, second = one("1:30 am EDT", now, born=None).at, one("1:30 am EST", now, born=None).at

    assert first is not None
    assert second is not None
    assert second - first == timedelta(hours=1)


@pytest.mark.parametrize(
    ("text", "hour", "minute", "half", "length"),
    [
        ("4", 4, 0, None, 1),
        ("four", 4, 0, None, 1),
        ("4 am", 4, 0, "am", 2),
        ("10 pm to 4", 10, 0, "pm", 2),
        ("22:00", 22, 0, None, 1),
        ("noon", 12, 0, "pm", 1),
        ("midnight to 6 am", 0, 0, "am", 1),
        ("9:40 this morning", 9, 40, None, 3),
        ("half past two", 2, 30, None, 3),
        ("six", 6, 0, None, 1),
    ],
)
def test_a_clock_is_read_where_one_is_asked_for(text: str, hour: int, minute: int, half: str | None, length: int) -> None:
    said = clock(cut(text), 0)

    assert said is not None
    assert (said.hour, said.minute, said.half, said.length) == (hour, minute, half, length)


def test_ten_to_four_is_two_clock_times_in_a_roster() -> None:
    words = cut("10 to 4")

    assert clock(words, 0, to=False) == clock(cut("10"), 0)
    minutes_to = clock(words, 0)
    assert minutes_to is not None
    assert (minutes_to.hour, minutes_to.minute) == (3, 50)


@pytest.mark.parametrize(
    ("text", "now", "at"),
    [
        ("4", "2026-04-14T03:20:00-04:00", "2026-04-14T04:00:00-04:00"),
        ("4", "2026-04-14T13:20:00-04:00", "2026-04-14T16:00:00-04:00"),
        ("4 pm", "2026-04-14T17:20:00-04:00", "2026-04-15T16:00:00-04:00"),
        ("six", "2026-04-14T23:20:00-04:00", "2026-04-15T06:00:00-04:00"),
        ("noon", "2026-04-14T03:20:00-04:00", "2026-04-14T12:00:00-04:00"),
        ("midnight", "2026-04-14T03:20:00-04:00", "2026-04-15T00:00:00-04:00"),
        ("tomorrow at 8 am", "2026-04-14T03:20:00-04:00", "2026-04-15T08:00:00-04:00"),
        ("this morning at 6", "2026-04-14T03:20:00-04:00", "2026-04-14T06:00:00-04:00"),
        ("3:20", "2026-04-14T03:20:00-04:00", "2026-04-14T15:20:00-04:00"),
        ("1:30", "2026-11-01T01:40:00-04:00", "2026-11-01T01:30:00-05:00"),
        ("half past", "2026-04-14T03:20:00-04:00", "2026-04-14T03:30:00-04:00"),
    ],
)
def test_the_next_such_moment_is_after_now(text: str, now: str, at: str) -> None:
    said = clock(cut(text), 0)

    assert said is not None
    assert next_after(said, datetime.fromisoformat(now), NEW_YORK).isoformat() == at


def test_the_end_of_a_watch_is_the_first_such_time_after_its_beginning() -> None:
    four, ten, noon = (clock(cut(text), 0) for text in ("4", "10", "noon"))

    assert four is not None
    assert ten is not None
    assert noon is not None
    assert wall_after(four, 22, 0) == (4, 0)
    assert wall_after(ten, 4, 0) == (10, 0)
    assert wall_after(four, 10, 0) == (16, 0)
    assert wall_after(noon, 6, 0) == (12, 0)


@pytest.mark.parametrize("text", ["just now", "right now", "now", "a moment ago", "a second ago", "just this minute", "at the moment"])
def test_words_that_mean_now_are_known_as_such(text: str) -> None:
    words = cut(text)

    assert now_said(words, 0) == len(words)
    assert told(text) == []


@pytest.mark.parametrize(
    "text",
    ["a while ago", "a few minutes ago", "5-10 min ago", "10 or 15 minutes ago", "3 days ago", "just before 3", "shortly after midnight",
     "since 2", "up until 3",
     "yesterday", "last night", "on monday", "earlier today", "in the last hour", "within the last half hour", "an hour earlier"],
)  # fmt: skip
def test_words_too_loose_to_place_are_known_as_such(text: str) -> None:
    words = cut(text)

    assert loose(words, 0) == len(words)


@pytest.mark.parametrize("text", ["before 2 clicks", "after 212 g", "sat with mum", "pup 3", "nursed 15 min", "212 g"])
def test_other_words_are_not_loose_times(text: str) -> None:
    assert loose(cut(text), 0) == 0


@given(text=st.text(alphabet="0123456789:.-/@ aphmtofnd'½,\n", max_size=40))
def test_no_text_makes_it_stumble(text: str) -> None:
    words = cut(text)
    for at in range(len(words)):
        when = match(words, at, now=NOW, tz=NEW_YORK, born=BORN)
        assert when is None or 0 < when.length <= len(words) - at
        loose(words, at)


OWN_WORDS = (
    "at half past quarter to ten three 3 3:10 am pm ago min hours an a and last night monday on may 24 from between - , noon o'clock ish "
    "yesterday the th . h 2 : 0315 @ about"
)


@given(words=st.lists(st.sampled_from(OWN_WORDS.split()), max_size=8))
def test_no_run_of_its_own_words_makes_it_stumble(words: list[str]) -> None:
    said = cut(" ".join(words))
    for at in range(len(said)):
        when = match(said, at, now=NOW, tz=NEW_YORK, born=BORN)
        assert when is None or 0 < when.length <= len(said) - at
        loose(said, at)
        heard = clock(said, at)
        if heard:
            next_after(heard, NOW, NEW_YORK)
            wall_after(heard, 22, 0)
