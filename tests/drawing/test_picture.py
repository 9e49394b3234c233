"""What comes out of the drawing: pictures of the promised size, in which the curves are where they should be."""

from __future__ import annotations

import io
from typing import get_args

import pytest
from PIL import Image

from bot.charts import Chart, Curve, Curves, Timeline
from bot.charts.chart import Axis, Band, Level, Mark, Row
from bot.drawing.looks import LOOKS, Variant
from bot.drawing.picture import FINENESS, PAPER_WIDTH, SCREEN_WIDTH, draw

CURVES = Curves(
    title="Growth of Juniper's litter", caption="Shaded: the usual gain.", alt="words",
    x=Axis(low=0, high=10, label="days", ticks=((0, "0"), (5, "5"))),
    y=Axis(low=90, high=200, label="% of birth weight"), band=Band(label="usual", points=((0, 100, 100), (10, 150, 190))),
    curves=tuple([Curve(label=f"{pup} pup", place=pup, points=((0, 100), (5, 120 + pup), (10, 140 + 5 * pup))) for pup in range(1, 11)]),
    levels=(Level(y=195, label="a level"),),
)  # fmt: skip
NIGHT = Timeline(
    title="A night", caption="", alt="words", x=Axis(low=0, high=0.5, label="", ticks=((0, "8 pm"),)), kinds=("nursed", "cleared"),
    rows=(Row(label="1 blue", marks=(Mark(kind=0, start=0.1, end=0.12), Mark(kind=1, start=0.13, end=0.13))), Row(label="2", marks=())),
)  # fmt: skip


def seen(chart: Curves | Timeline, variant: Variant = "dark") -> Image.Image:
    return Image.open(io.BytesIO(draw(chart, variant))).convert("RGB")


@pytest.mark.parametrize("variant", get_args(Variant))
@pytest.mark.parametrize("chart", [CURVES, NIGHT], ids=["curves", "timeline"])
def test_a_picture_is_as_wide_as_a_phone_or_as_paper_and_on_its_own_ground(chart: Curves | Timeline, variant: Variant) -> None:
    picture = seen(chart, variant)
    assert picture.width == FINENESS * (PAPER_WIDTH if variant == "paper" else SCREEN_WIDTH)
    ground = LOOKS[variant].ground
    wanted = tuple(int(ground[place : place + 2], 16) for place in (1, 3, 5))
    corner = picture.getpixel((1, 1))
    assert isinstance(corner, tuple)
    assert max(abs(part - want) for part, want in zip(corner, wanted, strict=True)) <= 8


def test_every_pups_colour_is_on_the_picture() -> None:
    counts = seen(CURVES).getcolors(1 << 20)
    assert counts
    colours = [colour for _, colour in counts]
    for wanted in LOOKS["dark"].colours:
        rgb = tuple(int(wanted[place : place + 2], 16) for place in (1, 3, 5))
        assert any(max(abs(part - want) for part, want in zip(colour, rgb, strict=True)) <= 12 for colour in colours), wanted  # type: ignore[arg-type]


def test_signs_that_mean_something_to_typesetters_are_drawn_as_they_are_typed() -> None:
    curves = CURVES.model_copy(update={"title": "a $5 \\frac{1 litter_of^x", "caption": "$$ %s {0}"})
    assert draw(curves, "dark") != draw(CURVES, "dark")


def test_a_curve_of_one_point_and_a_litter_of_twenty_are_drawn() -> None:
    few = CURVES.model_copy(update={"curves": (Curve(label="Pup 1", place=1, points=((3, 120),)),)})
    many = CURVES.model_copy(
        update={"curves": tuple([Curve(label="x" * 40, place=pup, points=((0, 100), (9, 100))) for pup in range(1, 21)])}
    )
    assert seen(many).height > seen(few).height


def test_every_form_of_chart_can_be_drawn() -> None:
    forms = get_args(get_args(Chart)[0])
    assert {type(CURVES), type(NIGHT)} == set(forms)
