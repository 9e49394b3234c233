"""What the growth chart draws: a published litter's weights at their ages, over the gain that is published as usual."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from bot.care.usual import expected_course
from bot.charts import Curves
from bot.charts.growth_curves import POINTS, growth_curves
from tests.care.shepherds import NAMES, on_day, shepherds, table
from tests.care.written_log import Log, event

LOG = shepherds()
NURSERY = LOG.nursery()
EVER = datetime.min.replace(tzinfo=UTC)


def drawn(day: int, *numbers: int, unit: str = "%") -> Curves:
    pups = [NURSERY.pups[number] for number in numbers] or list(NURSERY.living)
    found = growth_curves(NURSERY, pups, EVER, LOG.moment(on_day(day, "09:00")), unit=unit, title="", alt="")  # type: ignore[arg-type]
    assert found is not None
    return found


def test_each_published_weight_is_a_point_at_its_age_in_percent_of_the_first() -> None:
    curves = drawn(55)
    assert [curve.label for curve in curves.curves] == [f"{number} {name}" for number, name in enumerate(NAMES, 1)]
    rows = table()
    for curve, name in zip(curves.curves, NAMES, strict=True):
        ounces = {day: row[name] for day, row in rows.items() if row[name] is not None}
        assert len(curve.points) == len(ounces)
        assert [y for _, y in curve.points] == pytest.approx([100 * (grams or 0) / (ounces[1] or 1) for grams in ounces.values()], rel=1e-3)
        assert [round(x - 11 / 24) for x, _ in curve.points] == [day - 1 for day in ounces]  # born at 8 in the evening of day 0


def test_one_pup_alone_is_drawn_in_the_households_unit_with_its_weight_at_the_end() -> None:
    curves = drawn(22, 3, unit="oz")
    (curve,) = curves.curves
    assert (curve.label, curves.y.label) == ("52 oz", "ounces")
    assert curve.points[-1][1] == pytest.approx(52, abs=0.01)


def test_the_shaded_range_begins_at_the_birth_weight_and_grows_by_the_published_percents() -> None:
    """5 to 10 % a day in week 1, 3.5 to 6 % in weeks 2 to 4 (Small Animal Clinical Nutrition, 5th edition, page 292)."""
    band = drawn(55).band
    assert band is not None
    by_day = {x: (low, high) for x, low, high in band.points}
    assert by_day[0] == pytest.approx((100, 100))
    assert by_day[1] == pytest.approx((105, 110))
    assert by_day[7] == pytest.approx((100 * 1.05**7, 100 * 1.10**7))
    assert by_day[8] == pytest.approx((100 * 1.05**7 * 1.035, 100 * 1.10**7 * 1.06))
    assert max(by_day) == 28
    assert by_day[28] == pytest.approx((100 * 1.05**7 * 1.035**21, 100 * 1.10**7 * 1.06**21))
    one = drawn(22, 3, unit="oz").band
    assert one is not None
    assert one.points[1] == pytest.approx((1, 19 * 1.05, 19 * 1.10), rel=1e-3)


def test_the_caption_names_the_figures_and_their_source() -> None:
    caption = drawn(22).caption
    assert "5 to 10 % a day in week 1 and 3.5 to 6 % a day in weeks 2 to 4" in caption
    assert "Small Animal Clinical Nutrition" in caption
    assert "292" in caption


def test_what_is_weighed_often_is_thinned_out_and_keeps_its_first_and_last() -> None:
    log = Log().at("2026-03-01 10:30", litter={"pups": 1, "born": "2026-03-01T09:40:00-06:00"})
    for minute in range(2000):
        log.at(
            f"2026-03-{2 + minute // 100:02} {(minute % 100) * 14 // 60:02}:{(minute % 100) * 14 % 60:02}",
            event("weight", 1, grams=200.0 + minute),
        )
    nursery = log.nursery()
    found = growth_curves(nursery, nursery.living, EVER, log.moment("2026-04-01 00:00"), unit="g", title="", alt="")
    assert found is not None
    assert len(found.curves[0].points) <= POINTS
    assert (found.curves[0].points[0][1], found.curves[0].points[-1][1]) == (200, 2199)


def test_without_a_birth_weight_the_first_weight_is_a_hundred_percent_and_that_is_said() -> None:
    log = Log().at("2026-03-01 10:30", litter={"pups": 2, "born": "2026-03-01T09:40:00-06:00"})
    log.at("2026-03-01 11:00", event("weight", 1, grams=200.0)).at("2026-03-03 11:00", event("weight", 2, grams=230.0))
    log.at("2026-03-04 11:00", event("weight", 1, grams=220.0), event("weight", 2, grams=253.0))
    nursery = log.nursery()
    found = growth_curves(nursery, nursery.living, EVER, log.moment("2026-03-05 00:00"), unit="%", title="", alt="")
    assert found is not None
    assert [curve.points[-1][1] for curve in found.curves] == pytest.approx([110, 110])
    assert found.caption.endswith("Pup 2: % of the first weight, since no birth weight was told.")


def test_without_a_birth_ages_count_from_the_first_weight_and_nothing_is_called_usual() -> None:
    log = Log().at("2026-03-01 11:00", event("weight", 1, grams=200.0)).at("2026-03-02 11:00", event("weight", 1, grams=210.0))
    nursery = log.nursery()
    found = growth_curves(nursery, nursery.living, EVER, log.moment("2026-03-05 00:00"), unit="%", title="", alt="")
    assert found is not None
    assert found.x.label == "hours since the first weight"
    assert found.band is None


def test_the_usual_course_is_of_four_weeks() -> None:
    assert [day for day, _, _ in expected_course()] == list(range(29))


def test_a_chart_goes_as_json_and_comes_back_the_same() -> None:
    curves = drawn(22)
    assert Curves.model_validate_json(curves.model_dump_json()) == curves
