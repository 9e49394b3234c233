"""Charts as data: what is drawn, with its words. Pure; the drawing is done elsewhere (bot.drawing), by another process."""

from bot.charts.chart import Axis, Band, Chart, Curve, Curves, Level, Mark, Row, Timeline

__all__ = ["Axis", "Band", "Chart", "Curve", "Curves", "Level", "Mark", "Row", "Timeline"]
