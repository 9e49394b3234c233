"""Who is due: the overdue first, then in order of time."""

from __future__ import annotations

import pytest

from tests.care.written_log import Log, event, litter, tended
from tests.reports.asking import ask, of


def weighed(log: Log, wall: str) -> Log:
    return log.at(wall, *(event("weight", pup, grams=200) for pup in log.nursery().pups))


def a_night() -> Log:
    log = weighed(litter(4).at("2026-03-01 19:00", name={"pup": 3, "as": "Olive"}), "2026-03-01 20:00")
    log.at("2026-03-01 20:01", every={"care": "dose", "drug": "calcium", "minutes": 150})
    log.at("2026-03-02 03:14", event("nursed", 3, minutes=15)).at("2026-03-02 05:14", event("nursed", 1, minutes=10))
    log.at("2026-03-02 05:14", event("fed", 4, ml=4, food="colostrum"), event("dose", "dam", drug="calcium"))
    return log.at("2026-03-02 05:15", *tended(1, 3, 4))


def test_care_of_which_the_reminders_were_stopped_is_told_of_only_where_it_is_asked_for() -> None:
    log = litter(2).at("2026-03-02 03:14", event("nursed", 1, minutes=15), event("nursed", 2, minutes=15))
    log.at("2026-03-02 03:15", reminders={"care": "clearing", "on": False})
    assert "cleared" not in ask(log, "2026-03-02 03:50", "due").text
    assert "Overdue to be cleared: Pups 1 and 2" in ask(log, "2026-03-02 03:50", "due", of="cleared").text


def test_the_overdue_come_first_then_the_others_in_order_of_time() -> None:
    answer = ask(a_night(), "2026-03-02 05:24", "due")
    assert answer.text == "\n".join(
        [
            "Overdue for the first milk: Pup 2 by 17 h 44 min (no nursing or colostrum in the log, born yesterday 9:40 am).",
            "Overdue to nurse: Pup 3 Olive by 25 min (last nursed 2:59 am).",
            "Next to nurse: Pup 1 at 7:04 am and Pup 4 at 7:14 am.",
            "Next: calcium for Juniper at 7:44 am.",
            "Next to be weighed: Pup 1, Pup 2, Pup 3 Olive and Pup 4 at 8:00 am.",
            "Next for her daily check: Juniper at 9:00 am.",
        ]
    )
    assert answer.who == (2, 3, 1, 4, "dam")
    assert answer.values == {
        "3": {"care": "nursing", "due_at": "2026-03-02T04:59:00-06:00", "last_at": "2026-03-02T02:59:00-06:00"},
        "1": {"care": "nursing", "due_at": "2026-03-02T07:04:00-06:00", "last_at": "2026-03-02T05:04:00-06:00"},
        "4": {"care": "nursing", "due_at": "2026-03-02T07:14:00-06:00", "last_at": "2026-03-02T05:14:00-06:00"},
        "dam": {"care": "dose", "due_at": "2026-03-02T07:44:00-06:00", "last_at": "2026-03-02T05:14:00-06:00", "drug": "calcium"},
        "2": {"care": "first milk", "due_at": "2026-03-01T11:40:00-06:00"},
    }


def test_when_no_one_is_overdue_that_is_said_first() -> None:
    log = weighed(litter(1), "2026-03-02 05:00").at("2026-03-02 05:14", event("nursed", 1), *tended(1))
    assert ask(log, "2026-03-02 07:14", "due", of="nursed").text == "No one is overdue.\nNext to nurse: Pup 1 at 7:14 am."
    assert ask(log, "2026-03-02 07:14", "due").text.splitlines()[:2] == ["No one is overdue.", "Next to nurse: Pup 1 at 7:14 am."]


def test_the_figures_of_one_pup_or_one_drug_stand_flat() -> None:
    expected = {"care": "nursing", "due_at": "2026-03-02T07:04:00-06:00", "last_at": "2026-03-02T05:04:00-06:00"}
    assert ask(a_night(), "2026-03-02 05:24", "due", who=1).values == expected
    calcium = ask(a_night(), "2026-03-02 05:24", "due", of="calcium")
    assert (calcium.values["due_at"], calcium.who) == ("2026-03-02T07:44:00-06:00", ("dam",))
    assert ask(a_night(), "2026-03-02 05:24", "due", who=[1, 3]).values.keys() == {"1", "3"}


def test_a_pup_due_for_two_things_shows_the_earliest() -> None:
    log = weighed(litter(1), "2026-03-01 20:00").at("2026-03-01 20:01", every={"care": "dose", "drug": "drops", "minutes": 60})
    log.at("2026-03-02 05:00", event("nursed", 1), *tended(1), event("dose", 1, drug="drops"))
    answer = ask(log, "2026-03-02 05:10", "due")
    assert answer.text.splitlines()[1:4] == [
        "Next: drops for Pup 1 at 6:00 am.",
        "Next to nurse: Pup 1 at 7:00 am.",
        "Next to be weighed: Pup 1 at 8:00 am.",
    ]
    assert of(answer, 1) == {
        "care": "dose", "due_at": "2026-03-02T06:00:00-06:00", "last_at": "2026-03-02T05:00:00-06:00", "drug": "drops",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"of": "iron"}, "There is no plan for iron"),
        ({"of": "calcium"}, "No calcium is in the log yet"),
        ({"of": "dose"}, "No dose is due"),
        ({"of": "temperature", "who": 2}, "Nothing is due"),
        ({"who": 9}, "There is no pup 9"),
        ({"of": "cleared"}, "No one is to be cleared now"),
    ],
)
def test_where_nothing_is_due_it_is_said_why(asked: dict[str, object], words: str) -> None:
    log = litter(4).at("2026-03-01 20:01", every={"care": "dose", "drug": "calcium", "minutes": 150})
    answer = ask(log, "2026-03-02 05:24", "due", **asked)
    assert words in answer.text
    assert answer.values == {}


def test_where_no_birth_is_known_a_pup_that_never_fed_is_named() -> None:
    log = Log().at("2026-03-02 05:00", litter={"pups": 2})
    assert ask(log, "2026-03-02 05:24", "due", of="nursed").text.startswith("No nursing or feed of Pups 1 and 2 is in the log yet")
    log.at("2026-03-02 05:30", event("nursed", 1))
    assert ask(log, "2026-03-02 05:31", "due", of="nursed").text.splitlines() == [
        "No one is overdue.",
        "Next to nurse: Pup 1 at 7:30 am.",
        "Not nursed or fed yet: Pup 2.",
    ]


def test_pups_of_three_weeks_are_due_no_more_and_the_dead_never() -> None:
    log = litter(1).at("2026-03-23 05:00", event("nursed", 1), *tended(1))
    assert "from three weeks on" in ask(log, "2026-03-23 09:00", "due", of="nursed").text
    log.at("2026-03-23 08:00", event("died", 1))
    assert ask(log, "2026-03-23 09:00", "due", who=1).text == "Nothing is due: Pup 1 died."
