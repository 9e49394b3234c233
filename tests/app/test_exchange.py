"""What is exported is taken in again as the same log; old weights are taken in once; nothing is guessed and nothing doubled."""

from __future__ import annotations

import csv
import io
import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.app.columns import COLUMNS, read, written
from bot.app.export import Only, export, opened
from bot.app.importing import How, import_file
from bot.app.serve import DATABASE, held
from bot.conversation import Message
from bot.household import open_household
from bot.settings import SetupError
from parsers.events import KINDS
from tests.app.served import run
from tests.app.sixteen_days import grow
from tests.care.shepherds import NAMES, table

NOW = datetime(2026, 3, 18, 8, 14, tzinfo=UTC)
SHEPHERDS = Path(__file__).parents[1] / "care" / "data" / "shepherd_litter.csv"


SAID = (
    "calcium every 2 and a half hours", "mom calcium 2 clicks", "no, 3 clicks", "pup 3 999 g", "no", "pup 4 nursed 9", "undo",
    "=1+1 is on the board", "-", "pup 2 40 ml formula?", "today's gains", "mom ate half", "pup 5 temp 97.2 at 2:50 am",
)  # fmt: skip
EVERYTHING, AS_A_RULE = Only(), How()


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log with weights, care, corrections, an undo, names, a plan, a note that a spreadsheet might run, and a question."""
    data = tmp_path_factory.mktemp("home") / "data"
    grow(data, NOW - timedelta(hours=1))
    household = open_household(data / DATABASE, zone="America/Chicago")
    household.take_in("Theo", NOW - timedelta(minutes=31))
    for place, words in enumerate(SAID):
        assert household.hear(Message("Ines", words), NOW - timedelta(minutes=30 - place)).kept
    assert household.hear(Message("Theo", "pup 2 cleared"), NOW).kept
    household.close()
    settle(data)
    return data


def settle(directory: Path) -> None:
    """Give a directory its zone, whatever the machine's is."""
    directory.mkdir(exist_ok=True)
    (directory / "lampwatch.toml").write_text('zone = "America/Chicago"', encoding="utf-8")


def exported(home: Path, form: str, only: Only = EVERYTHING, to: Path | None = None) -> bytes:
    found = export(home, form, only, str(to) if to else "-", now=NOW, say=print)
    return to.read_bytes() if to else found or b""


def taken_in(directory: Path, data: bytes, tmp_path: Path, name: str = "file.csv", how: How = AS_A_RULE, answers: str = "") -> list[str]:
    path = tmp_path / name
    path.write_bytes(data)
    settle(directory)
    said: list[str] = []
    given = iter(answers.split())
    import_file(directory, path, how, now=NOW, ask=lambda *_: next(given, None), say=said.append)
    return said


def log_of(directory: Path, *, silent_too: bool = True) -> list[tuple[Any, ...]]:
    """What people said and what it meant: when, who, what, each entry with whether it stands, and the place of what it replaces."""
    with opened(directory) as household:
        lines = [line for line in household.log() if line.message.says is None and (silent_too or line.entries)]
        places = {entry.id: place for place, entry in enumerate(entry for line in lines for entry in line.entries)}
        return [
            (
                line.message.at, line.message.by, line.message.text,
                [
                    (entry.event, entry.told_at, entry.by, entry.id in line.standing, places.get(entry.replaces or 0))
                    for entry in line.entries
                ],
            )
            for line in lines
        ]  # fmt: skip


def test_an_exported_log_taken_into_an_empty_one_is_the_same_log(home: Path, tmp_path: Path) -> None:
    said = taken_in(tmp_path / "new", exported(home, "json"), tmp_path, "log.json")
    assert "in 1 new litter" in said[0]
    assert log_of(tmp_path / "new") == log_of(home)


def test_a_table_holds_every_entry_with_who_told_it_when_and_what_corrects_what(home: Path, tmp_path: Path) -> None:
    taken_in(tmp_path / "new", exported(home, "csv"), tmp_path)
    assert log_of(tmp_path / "new", silent_too=False) == log_of(home, silent_too=False)


def test_taken_in_again_nothing_is_doubled(home: Path, tmp_path: Path) -> None:
    for form in ("json", "csv", "json"):
        taken_in(tmp_path / "new", exported(home, form), tmp_path, f"log.{form}")
    assert log_of(tmp_path / "new") == log_of(home)
    before = log_of(home)
    said = taken_in(home, exported(home, "json"), tmp_path, "log.json")
    assert said[0].startswith("Taken in: 0 messages with 0 entries; ")
    assert log_of(home) == before


def test_a_later_export_adds_what_is_new_and_corrects_what_is_there(home: Path, tmp_path: Path) -> None:
    taken_in(tmp_path / "new", exported(home, "json"), tmp_path, "log.json")
    taken_in(tmp_path / "other", exported(home, "json"), tmp_path, "log.json")
    household = open_household(tmp_path / "other" / DATABASE, zone="America/Chicago")
    household.take_in("Ines", NOW)
    household.hear(Message("Ines", "pup 1 540 g"), NOW)
    household.hear(Message("Ines", "no, 541"), NOW + timedelta(minutes=1))
    household.close()
    said = taken_in(tmp_path / "new", exported(tmp_path / "other", "json"), tmp_path, "log.json")
    assert said[0].startswith("Taken in: 2 messages with 2 entries; ")
    assert log_of(tmp_path / "new") == log_of(tmp_path / "other")


