"""Tell how a message was read, step by step, in plain text, so that anyone can see why."""

from __future__ import annotations

from datetime import datetime

from parsers.events import Who
from parsers.items import Item
from parsers.litter_card import LitterCard
from parsers.reader import Steps, _read


def explain(text: str, card: LitterCard, *, now: datetime, by: str | None = None, last_who: Who | None = None) -> str:
    """The steps of reading a message: words, slips, items (numbers, subjects, times), doings, doubts, and what came of it."""
    steps = Steps()
    reading = _read(text, card, now, by, last_who, steps)
    lines = [f"message   {text!r}"]
    lines.append("words     " + " | ".join(word.text.replace("\n", "(line end)") for word in steps.words))
    for typed, meant in steps.spelled:
        lines.append(f"spelling  {typed} read as {meant}")
    for item in steps.items:
        if item.length:
            said = " ".join(word.text for word in steps.words[item.at : item.end])
            lines.append(f"{item.role:9} {said!r}{_more(item)}")
    for doing in steps.draft.doings if steps.draft else ():
        marks = [name for name in ("planned", "hedged", "over") if getattr(doing, name)]
        if doing.denied:
            marks.append(f"denied by {doing.denied!r}")
        if doing.problem:
            marks.append(f"time: {doing.problem}")
        fields = {key: value for key, value in doing.sets.items() if not key.startswith("_") and value is not None}
        fields |= {"number": doing.numbers[0].value} if doing.numbers else {}
        lines.append(f"doing     {doing.kind} of {_whos(doing.whos)} {fields or ''} {', '.join(marks)}".rstrip())
    for number, verdict in enumerate(steps.verdicts, 1):
        said = "; ".join(verdict.doubts) or "nothing in doubt"
        lines.append(f"reading {number} fits {verdict.fit.name.lower()}, {said}")
    lines += [f"assumed   {sentence}" for sentence in reading.assumed]
    if reading.unread:
        lines.append(f"unread    {reading.unread!r}")
    lines.append(f"does      {reading.does}" + (f": {reading.why}" if reading.why else ""))
    return "\n".join(lines)


def _more(item: Item) -> str:
    if item.subject is not None:
        return f" -> {_whos(item.subject.whos) if item.subject.whos else item.subject.how}"
    if item.measure is not None:
        return f" -> {item.measure.value:g} ({item.measure.dimension}, {item.measure.unit})"
    if item.numbers:
        return " -> " + " or ".join(f"{number.value:g}" for number in item.numbers)
    if item.when is not None:
        return f" -> {item.when.at}"
    return f" -> {', '.join(sorted({tag.name for tag in item.tags}))}" if item.tags else ""


def _whos(whos: tuple[int | str, ...] | None) -> str:
    return "nobody named" if not whos else ", ".join("dam" if who == "dam" else f"pup {who}" for who in whos)
