"""The calendar: what comes in the first eight weeks, the next things first, by the litter's own dates; or when one thing comes."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from pydantic import JsonValue

from bot.care.figures import figures, source_in_short
from bot.care.milestones import Coming, Milestone, asked_about, calendar, milestones
from bot.care.wording import say_list
from bot.reports.answer import Answer
from bot.reports.asked import Asked

CAUTION = "Your vet's plan and your local law go first; these are the usual ages."
_SHOWN = 7
"""What comes next has a line each; the rest stands in one line, so that the whole answer stays on a phone's page."""
_FIGURES = figures("milestones")
_ASKS_WHEN = frozenset(("when", "age", "old", "soon", "time", "long"))


def answer(asked: Asked) -> Answer:
    """What comes next, or when the thing asked about comes."""
    wanted = [one for one in asked_about(asked.words) if asked.question.who != "dam" or one.of != "pups"]
    born = _born(asked)
    if born is None:
        return _by_age(wanted)
    coming = calendar(born, asked.nursery.zone, asked.nursery.choices.delivery)
    if wanted:
        return _of_some(asked, wanted, coming)
    unknown = "" if _ASKS_WHEN.isdisjoint(asked.words.casefold().split()) else "I have no date for that. "
    return _what_comes(asked, coming, born, unknown)


def _born(asked: Asked) -> datetime | None:
    """The birth that the dates count from: the pup's own, where one is named and it was told, else the litter's."""
    nursery = asked.nursery
    return nursery.birth(asked.pups[0]) if asked.names_one and asked.pups else nursery.born


def _what_comes(asked: Asked, coming: Sequence[Coming], born: datetime, opening: str) -> Answer:
    today = _today(asked)
    until = {"today": today, "week": today + timedelta(days=7)}.get(asked.question.span or "")
    of_whom = [one for one in coming if asked.question.who != "dam" or one.milestone.of != "pups"]
    ahead: dict[str, Coming] = {}
    for one in of_whom:
        if one.last >= today and (until is None or one.first <= until):
            ahead.setdefault(one.milestone.key, one)
    day = max(0, (today - born.astimezone(asked.nursery.zone).date()).days)
    values = _values(of_whom)
    who = tuple(asked.named)
    if not ahead:
        later = next((one for one in of_whom if one.first > today), None)
        said = "" if later is None else f" Next: {_line(later, today)}"
        nothing = "Nothing of the first eight weeks lies ahead." if later is None else f"Nothing comes {_span_said(asked)}.{said}"
        return Answer(f"{opening}{nothing}\n{CAUTION}", values, "calendar", who)
    listed = list(ahead.values())
    lines = [f"{opening}Coming up, on day {day}:", *[_line(one, today) for one in listed[:_SHOWN]]]
    if listed[_SHOWN:]:
        lines.append(f"Then {say_list([f'{one.milestone.short} {_dates(one, today)}' for one in listed[_SHOWN:]])}.")
    lines.append(f"{CAUTION} “Calendar link” brings them to your phone's calendar.")
    return Answer("\n".join(lines), values, "calendar", who)


def _of_some(asked: Asked, wanted: Sequence[Milestone], coming: Sequence[Coming]) -> Answer:
    """When the things asked about come, each with what to mind and where the figure is from."""
    today = _today(asked)
    mine = {one.key: [times for times in coming if times.milestone == one] for one in wanted}
    lines = [f"{_capital(one.what)}: {_times(mine[one.key], today)}. {_behind(one)}" for one in wanted[:2] if mine[one.key]]
    if not lines:
        return Answer(f"{_capital(wanted[0].what)}: after a c-section only.", about="calendar", who=tuple(asked.named))
    return Answer("\n".join([*lines, CAUTION]), _values([one for times in mine.values() for one in times]), "calendar", tuple(asked.named))


def _by_age(wanted: Sequence[Milestone]) -> Answer:
    """Before the birth was told there are ages and no dates."""
    lines = ["I know no birth yet, so these are ages. Tell me when they were born, and I will say the dates."]
    lines += [f"{_ages(one)}: {one.what}." for one in (wanted or milestones())[:_SHOWN]]
    return Answer("\n".join([*lines, CAUTION]), about="calendar")


def _times(times: Sequence[Coming], today: date) -> str:
    """All dates of one thing: `15 Mar (2 weeks), 29 Mar (4 weeks) and 12 Apr (6 weeks)`."""
    ahead = [one for one in times if one.last >= today]
    if not ahead:
        return f"that was {_dates(times[-1], today)}"
    return say_list([f"{_dates(one, today)} ({_age(one.first_day, one.last_day)})" for one in ahead])


def _line(one: Coming, today: date) -> str:
    return f"{_capital(_dates(one, today))}: {one.milestone.what} ({_age(one.first_day, one.last_day)})."


def _dates(one: Coming, today: date) -> str:
    """`15 Mar`, `11 to 17 Mar`, `28 Feb to 6 Mar`; `now, until 17 Mar` once it has begun; `today`, `tomorrow`."""
    if one.first == one.last:
        return _date(one.first, today)
    if one.first <= today < one.last:
        return f"now, until {_date(one.last, today)}"
    if one.first < today == one.last:
        return "still today"
    if one.last < today:
        return f"{_plain(one.first)} to {_plain(one.last)}"
    first = f"{one.first.day}" if (one.first.month, one.first.year) == (one.last.month, one.last.year) else _date(one.first, today)
    return f"{first} to {_plain(one.last)}" if (one.first - today).days > 1 else f"{_date(one.first, today)} to {_plain(one.last)}"


def _date(day: date, today: date) -> str:
    return {0: "today", 1: "tomorrow"}.get((day - today).days, _plain(day))


def _plain(day: date) -> str:
    return f"{day.day} {day:%b}"


def _age(first: int, last: int) -> str:
    """`2 weeks`, `6 to 8 weeks`, `day 10 to 16`."""
    if first >= 2 * 7 and first % 7 == 0 == last % 7:
        return f"{first // 7} weeks" if first == last else f"{first // 7} to {last // 7} weeks"
    return f"day {first}" if first == last else f"day {first} to {last}"


def _ages(one: Milestone) -> str:
    if one.comes_again:
        return _capital(say_list([f"{first // 7}" for first, _ in one.times]) + " weeks")
    return _capital(_age(*one.times[0]))


def _behind(one: Milestone) -> str:
    """What to mind, how sources differ, and the first source by name."""
    figure = _FIGURES[one.days[0]][0]
    source = f" Source: {source_in_short(figure.source[0])}." if figure.source else f" ({figure.status.capitalize()}.)"
    return f"{one.note}{f' {figure.note}' if figure.note else ''}{source}"


def _values(coming: Sequence[Coming]) -> dict[str, JsonValue]:
    """The dates by name: first and last day of each, and a list for what comes again."""
    values: dict[str, JsonValue] = {}
    for one in coming:
        key = one.milestone.key
        if one.milestone.comes_again:
            dates = values.setdefault(f"{key}_dates", [])
            assert isinstance(dates, list)
            dates.append(one.first.isoformat())
        else:
            values[f"{key}_from_date"], values[f"{key}_to_date"] = one.first.isoformat(), one.last.isoformat()
    return values


def _today(asked: Asked) -> date:
    return asked.now.astimezone(asked.nursery.zone).date()


def _span_said(asked: Asked) -> str:
    return "today" if asked.question.span == "today" else "in the next seven days"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
