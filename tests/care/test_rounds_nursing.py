"""Who is due to nurse, and what is said of it and when: the rules of the care contract, on times written down by hand."""

from __future__ import annotations

from datetime import datetime

import pytest

from bot.care.due import Due
from bot.care.notices import next_moment, notices
from bot.care.nursery import Nursery
from bot.care.rounds import due as all_due
from bot.care.rounds import next_nudge
from tests.care import written_log
from tests.care.written_log import Log, event, litter, tended

BORN = "2026-03-01 09:40"


def listening(log: Log, told: set[str] | None = None, *, now: datetime | None = None) -> written_log.Listening:
    """The bot's side, of which only the nursings are listened for."""
    return written_log.Listening(log, told or set(), now=now, only="nursing")


def due(nursery: Nursery) -> list[Due]:
    """The nursings among all that is due; they do not change with the hour."""
    assert nursery.known is not None
    return [one for one in all_due(nursery, nursery.known) if one.care == "nursing"]


def due_at(log: Log) -> list[str]:
    """`4:59 of pup 3`, on the wall."""
    return [f"{one.at.astimezone(log.zone):%m-%d %H:%M} {one.who}" for one in due(log.nursery())]


# When a pup is due


def test_a_pup_is_due_two_hours_after_it_began_to_nurse() -> None:
    assert due_at(litter().at("2026-03-02 03:14", event("nursed", 3, minutes=15))) == ["03-02 04:59 3"]


def test_a_nursing_with_a_time_began_then() -> None:
    log = litter()
    log.at("2026-03-02 03:14", event("nursed", 3, minutes=15, at=log.moment("2026-03-02 02:40")))
    assert due_at(log) == ["03-02 04:40 3"]


@pytest.mark.parametrize(
    ("began", "minutes"),
    [
        ("2026-03-01 10:00", 120),  # day 0
        ("2026-03-08 09:39", 120),  # day 6, its last minute (an hour of it lost to summer time)
        ("2026-03-08 10:40", 180),  # day 7 begins 168 hours after birth
        ("2026-03-15 10:39", 180),
        ("2026-03-15 10:40", 240),
        ("2026-03-22 10:39", 240),
        ("2026-03-22 10:40", None),  # day 21
    ],
)
def test_the_interval_is_that_of_the_pups_age_when_it_began(began: str, minutes: int | None) -> None:
    log = litter().at(began, event("nursed", 3))
    found = due(log.nursery())
    assert [(one.at - log.moment(began)).total_seconds() / 60 for one in found] == ([] if minutes is None else [minutes])


def test_the_age_that_counts_is_that_at_the_beginning_and_not_at_the_end() -> None:
    log = litter().at("2026-03-08 10:45", event("nursed", 3, minutes=10))  # began at 10:35, on day 6
    assert due_at(log) == ["03-08 12:35 3"]


def test_a_pup_with_a_birth_of_its_own_counts_its_own_days() -> None:
    log = litter(1)
    log.at("2026-03-02 10:00", event("born", 2, at=log.moment("2026-03-02 09:00")))
    log.at("2026-03-08 23:00", event("nursed", 1), event("nursed", 2))
    assert due_at(log) == ["03-09 01:00 2", "03-09 02:00 1"]


def test_a_pup_whose_birth_was_not_told_counts_as_newborn() -> None:
    log = Log().at("2026-06-01 12:00", event("nursed", 3))
    assert due_at(log) == ["06-01 14:00 3"]


def test_an_interval_set_by_chat_holds_until_day_20() -> None:
    log = litter().at("2026-03-01 11:00", every={"care": "nursed", "minutes": 90})
    log.at("2026-03-22 10:00", event("nursed", 3))
    assert due_at(log) == ["03-22 11:30 3"]
    log.at("2026-03-22 12:00", event("nursed", 3))
    assert due_at(log) == []


def test_a_feed_by_hand_counts_like_a_nursing_and_the_later_one_counts() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 04:00", event("fed", 3, ml=4))
    assert due_at(log) == ["03-02 06:00 3"]


def test_an_entry_told_late_of_an_earlier_nursing_does_not_move_the_due_time() -> None:
    log = litter().at("2026-03-02 04:00", event("nursed", 3))
    log.at("2026-03-02 04:10", event("nursed", 3, at=log.moment("2026-03-02 01:00")))
    assert due_at(log) == ["03-02 06:00 3"]


