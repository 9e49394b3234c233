"""Last: when something was last done, to whom, and who told it."""

from __future__ import annotations

from datetime import datetime

from pydantic import JsonValue

from bot.care.dog import Dog
from bot.care.doing import Doing
from bot.care.nursery import Nursery
from bot.care.wording import iso, say_span, say_time
from bot.reports.answer import Answer
from bot.reports.asked import Asked
from parsers.events import KINDS

_NOUNS = {
    "nursed": "nursing", "fed": "feed by hand", "refused": "refusal", "cleared": "clearing", "toilet": "toilet", "weight": "weighing",
    "temperature": "temperature", "sign": "sign of trouble", "dose": "dose", "intake": "meal or drink", "placed": "move",
    "climate": "reading of the box", "cleaned": "cleaning", "born": "birth", "died": "death", "visitor": "visit", "note": "note",
}  # fmt: skip


def answer(asked: Asked) -> Answer:
    """When the thing asked about was last done; all things of a dog where none is named."""
    nursery, now, of = asked.nursery, asked.now, asked.question.of
    if asked.question.who == "dam":
        return _of_dog(asked, nursery.dam)
    if asked.named and not asked.pups:
        return Answer(asked.no_such_pup, about="last")
    if asked.names_one:
        return _of_dog(asked, asked.pups[0])
    if of is not None and of not in KINDS:
        return _of_drug(asked, of)
    if of in ("dose", "intake") and not asked.named:
        return _of_dog(asked, nursery.dam)
    if of is not None and of in nursery.around and not asked.named:
        done = nursery.around[of]
        return Answer(f"{_capital(_said(nursery, done, now))}.", _values(nursery, done, now), "last")
    if of is not None and not asked.named and not any(of in pup.last for pup in nursery.pups.values()):
        if of in nursery.dam.last:
            return _of_dog(asked, nursery.dam)
        return Answer(f"No {_NOUNS.get(of, of)} is in the log yet.", about="last")
    return _of_several(asked)


def _of_several(asked: Asked) -> Answer:
    nursery, now, of, pups = asked.nursery, asked.now, asked.question.of, asked.pups
    found = {int(pup.who): done for pup in pups if (done := _last(pup, of)) is not None}
    missing = [pup.who for pup in pups if int(pup.who) not in found]
    noun = "feed" if of is None else _NOUNS.get(of, of)
    lines = [f"Last {noun}:"] if found else []
    lines += [f"{nursery.called(number)}: {_short(nursery, done, now)}." for number, done in found.items()]
    if missing:
        lines.append(f"No {noun} in the log yet: {nursery.together(missing)}.")
    if not lines:
        lines = ["There is no pup in this litter yet."]
    values: dict[str, JsonValue] = {str(number): _values(nursery, done, now) for number, done in found.items()}
    return Answer("\n".join(lines), values, "last", tuple(int(pup.who) for pup in pups) if asked.named else ())


def _of_dog(asked: Asked, dog: Dog) -> Answer:
    nursery, now, of = asked.nursery, asked.now, asked.question.of
    if of is None:
        return _everything(nursery, dog, now)
    done = dog.last.get(of) if of in KINDS else _dose(dog, of)
    if done is None:
        noun = _NOUNS[of] if of in KINDS else of
        return Answer(f"No {noun} of {_in_a_sentence(dog)} is in the log yet.", about="last", who=(dog.who,))
    parts = []
    if asked.question.span is not None and done.began < asked.span.start:
        parts.append(f"Not {asked.span.said}.")
    parts.append(f"{dog.called}: {_said(nursery, done, now)}.")
    fed = dog.last.get("fed")
    if of == "nursed" and fed is not None and fed.began > done.began:
        parts.append(f"By hand since then: {_said(nursery, fed, now)}.")
    return Answer(" ".join(parts), _values(nursery, done, now), "last", (dog.who,))


def _everything(nursery: Nursery, dog: Dog, now: datetime) -> Answer:
    doings = sorted(dog.last.values(), key=lambda done: done.began, reverse=True)
    if not doings:
        return Answer(f"Nothing of {_in_a_sentence(dog)} is in the log yet.", about="last", who=(dog.who,))
    lines = [f"{dog.called}, the last of each:", *[f"{_short(nursery, done, now)}." for done in doings]]
    return Answer("\n".join(lines), _values(nursery, doings[0], now), "last", (dog.who,))


def _of_drug(asked: Asked, drug: str) -> Answer:
    nursery, now = asked.nursery, asked.now
    dogs = asked.pups if asked.named else (nursery.dam, *nursery.living)
    given = [(dog, done) for dog in dogs if (done := _dose(dog, drug)) is not None]
    if not given:
        return Answer(f"No {drug} is in the log yet.", about="last")
    lines = [f"{dog.called}: {_said(nursery, done, now)}." for dog, done in given]
    flat = _values(nursery, given[0][1], now) if len(given) == 1 else {str(dog.who): _values(nursery, done, now) for dog, done in given}
    return Answer("\n".join(lines), flat, "last", tuple(dog.who for dog, _ in given))


def _last(pup: Dog, of: str | None) -> Doing | None:
    return pup.last_fed() if of is None else pup.last.get(of)


def _dose(dog: Dog, drug: str) -> Doing | None:
    given = dog.doses.get(drug.casefold())
    return None if given is None else given.last


def _said(nursery: Nursery, done: Doing, now: datetime) -> str:
    """`nursed 15 min, 2:59 am (1 h 10 min ago, told by Ines)`."""
    ago = say_span((now - done.began).total_seconds() / 60)
    return f"{_short(nursery, done, now)} ({ago} ago, told by {done.by})"


def _short(nursery: Nursery, done: Doing, now: datetime) -> str:
    return f"{done.event.say(nursery.units)}, {say_time(done.began, now, nursery.zone)}"


def _values(nursery: Nursery, done: Doing, now: datetime) -> dict[str, JsonValue]:
    return {"last_at": iso(done.began, nursery.zone), "minutes_ago": (now - done.began).total_seconds() / 60}


def _in_a_sentence(dog: Dog) -> str:
    return "the dam" if dog.called == "The dam" else dog.called


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
