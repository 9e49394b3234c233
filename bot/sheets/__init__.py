"""Sheets as data: what is printed for the vet or the new owner, with every word on it. Pure; bot.drawing prints them."""

from bot.sheets.sheet import Block, Page, Paper, Sheet, Table

__all__ = ["Block", "Page", "Paper", "Sheet", "Table"]
