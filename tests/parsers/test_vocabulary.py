"""The vocabulary and the models say the same, in both directions: what one has and the other has not is told with its file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, get_args

import pytest

from parsers import KINDS, read
from parsers.events.dose import DoseUnit
from parsers.events.sign import DamSign, PupSign
from parsers.lexicon import lexicon
from parsers.plausibility import LIMITS
from parsers.reading import Topic
from parsers.vocabulary import expand, load
from parsers.words import cut
from tests.parsers.litters import NOW, litter
from tests.parsers.told_events import choices_of

VOCABULARY = Path(__file__).parents[2] / "parsers" / "vocabulary"
LITTER = litter(named=False)
FREE_PARTS = {"drug": "any word may be a drug", "humidity": "it is a number's word"}
"""Parts that are no list of a field's values, and why."""
STATUSES = {"found", "derived", "common practice, no source", "from memory"}


def _file(name: str) -> str:
    return f"parsers/vocabulary/{name}.toml"


# --- kinds and topics -------------------------------------------------------------------------------------------------------------------


def test_each_kind_of_event_has_its_words_and_each_entry_is_a_kind() -> None:
    entries, kinds = set(load("kinds")), set(KINDS)
    assert not kinds - entries, f"{sorted(kinds - entries)}: a model in parsers/events has no entry of its name in {_file('kinds')}: add it"
    assert not entries - kinds, f"{sorted(entries - kinds)}: an entry of {_file('kinds')} has no model in parsers/events: write it"


def test_each_topic_has_its_words_and_each_entry_is_a_topic() -> None:
    entries, topics = set(load("topics")), set(get_args(Topic))
    assert not topics - entries, f"{sorted(topics - entries)}: a Topic of parsers/reading.py has no entry in {_file('topics')}: add it"
    assert not entries - topics, f"{sorted(entries - topics)}: an entry of {_file('topics')} is not among Topic in parsers/reading.py"


@pytest.mark.parametrize("name", ["kinds", "topics"])
def test_each_entry_says_what_it_is_for_in_one_line_and_has_an_example(name: str) -> None:
    for entry, keys in load(name).items():
        place = f"{_file(name)}, [{entry}]"
        assert re.fullmatch(r".+", keys.get("help", "")), f"{place}: give it a line `help`, for the bot's help and the README"
        assert keys.get("examples"), f"{place}: give it `examples`: help, the README and the tests show them"
        assert all(example == example.strip() for example in keys["examples"]), f"{place}: an example has space at its ends"


@pytest.mark.parametrize("kind", load("kinds"))
def test_what_an_entry_of_a_kind_sets_is_a_field_of_its_model(kind: str) -> None:
    entry, fields, place = load("kinds")[kind], _fields(kind), f"{_file('kinds')}, [{kind}]"
    number = entry.get("number")
    assert number is None or number in fields, f"{place}: number = {number!r} is no field of {KINDS[kind].__name__}: {sorted(fields)}"
    assert entry.get("doer", "either") in ("keeper", "pup", "dam", "person", "either"), f"{place}: who does it is not {entry['doer']!r}"
    for form in entry.get("forms", ()):
        for field, value in form["set"].items():
            assert field in fields, f"{place}: {form['says'][:1]} sets {field!r}, no field of {KINDS[kind].__name__}: {sorted(fields)}"
            allowed = choices_of(fields[field])
            assert value in allowed, f"{place}: {form['says'][:1]} sets {field} = {value!r}, which is none of {allowed}"


# --- the values of the fields -----------------------------------------------------------------------------------------------------------


def _fields(kind: str) -> dict[str, Any]:
    """A kind's own fields with their types, by the names that events have in JSON."""
    return {
        info.alias or name: info.annotation for name, info in KINDS[kind].model_fields.items() if name not in ("kind", "at", "who", "sign")
    }


def _listed() -> list[tuple[str, str, list[Any]]]:
    """Every field whose values are named one by one: kind, field, values; `True` stands for a yes/no."""
    return [
        (kind, field, [value for value in choices_of(annotation) if value is not False])
        for kind in KINDS
        for field, annotation in _fields(kind).items()
        if choices_of(annotation)
    ]


