"""Moments as they stand in the file: ISO 8601 text in UTC, which sorts by time as text."""

from __future__ import annotations

from datetime import UTC, datetime


def written(moment: datetime) -> str:
    """The text for a moment; raises ValueError for one that does not know its zone."""
    if moment.tzinfo is UTC:
        return moment.isoformat()
    if moment.tzinfo is None:
        raise ValueError(f"a moment must know its zone before it is kept, and {moment.isoformat()} does not")
    return moment.astimezone(UTC).isoformat()


def read(text: str) -> datetime:
    """The moment that `written` wrote."""
    return datetime.fromisoformat(text)


def read_or_none(text: str | None) -> datetime | None:
    """As `read`, for a column that may be empty."""
    return None if text is None else datetime.fromisoformat(text)
