"""A message becomes a draft: an answer to what the bot asked last, or a reading that is kept, asked back, corrected or set up."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

from pydantic import BaseModel, ValidationError

from bot.care.choice import Choice, Sets
from bot.care.wording import say_time
from bot.conversation import calendar_link, checks, confirming, interview, replying, watches
from bot.conversation.corrections import Corrected, Unclear, correct
from bot.conversation.keeping import Draft, happened_at, named_last, whos, with_note
from bot.conversation.memory import Recalled
from bot.conversation.scene import Scene
from bot.conversation.setting_up import HOUSEHOLDS_OWN, say_sets, say_units, sort_out
from parsers import read_back
from parsers.events.note import Note
from parsers.reading import Fix, Reading
from storage import NewEvent, Withdrawal

Rows = list[NewEvent[BaseModel] | Withdrawal]


def draft(text: str, scene: Scene, reading: Reading | None = None, told: datetime | None = None) -> Draft:
    """All that a message comes to. `reading` is what it means, where that is known; `told`, when it was first said, where earlier."""
    if scene.mends is not None:
        return _mend(text, scene)
    question = interview.asked(scene)
    if question is not None and (answer := interview.answer(text, question, scene)) is not None:
        return answer
    check = scene.open_check
    if check is not None and (settled := _settle(text, *check, scene)) is not None:
        return settled
    reading = reading or scene.read(text)
    if reading.fix is not None and check is not None and check[1]:
        return confirming.correct_the_proposal(reading.fix, check[0], scene, reading)
    drafted = _from_reading(_said_no_to(check, reading), scene, told)
    return interview.ask_on(drafted, question, scene)


class NoCorrection(Exception):
    """A line was picked to be corrected, and the words say no correction; the text is a sentence for the person."""


def _mend(text: str, scene: Scene) -> Draft:
    """The draft of words that correct a line which was picked. Raises NoCorrection."""
    if not scene.last_logged():
        raise NoCorrection("Nothing of that line stands in the log, so there is nothing to correct, and nothing was changed.")
    reading = scene.read(text)
    if reading.fix is None and reading.why is not None:
        raise NoCorrection(f"{reading.why.rstrip('.')}, so nothing was changed. Say it again as you mean it.")
    if reading.fix is None:
        raise NoCorrection("That says no correction, so nothing was changed. Say it like “no, 221”, “that was pup 4”, “at 2:40” or “undo”.")
    return _from_reading(reading, scene, None)


def _said_no_to(check: tuple[Recalled, bool] | None, reading: Reading) -> Reading:
    """A reading right after a question back: a `no` in front of it is the answer to that question, and no word left unread."""
    if check is None or not check[1] or reading.does != "log" or reading.unread.casefold().strip(" ,.") not in ("no", "nope"):
        return reading
    return reading.model_copy(update={"unread": "", "unread_who": None})


def _settle(text: str, asked: Recalled, at_once: bool, scene: Scene) -> Draft | None:
    """The draft of words that answer a question back; None where they are something else."""
    answer = checks.answered(text, asked.notes["check"], scene.card(), at_once=at_once)
    match answer:
        case checks.Dropped():
            return confirming.drop(asked, does="note")
        case checks.Confirmed(events=events, replaces=replaces):
            return confirming.confirm(events, replaces, asked, scene)
        case checks.Another(who=who):
            return confirming.correct_the_proposal(Fix(change="who", who=who), asked, scene)
        case checks.Unsettled():
            return confirming.ask_again(asked, scene)
        case checks.Named(words=words):
            whole = _from_reading(scene.read(f"{words} {asked.notes['check']['text']}", at=asked.at), scene, asked.at)
            return replace(whole, notes={**whole.notes, "closes": asked.id})
        case _:
            return None


def _from_reading(reading: Reading, scene: Scene, told: datetime | None) -> Draft:
    """The draft of a reading, part by part: what it corrects, what it tells or must be asked about, what it sets, what it asks."""
    rows: Rows = []
    words: list[str] = []
    notes: dict[str, Any] = {}
    if reading.fix is not None:
        rows, said, question = _correct(reading, reading.fix, scene)
        words.append(said)
        notes |= ({"of": scene.last_root()} if rows else {}) | ({"check": question} if question is not None else {})
    seen = with_note(reading)
    if reading.why is not None and reading.does in ("check", "fix"):
        asks, question = confirming.ask_back(reading, scene)
        words.append(asks if "check" not in notes else "The rest is not logged: say it again by itself.")
        notes.setdefault("check", question)
        seen = ()
    rows += [NewEvent(happened_at(event, told) if told is not None and told != scene.now else event) for event in seen]
    choice, household = _choice(reading, scene)
    if choice is not None:
        rows.append(NewEvent(choice))
    after = scene.after(rows)
    ticked = replying.ticked(seen, after)
    if reading.does == "note":
        noted = " ".join(event.text for event in seen if isinstance(event, Note)) or reading.text
        answered = calendar_link.answer(reading.text, scene) or watches.answer(reading.text, scene.nursery, scene.sender.people, scene.now)
        words.append(ticked or answered or f"Noted: “{replying.quote(noted)}”.")
        words += [*replying.how_it_was_read(reading.model_copy(update={"unread": ""}))]
    elif seen:
        names_changed = choice is not None or any(event.kind == "born" for event in seen)
        card = scene.card(after) if names_changed else scene.card()
        words.append(replying.logged(seen, reading, scene.card(), card, scene.now))
        words += [*replying.cautions(seen, after, scene.now), *([] if ticked is None else [ticked])]
    elif "check" not in notes:
        words += replying.how_it_was_read(reading)
    if choice is not None:
        words += say_sets(choice.sets, scene.nursery, after, scene.now)
        words += [say_units(after)] if choice.sets.litter is not None else []
    words += household
    subjects = whos(reading.events)
    if subjects or (reading.about is not None and reading.about.who is not None):
        notes["named"] = named_last(reading.events, reading.about)
    reply = " ".join(words) or (None if reading.about is not None else "Noted.")
    return Draft(reading.does, reply, subjects or whos(seen), tuple(rows), reading.about, notes, reading, after)


def _correct(reading: Reading, fix: Fix, scene: Scene) -> tuple[Rows, str, dict[str, Any] | None]:
    """The rows and the words of a correction, and the question that must be answered first, where it cannot stand as it is."""
    found = correct(fix, scene.last_logged())
    if isinstance(found, Unclear):
        return [], *confirming.ask_which(found, reading, scene)
    if not isinstance(found, Corrected):
        return [], found.why, None
    rows: Rows = [Withdrawal(one.id) if event is None else NewEvent(event, one.id) for one, event in zip(found.old, found.new, strict=True)]
    old = read_back([one.event for one in found.old], scene.card(), scene.now)
    new = [event for event in found.new if event is not None]
    if not new:
        told = next((entry.told_at for entry in reversed(scene.log.entries) if entry.id == found.old[0].id), scene.now)
        when = "" if told == scene.now else f", from {say_time(told, scene.now, scene.nursery.zone)}"
        return rows, f"Taken back{when}: {old}", None
    # A corrected value is held against the litter as it is without the wrong one, like any other value that is told.
    bare = read_back([event.model_copy(update={"at": None}) for event in new], scene.card(), scene.now)
    if why := scene.doubt(new, bare, scene.log.with_new((), [one.id for one in found.old])):
        return [], *confirming.ask_about_correction(found, why, reading, scene)
    after = scene.after(rows)
    said = f"Corrected: {read_back(new, scene.card(after), scene.now)} Was: {old}"
    return rows, " ".join([said, *replying.cautions(new, after, scene.now)]), None


def _choice(reading: Reading, scene: Scene) -> tuple[Choice | None, list[str]]:
    """The choice that a message makes, and a sentence for each part that is not to be had, or that the household sees to."""
    if reading.setup is None:
        return None, []
    sender = scene.sender
    wanted = sort_out(reading.setup.sets, scene.nursery, keeper=sender.keeper, keepers=sender.keepers, people=sender.people)
    said = list(wanted.said)
    if "invite" in wanted.kept:
        name = str(wanted.kept["invite"])
        said.append(
            f"Invite {name} on the machine: “lampwatch invite {name}”."
            if sender.invite is None
            else sender.invite(name, sender.name, scene.now)
        )
    kept = {name: value for name, value in wanted.kept.items() if name not in HOUSEHOLDS_OWN}
    if not kept:
        return None, said
    try:
        return Choice(sets=Sets.model_validate(kept), by=sender.name), said
    except ValidationError:
        return None, [
            *said,
            "I could not take that in, so nothing was changed. Say it in one short sentence, like “remind me every 2 hours”.",
        ]