def _has_words(kind: str, field: str) -> set[Any]:
    """The values of a field that the vocabulary has words for."""
    if (kind, field) == ("dose", "unit"):
        return {unit["unit"] for unit in load("measures")["units"] if unit["says"]}
    told = {form["set"][field] for form in load("kinds")[kind].get("forms", ()) if field in form["set"] and form["says"]}
    return told | {value for value, words in load("parts").get(field, {}).items() if words}


@pytest.mark.parametrize(("kind", "field", "values"), [pytest.param(*one, id=f"{one[0]}.{one[1]}") for one in _listed()])
def test_each_value_of_a_field_has_words(kind: str, field: str, values: list[Any]) -> None:
    wordless = [value for value in values if value not in _has_words(kind, field)]
    where = _file("measures") if field == "unit" else f"{_file('parts')}, [{field}], or {_file('kinds')}, [{kind}] forms"
    assert not wordless, f"{kind}.{field} can be {wordless} (parsers/events/{kind}.py), and no word says so: add them to {where}"


@pytest.mark.parametrize("part", load("parts"))
def test_each_part_fills_a_field_and_each_of_its_values_fits(part: str) -> None:
    if part in FREE_PARTS:
        return
    allowed = [set(choices_of(annotation)) for kind in KINDS for field, annotation in _fields(kind).items() if field == part]
    assert any(allowed), f"{_file('parts')}, [{part}]: no event of parsers/events has a field {part!r} with a list of values"
    strange = set(load("parts")[part]) - set().union(*allowed)
    assert not strange, f"{_file('parts')}, [{part}]: {sorted(strange)} is no value of that field: add it to its model or take it out"


@pytest.mark.parametrize(("who", "signs"), [("pup", PupSign), ("dam", DamSign)])
def test_each_sign_has_words_and_all_words_are_of_a_sign(who: str, signs: Any) -> None:
    entries, known = set(load("signs")[who]), set(get_args(signs))
    assert not known - entries, f"{sorted(known - entries)}: a sign of parsers/events/sign.py has no words in {_file('signs')}, [{who}]"
    assert not entries - known, f"{sorted(entries - known)}: a sign of {_file('signs')}, [{who}] is missing in parsers/events/sign.py"


def test_the_units_of_doses_are_those_of_the_model() -> None:
    units = {unit["unit"] for unit in load("measures")["units"] if unit["dimension"] == "dose"}
    strange = units - set(get_args(DoseUnit))
    assert not strange, f"{_file('measures')}: {sorted(strange)} are units of a dose, but not in DoseUnit of parsers/events/dose.py"


# --- units and limits -------------------------------------------------------------------------------------------------------------------

EXACT = {
    "g": 1,  # SI
    "kg": 1000,  # SI
    "oz": 28.349523125,  # the international avoirdupois ounce: a sixteenth of the pound
    "lb": 453.59237,  # the international pound (agreement of 1959)
    "ml": 1,  # SI; a cc is a cubic centimeter, the same
    "min": 1,
    "h": 60,
    "s": 1 / 60,
}
"""What units are worth in grams, ml and minutes, by their definitions."""


def test_units_are_worth_what_their_definitions_say() -> None:
    worth = {unit["unit"]: unit["worth"] for unit in load("measures")["units"] if unit["dimension"] in ("mass", "volume", "duration")}
    assert worth == pytest.approx(EXACT, rel=1e-12)


CONTRACT = [
    ("within 8 % of its last weight when that is at most 12 hours old", {"weight_near": 8, "weight_near_hours": 12}),
    ("implausible if it differs by more than 25 % at up to 24 hours", {"weight_far": 25, "weight_far_hours": 24}),
    ("under 40 g or over 1,500 g in the first two weeks", {"lightest": 40, "heaviest": 1500, "first_weeks": 14}),
    ("a gain of up to 12 % a day and a loss of up to 12 % in all", {"gain_a_day": 12, "loss_in_all": 12}),
    ("within 4 % of another pup's last weight", {"other_pup_near": 4}),
    ("the pup that the same sender named last, within three minutes", {"same_sender": 3}),
    ("the dam's weight is plausible within 15 % of her last", {"dam_near": 15}),
    ("her temperature where it lies in 35-42 °C", {"dam_celsius_low": 35, "dam_celsius_high": 42}),
    ("or 95-108 °F", {"dam_fahrenheit_low": 95, "dam_fahrenheit_high": 108}),
    ("a body temperature under 25 °C or over 43 °C", {"body_low": 25, "body_high": 43}),
    ("a nursing of over 90 minutes", {"longest_nursing": 90}),
    ("a feed of over 10 % of the pup's weight in ml", {"largest_feed": 10}),
    ("a climate of over 45 °C", {"hottest_air": 45}),
]
"""The reading contract's section Plausibility: its words, and the figures in them."""


