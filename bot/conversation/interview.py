"""The first night's questions put into the talk: which one is next, and when it is time to ask it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from bot.care import ready
from bot.care.choice import Choice, Sets
from bot.care.nursery import Nursery
from bot.conversation import first_night
from bot.conversation.keeping import Draft
from bot.conversation.scene import Scene
from bot.conversation.setting_up import say_sets, say_units
from parsers import read
from storage import NewEvent

_FREE = {"dam": ("log", "ask", "fix", "check", "setup"), "born": ("log", "ask", "fix")}
"""Questions that free words answer: what reads as something else by itself is no answer to them."""


def asked(scene: Scene) -> Mapping[str, Any] | None:
    """What was written beside the sender's last message, where it says that a question was put to them; else None."""
    last = scene.memory.last(scene.sender.name)
    return last.notes if last is not None and "asks" in last.notes and scene.sender.keeper else None


def answer(text: str, question: Mapping[str, Any], scene: Scene) -> Draft | None:
    """The draft of words that answer the question; None where they are something else."""
    if ready.ticked_in(text):
        return None
    left = [name for name in (*first_night.LITTER, *first_night.UNITS) if name not in _settled(scene)]
    if question["asks"] in _FREE and scene.read(text).does in _FREE[question["asks"]]:
        return None
    found = first_night.understand(question["asks"], text, zone=scene.nursery.zone, read=_read_setup(scene), left=left)
    if found is None:
        return None
    choice = Choice(sets=Sets.model_validate(found.sets), by=scene.sender.name)
    events = (NewEvent(choice),)
    after = scene.after(events)
    words = say_sets(choice.sets, scene.nursery, after, scene.now) or ["Skipped."]
    draft = Draft("setup", " ".join(words), events=events)
    return _with_next(draft, scene, _settled(scene) | first_night.settled([found.sets]), units=bool(question["units"]), after=after)


def ask_on(draft: Draft, question: Mapping[str, Any] | None, scene: Scene) -> Draft:
    """The draft of some other message, with a question at its end where it is time for one.

    It is time when a litter was described in part; at a keeper's first words that log nothing, in an empty store, which begins
    a row of questions; and once more where one of that row was passed over. A line of the log is never held up by a question.
    """
    if not scene.sender.keeper or draft.does == "check":
        return draft
    sets = draft.reading.setup.sets if draft.reading is not None and draft.reading.setup is not None else {}
    if question is None and not sets.get("litter") and (scene.log.holds_events or draft.does not in ("note", "ask")):
        return draft
    done = _settled(scene) | first_night.settled([sets])
    if sets.get("litter"):
        return _with_next(draft, scene, done, units=bool(question and question["units"]), after=None)
    if question is not None:
        passed_over = question["units"] and question["asks"] not in done and question["times"] < first_night.ASKED_AT_MOST
        return _with(draft, question["asks"], scene, units=True, times=question["times"] + 1) if passed_over else draft
    if not done:
        return _with(draft, first_night.LITTER[0], scene, units=True, times=1, hello=True)
    return draft


def welcome(scene: Scene) -> tuple[str, dict[str, Any]] | None:
    """The first question to a keeper who has just come, and what is remembered of it; None where anything is settled already."""
    if not scene.sender.keeper or _settled(scene):
        return None
    words = first_night.ask(first_night.LITTER[0], scene.nursery.zone, scene.now)
    return f"{first_night.HELLO} {words}", {"asks": first_night.LITTER[0], "units": True, "times": 1}


def _with_next(draft: Draft, scene: Scene, done: frozenset[str], *, units: bool, after: Nursery | None) -> Draft:
    question = first_night.next_question(done, units_too=units)
    if question is not None:
        return _with(draft, question, scene, units=units, times=1)
    if not units:
        return draft
    closing = f"{say_units(after or scene.nursery)} {first_night.ALL_SET}"
    return replace(draft, reply=f"{draft.reply} {closing}" if draft.reply else closing)


def _with(draft: Draft, question: str, scene: Scene, *, units: bool, times: int, hello: bool = False) -> Draft:
    asks = first_night.ask(question, scene.nursery.zone, scene.now)
    words = f"{first_night.HELLO} {asks}" if hello else asks
    notes = {**draft.notes, "asks": question, "units": units, "times": times}
    greeting = hello and draft.does == "note" and not any(isinstance(row, NewEvent) and ready.ticks(row.event) for row in draft.events)
    alone = draft.reply is None or greeting  # to a greeting, a greeting
    return replace(draft, reply=words if alone else f"{draft.reply}\n{words}", notes=notes)


def _settled(scene: Scene) -> frozenset[str]:
    return first_night.settled(choice.sets.model_dump(exclude_unset=True) for choice in scene.log.choices)


def _read_setup(scene: Scene) -> Callable[[str], Mapping[str, Any]]:
    def read_setup(words: str) -> Mapping[str, Any]:
        reading = read(words, scene.card(), now=scene.now, by=scene.sender.name)
        alone = reading.does == "setup" and not reading.unread and reading.about is None
        return reading.setup.sets if alone and reading.setup is not None else {}

    return read_setup
