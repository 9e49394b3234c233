"""Draws a chart as a picture: the one door to the drawing library, opened only in the drawing process and by the export command."""

from __future__ import annotations

import io
import textwrap
from collections.abc import Sequence

from matplotlib import rcParams
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import PatchCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch, Rectangle
from matplotlib.ticker import MaxNLocator
from PIL import Image, ImageColor

from bot.charts import Axis, Curve, Curves, Timeline
from bot.charts.spread import spread
from bot.drawing.looks import LOOKS, Look, Variant, dash, marker

rcParams["font.family"] = ["DejaVu Sans"]

SCREEN_WIDTH, PAPER_WIDTH = 340, 640
"""Widths of a picture in the pixels in which a page counts."""
FINENESS = 3
"""Real pixels for each of these: as many as the sharpest phones have, and 200 to the inch on paper."""
TITLE, WORDS, SMALL = 13.0, 11.0, 10.0
"""Sizes of letters; nothing is smaller than the last."""
TINTS = 160
"""Colours in a picture: enough for all its edges, at a third of the bytes and half of the time of a picture of all colours."""
_LETTER = 0.57
"""The width of a letter on the whole, against its size."""
_GAP = WORDS * 1.25
_MARK_EVERY = 26
"""Pixels between two markers of a curve: where every point had one, they would hide it."""
_EDGE = 8


def draw(chart: Curves | Timeline, variant: Variant) -> bytes:
    """The chart as a PNG."""
    sheet = _Sheet(chart, LOOKS[variant], PAPER_WIDTH if variant == "paper" else SCREEN_WIDTH)
    if isinstance(chart, Curves):
        _curves(sheet, chart)
    else:
        _timeline(sheet, chart)
    return sheet.png()


class _Sheet:
    """The ground of a picture: title above, caption below, and the place for the chart between them. All measures in the page's pixels."""

    def __init__(self, chart: Curves | Timeline, look: Look, width: int) -> None:
        self.look, self.width = look, width
        self.figure = Figure(facecolor=look.ground)
        self.canvas = FigureCanvasAgg(self.figure)
        self._title = self._wrapped(chart.title, TITLE)
        self._caption = self._wrapped(chart.caption, SMALL)
        self.head = _EDGE + len(self._title) * TITLE * 1.3 + (SMALL * 1.7 if isinstance(chart, Curves) else 6)
        self.foot = _EDGE + len(self._caption) * SMALL * 1.35 + (6 if self._caption else 0)
        self.height = 0.0

    def _wrapped(self, words: str, size: float) -> list[str]:
        return textwrap.wrap(words, int((self.width - 2 * _EDGE) / (size * _LETTER)))

    def axes(self, height: float, left: float, right: float, below: float) -> Axes:
        """The place for the chart: so high, with so much room around it for words."""
        self.height = self.head + height + below + self.foot
        self.figure.set_size_inches(self.width / 100, self.height / 100)
        self.figure.set_dpi(100 * FINENESS)
        for words, top, size, colour in (
            (self._title, _EDGE, TITLE, self.look.ink),
            (self._caption, self.head + height + below + 4, SMALL, self.look.faint),
        ):
            self.figure.text(
                _EDGE / self.width, 1 - top / self.height, "\n".join(words), va="top", ha="left",
                fontsize=points(size), color=colour, linespacing=1.15, parse_math=False,
            )  # fmt: skip
        axes: Axes = self.figure.add_axes((
            left / self.width, (self.foot + below) / self.height, (self.width - left - right) / self.width, height / self.height,
        ))  # fmt: skip
        axes.set_facecolor("none")
        for side, spine in axes.spines.items():
            spine.set_visible(side == "bottom")
            spine.set_color(self.look.rule)
        axes.tick_params(colors=self.look.faint, labelsize=points(SMALL), length=0, pad=4)
        return axes

    def png(self) -> bytes:
        """The picture's bytes."""
        self.canvas.draw()  # type: ignore[no-untyped-call]
        size = self.canvas.get_width_height()
        seen = self.canvas.buffer_rgba()  # type: ignore[no-untyped-call]
        drawn = Image.frombuffer("RGBA", size, seen, "raw", "RGBA", 0, 1).convert("RGB")
        few = drawn.quantize(TINTS, method=Image.Quantize.FASTOCTREE)
        tints, ground = few.getpalette() or [], few.tobytes()[0]  # the place in the palette of its first pixel
        tints[3 * ground : 3 * ground + 3] = ImageColor.getrgb(self.look.ground)[:3]  # the very tint of the page, so that no edge is seen
        few.putpalette(tints)
        out = io.BytesIO()
        few.save(out, "png", compress_level=3)
        return out.getvalue()


def points(pixels: float) -> float:
    """A size in the page's pixels as the drawing library counts it."""
    return pixels * 0.72


def wide(words: str, size: float = WORDS) -> float:
    """About how wide words are."""
    return len(words) * size * _LETTER + size * 0.4


# Curves