def test_a_dry_run_says_the_same_and_keeps_nothing(home: Path, tmp_path: Path) -> None:
    data = exported(home, "json")
    dry = taken_in(tmp_path / "new", data, tmp_path, "log.json", How(dry_run=True))
    assert log_of(tmp_path / "new") == []
    wet = taken_in(tmp_path / "new", data, tmp_path, "log.json")
    assert dry[0].removeprefix("This would be taken in: ") == wet[0].removeprefix("Taken in: ")


def test_beside_a_table_stands_what_each_column_holds(home: Path, tmp_path: Path) -> None:
    data = exported(home, "csv", to=tmp_path / "log.csv").decode()
    schema = json.loads((tmp_path / "log.schema.json").read_bytes())
    header = next(csv.reader(io.StringIO(data)))
    assert [field["name"] for field in schema["fields"]] == header == [column.name for column in COLUMNS]
    assert all(field["description"] and field["type"] for field in schema["fields"])
    assert schema["primaryKey"] == ["event"]
    rows = list(csv.DictReader(io.StringIO(data)))
    assert len({row["event"] for row in rows}) == len(rows)
    kinds = {field for model in KINDS.values() for field in model.model_json_schema(by_alias=True)["properties"]}
    assert kinds <= set(header)


def test_no_cell_of_a_table_is_run_by_a_spreadsheet(home: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(exported(home, "csv").decode())))
    assert "'=1+1 is on the board" in [row["text"] for row in rows if row["kind"] == "note"]
    assert not [cell for row in rows for cell in row.values() if cell.startswith(("=", "+", "-", "@", "\t", "\r"))]


@given(st.text())
def test_any_words_come_back_from_a_cell(words: str) -> None:
    cell = written(words)
    assert cell[:1] not in ("=", "+", "-", "@", "\t", "\r")
    assert (read("text", cell) or "") == words


def test_one_pup_and_the_days_from_a_date_on_can_be_exported_alone(home: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(exported(home, "csv", Only(pup=3)).decode())))
    assert {row["who"] for row in rows} == {"3"}
    later = list(csv.DictReader(io.StringIO(exported(home, "csv", Only(since=datetime(2026, 3, 17, tzinfo=UTC).date())).decode())))
    assert later
    assert min(row["said_at"] for row in later) >= "2026-03-17"


def whole(*messages: dict[str, object]) -> bytes:
    """An export of some messages."""
    said = {"litter": 1, "said_at": "2026-03-02T03:14:00-06:00", "said_by": "Ines", "said": "words", "events": []}
    return json.dumps({"format": "lampwatch log", "version": 1, "messages": [said | message for message in messages]}).encode()


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b'{"format": "another"}', "is no “lampwatch log” of version 1"),
        (b"{", "it is no whole export"),
        (whole({"said_at": None}), "it is no whole export"),
        (whole({"said_at": "2026-03-02T03:14:00"}), "has no offset"),
        (whole({"events": [{"kind": "flew", "who": 1}]}), "the kind “flew” is not known to this version"),
        (whole({}, {"said": "heavy", "events": [{"kind": "weight", "who": 1, "grams": "heavy"}]}), "grams"),
    ],
)
def test_what_is_no_whole_export_is_refused_in_words_and_nothing_of_it_is_kept(tmp_path: Path, data: bytes, why: str) -> None:
    with pytest.raises(SetupError, match=r"^Nothing was taken in") as refused:
        taken_in(tmp_path / "new", data, tmp_path)
    assert why in str(refused.value)
    if (tmp_path / "new" / DATABASE).exists():
        assert log_of(tmp_path / "new") == []


def test_a_changed_table_is_refused_with_its_line(home: Path, tmp_path: Path) -> None:
    data = exported(home, "csv").decode().splitlines()
    data[2] = data[2].replace("true", "perhaps")
    with pytest.raises(SetupError, match=r"line 3: stands is “perhaps”"):
        taken_in(tmp_path / "new", "\r\n".join(data).encode(), tmp_path)


def test_while_a_bot_runs_nothing_is_taken_in(home: Path, tmp_path: Path) -> None:
    with held(tmp_path / "busy"), pytest.raises(SetupError, match="A bot runs already"):
        taken_in(tmp_path / "busy", exported(home, "json"), tmp_path, "log.json")


# A spreadsheet of older weights

OLD = b"date,pup,g\n2026-03-05 08:30,blue,251\n2026-03-05 08:30,Olive,213\n2026-03-06 08:31,3,270\n"


