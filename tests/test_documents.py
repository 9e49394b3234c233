"""What the documents say is true: the chat is real, the words are the vocabulary's, each file named exists, each command is there."""

from __future__ import annotations

import argparse
import re
from pathlib import Path
from typing import get_args

import pytest

from bot.__main__ import _commands
from parsers.events import KINDS
from parsers.reading import Topic
from tests import readme
from tests.readings.corpus import held_out_files, load, tuned_files

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
TRANSCRIPTS = sorted((ROOT / "demo_transcripts").rglob("*.txt"))
LINE = re.compile(r"^\[\d\d:\d\d\] \w+:", re.M)


def test_the_chat_in_the_readme_is_cut_word_for_word_from_a_transcript() -> None:
    transcript, first, last, written = readme.chat_written(README)
    assert transcript in TRANSCRIPTS
    assert written == readme.chat(transcript, first, last), "cut it anew: python -m tests.readme"
    assert written in transcript.read_text(encoding="utf-8")


def test_the_chat_in_the_readme_has_about_ten_lines_of_people_and_bot() -> None:
    written = readme.chat_written(README)[3]
    lines = LINE.findall(written)
    assert 8 <= len(lines) <= 14
    assert sum("bot:" in line for line in lines) >= 3
    assert README.index(written) < README.index("## Install")


@pytest.mark.parametrize("name", readme.LISTS)
def test_the_word_list_of_the_readme_is_the_vocabulary(name: str) -> None:
    assert readme.words_written(name, README) == readme.words(name), "write it anew: python -m tests.readme"


def test_every_kind_of_event_has_its_words_and_every_entry_is_a_kind() -> None:
    assert set(readme.entries("kinds")) == set(KINDS)


def test_every_topic_has_its_words_and_every_entry_is_a_topic() -> None:
    assert set(readme.entries("topics")) == set(get_args(Topic))


def test_every_file_that_the_map_names_exists() -> None:
    named = set(re.findall(r"`((?:bot|parsers|storage|tests|demo_transcripts)/[\w./]*|[\w]+\.(?:md|toml))`", DEVELOPERS))
    named |= set(re.findall(r"\b(?:bot|parsers|storage|tests|demo_transcripts)/[\w/]+(?:\.\w+)?", DEVELOPERS))
    assert len(named) > 20
    assert sorted(name for name in named if not (ROOT / name).exists()) == []


def test_every_package_is_on_the_map() -> None:
    rooms = {path.parent.relative_to(ROOT).as_posix() for path in (ROOT / "bot").glob("*/__init__.py")}
    rooms |= {"parsers", "parsers/events", "storage"}
    assert sorted(room for room in rooms if room not in DEVELOPERS) == []


def test_every_kind_and_every_topic_stands_in_a_labelled_message() -> None:
    wants = [message.want for message in load(tuned_files() + held_out_files())]
    kinds = {event["kind"] for want in wants for event in want.get("events", ())}
    topics = {want["about"]["topic"] for want in wants if "about" in want}
    assert set(KINDS) - {"note"} - kinds == set()
    assert set(get_args(Topic)) - topics == set()


def test_the_readme_names_every_command_and_no_other() -> None:
    subparsers = next(action for action in _commands()._actions if isinstance(action, argparse._SubParsersAction))
    commands = set(subparsers.choices)
    assert commands - set(re.findall(r"\| `lampwatch (\w+)", README)) == set()
    assert set(re.findall(r"lampwatch (\w+) ", " ".join(re.findall(r"`([^`]+)`", README)))) - commands - {"COMMAND"} == set()


def test_the_readme_starts_the_bot_in_one_line_and_checks_it_in_a_second() -> None:
    first, second = (
        line.strip() for line in re.findall(r"^    (\S.*)$", README[README.index("## Install") : README.index("## The first night")], re.M)
    )
    assert re.search(r"-m venv .*pip install .*lampwatch serve$", first)
    assert second == "bash tests/run"


def test_every_link_of_a_document_leads_to_a_file() -> None:
    links = re.findall(r"\]\(([^)#]+)\)", README + DEVELOPERS)
    assert links
    assert [link for link in links if not (ROOT / link).exists()] == []
