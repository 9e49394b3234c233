"""The judge compares a reading with what was meant, and says which way it went wrong if it did."""

from __future__ import annotations

import re
from datetime import datetime
from typing import Any, Literal

Verdict = Literal["exact", "wrong", "lost", "asked", "noted", "differs"]
"""exact
wrong: silently wrong, something is logged, fixed or set that was not meant, or with other fields
lost: something meant is not in the reading, which neither asks nor keeps any of the words as a note
asked: over-asked, `check` where the contract says to log, keep, set or answer
noted: what was meant is kept as a note only, where everyone sees it
differs: nothing is logged that was not meant, but the rest is otherwise (another topic asked, another reading proposed)
"""
VERDICTS: tuple[Verdict, ...] = ("exact", "wrong", "lost", "asked", "noted", "differs")

NEAR = 0.06
"""How far two numbers may lie apart and still be the same: rounding of ounces and Fahrenheit."""
NEAR_SECONDS = 30

Plain = dict[str, Any]


def judge(want: Plain, got: Plain) -> tuple[Verdict, str]:
    """The verdict on a reading (the contract's JSON object) and, where it is not exact, one line that says why."""
    wrong = _logged_unmeant(want, got)
    if wrong:
        return "wrong", wrong
    missing = _meant_and_missing(want, got)
    if got["does"] == "check" and want["does"] != "check":
        return "asked", f"asks: {got.get('why', 'no reason given')}"
    if missing:
        kept = bool(got.get("unread")) or any(event["kind"] == "note" for event in got["events"])
        return ("noted" if kept else "lost"), missing
    differs = _other_differences(want, got)
    return ("differs", differs) if differs else ("exact", "")


def facts(events: Any) -> list[Plain]:
    """The events but the notes: a note's words may stand in a note or in `unread`."""
    return [event for event in events if event["kind"] != "note"]


def _stored(plain: Plain) -> list[Plain]:
    return [] if plain["does"] == "check" else facts(plain.get("events", ()))


def _logged_unmeant(want: Plain, got: Plain) -> str:
    _, extra = unpaired(_stored(want), _stored(got))
    if extra and not (want["does"] != "check" and "events" not in want and want["does"] == "log"):
        return f"logs what was not meant: {extra}"
    if got["does"] == "check":
        return ""
    for part in ("fix", "setup"):
        if got.get(part) and not same(want.get(part), got[part]):
            return f"{part} {got[part]} where {want.get(part)} was meant"
    return ""


def _meant_and_missing(want: Plain, got: Plain) -> str:
    if want["does"] == "check":
        return "" if got["does"] == "check" else f"does {got['does']} where a check was meant"
    missing, _ = unpaired(facts(want.get("events", ())), facts(got["events"]))
    if missing:
        return f"not in the reading: {missing}"
    for part in ("fix", "setup", "about"):
        if want.get(part) and not got.get(part):
            return f"not in the reading: {part} {want[part]}"
    return ""


def _other_differences(want: Plain, got: Plain) -> str:
    if want["does"] != got["does"]:
        return f"does {got['does']} where {want['does']} was meant"
    if want["does"] == "check" and "events" in want:
        missing, extra = unpaired(facts(want["events"]), facts(got["events"]))
        if missing or extra:
            return f"proposes {extra} where {missing} was meant"
    parts = ("fix", "setup", "about") if want["does"] != "check" else ("about", "setup")
    for part in parts:
        if want["does"] == "check" and part not in want:
            continue
        if not same(want.get(part), got.get(part)):
            return f"{part} {got.get(part)} where {want.get(part)} was meant"
    notes = [event for event in want.get("events", ()) if event["kind"] == "note"]
    if notes and want["does"] != "check" and not got.get("unread") and not any(event["kind"] == "note" for event in got["events"]):
        return f"keeps no note where one was meant: {notes}"
    if "unread" in want and _words(want["unread"]) != _words(got.get("unread", "")):
        return f"unread {got.get('unread', '')!r} where {want['unread']!r} was meant"
    return ""


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", text.lower())


def unpaired(want: list[Plain], got: list[Plain]) -> tuple[list[Plain], list[Plain]]:
    """What is left on either side when the same events are taken off in pairs, in any order."""
    missing, extra = [], list(got)
    for event in want:
        pair = next((index for index, other in enumerate(extra) if same(event, other)), None)
        if pair is None:
            missing.append(event)
        else:
            del extra[pair]
    return missing, extra


def same(want: Any, got: Any) -> bool:
    """Whether two JSON values mean the same: numbers nearly, moments as moments, a list of pups in any order."""
    if isinstance(want, bool) or isinstance(got, bool) or want is None or got is None:
        return want is got
    if isinstance(want, (int, float)) and isinstance(got, (int, float)):
        return abs(want - got) <= NEAR
    if isinstance(want, dict) and isinstance(got, dict):
        return want.keys() == got.keys() and all(same(want[key], got[key]) for key in want)
    if isinstance(want, (list, tuple)) and isinstance(got, (list, tuple)):
        return len(want) == len(got) and all(map(same, _in_order(want), _in_order(got)))
    if isinstance(want, str) and isinstance(got, str):
        return want == got or _same_moment(want, got)
    return False


def _in_order(items: Any) -> list[Any]:
    return sorted(items) if all(isinstance(item, int) for item in items) else list(items)


def _same_moment(want: str, got: str) -> bool:
    try:
        apart = datetime.fromisoformat(want) - datetime.fromisoformat(got)
    except (ValueError, TypeError):
        return False
    return abs(apart.total_seconds()) <= NEAR_SECONDS
