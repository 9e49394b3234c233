"""`lampwatch say` and `lampwatch invite`: the terminal's end of a talk with the running bot."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from pathlib import Path

from bot.channels.intake import too_long, whole
from bot.channels.talk import Answer, NoBot, Talk


def say(directory: Path, text: str, by: str | None) -> Answer:
    """Give the bot a message and wait until it is kept; raises NoBot where none runs."""
    with Talk(directory) as talk:
        return _say(talk, text, by)


def say_lines(directory: Path, lines: Iterable[bytes], by: str | None) -> Iterator[Answer]:
    """Give the bot a message a line, each after the one before is answered.

    Where the bot goes away in between, the line that it did not answer is said to be in doubt, and the rest not kept.
    """
    with Talk(directory) as talk:
        for raw in lines:
            try:
                yield _say(talk, raw.decode("utf-8", "replace").rstrip("\r\n"), by)
            except NoBot as gone:
                yield {"kept": False, "text": str(gone)}
                return


def _say(talk: Talk, text: str, by: str | None) -> Answer:
    if why := too_long(text):
        return {"kept": False, "text": why}
    return talk.ask({"do": "say", "text": whole(text), "by": by})


def invite(directory: Path, name: str) -> Answer:
    """Ask the bot for a link by which one device joins; raises NoBot where none runs."""
    with Talk(directory) as talk:
        return talk.ask({"do": "invite", "name": name})


def invite_sensor(directory: Path, place: str) -> Answer:
    """Ask the bot for a token by which a sensor speaks; raises NoBot where none runs."""
    with Talk(directory) as talk:
        return talk.ask({"do": "sensor", "place": place})


def as_line(answer: Answer) -> str:
    """An answer as one line of JSON."""
    return json.dumps(answer, ensure_ascii=False)