def test_a_pup_that_was_never_fed_is_not_due_by_the_clock() -> None:
    assert due_at(litter()) == []


def test_a_pup_that_died_is_due_no_more() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3), event("nursed", 4)).at("2026-03-02 03:30", event("died", 3))
    assert due_at(log) == ["03-02 05:00 4"]
    assert listening(log).until("2026-03-02 05:00") == ["05:00 nursing 4 routine all"]


# What is said


def test_a_nudge_comes_at_the_due_time_then_twice_more_and_then_no_more() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))
    assert listening(log).until("2026-03-03 12:00") == [
        "05:00 nursing 3 routine all",
        "05:30 nursing 3 soon all",
        "06:00 nursing 3 soon all",
    ]


@pytest.mark.parametrize("kind", ["nursed", "fed"])
def test_logging_the_care_ends_its_nudges(kind: str) -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))
    bot = listening(log)
    assert bot.until("2026-03-02 05:10") == ["05:00 nursing 3 routine all"]
    log.at("2026-03-02 05:10", event(kind, 3))
    assert bot.until("2026-03-02 07:20") == ["07:10 nursing 3 routine all"]


def test_the_words_name_the_pup_and_when_it_last_nursed() -> None:
    log = litter().at("2026-03-02 02:00", name={"pup": 3, "as": "Olive"}).at("2026-03-02 03:15", event("nursed", 3, minutes=15))
    bot = listening(log)
    bot.until("2026-03-02 09:00")
    assert [notice.text for _, notice in bot.said] == [
        "Pup 3 Olive is due to nurse: last nursed 3:00 am.",
        "Pup 3 Olive is 30 min overdue to nurse: last nursed 3:00 am.",
        "Pup 3 Olive is 1 h overdue to nurse: last nursed 3:00 am.",
    ]
    assert bot.said[0][1].values == {"care": "nursing", "due_at": "2026-03-02T05:00:00-06:00", "last_at": "2026-03-02T03:00:00-06:00"}


def test_the_first_two_stages_go_to_who_is_on_duty_and_the_third_to_all() -> None:
    log = litter().at("2026-03-02 02:00", on_duty="Theo").at("2026-03-02 03:00", event("nursed", 3))
    assert listening(log).until("2026-03-02 09:00") == [
        "05:00 nursing 3 routine Theo",
        "05:30 nursing 3 soon Theo",
        "06:00 nursing 3 soon all",
    ]


def test_pups_due_within_ten_minutes_of_the_first_come_in_one_nudge_at_its_time() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 4)).at("2026-03-02 03:05", event("fed", 1))
    log.at("2026-03-02 03:10", event("nursed", 2)).at("2026-03-02 03:11", event("nursed", 3))
    bot = listening(log)
    assert bot.until("2026-03-02 05:29") == ["05:00 nursing 1,2,4 routine all", "05:11 nursing 3 routine all"]
    assert bot.said[0][1].text == "Due to nurse: Pup 1 (last fed 3:05 am), Pup 2 (last nursed 3:10 am) and Pup 4 (last nursed 3:00 am)."
    assert set(bot.said[0][1].values) == {"1", "2", "4"}


def test_pups_that_began_together_are_told_together_by_their_numbers_where_none_has_a_name() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 1), event("nursed", 2), event("nursed", 4))
    bot = listening(log)
    bot.until("2026-03-02 05:00")
    log.at("2026-03-02 05:01", event("fed", 4, ml=3, at=log.moment("2026-03-02 03:02")))
    bot.until("2026-03-02 05:30")
    log.at("2026-03-02 05:31", name={"pup": 2, "as": "Olive"})
    bot.until("2026-03-02 06:00")
    assert [notice.text for _, notice in bot.said] == [
        "Pups 1, 2 and 4 are due to nurse: last nursed 3:00 am.",
        "Pup 4 is due to nurse: last fed 3:02 am.",
        "Overdue to nurse: Pups 1 and 2 (30 min, last nursed 3:00 am) and Pup 4 (28 min, last fed 3:02 am).",
        "Overdue to nurse: Pup 1 and Pup 2 Olive (1 h, last nursed 3:00 am) and Pup 4 (58 min, last fed 3:02 am).",
    ]