def _curves(sheet: _Sheet, chart: Curves) -> None:
    look = sheet.look
    plot = max(220.0 if sheet.width <= SCREEN_WIDTH else 300.0, (len(chart.curves) + 1) * _GAP)
    left, right = 42.0, _EDGE + 10 + max(wide(_short(curve.label, sheet)) for curve in chart.curves)
    axes = sheet.axes(plot, left, right, below=34)
    axes.set_xlim(chart.x.low, chart.x.high)
    axes.set_ylim(chart.y.low, chart.y.high)
    _x_words(axes, chart.x, look)
    axes.yaxis.set_major_locator(MaxNLocator(6, steps=[1, 2, 2.5, 5, 10]))
    axes.grid(axis="y", color=look.rule, linewidth=0.6)
    axes.set_axisbelow(True)
    axes.text(0, 1 + 3 / plot, chart.y.label, transform=axes.transAxes, ha="left", va="bottom", fontsize=points(SMALL), color=look.faint)
    if chart.band is not None:
        days, low, high = zip(*chart.band.points, strict=True)
        axes.fill_between(days, low, high, color=look.band, linewidth=0, zorder=0.5)
        _band_label(axes, chart, look)
    for level in chart.levels:
        if chart.y.low <= level.y <= chart.y.high:
            axes.axhline(level.y, color=look.alarm, linewidth=0.9, dashes=(4, 2))
            axes.text(
                1, level.y, level.label, transform=axes.get_yaxis_transform(), ha="right", va="bottom",
                fontsize=points(SMALL), color=look.alarm, parse_math=False,
            )  # fmt: skip
    across = sheet.width - left - right
    for curve in chart.curves:
        _curve(axes, curve, look, across / (chart.x.high - chart.x.low), alone=len(chart.curves) == 1)
    _end_words(axes, chart, sheet, across, plot)


def _short(words: str, sheet: _Sheet) -> str:
    most = 11 if sheet.width <= SCREEN_WIDTH else 24
    return words if len(words) <= most else f"{words[: most - 1]}…"


def _band_label(axes: Axes, chart: Curves, look: Look) -> None:
    """The word for the band, inside it: in the upper corner where the band fills that, else where the band ends or leaves the chart."""
    assert chart.band is not None
    shown = [point for point in chart.band.points if point[0] <= chart.x.high + 1]
    x, low, high = shown[-1]
    corner = x >= chart.x.high and high >= chart.y.high > low
    if not corner:
        inside = [point for point in shown if point[1] < chart.y.low + 0.8 * (chart.y.high - chart.y.low)]
        x, low, high = inside[-1] if inside else shown[0]
    axes.text(
        chart.x.high if corner else min(x, chart.x.high), chart.y.high if corner else (low + min(high, chart.y.high)) / 2,
        f"{chart.band.label} ", ha="right", va="top" if corner else "center", fontsize=points(SMALL), color=look.faint, style="italic",
        zorder=0.6, parse_math=False, clip_on=True,
    )  # fmt: skip


def _curve(axes: Axes, curve: Curve, look: Look, pixels_a_day: float, *, alone: bool) -> None:
    colour, shape = look.colour(curve.place), marker(curve.place)
    axes.add_line(Line2D(
        [x for x, _ in curve.points], [y for _, y in curve.points], color=colour, linewidth=1.7 if alone else 1.25,
        dashes=dash(curve.place) or (None, None), marker=shape, markevery=_marked(curve, pixels_a_day),
        markersize=points(6.5 if shape == "*" else 5.5), markerfacecolor=colour, markeredgecolor=look.ground, markeredgewidth=0.5,
        clip_on=False,
    ))  # fmt: skip


def _marked(curve: Curve, pixels_a_day: float) -> list[int]:
    """Which points carry a marker: the last, and before it one at each short stretch."""
    marked = [len(curve.points) - 1]
    for index in range(len(curve.points) - 2, -1, -1):
        if (curve.points[marked[-1]][0] - curve.points[index][0]) * pixels_a_day >= _MARK_EVERY:
            marked.append(index)
    return marked[::-1]


def _end_words(axes: Axes, chart: Curves, sheet: _Sheet, across: float, plot: float) -> None:
    """Each curve's words at the right edge, moved apart where they would touch, with a thin line to where the curve ends."""
    a_day, a_unit = across / (chart.x.high - chart.x.low), plot / (chart.y.high - chart.y.low)
    ends = [((curve.points[-1][0] - chart.x.low) * a_day, (curve.points[-1][1] - chart.y.low) * a_unit) for curve in chart.curves]
    places = spread([y for _, y in ends], _GAP, 4, plot - 4)
    for curve, (x, y), place in zip(chart.curves, ends, places, strict=True):
        colour = sheet.look.colour(curve.place)
        axes.plot(
            [(x + 4) / across, (across + 5) / across], [y / plot, place / plot], transform=axes.transAxes, color=colour,
            linewidth=0.5, alpha=0.8, clip_on=False, zorder=1,
        )  # fmt: skip
        axes.plot(
            [(across + 8) / across], [place / plot], transform=axes.transAxes, color=colour, marker=marker(curve.place),
            markersize=points(5), markeredgewidth=0, clip_on=False, linestyle="none",
        )  # fmt: skip
        axes.text(
            (across + 14) / across, place / plot, _short(curve.label, sheet), transform=axes.transAxes, ha="left",
            va="center_baseline", fontsize=points(WORDS), color=sheet.look.ink, parse_math=False,
        )  # fmt: skip


