"""The parts of the README that are made from the project: the chat from a transcript, the word lists from the vocabulary.

python -m tests.readme      writes them
"""

from __future__ import annotations

import re
import sys
import tomllib
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
VOCABULARY = ROOT / "parsers" / "vocabulary"
LISTS = {"kinds": ("It keeps", "kinds.toml"), "topics": ("It answers", "topics.toml")}
SHOWN = 3
"""Examples that the README shows of each entry; the chat's own `help` and the vocabulary have the rest."""

CHAT = re.compile(r"<!-- chat: (\S+) (\d\d:\d\d)-(\d\d:\d\d) -->\n```text\n(.*?)```", re.S)
"""The chat's place: the transcript, and the minutes from and until which it is cut."""


def entries(name: str) -> dict[str, dict[str, Any]]:
    """The entries of one vocabulary file that have a line of help: what a person can say."""
    data = tomllib.loads((VOCABULARY / LISTS[name][1]).read_text(encoding="utf-8"))
    return {key: entry for key, entry in data.items() if isinstance(entry, dict) and "help" in entry}


def words(name: str) -> str:
    """One word list, as it must stand in the README."""
    rows = [f"| {LISTS[name][0]} | what | said as, for example |", "| --- | --- | --- |"]
    for key, entry in sorted(entries(name).items()):
        examples = " · ".join(f"`{example}`" for example in entry["examples"][:SHOWN])
        rows.append(f"| **{key}** | {entry['help']} | {examples} |")
    return "\n".join(rows)


def words_written(name: str, readme: str) -> str:
    """One word list, as it stands in the README."""
    found = re.search(rf"<!-- words: {name} -->\n(.*?)\n?<!-- end of words -->", readme, re.S)
    if found is None:
        raise ValueError(f"README.md has no place for the word list: put <!-- words: {name} --> and <!-- end of words --> where it goes")
    return found[1].strip()


def chat_written(readme: str) -> tuple[Path, str, str, str]:
    """The chat as it stands in the README: its transcript, first minute, last minute, text."""
    found = CHAT.search(readme)
    if found is None:
        raise ValueError("README.md has no chat: put <!-- chat: demo_transcripts/NAME.txt 02:43-03:10 --> before a ```text block")
    return ROOT / found[1], found[2], found[3], found[4]


def chat(transcript: Path, first: str, last: str) -> str:
    """The lines of a transcript's last day from one minute until another, word for word."""
    text = transcript.read_text(encoding="utf-8")
    day = text[text.rindex("\n---") + 1 :]
    start = day.index(f"[{first}]")
    end = re.compile(r"^(?!\s|$).*", re.M)
    lines = [found.start() for found in end.finditer(day, day.rindex(f"[{last}]"))]
    return day[start : lines[1] if len(lines) > 1 else len(day)].rstrip() + "\n"


def main() -> int:
    """Write them into the README."""
    readme = README.read_text(encoding="utf-8")
    transcript, first, last, written = chat_written(readme)
    readme = readme.replace(f"```text\n{written}```", f"```text\n{chat(transcript, first, last)}```")
    for name in LISTS:
        old = words_written(name, readme)
        head, tail = f"<!-- words: {name} -->\n", "\n\n<!-- end of words -->"
        readme = readme.replace(f"{head}\n{old}{tail}" if old else f"{head}<!-- end of words -->", f"{head}\n{words(name)}{tail}")
    README.write_text(readme, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