def test_the_later_stages_are_grouped_in_the_same_way() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 4)).at("2026-03-02 03:08", event("nursed", 1))
    log.at("2026-03-02 03:15", event("nursed", 2))
    assert listening(log).until("2026-03-02 07:00") == [
        "05:00 nursing 1,4 routine all",
        "05:15 nursing 2 routine all",
        "05:30 nursing 1,4 soon all",
        "05:45 nursing 2 soon all",
        "06:00 nursing 1,4 soon all",
        "06:15 nursing 2 soon all",
    ]


def test_a_message_holds_one_stage_only() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 1)).at("2026-03-02 03:30", event("nursed", 2))
    assert listening(log).until("2026-03-02 05:40") == [
        "05:00 nursing 1 routine all",
        "05:30 nursing 2 routine all",
        "05:30 nursing 1 soon all",
    ]


def test_a_pup_that_nursed_meanwhile_is_left_out_of_the_next_stage() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 1), event("nursed", 2))
    bot = listening(log)
    assert bot.until("2026-03-02 05:20") == ["05:00 nursing 1,2 routine all"]
    log.at("2026-03-02 05:20", event("nursed", 2))
    assert bot.until("2026-03-02 05:50") == ["05:30 nursing 1 soon all"]


def test_a_pup_that_became_due_after_its_group_was_said_comes_alone() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 1))
    bot = listening(log)
    assert bot.until("2026-03-02 05:02") == ["05:00 nursing 1 routine all"]
    log.at("2026-03-02 05:02", event("nursed", 2, at=log.moment("2026-03-02 03:05")))
    assert bot.until("2026-03-02 05:20") == ["05:05 nursing 2 routine all"]


# What is said twice, or late, or not at all


def test_nothing_is_said_twice_when_the_interval_changes() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))
    bot = listening(log)
    assert bot.until("2026-03-02 05:10") == ["05:00 nursing 3 routine all"]
    log.at("2026-03-02 05:10", every={"care": "nursed", "minutes": 150})
    assert bot.until("2026-03-02 09:00") == ["06:00 nursing 3 soon all", "06:30 nursing 3 soon all"]


def test_a_shorter_interval_holds_at_once() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 04:10", every={"care": "nursed", "minutes": 60})
    assert listening(log).until("2026-03-02 09:00") == [
        "04:10 nursing 3 routine all",
        "04:30 nursing 3 soon all",
        "05:00 nursing 3 soon all",
    ]


def test_after_an_outage_the_overdue_is_said_once_for_all_pups_and_later_stages_follow() -> None:
    log = litter().at("2026-03-02 01:00", event("nursed", 1)).at("2026-03-02 02:45", event("nursed", 2))
    log.at("2026-03-02 03:15", event("nursed", 3)).at("2026-03-02 03:45", event("nursed", 4))
    bot = listening(log)
    assert bot.off_until("2026-03-02 05:30") == ["05:30 nursing 1,2,3 soon all"]
    assert bot.until("2026-03-02 07:00") == [
        "05:45 nursing 4 routine all",
        "05:45 nursing 3 soon all",
        "05:45 nursing 2 soon all",
        "06:15 nursing 4 soon all",
        "06:15 nursing 3 soon all",
        "06:45 nursing 4 soon all",
    ]


def test_an_outage_that_ends_before_the_last_stage_goes_to_who_is_on_duty() -> None:
    log = (
        litter()
        .at("2026-03-02 02:00", on_duty="Theo")
        .at("2026-03-02 03:00", event("nursed", 1))
        .at("2026-03-02 03:20", event("nursed", 2))
    )
    assert listening(log).off_until("2026-03-02 05:31") == ["05:31 nursing 1,2 soon Theo"]


@pytest.mark.parametrize(("back", "said"), [("2026-03-02 18:00", True), ("2026-03-02 18:01", False), ("2026-03-04 18:01", False)])
def test_what_is_more_than_twelve_hours_old_is_left_to_the_handover(back: str, said: bool) -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))  # the last stage is at six
    assert bool(listening(log).off_until(back)) is said


def test_a_restart_says_nothing_again() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))
    bot = listening(log)
    bot.until("2026-03-02 05:05")
    again = listening(log, set(bot.told), now=log.moment("2026-03-02 05:06"))
    assert again.until("2026-03-02 06:10") == ["05:30 nursing 3 soon all", "06:00 nursing 3 soon all"]