def _x_words(axes: Axes, axis: Axis, look: Look) -> None:
    axes.set_xticks([x for x, _ in axis.ticks], [words for _, words in axis.ticks])
    if axis.label:
        axes.set_xlabel(axis.label, fontsize=points(SMALL), color=look.faint, labelpad=3)


# The timeline of a night

_LANES = {"nursed": 0, "fed": 0, "refused": 0, "cleared": 1, "stool": 2, "urine": 2}
_LANE = 10.0
"""The height of a lane; a pup has three."""
_ROW = 3 * _LANE + 6
_SAID = {
    "nursed": "nursed", "fed": "fed by hand", "refused": "refused", "cleared": "cleared", "stool": "passed stool", "urine": "urine only",
}  # fmt: skip
_SHAPES = {"fed": ("^", True), "refused": ("x", True), "cleared": ("o", False), "stool": ("s", True), "urine": ("d", False)}
"""The marker of each kind, and whether it is filled; a nursing is a bar as long as it took."""
_COLOUR_OF = {"nursed": 1, "fed": 2, "refused": 3, "cleared": 4, "stool": 5, "urine": 6}


def _timeline(sheet: _Sheet, chart: Timeline) -> None:
    look = sheet.look
    rows = len(chart.rows)
    key_lines = -(-len(chart.kinds) // _key_columns(sheet))
    plot = rows * _ROW
    left = _EDGE + 4 + max(wide(_short(row.label, sheet)) for row in chart.rows)
    axes = sheet.axes(plot, left, 12.0, below=26 + key_lines * SMALL * 1.6)
    axes.set_xlim(chart.x.low, chart.x.high)
    axes.set_ylim(rows * _ROW, 0)
    _x_words(axes, chart.x, look)
    axes.grid(axis="x", color=look.rule, linewidth=0.6)
    axes.set_axisbelow(True)
    axes.set_yticks([])
    across = sheet.width - left - 12
    shortest = 5 / across * (chart.x.high - chart.x.low)
    for place, row in enumerate(chart.rows):
        top = place * _ROW
        if place % 2:
            axes.add_patch(
                Rectangle((chart.x.low, top), chart.x.high - chart.x.low, _ROW, color=look.band, alpha=0.45, linewidth=0, zorder=0)
            )
        axes.text(
            -4 / across, 1 - (top + _ROW / 2) / plot, _short(row.label, sheet), transform=axes.transAxes, ha="right",
            va="center", fontsize=points(WORDS), color=look.ink, parse_math=False,
        )  # fmt: skip
    for index, kind in enumerate(chart.kinds):
        marks = [(mark, place * _ROW + 3 + (_LANES[kind] + 0.5) * _LANE) for place, row in enumerate(chart.rows) for mark in row.marks
                 if mark.kind == index]  # fmt: skip
        if kind == "nursed":
            bars = [Rectangle((mark.start, height - 3), max(mark.end - mark.start, shortest), 6) for mark, height in marks]
            axes.add_collection(PatchCollection(bars, facecolor=look.colour(1), edgecolor="none", zorder=2), autolim=False)
        else:
            axes.add_line(_mark(kind, look, [mark.start for mark, _ in marks], [height for _, height in marks]))
    _key(axes, chart, sheet, plot)


def _mark(kind: str, look: Look, x: Sequence[float], y: Sequence[float]) -> Line2D:
    shape, filled = _SHAPES[kind]
    colour = look.colour(_COLOUR_OF[kind])
    return Line2D(
        x, y, linestyle="none", marker=shape, markersize=points(7), markeredgecolor=colour, markerfacecolor=colour if filled else "none",
        markeredgewidth=1.4, clip_on=False, zorder=3,
    )  # fmt: skip


def _key_columns(sheet: _Sheet) -> int:
    return 3 if sheet.width <= SCREEN_WIDTH else 6


def _key(axes: Axes, chart: Timeline, sheet: _Sheet, plot: float) -> None:
    """What each shape stands for, below the hours."""
    marks = [
        Patch(facecolor=sheet.look.colour(1), linewidth=0) if kind == "nursed" else _mark(kind, sheet.look, [], []) for kind in chart.kinds
    ]
    axes.legend(
        marks, [_SAID[kind] for kind in chart.kinds], loc="upper center", bbox_to_anchor=(0.42, -20 / plot), ncols=_key_columns(sheet),
        frameon=False, fontsize=points(SMALL), labelcolor=sheet.look.ink, handletextpad=0.4, columnspacing=1.2, handlelength=1.2,
        borderpad=0, labelspacing=0.45,
    )  # fmt: skip
