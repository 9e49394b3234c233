"""The board: every pup in a row, the neediest first, figures under each other, the dam last."""

from __future__ import annotations

from tests.care.written_log import Log, event, litter
from tests.reports.asking import ask, of


def a_morning() -> Log:
    log = litter(3).at("2026-03-01 10:40", name={"pup": 2, "as": "Olive"})
    log.at("2026-03-01 11:00", event("weight", 1, grams=205), event("weight", 2, grams=188), event("weight", 3, grams=98))
    log.at("2026-03-02 08:00", event("weight", 1, grams=211), event("weight", 2, grams=187))
    log.at("2026-03-01 12:00", reminders={"care": "weighing", "on": False})  # pup 3 is not weighed, and no one waits for it
    log.at("2026-03-02 08:00", *(event("nursed", pup, minutes=20) for pup in (1, 2, 3)))
    log.at("2026-03-02 08:05", event("cleared", 1), event("cleared", 3), event("toilet", 3, urine=True), event("toilet", 1, stool=True))
    return log.at("2026-03-02 08:06", event("temperature", "dam", celsius=38.5))


def test_every_pup_has_a_row_the_overdue_first_and_the_dam_is_last() -> None:
    assert ask(a_morning(), "2026-03-02 08:45", "board").text == "\n".join(
        [
            "pup       g gain  fed clear pass due in",
            "3        98    - 1:05  0:40 0:40   0:55 soon",  # small beside its littermates
            "2 Olive 187   -1 1:05     -    -  -0:30",
            "1       211   +6 1:05  0:40 0:40   0:55",
            "Juniper: temp 101.3 F 0:39 ago, dam check due tomorrow 9:00 am.",
        ]
    )


def test_the_figures_of_each_pup_stand_beside_the_rows() -> None:
    answer = ask(a_morning(), "2026-03-02 08:45", "board")
    assert of(answer, 2) | {"per_day_percent": 0, "gain_percent": 0, "since_birth_percent": 0} == {
        "grams": 187,
        "gain_g": -1,
        "gain_percent": 0,
        "hours": 21,
        "per_day_percent": 0,
        "since_birth_percent": 0,
        "care": "clearing",
        "due_at": "2026-03-02T08:15:00-06:00",
        "last_at": "2026-03-02T07:40:00-06:00",
        "fed_at": "2026-03-02T07:40:00-06:00",
    }
    assert of(answer, 1)["passed_at"] == "2026-03-02T08:05:00-06:00"
    assert (answer.values["not_weighed"], answer.values["mean_gain_g"], answer.who) == ([3], 2.5, ())


def test_a_pup_with_a_warning_stands_first_and_says_how_urgent_it_is() -> None:
    log = a_morning().at("2026-03-02 08:10", every={"care": "dose", "drug": "drops", "minutes": 240})
    log.at("2026-03-02 08:11", event("dose", 3, drug="drops")).at("2026-03-02 08:30", event("dose", 3, drug="drops"))
    lines = ask(log, "2026-03-02 08:45", "board").text.split("\n")
    assert lines[1].split() == ["3", "98", "-", "1:05", "0:40", "0:40", "0:55", "soon"]
    assert of(ask(log, "2026-03-02 08:45", "board"), 3)["urgency"] == "soon"


def test_the_dead_have_no_row_and_an_empty_house_no_board() -> None:
    log = a_morning().at("2026-03-02 08:30", event("died", 2))
    assert "Olive" not in ask(log, "2026-03-02 08:45", "board").text
    assert ask(log, "2026-03-02 08:45", "board", who=2).text == "Pup 2 Olive died. I am sorry."
    assert ask(Log().at("2026-03-01 10:00", weights_in="g"), "2026-03-01 10:01", "board").text == "There is no pup in this litter yet."


def test_some_pups_alone_have_a_board_without_the_dam() -> None:
    answer = ask(a_morning(), "2026-03-02 08:45", "board", who=[1, 3])
    assert [line.split()[0] for line in answer.text.split("\n")] == ["pup", "3", "1"]
    assert answer.who == (1, 3)
