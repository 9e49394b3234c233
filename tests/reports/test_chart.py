"""The charts in words, their figures, and what is drawn beside them."""

from __future__ import annotations

from typing import Any

import pytest

from bot.charts import Curves, Timeline
from bot.reports import chart
from tests.care.shepherds import on_day, shepherds
from tests.care.written_log import Log, event, litter
from tests.reports.asking import ask, asked, of

SHEPHERDS = shepherds()
NOON = on_day(22, "12:00")


def night() -> Log:
    log = litter(2)
    log.at("2026-03-02 21:15", event("nursed", 1, minutes=15.0), event("nursed", 2, minutes=10.0), event("cleared", 1))
    log.at("2026-03-02 21:40", event("toilet", 1, urine=True, stool=True), event("toilet", 2, urine=True))
    log.at("2026-03-03 00:30", event("refused", 2)).at("2026-03-03 00:40", event("fed", 2, ml=4.0, food="formula"))
    log.at("2026-03-03 01:00", event("nursed", 1, at="2026-03-03T00:20:00-06:00", minutes=12.0))
    return log.at("2026-03-03 01:05", event("toilet", 1, stool=False))


def test_the_growth_of_a_published_litter_in_words() -> None:
    answer = ask(SHEPHERDS, NOON, "chart")
    lines = answer.text.splitlines()
    assert lines[0] == "Growth chart, % of birth weight:"
    assert lines[2] == "Pup 2 emerald: 36 oz, +111.8 % since birth, doubled, below the shaded range."
    assert lines[3] == "Pup 3 orange: 52 oz, +173.7 % since birth, doubled, in the shaded range."
    assert lines[-1].startswith("Shaded: the usual gain from birth on, 5 to 10 % a day in week 1")
    assert len(lines) <= 12
    assert answer.shows == "chart"


def test_its_figures_are_those_of_the_gains_for_each_pup_and_the_litter() -> None:
    answer = ask(SHEPHERDS, NOON, "chart")
    gains = ask(SHEPHERDS, NOON, "gains")
    assert answer.values == gains.values
    assert of(answer, 3).keys() == {"gain_g", "gain_percent", "hours", "per_day_percent", "since_birth_percent", "doubled_at"}
    assert ask(SHEPHERDS, NOON, "chart", who=3).values == of(answer, 3)


def test_who_was_not_weighed_today_is_among_its_figures() -> None:
    assert ask(SHEPHERDS, on_day(55, "12:00"), "chart").values["not_weighed"] == [1, 3]


def test_one_pup_has_its_first_its_lowest_and_its_last_weight_in_words() -> None:
    text = ask(SHEPHERDS, NOON, "chart", who=3).text
    assert text.splitlines()[0] == "Growth chart of Pup 3 orange: 52 oz, +173.7 % since birth, doubled, in the shaded range."
    assert "22 weights, from 19 oz 20 Mar 7:00 am, lowest 18 oz 21 Mar 7:00 am." in text


def test_the_words_are_the_alternative_text_of_what_is_drawn() -> None:
    for about in ({}, {"who": 3}, {"span": "week"}):
        drawn = chart.picture(asked(SHEPHERDS, NOON, "chart", **about))
        assert isinstance(drawn, Curves)
        assert drawn.alt == ask(SHEPHERDS, NOON, "chart", **about).text


def test_a_span_cuts_the_curves() -> None:
    drawn = chart.picture(asked(SHEPHERDS, NOON, "chart", span="week"))
    assert isinstance(drawn, Curves)
    assert {len(curve.points) for curve in drawn.curves} == {7}


@pytest.mark.parametrize(
    ("about", "said"),
    [
        ({}, "There is no chart to draw: Pups 1 and 2 have not been weighed yet."),
        ({"who": 2}, "There is no chart to draw: Pup 2 has not been weighed yet."),
        ({"who": 7}, "There is no pup 7 in this litter."),
        ({"who": "dam"}, "No temperature of Juniper was told in the last 7 days."),
        ({"of": "temperature", "who": (1, 2)}, "Whose temperature? Ask for a chart of mom's temperature, or of one pup's."),
    ],
)
def test_where_there_is_nothing_to_draw_that_is_said_and_nothing_is_shown(about: dict[str, Any], said: str) -> None:
    answer = ask(litter(2), "2026-03-02 12:00", "chart", **about)
    assert answer.text == said
    assert answer.shows == ""
    assert chart.picture(asked(litter(2), "2026-03-02 12:00", "chart", **about)) is None