# Snooze


def test_a_stage_that_a_snooze_moved_and_an_outage_passed_over_still_moves_the_later_ones() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 04:50", snooze={"minutes": 20})
    bot = listening(log)
    assert bot.off_until("2026-03-02 05:50") == ["05:50 nursing 3 soon all"], "its first stage was for 5:10, and is passed over"
    assert bot.until("2026-03-02 09:00") == ["06:10 nursing 3 soon all"]


def test_a_stage_within_a_snooze_is_said_at_its_end_and_the_later_ones_half_an_hour_apart_from_there() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 04:50", snooze={"minutes": 20})
    assert listening(log).until("2026-03-02 09:00") == [
        "05:10 nursing 3 routine all",
        "05:40 nursing 3 soon all",
        "06:10 nursing 3 soon all",
    ]


def test_a_snooze_after_the_first_stage_moves_the_rest() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))
    bot = listening(log)
    assert bot.until("2026-03-02 05:05") == ["05:00 nursing 3 routine all"]
    log.at("2026-03-02 05:05", snooze={"minutes": 40})
    assert bot.until("2026-03-02 09:00") == ["05:45 nursing 3 soon all", "06:15 nursing 3 soon all"]


def test_a_snooze_in_the_minute_of_the_first_stage_moves_the_rest() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))
    bot = listening(log)
    assert bot.until("2026-03-02 05:00") == ["05:00 nursing 3 routine all"]
    log.at("2026-03-02 05:00", snooze={"minutes": 20})
    assert bot.until("2026-03-02 09:00") == ["05:30 nursing 3 soon all", "06:00 nursing 3 soon all"]


def test_a_snooze_after_a_pup_was_named_early_with_its_group_does_not_move_its_later_stages() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 03:08", event("nursed", 4))
    bot = listening(log)
    assert bot.until("2026-03-02 05:02") == ["05:00 nursing 3,4 routine all"]
    log.at("2026-03-02 05:02", snooze={"minutes": 20})
    assert bot.until("2026-03-02 09:00") == ["05:30 nursing 3,4 soon all", "06:00 nursing 3,4 soon all"]


def test_a_restart_knows_that_a_stage_waited_for_the_end_of_a_snooze() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 04:50", snooze={"minutes": 20})
    bot = listening(log)
    assert bot.until("2026-03-02 05:20") == ["05:10 nursing 3 routine all"]
    again = listening(log, set(bot.told), now=log.moment("2026-03-02 05:21"))
    assert again.until("2026-03-02 06:10") == ["05:40 nursing 3 soon all", "06:10 nursing 3 soon all"]


def test_a_long_snooze_does_not_swallow_what_is_overdue() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 04:00", snooze={"minutes": 180})
    assert listening(log).until("2026-03-02 12:00") == [
        "07:00 nursing 3 routine all",
        "07:30 nursing 3 soon all",
        "08:00 nursing 3 soon all",
    ]


def test_a_snooze_of_one_pup_leaves_the_others() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3), event("nursed", 4)).at("2026-03-02 04:50", snooze={"minutes": 60, "who": 3})
    assert listening(log).until("2026-03-02 05:55") == [
        "05:00 nursing 4 routine all",
        "05:30 nursing 4 soon all",
        "05:50 nursing 3 routine all",
    ]


def test_one_snooze_after_another_counts_too() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 04:50", snooze={"minutes": 20})
    log.at("2026-03-02 05:08", snooze={"minutes": 20})
    assert listening(log).until("2026-03-02 05:30") == ["05:28 nursing 3 routine all"]


def test_what_a_late_entry_makes_overdue_waits_for_the_end_of_the_snooze_too() -> None:
    log = litter().at("2026-03-02 05:00", snooze={"minutes": 60})
    log.at("2026-03-02 05:05", event("nursed", 3, at=log.moment("2026-03-02 02:50")))  # due at 04:50, before the snooze began
    assert listening(log).until("2026-03-02 09:00") == [
        "06:00 nursing 3 routine all",
        "06:30 nursing 3 soon all",
        "07:00 nursing 3 soon all",
    ]


def test_a_snooze_does_not_bring_back_what_was_left_to_the_handover() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))
    bot = listening(log, now=log.moment("2026-03-02 19:00"))  # the machine was off: its last stage was at six in the morning
    log.at("2026-03-02 19:00", snooze={"minutes": 20})
    assert bot.until("2026-03-02 22:00") == []


