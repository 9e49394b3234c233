"""`lampwatch import`: takes in an exported log, or a spreadsheet of older weights; shows first what it would do, and doubles nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import cast
from zoneinfo import ZoneInfo

from pydantic import BaseModel

from bot.app import old_weights
from bot.app.dates_in_cells import NotRead, Order
from bot.app.export import opened, zone_of
from bot.app.serve import DATABASE, held
from bot.app.taking_in import is_export, messages_of, take_in
from bot.app.weights_table import Question, Unit, read_weights
from bot.care.choice import Choice
from bot.care.nursery import Nursery
from bot.settings import SetupError
from parsers.events import KINDS
from storage import Journal, NewEvent, NewMessage, StorageError

SENDER = "import"
"""By whom old weights were told."""
LARGEST = 200_000_000
"""Bytes of a file that is read at all: ten times a long log."""


@dataclass(frozen=True)
class How:
    """What the person said about the file."""

    dry_run: bool = False
    unit: Unit | None = None
    order: Order | None = None
    born: date | None = None
    litter: int | None = None


Ask = Callable[[str, tuple[str, ...]], str | None]
"""Asks the person at the terminal for one of some answers; None where nobody is there."""


def import_file(directory: Path, path: Path, how: How, *, now: datetime, ask: Ask, say: Callable[[str], None]) -> None:
    """Take the file in, or say what would be. Raises SetupError, in words, where nothing was taken in."""
    data = _text(path)
    with held(directory):
        try:
            if is_export(data):
                _export(directory, data, how, say)
            else:
                _weights(directory, path.name, data, how, now, ask, say)
        except StorageError as problem:
            raise SetupError(str(problem)) from None


def _text(path: Path) -> str:
    try:
        if path.stat().st_size > LARGEST:
            raise SetupError(f"{path} is larger than any log: nothing was taken in.")
        raw = path.read_bytes()
    except OSError as problem:
        raise SetupError(f"{path} cannot be read ({(problem.strerror or str(problem)).lower()}): check the name.") from None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")  # as spreadsheets on some machines write


class _OnlyShown(Exception):
    """All was done, and is to be undone: it was only to be shown."""


def _export(directory: Path, data: str, how: How, say: Callable[[str], None]) -> None:
    told = messages_of(data)
    journal = _journal(directory)
    try:
        try:
            with journal.together():
                done = take_in(journal, told)
                if how.dry_run:
                    raise _OnlyShown
            say(f"Taken in: {done}")
        except _OnlyShown:
            say(f"This would be taken in: {done}")
    finally:
        journal.close()


def _weights(directory: Path, name: str, data: str, how: How, now: datetime, ask: Ask, say: Callable[[str], None]) -> None:
    try:
        weighed = read_weights(data, unit=how.unit, order=how.order, birth=how.born)
        while isinstance(weighed, Question):
            how = _answered(how, weighed, ask)
            weighed = read_weights(data, unit=how.unit, order=how.order, birth=how.born)
        litter, nursery = _litter(directory, how)
        plan = old_weights.plan(weighed, nursery, now)
    except NotRead as fault:
        raise SetupError(f"Nothing was taken in: {fault}.") from None
    say("This would be taken in:" if how.dry_run else "Taken in:")
    for line in plan.lines:
        say(line)
    if how.dry_run or not plan.new:
        return
    journal = _journal(directory)
    try:
        with journal.together():
            number = litter or journal.register.add_litter("Litter 1", now)
            message = NewMessage(at=now, by=SENDER, text=f"{len(plan.new)} weights of {name}", litter=number, channel="import", does="log")
            journal.write(message, [NewEvent(event) for event in old_weights.rows(plan)])
    finally:
        journal.close()


def _answered(how: How, question: Question, ask: Ask) -> How:
    answer = ask(question.asks, question.answers)
    if answer is None:
        raise NotRead(f"{question.asks[0].lower()}{question.asks[1:]} Say it with {question.option} {' or '.join(question.answers)}")
    if question.option == "--unit":
        return How(how.dry_run, cast(Unit, answer), how.order, how.born, how.litter)
    return How(how.dry_run, how.unit, cast(Order, answer), how.born, how.litter)


def _litter(directory: Path, how: How) -> tuple[int | None, Nursery]:
    """The litter that the weights are of, and what is known of it; None: there is none yet."""
    if not (directory / DATABASE).exists():
        return None, Nursery.fold((), ZoneInfo(zone_of(directory)))
    with opened(directory) as household:
        there = [one for one in household.conversations if how.litter in (None, one.litter)]
        if len(there) > 1:
            names = ", ".join(f"{one.litter} ({one.name})" for one in there)
            raise NotRead(f"which litter are the weights of? Name it with --litter: {names}")
        if not there:
            if how.litter is not None:
                raise NotRead(f"there is no litter {how.litter} in the log")
            return None, Nursery.fold((), household.zone)
        return there[0].litter, there[0].nursery


def _journal(directory: Path) -> Journal[BaseModel]:
    kinds: dict[str, type[BaseModel]] = {**KINDS, "choice": Choice}
    return Journal(directory / DATABASE, kinds)
