"""Drafts of what must be confirmed: the question back, and what comes of the sender's answer to it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bot.conversation import checks, replying
from bot.conversation.corrections import Corrected, Unclear, propose
from bot.conversation.keeping import Draft, happened_at, named_last, whos, with_note
from bot.conversation.memory import Recalled
from bot.conversation.scene import Scene
from parsers import read_back
from parsers.events import Event
from parsers.reading import Fix, Reading
from storage import NewEvent

Asked = tuple[str, dict[str, Any]]
"""A question back: its words, and what is kept beside the message until it is answered."""


def ask_back(reading: Reading, scene: Scene, *, why: str | None = None, options: Sequence[Sequence[Event]] | None = None) -> Asked:
    """The question what is meant; nothing of the reading's events is logged until the sender says so."""
    given = options if options is not None else reading.options or (reading.events,)
    kept = [with_note(reading.model_copy(update={"events": tuple(option)})) for option in given if option]
    why = why or reading.why or "I am not sure what you mean."
    words = replying.question_back(why, kept, scene.card(), scene.now)
    return words, checks.kept(kept, reading.text, which_pup="which pup" in why.casefold())


def ask_which(unclear: Unclear, reading: Reading, scene: Scene) -> Asked:
    """The question which logged entry a correction means."""
    options = [tuple(event for event in option.new if event is not None) for option in unclear.options]
    kept = checks.kept(options, reading.text, [[one.id for one in option.old] for option in unclear.options])
    old = [read_back([one.event for one in option.old], scene.card(), scene.now) for option in unclear.options]
    if checks.by_pup(options):
        return "\n".join([f"{unclear.why} Nothing is corrected yet. (the pup, or no)", *old]), kept
    numbered = [f"{number}. {said}" for number, said in enumerate(old, 1)]
    return "\n".join([f"{unclear.why} Nothing is corrected yet. (a number, or no)", *numbered]), kept


def ask_about_correction(found: Corrected, why: str, reading: Reading, scene: Scene) -> Asked:
    """The question whether a corrected value is really meant."""
    new = [event for event in found.new if event is not None]
    words = f"{why} Not corrected yet. Yes makes it: {read_back(new, scene.card(), scene.now)}"
    return words, checks.kept([tuple(new)], reading.text, [[one.id for one in found.old]])


def ask_again(asked: Recalled, scene: Scene) -> Draft:
    """The draft that puts the same question once more, after a yes or a number that could mean several things, or nothing."""
    check = asked.notes["check"]
    options = checks.options_of(check)
    pup = not options or checks.stranger(options, scene.card()) is not None or check.get("which_pup")
    why = "Which pup?" if pup else "Which one do you mean?" if len(options) > 1 else "Is that right?"
    words = replying.question_back(why, options, scene.card(), scene.now)
    return Draft("check", words, notes={"check": dict(check), "closes": asked.id})


def drop(asked: Recalled, *, does: str, reading: Reading | None = None) -> Draft:
    """The draft that lets the question go: the words stay in the log, and mean nothing."""
    return Draft(does, f"Dropped: nothing of “{replying.quote(asked.text)}” was logged.", notes={"closes": asked.id}, reading=reading)


def confirm(meant: Sequence[Event], replaces: Sequence[int | None], asked: Recalled, scene: Scene) -> Draft:
    """The draft that logs what the sender confirmed, at the time at which they first told it."""
    corrects = any(place is not None for place in replaces)
    standing = {entry.id for entry in scene.log.entries} if corrects else set()
    if any(place is not None and place not in standing for place in replaces):
        return Draft(
            "fix", "That entry was changed meanwhile, so nothing was corrected. Look at it, and say it again.", notes={"closes": asked.id}
        )
    events = tuple(
        NewEvent(event if corrects or asked.at == scene.now else happened_at(event, asked.at), place)
        for event, place in zip(meant, replaces, strict=True)
    )
    after = scene.after(events)
    said = " ".join([read_back(meant, scene.card(after), scene.now), *replying.cautions(meant, after, scene.now)])
    notes: dict[str, Any] = {"named": named_last(meant, None), "closes": asked.id}
    if corrects:
        notes["of"] = scene.last_root()
    return Draft("fix" if corrects else "log", f"Corrected: {said}" if corrects else said, whos(meant), events, notes=notes)


def correct_the_proposal(fix: Fix, asked: Recalled, scene: Scene, reading: Reading | None = None) -> Draft:
    """A correction right after a question back is about what was asked, never about what was logged before it."""
    if fix.change == "undo":
        return drop(asked, does="fix", reading=reading)
    check = asked.notes["check"]
    options = checks.options_of(check)
    meant = propose(fix, options[0]) if options and "replaces" not in check else None
    if meant is None:
        words = f"Nothing of “{replying.quote(asked.text)}” is logged yet, so there is nothing to correct. Say it whole, with the pup."
        return Draft("fix", words, reading=reading)
    if why := scene.doubt(meant, read_back(meant, scene.card(), scene.now), scene.nursery):
        words, kept = ask_back(Reading(text=asked.text, does="check"), scene, why=why, options=[meant])
        return Draft("check", words, whos(meant), notes={"check": kept, "closes": asked.id}, reading=reading)
    return confirm(meant, (None,) * len(meant), asked, scene)
