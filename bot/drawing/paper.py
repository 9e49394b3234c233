"""Prints a sheet as a PDF: the one door to the printing library, opened only in the drawing process and by the export command."""

from __future__ import annotations

import io
from collections.abc import Iterator
from html import escape
from pathlib import Path

import matplotlib
from reportlab.lib import colors
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import CondPageBreak, Flowable, Image, KeepTogether, LongTable, PageBreak, Paragraph, SimpleDocTemplate, Spacer

from bot.drawing.picture import draw
from bot.sheets import Block, Page, Sheet, Table

MARGIN = 15 * mm
_FOOT = 12 * mm
_INSET = 6
"""The library keeps text so far from the edge of its frame; tables and pictures are kept from it likewise."""
_CHART = 0.86
"""Of the width of the page: so it has room under the facts."""
_FONTS = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
"""The drawing library brings a font that has nearly all signs people type; the PDF holds what it uses of it."""
for _name, _file in (("Text", "DejaVuSans.ttf"), ("Strong", "DejaVuSans-Bold.ttf")):
    pdfmetrics.registerFont(TTFont(_name, str(_FONTS / _file)))

_TITLE = ParagraphStyle("title", fontName="Strong", fontSize=16, leading=20)
_UNDER = ParagraphStyle("under", fontName="Text", fontSize=8, leading=11, textColor=colors.HexColor("#444444"), spaceAfter=6)
_PART = ParagraphStyle("part", fontName="Strong", fontSize=10.5, leading=14, spaceBefore=8, spaceAfter=3)
_WORDS = ParagraphStyle("words", fontName="Text", fontSize=8.5, leading=12, spaceAfter=3)
_CELL = ParagraphStyle("cell", fontName="Text", fontSize=7.5, leading=9.5)
_HEAD = ParagraphStyle("head", parent=_CELL, fontName="Strong")
_LEAST = 30 * mm
"""What must be left of a page for a part to begin on it: its title and the first rows."""
_RULE = colors.HexColor("#bbbbbb")
_TABLE = [
    ("LINEBELOW", (0, 0), (-1, 0), 0.8, colors.black), ("LINEBELOW", (0, 1), (-1, -1), 0.25, _RULE), ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 2), ("RIGHTPADDING", (0, 0), (-1, -1), 4), ("TOPPADDING", (0, 0), (-1, -1), 1.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
]  # fmt: skip
_FACTS = [("LINEBELOW", (0, 0), (-1, -1), 0.25, _RULE), *_TABLE[2:]]


def print_sheet(sheet: Sheet) -> bytes:
    """The sheet as a PDF; the same sheet gives the same bytes."""
    out = io.BytesIO()
    size = LETTER if sheet.paper == "Letter" else A4
    document = SimpleDocTemplate(
        out, pagesize=size, leftMargin=MARGIN, rightMargin=MARGIN, topMargin=MARGIN, bottomMargin=MARGIN + _FOOT,
        title=sheet.pages[0].title if sheet.pages else "", author="lampwatch", invariant=1,
    )  # fmt: skip
    across = size[0] - 2 * (MARGIN + _INSET)
    parts: list[Flowable] = []
    for place, page in enumerate(sheet.pages):
        parts += [PageBreak()] if place else []
        parts += _page(page, across)

    def canvas(*given: object, **named: object) -> Canvas:
        return _Numbered(sheet.caution, *given, **named)

    document.build(parts, canvasmaker=canvas)
    return out.getvalue()


def _page(page: Page, across: float) -> Iterator[Flowable]:
    yield _words(page.title, _TITLE)
    yield _words(page.under, _UNDER)
    for block in page.blocks:
        yield from _block(block, across)


def _block(block: Block, across: float) -> Iterator[Flowable]:
    """The title stays with the first thing under it."""
    yield CondPageBreak(_LEAST)
    head: list[Flowable] = [_words(block.title, _PART), *([_words(block.words, _WORDS)] if block.words else [])]
    if block.facts:
        head.append(_facts(block.facts, across))
    if block.chart is not None:
        drawn = draw(block.chart, "paper")
        wide, high = ImageReader(io.BytesIO(drawn)).getSize()
        head.append(Image(io.BytesIO(drawn), across * _CHART, across * _CHART * high / wide))
    yield KeepTogether(head)
    if block.table is not None:
        yield _table(block.table, across)
    yield Spacer(0, 4)


def _facts(facts: tuple[tuple[str, str], ...], across: float) -> Flowable:
    return LongTable(
        [[_words(name, _HEAD), _words(said, _CELL)] for name, said in facts], colWidths=[across * 0.2, across * 0.8], style=_FACTS
    )


def _table(table: Table, across: float) -> Flowable:
    rows = [[_words(cell, _HEAD) for cell in table.header], *([_words(cell, _CELL) for cell in row] for row in table.rows)]
    total = sum(table.wide)
    return LongTable(rows, colWidths=[across * width / total for width in table.wide], style=_TABLE, repeatRows=1)


def _words(words: str, style: ParagraphStyle) -> Paragraph:
    """Words as they were typed: the library would take some of them for markup."""
    return Paragraph(escape(words).replace("\n", "<br/>"), style)


class _Numbered(Canvas):  # type: ignore[misc]  # it publishes no types
    """Writes the caution and `page 2 of 5` at the foot of each page, once it is known how many there are."""

    def __init__(self, caution: str, *given: object, **named: object) -> None:
        super().__init__(*given, **named)
        self._caution = caution
        self._done: list[dict[str, object]] = []

    def showPage(self) -> None:  # noqa: N802 (the library's name)
        self._done.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        """Write every page."""
        for number, page in enumerate(self._done, start=1):
            self.__dict__.update(page)
            self._foot(number)
            super().showPage()
        super().save()

    def _foot(self, number: int) -> None:
        left, across = MARGIN + _INSET, self._pagesize[0] - 2 * (MARGIN + _INSET)
        caution = _words(self._caution, _UNDER)
        _, high = caution.wrap(across - 25 * mm, _FOOT)
        caution.drawOn(self, left, MARGIN + _FOOT - high - 4)
        self.setFont("Text", 8)
        self.drawRightString(left + across, MARGIN + _FOOT - 12, f"page {number} of {len(self._done)}")
