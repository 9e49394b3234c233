"""What is shown beside an answer: its chart, worked out from the log as it was then, and drawn by the artist."""

from __future__ import annotations

from pathlib import Path

from bot.drawing.artist import Artist
from bot.drawing.looks import LOOKS, Variant
from bot.household import Household
from bot.reports import chart, sheet

FOLDER = "drawing"
"""The folder in the data directory in which the drawing library keeps what it knows of the machine's fonts. It may be deleted."""
KEPT = 12
"""Pictures kept in memory: a chart is looked at on several phones, and again after each look away."""


class Showing:
    """Gives what belongs beside an answer, by the answer's id."""

    def __init__(self, household: Household, directory: Path | None) -> None:
        self._household = household
        self._artist = Artist(None if directory is None else directory / FOLDER)
        self._drawn: dict[tuple[int, Variant], bytes] = {}

    async def chart(self, answer: int, variant: str) -> bytes | None:
        """The chart of an answer as a PNG; None where it has none. Raises bot.drawing.artist.NotDrawn."""
        look = next((known for known in LOOKS if known == variant), None)
        if look is None:
            return None
        if (answer, look) in self._drawn:
            return self._drawn[answer, look]
        asked = self._household.looking_back(answer)
        picture = None if asked is None or asked.question.topic != "chart" else chart.picture(asked)
        if picture is None:
            return None
        drawn = self._drawn[answer, look] = await self._artist.draw(picture, look)
        while len(self._drawn) > KEPT:
            del self._drawn[next(iter(self._drawn))]
        return drawn

    async def sheet(self, answer: int) -> tuple[str, bytes] | None:
        """The sheet of an answer as a PDF, with its name; None where it has none. Raises bot.drawing.artist.NotDrawn."""
        asked = self._household.looking_back(answer)
        if asked is None or asked.question.topic != "sheet":
            return None
        printed = sheet.printed(asked)
        return f"{printed.name}.pdf", await self._artist.print_sheet(printed)

    def stop(self) -> None:
        """Draw no more."""
        self._artist.close()
