"""Reminders: a bell that rings when there is something to say. What to say, and to whom, is worked out in bot.care."""

from bot.reminders.bell import Bell

__all__ = ["Bell"]