def test_old_weights_are_taken_in_at_their_times_on_their_pups_and_once(home: Path, tmp_path: Path) -> None:
    data = exported(home, "json")
    taken_in(tmp_path / "new", data, tmp_path, "log.json")
    assert taken_in(tmp_path / "new", OLD, tmp_path, "old.csv", How(dry_run=True)) == [
        "This would be taken in:",
        "3 weights (blue is pup 1, Olive is pup 2).",
        "From 2026-03-05 08:30 to 2026-03-06 08:31.",
    ]
    assert len(log_of(tmp_path / "new")) == len(log_of(home))
    taken_in(tmp_path / "new", OLD, tmp_path, "old.csv")
    at, by, words, entries = log_of(tmp_path / "new")[-1]
    assert (at, by, words) == (NOW, "import", "3 weights of old.csv")
    assert [(entry[0].who, entry[0].grams, entry[0].at.isoformat()) for entry in entries] == [
        (1, 251.0, "2026-03-05T08:30:00-06:00"),
        (2, 213.0, "2026-03-05T08:30:00-06:00"),
        (3, 270.0, "2026-03-06T08:31:00-06:00"),
    ]
    again = taken_in(tmp_path / "new", OLD, tmp_path, "old.csv")
    assert again[1:] == ["0 weights (blue is pup 1, Olive is pup 2).", "3 are in the log already and are left as they are."]
    other = taken_in(tmp_path / "new", OLD.replace(b"251", b"255"), tmp_path, "old.csv")
    assert other[-1] == "Line 2: pup 1 has 251 g at that time, and the file 255 g: left as it is."
    assert len(log_of(tmp_path / "new")) == len(log_of(home)) + 1


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"date,pup,g\n2026-03-05,Rex,251\n", "there is no pup “Rex” in this litter"),
        (b"date,pup,g\n2026-03-05,9,251\n", "there is no pup “9” in this litter"),
        (b"date,pup,g\n2026-03-05,1,251\n2026-03-05,blue,252\n", "two names of the file are the same pup"),
        (b"date,pup,g\n2027-03-05,1,251\n", "has not come yet"),
        (b"date,pup,g\n2026-02-05,1,251\n", "is before the birth"),
        (b"date,pup,weight\n2026-03-05,1,251\n", "are the weights without a unit grams or ounces? Say it with --unit g or oz"),
        (b"date,pup,g\n3/4/2026,1,251\n", "is 3/4/2026 the day first or the month first? Say it with --dates dmy or mdy"),
    ],
)
def test_what_the_log_does_not_know_or_the_file_does_not_say_is_never_guessed(home: Path, tmp_path: Path, data: bytes, why: str) -> None:
    before = log_of(home)
    with pytest.raises(SetupError, match=r"^Nothing was taken in") as refused:
        taken_in(home, data, tmp_path)
    assert why in str(refused.value)
    assert log_of(home) == before


def test_the_published_litter_is_taken_into_an_empty_log_by_its_days(tmp_path: Path) -> None:
    how = How(born=datetime(2019, 3, 19, tzinfo=UTC).date())
    said = taken_in(tmp_path / "new", SHEPHERDS.read_bytes(), tmp_path, "shepherds.csv", how, answers="oz")
    assert said[1].endswith("(pink is pup 1, emerald is pup 2, orange is pup 3, purple is pup 4, yellow is pup 5, blue is pup 6).")
    with opened(tmp_path / "new") as household:
        nursery = household.conversations[0].nursery
        assert [pup.names for pup in nursery.pups.values()] == [(name,) for name in NAMES]
        for number, name in enumerate(NAMES, start=1):
            ounces = [row[name] for row in table().values() if row[name] is not None]
            assert [round(one.grams / 28.349523125, 1) for one in nursery.pups[number].weighings] == ounces
    again = taken_in(tmp_path / "new", SHEPHERDS.read_bytes(), tmp_path, "shepherds.csv", how, answers="oz")
    assert again[1].startswith("0 weights")


def test_a_file_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(SetupError, match="cannot be read"):
        import_file(tmp_path / "x", tmp_path / "none.csv", AS_A_RULE, now=NOW, ask=lambda *_: None, say=print)
    with pytest.raises(SetupError, match="There is no log"):
        exported(tmp_path / "x", "csv")


def test_the_commands_carry_a_log_from_one_directory_to_another(home: Path, tmp_path: Path) -> None:
    settle(tmp_path / "new")
    done = run("export", "--json", "--to", str(tmp_path / "log.json"), data=home)
    assert (done.returncode, done.stdout) == (0, f"Written: {tmp_path / 'log.json'}\n")
    assert run("export", "--csv", "--to", "-", data=home).stdout.startswith("began,who,kind,stands,")
    dry = run("import", str(tmp_path / "log.json"), "--dry-run", data=tmp_path / "new")
    assert dry.stdout.startswith("This would be taken in: ")
    assert run("import", str(tmp_path / "log.json"), data=tmp_path / "new").returncode == 0
    assert log_of(tmp_path / "new") == log_of(home)
    asked = run("import", str(SHEPHERDS), "--born", "2019-03-19", data=tmp_path / "new")
    assert (asked.returncode, asked.stderr) == (
        2,
        "Nothing was taken in: are the weights without a unit grams or ounces? Say it with --unit g or oz.\n",
    )