def test_a_snooze_that_is_over_moves_nothing() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 04:00", snooze={"minutes": 60})
    assert listening(log).until("2026-03-02 05:10") == ["05:00 nursing 3 routine all"]  # it ends at five: the nudge of five is not in it


# Corrections


def test_an_undo_brings_the_nursing_before_back_and_says_nothing_twice() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3))
    bot = listening(log)
    assert bot.until("2026-03-02 05:10") == ["05:00 nursing 3 routine all"]
    log.at("2026-03-02 05:10", event("nursed", 3))
    assert bot.until("2026-03-02 05:12") == []
    log.entries.pop()  # undone: it stands no longer
    bot.now = log.moment("2026-03-02 05:12")
    assert bot.until("2026-03-02 06:10") == ["05:30 nursing 3 soon all", "06:00 nursing 3 soon all"]


def test_a_corrected_length_says_nothing_twice() -> None:
    log = litter().at("2026-03-02 03:15", event("nursed", 3, minutes=15))
    bot = listening(log)
    assert bot.until("2026-03-02 05:02") == ["05:00 nursing 3 routine all"]
    log.entries.pop()
    log.at("2026-03-02 03:15", event("nursed", 3, minutes=20))  # a correction stands with the time at which the nursing was told first
    bot.now = log.moment("2026-03-02 05:03")
    assert bot.until("2026-03-02 05:30") == ["05:25 nursing 3 soon all"]


def test_a_corrected_pup_moves_the_nudge() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 4)).at("2026-03-02 04:00", event("nursed", 4))
    log.entries.pop()
    log.at("2026-03-02 04:00", event("nursed", 3))
    assert listening(log).until("2026-03-02 06:05") == [
        "05:00 nursing 4 routine all",
        "05:30 nursing 4 soon all",
        "06:00 nursing 3 routine all",
        "06:00 nursing 4 soon all",
    ]


def test_a_corrected_time_is_a_new_cause() -> None:
    log = litter().at("2026-03-02 04:00", event("nursed", 3, at=litter().moment("2026-03-02 02:00")))
    bot = listening(log)
    assert bot.until("2026-03-02 04:10") == ["04:00 nursing 3 routine all"]
    log.entries.pop()
    log.at("2026-03-02 04:00", event("nursed", 3, at=log.moment("2026-03-02 03:00")))
    assert bot.until("2026-03-02 05:10") == ["05:00 nursing 3 routine all"]


# Switched off, other nights


def test_stopped_reminders_are_not_said_and_can_be_started_again() -> None:
    log = litter().at("2026-03-02 03:00", event("nursed", 3)).at("2026-03-02 03:30", reminders={"care": "nursing", "on": False})
    assert listening(log).until("2026-03-02 08:00") == []
    log.at("2026-03-02 05:10", reminders={"care": "nursing", "on": True})
    assert listening(log, now=log.moment("2026-03-02 05:10")).until("2026-03-02 05:40") == [
        "05:10 nursing 3 routine all",
        "05:30 nursing 3 soon all",
    ]


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ("2026-03-08 01:00", "04:00 nursing 3 routine all"),  # clocks go from 2 to 3: two real hours are three on the wall
        ("2026-11-01 00:30", "01:30 nursing 3 routine all"),  # clocks go from 2 back to 1
    ],
)
def test_two_hours_are_two_real_hours_on_the_night_when_the_clocks_change(told: str, expected: str) -> None:
    log = Log().at("2026-01-01 10:00", litter={"pups": 5}).at(told, event("nursed", 3))
    assert listening(log).until(f"{told[:10]} 04:30")[0] == expected


def test_the_next_moment_is_the_earliest_notice_and_none_lies_ahead_when_all_is_said() -> None:
    log = litter().at("2026-04-02 03:00", event("nursed", 3)).at("2026-04-02 03:20", event("nursed", 4))  # too old to be due
    log.at("2026-04-02 03:21", *tended(3))
    nursery, now = log.nursery(), log.moment("2026-04-02 03:21")
    assert next_moment(nursery, set(), now) == log.moment("2026-04-02 03:35")
    assert notices(nursery, set(), now) == []
    assert next_nudge(nursery, {cause for one in all_due(nursery, now) for cause in one.causes}, now) is None