@pytest.mark.parametrize(("words", "figures"), CONTRACT)
def test_the_limits_are_those_of_the_reading_contract(words: str, figures: dict[str, float]) -> None:
    assert {name: LIMITS[name] for name in figures} == figures, f"the contract says: {words}"


@pytest.mark.parametrize("name", load("limits"))
def test_each_limit_has_value_unit_source_and_status_and_is_used(name: str) -> None:
    limit, place = load("limits")[name], f"{_file('limits')}, [{name}]"
    assert set(limit) == {"value", "unit", "source", "status"}, f"{place}: it needs value, unit, source and status, and nothing else"
    assert isinstance(limit["value"], int | float), f"{place}: the value is no number"
    assert limit["unit"].strip(), f"{place}: say the unit, or what is counted"
    assert limit["source"].strip(), f"{place}: say where the figure comes from"
    assert limit["status"] in STATUSES, f"{place}: the status is one of {sorted(STATUSES)}"
    assert name in _limits_used(), f"{place}: nothing in parsers reads LIMITS[{name!r}]: use it or take it out"


def test_each_limit_that_is_used_is_in_the_data() -> None:
    assert _limits_used() - set(load("limits")) == set(), f"add it to {_file('limits')} with value, unit, source and status"


def _limits_used() -> set[str]:
    sources = (path.read_text(encoding="utf-8") for path in VOCABULARY.parent.rglob("*.py"))
    return {name for source in sources for name in re.findall(r'LIMITS\["(\w+)"\]', source)}


# --- every word can be read -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", sorted(VOCABULARY.glob("*.toml")), ids=lambda path: path.stem)
def test_each_file_says_in_its_first_line_what_is_in_it(path: Path) -> None:
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert re.match(r"# [A-Z].*[.:]", first), f"{path.name}: begin it with a comment, one sentence: what words stand here, and for what"


@pytest.mark.parametrize("role", [role for role, section in load("talk").items() if "says" in section])
def test_each_section_of_the_talk_is_known_by_its_name(role: str) -> None:
    for pattern in load("talk")[role]["says"]:
        for phrase in expand(pattern):
            found = lexicon().longest(cut(" ".join(phrase)), 0)
            roles = {tag.role for tag in found[1]} if found else set()
            assert role in roles, f"{_file('talk')}, [{role}]: {' '.join(phrase)!r} is not found as {role} (the lexicon's list of roles)"


def _examples(name: str) -> list[tuple[str, str]]:
    return [(entry, example) for entry, keys in load(name).items() for example in keys["examples"]]


@pytest.mark.parametrize(("kind", "example"), _examples("kinds"))
def test_each_example_of_a_kind_reads_as_it_with_nothing_unread(kind: str, example: str) -> None:
    reading = read(example, LITTER, now=NOW, by="Ines")
    place = f"{_file('kinds')}, [{kind}]: the example {example!r}"
    assert reading.does == ("note" if kind == "note" else "log"), f"{place} does {reading.does} ({reading.why or 'nothing is logged'})"
    assert {event.kind for event in reading.events} == {kind}, f"{place} reads as {[event.as_json() for event in reading.events]}"
    assert reading.unread == "", f"{place} leaves {reading.unread!r} unread"
    assert reading.assumed == (), f"{place} is read with the help of the litter's state: {reading.assumed}"
    assert reading.setup is None, f"{place} also sets {reading.setup}"


