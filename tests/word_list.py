"""The word list of the README, made from the vocabulary, so that the page and the reader cannot drift apart.

python -m tests.word_list      writes it
"""

from __future__ import annotations

import re
import sys
import tomllib
from pathlib import Path
from typing import Any

from bot.reports.not_yet import TOPICS as NOT_YET

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
VOCABULARY = ROOT / "parsers" / "vocabulary"
LISTS = {"kinds": ("It keeps", "kinds.toml"), "topics": ("It answers", "topics.toml")}
SHOWN = 3
"""Examples that the README shows of each entry; the chat's own `help` and the vocabulary have the rest."""


def entries(name: str) -> dict[str, dict[str, Any]]:
    """The entries of one vocabulary file that have a line of help: what a person can say."""
    data = tomllib.loads((VOCABULARY / LISTS[name][1]).read_text(encoding="utf-8"))
    return {key: entry for key, entry in data.items() if isinstance(entry, dict) and "help" in entry}


def made(name: str) -> str:
    """The table of one list, as it must stand in the README."""
    rows = [f"| {LISTS[name][0]} | what | said as, for example |", "| --- | --- | --- |"]
    for key, entry in entries(name).items():
        examples = " · ".join(f"`{example}`" for example in entry["examples"][:SHOWN])
        waits = " *(understood; not answered yet)*" if name == "topics" and key in NOT_YET else ""
        rows.append(f"| **{key}** | {entry['help']}{waits} | {examples} |")
    return "\n".join(rows)


def written(name: str, readme: str) -> str:
    """The table of one list, as it stands in the README."""
    found = re.search(rf"<!-- words: {name} -->\n(.*?)\n?<!-- end of words -->", readme, re.S)
    if found is None:
        raise ValueError(f"README.md has no place for the word list: put <!-- words: {name} --> and <!-- end of words --> where it goes")
    return found[1].strip()


def main() -> int:
    """Write the lists into the README."""
    readme = README.read_text(encoding="utf-8")
    for name in LISTS:
        written(name, readme)
        between = re.compile(rf"(<!-- words: {name} -->\n).*?(<!-- end of words -->)", re.S)
        readme = between.sub(lambda place, name=name: f"{place[1]}\n{made(name)}\n\n{place[2]}", readme)  # type: ignore[misc]
    README.write_text(readme, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
