"""Spreadsheets of older weights as people keep them: read where they can mean one thing only, asked about or refused otherwise."""

from __future__ import annotations

from datetime import date, time

import pytest

from bot.app.dates_in_cells import NotRead
from bot.app.weights_table import Question, Weighed, read_weights


def weights(data: str, **given: object) -> list[tuple[str, str | None, str, float]]:
    found = read_weights(data, **given)  # type: ignore[arg-type]
    assert not isinstance(found, Question), found
    return [(one.day.isoformat(), None if one.clock is None else f"{one.clock:%H:%M}", one.pup, one.grams) for one in found]


@pytest.mark.parametrize(
    "table",
    [
        "date,pup,weight (g)\n2026-03-01,1,212\n2026-03-02,2,218.5\n",
        "Date;Puppy;Weight g\n01.03.2026;1;212\n2.3.2026;2;218,5\n",
        "Weight [g]\tWhen\tPup\n212\t1 Mar 2026\t1\n218.5\tMarch 2nd, 2026\t2\n",
        "\ufeffdatum,welpe,gewicht\n2026-03-01,1,212 g\n2026-03-02,2,0.2185 kg\n",
        'day,name,weight\n2026-03-01,1,"212,0 g"\n2026-03-02,2,"218,5g"\n',
        "# my litter\n\ndate,pup,grams\n2026-03-01,1,212\n\n2026-03-02,2,218.5\n",
        "2026-03-01;1;212 g\n2026-03-02;2;218.5 g\n",
        "date,1,2,mean,notes\n2026-03-01,212 g,,212,dry\n2026-03-02,,218.5 g,218.5,\n",
    ],
    ids=["plain", "comma and semicolon", "tabs, months, order", "other words, kilos", "quoted", "remarks", "no header", "a column a pup"],
)
def test_every_usual_shape_gives_the_same_weights(table: str) -> None:
    assert weights(table) == [("2026-03-01", None, "1", 212), ("2026-03-02", None, "2", 218.5)]


def test_pounds_and_ounces_are_weights_too() -> None:
    table = "date,pup,weight\n2026-03-01,1,7.4 oz\n2026-03-02,1,1 lb 2 oz\n2026-03-03,1,1 lb\n"
    assert [grams for *_, grams in weights(table)] == pytest.approx([209.79, 510.29, 453.59], abs=0.01)


def test_times_of_day_are_read_from_their_own_column_or_beside_the_date() -> None:
    assert weights("date,time,pup,g\n2026-03-01,8:05 pm,1,212\n2026-03-02,0830,1,215\n".replace("0830", "8.30")) == [
        ("2026-03-01", "20:05", "1", 212),
        ("2026-03-02", "08:30", "1", 215),
    ]
    assert weights("date,pup,g\n2026-03-01 08:30,1,212\n2026-03-02T20:15:00,1,215\n3/24/2026 7:05 am,1,300\n")[0::2] == [
        ("2026-03-01", "08:30", "1", 212),
        ("2026-03-24", "07:05", "1", 300),
    ]


def test_a_weight_without_a_unit_is_a_question() -> None:
    table = "date,pup,weight\n2026-03-01,1,7.5\n2026-03-02,1,8\n"
    found = read_weights(table)
    assert isinstance(found, Question)
    assert (found.option, found.answers) == ("--unit", ("g", "oz"))
    assert [grams for *_, grams in weights(table, unit="oz")] == pytest.approx([212.62, 226.8], abs=0.01)


def test_whether_the_day_or_the_month_comes_first_is_a_question_only_where_no_date_tells() -> None:
    table = "date,pup,g\n3/4/2026,1,212\n4/4/2026,1,220\n"
    found = read_weights(table)
    assert isinstance(found, Question)
    assert found.asks == "Is 3/4/2026 the day first or the month first?"
    assert [day for day, *_ in weights(table, order="dmy")] == ["2026-04-03", "2026-04-04"]
    assert [day for day, *_ in weights(table, order="mdy")] == ["2026-03-04", "2026-04-04"]
    assert [day for day, *_ in weights(table + "25/4/2026,1,300\n")] == ["2026-04-03", "2026-04-04", "2026-04-25"]
    assert [day for day, *_ in weights(table + "4/25/2026,1,300\n")] == ["2026-03-04", "2026-04-04", "2026-04-25"]
    assert [day for day, *_ in weights("date,pup,g\n3/3/26,1,212\n")] == ["2026-03-03"]


def test_days_of_their_lives_count_from_the_birth() -> None:
    table = "day,1\n1,212 g\n14,480 g\n"
    assert [day for day, *_ in weights(table, birth=date(2026, 3, 1))] == ["2026-03-02", "2026-03-15"]
    with pytest.raises(NotRead, match="add --born"):
        read_weights(table)


@pytest.mark.parametrize(
    ("table", "why"),
    [
        ("", "the file is empty"),
        ("212\n215\n", "one column only"),
        ("pup,weight\n1,212\n", "line 1: no column is called date"),
        ("date,pup,g\n2026-03-01,1,big\n", "line 2: “big” is no weight"),
        ("date,pup,g\n2026-03-01,1,2\n", "line 2: “2” would be 2 g, which is no weight of a pup"),
        ("date,pup,weight\n2026-03-01,1,212 kg\n", "line 2: “212 kg” would be 212000 g"),
        ('date,pup,g\n2026-03-01,1,"1,205"\n', "line 2: “1,205” would be 1.2"),
        ("date,pup,g\n2026-03-01,,212\n", "line 2: there is no pup"),
        ("date,pup,g\n2026-02-30,1,212\n", "line 2: “2026-02-30” is no date that is sure"),
        ("date,pup,g\n46082,1,212\n", "line 2: “46082” is no date that is sure"),
        ("date,pup,g\nlast Monday,1,212\n", "line 2: “last Monday” is no date"),
        ("date,pup,g\n13/4/2026,1,212\n4/13/2026,1,215\n", "has the day first and 4/13/2026 the month"),
        ("date,time,pup,g\n2026-03-01,25:10,1,212\n", "line 2: “25:10” is no time of day"),
        ("date,time,pup,g\n2026-03-01,morning,1,212\n", "line 2: “morning” is no time of day"),
    ],
)
def test_what_cannot_be_read_for_sure_is_refused_with_its_line(table: str, why: str) -> None:
    with pytest.raises(NotRead) as refused:
        read_weights(table)
    assert why in str(refused.value)


def test_a_row_keeps_its_line_for_what_is_said_of_it() -> None:
    found = read_weights("# remark\ndate,pup,g\n2026-03-01,1,212\n")
    assert found == [Weighed(3, date(2026, 3, 1), None, "1", 212.0)]
    assert isinstance(found[0], Weighed)
    assert found[0].clock in (None, time(12))