def test_without_a_pup_there_is_nothing_to_draw() -> None:
    assert ask(Log(), "2026-03-02 12:00", "chart").text == "There is no pup in this litter yet."
    assert ask(Log(), "2026-03-02 12:00", "chart", of="night").text == "There is no pup in this litter yet."


def test_a_night_in_words_with_how_often_and_when_last() -> None:
    answer = ask(night(), "2026-03-03 03:00", "chart", of="night")
    assert answer.text.splitlines() == [
        "Chart of the care from yesterday 8:00 pm to now:",
        "Pup 1: nursed 2 (last 12:20 am), cleared 1 (last yesterday 9:15 pm), stool 1 (last yesterday 9:40 pm).",
        "Pup 2: nursed 1 (last yesterday 9:05 pm), fed 1 (last 12:40 am), refused 1 (last 12:30 am), "
        "urine only 1 (last yesterday 9:40 pm).",
    ]
    assert of(answer, 2)["fed_count"] == 1
    assert of(answer, 1)["nursed_last_at"] == "2026-03-03T00:20:00-06:00"


def test_what_is_drawn_of_a_night_is_each_doing_at_its_time_and_as_long_as_it_took() -> None:
    drawn = chart.picture(asked(night(), "2026-03-03 03:00", "chart", of="night"))
    assert isinstance(drawn, Timeline)
    assert drawn.kinds == ("nursed", "fed", "refused", "cleared", "stool", "urine")
    assert [row.label for row in drawn.rows] == ["Pup 1", "Pup 2"]
    first = [(drawn.kinds[mark.kind], round(mark.start * 1440), round((mark.end - mark.start) * 1440)) for mark in drawn.rows[0].marks]
    assert first == [("nursed", 60, 15), ("cleared", 75, 0), ("stool", 100, 0), ("nursed", 260, 12)]  # minutes after 8 in the evening


@pytest.mark.parametrize(
    ("wall", "hours"), [("2026-03-03 03:00", 7), ("2026-03-03 15:00", 12), ("2026-03-02 22:00", 2), ("2026-03-03 08:00", 12)]
)
def test_the_night_is_the_one_that_is_or_the_last_one(wall: str, hours: int) -> None:
    drawn = chart.picture(asked(night(), wall, "chart", of="night"))
    assert isinstance(drawn, Timeline)
    assert drawn.x.high == pytest.approx(hours / 24)


def test_the_dams_temperature_in_words_and_as_it_is_drawn() -> None:
    log = litter()
    for day, celsius in ((1, 39.2), (2, 38.9), (3, 38.6)):
        log.at(f"2026-03-0{day} 21:00", event("temperature", "dam", celsius=celsius))
    log.at("2026-03-03 21:05", event("temperature", 1, celsius=36.4))
    answer = ask(log, "2026-03-04 03:00", "chart", who="dam")
    assert answer.text.splitlines()[0] == "Temperature chart of Juniper, in the last 7 days: 101.5 F yesterday 9:00 pm."
    assert answer.text.splitlines()[-1] == (
        "Shaded: usual for a dam, 100.0 to 102.0 F (a clinics' sheet after c-section). "
        "From 102.7 F on call your vet today, above 104.0 F at once."
    )
    assert answer.values["celsius"] == 38.6
    assert (answer.values["lowest_celsius"], answer.values["highest_celsius"]) == (38.6, 39.2)
    drawn = chart.picture(asked(log, "2026-03-04 03:00", "chart", who="dam"))
    assert isinstance(drawn, Curves)
    assert [round(y, 2) for _, y in drawn.curves[0].points] == [102.56, 102.02, 101.48]
    assert [round(x, 3) for x, _ in drawn.curves[0].points] == [0, 1, 2]
    assert drawn.band is not None
    assert [round(edge, 1) for edge in drawn.band.points[0][1:]] == [100.0, 102.0]
    assert [(round(level.y, 1), level.label) for level in drawn.levels] == [(102.7, "call the vet"), (104.0, "emergency")]
    pups = ask(log, "2026-03-04 03:00", "chart", who=1, of="temperature")
    assert pups.text.startswith("Temperature chart of Pup 1, in the last 7 days: 97.5 F yesterday 9:05 pm.")