@pytest.mark.parametrize(("topic", "example"), _examples("topics"))
def test_each_example_of_a_topic_asks_for_it_and_logs_nothing(topic: str, example: str) -> None:
    reading = read(example, litter(), now=NOW, by="Ines")
    place = f"{_file('topics')}, [{topic}]: the example {example!r}"
    assert reading.about is not None, f"{place} is not read as a question: it does {reading.does}"
    assert reading.about.topic == topic, f"{place} asks for {reading.about.topic}"
    assert reading.does == "ask", f"{place} does {reading.does}"
    assert reading.unread == "", f"{place} leaves {reading.unread!r} unread"


# --- every phrase is alive --------------------------------------------------------------------------------------------------------------

FRAMES = {
    "weight": "pup 3 {} 212 g",
    "nursed": "pup 3 {} 15 min",
    "fed": "pup 3 {} 4 ml",
    "refused": "pup 3 {}",
    "cleared": "pup 3 {}",
    "toilet": "pup 3 {}",
    "temperature": "pup 3 {} 96.4 F",
    "dose": "{} calcium 2 clicks",
    "intake": "mom {}",
    "placed": "pup 3 {}",
    "climate": "{} 86 F",
    "cleaned": "{} the bedding",
    "born": "pup 6 {}",
    "died": "pup 3 {}",
    "visitor": "Marta {}",
    "pup sign": "pup 3 {}",
    "dam sign": "mom {}",
}
"""A plain sentence for the phrases of each kind: what they need beside them."""
OTHER_FRAMES = {
    "visitor": "{} Marta",  # a visit from Marta
    "dam sign": "mom {} pup 3",  # lay on pup 3
    "died": "{} pup 3",  # lost pup 3
}
LIKELY = 4
"""Expansions of a pattern that are tried: the first and the last, and some between."""


def _phrases() -> Iterator[tuple[str, str, dict[str, Any], list[str]]]:
    """Every list of phrases: where it stands, which frame it is tried in, what an event of it has, and the phrases."""
    for kind, entry in load("kinds").items():
        if kind == "note":
            continue
        for key in ("says", "bare", "short", "turns"):
            yield f"kinds.toml, [{kind}] {key}", kind, {"kind": kind}, entry.get(key, [])
        for form in entry.get("forms", ()):
            yield f"kinds.toml, [{kind}] forms {form['set']}", kind, {"kind": kind} | form["set"], form["says"]
    for who, signs in load("signs").items():
        for sign, patterns in signs.items():
            yield f"signs.toml, [{who}] {sign}", f"{who} sign", {"kind": "sign", "sign": sign}, [sign, *patterns]


def _some(pattern: str) -> Iterable[str]:
    phrases = [" ".join(phrase) for phrase in expand(pattern) if phrase]
    step = max(1, len(phrases) // LIKELY)
    return dict.fromkeys([*phrases[::step], phrases[-1]])


def test_each_kind_has_a_plain_sentence_to_try_its_phrases_in() -> None:
    kinds = set(KINDS) - {"note", "sign"} | {"pup sign", "dam sign"}
    assert set(FRAMES) == kinds, (
        f"{sorted(kinds ^ set(FRAMES))}: give FRAMES of this file a sentence for each kind, with {{}} for its phrase"
    )


@pytest.mark.parametrize(("place", "frame", "wanted", "patterns"), [pytest.param(*one, id=one[0]) for one in _phrases()])
def test_each_phrase_of_the_vocabulary_is_read_in_a_plain_sentence(
    place: str, frame: str, wanted: dict[str, Any], patterns: list[str]
) -> None:
    dead = [FRAMES[frame].format(phrase) for pattern in patterns for phrase in _some(pattern) if not _is_read(frame, phrase, wanted)]
    assert not dead, f"parsers/vocabulary/{place}: not read as {wanted}: {dead}: mend the phrase, the rule behind it, or take it out"


def _is_read(frame: str, phrase: str, wanted: dict[str, Any]) -> bool:
    for sentence in (FRAMES[frame], OTHER_FRAMES.get(frame, FRAMES[frame])):
        reading = read(sentence.format(phrase), LITTER, now=NOW, by="Ines")
        if reading.does == "log" and any(wanted.items() <= event.as_json().items() for event in reading.events):
            return True
    return False
