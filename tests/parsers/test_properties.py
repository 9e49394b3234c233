"""What holds for every message: a valid reading in time, no word lost, nothing changed by thanks or order, the words before the state."""

from __future__ import annotations

import itertools
import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from parsers import Event, LitterCard, Reading, read
from parsers.lexicon import lexicon, trade_words
from parsers.reading import Fix, Question, Setup, first_of
from parsers.vocabulary import expand, load
from tests.parsers.litters import HOUSES, NOW, WEIGHTS, litter
from tests.parsers.test_round_trip import NIGHTS

CARD = litter()
CPU_SECONDS = 0.25
"""For one message of this file's, on a slow and busy machine; the bars of a quiet one are measured by `python -m tests.bench`."""


def _read(text: str, card: LitterCard = CARD, **more: Any) -> Reading:
    return read(text, card, now=more.pop("now", NOW), by="Ines", **more)


_read("pup 1 nursed on 24 Nov at 3 am")
"""The first date of a run loads dateparser, which takes longer than a message may; the time of the messages below is their own."""


def _facts(reading: Reading) -> list[Event]:
    """The events but the notes."""
    return [event for event in reading.events if event.kind != "note"]


# --- any text at all --------------------------------------------------------------------------------------------------------------------


def _check_any(text: str, card: LitterCard = CARD, **more: Any) -> None:
    """Assert all that must hold of any text's reading."""
    started = time.process_time()
    reading = _read(text, card, **more)
    seconds = time.process_time() - started
    assert reading.text == text
    assert json.loads(json.dumps(reading.as_json(), allow_nan=False))["does"] == reading.does
    assert seconds < CPU_SECONDS, f"{len(text)} characters took {seconds:.2f} s"
    check = reading.does == "check" or bool(reading.why)
    assert reading.does == "note" or reading.does == first_of(
        fix=reading.fix, check=check, events=reading.events, setup=reading.setup, about=reading.about
    )
    assert reading.does != "check" or reading.why, "a check says what to confirm"
    assert not reading.options or reading.options[0] == reading.events, "the events are the first option"
    assert len(reading.options) != 1, "one option is no choice"
    if reading.does == "note":
        assert [event.kind for event in reading.events] == ["note"]
    if reading.does == "log":
        known = {pup.pup for pup in card.living} | {"dam", None}
        assert all(getattr(event, "who", None) in known for event in reading.events if event.kind not in ("born", "died"))


@given(st.text(max_size=120))
@settings(max_examples=250)
@example("\0")
@example("pup\0 3 212 g")
@example("\u202epup 3 212 g\u202c")  # right to left
@example("pup 3 212 g 🐶👍🏽👩‍👩‍👧")
@example("１２３ g pup ３")  # full width
@example("٢١٢")  # Arabic digits
@example("İstanbul ıI ß ſ ŉ")  # letters that grow when they are made small
@example("pup 3 e\u0301te\u0301 212 g")
@example("\u200bpup\u200b 3\ufeff")
@example("pup 3 nan g, pup 4 inf g, pup 5 1e308 g")
@example("pup 3 -212 g")
@example("pup 99999999999999999999 212 g")
@example("mom oxytocin 15 no wait 16 oz")  # no dose is weighed in ounces
@example("at 25:61 30 feb 31.12.9999")
@example("pup 3 nursed on 31 Dec 9999, on 1 Jan 0001")
def test_any_text_gives_a_valid_reading(text: str) -> None:
    _check_any(text)


WORDS = sorted(lexicon().known | trade_words())
MARKS = [",", ".", "?", "!", ":", "-", "/", "\n", "'s", "(", ")", '"', "@", "#", "%", "½", "…"]
FIGURES = [
    "3",
    "0",
    "7",
    "12",
    "212",
    "2.31",
    "7,4",
    "2:31",
    "1/2",
    "7.4oz",
    "212g",
    "1lb",
    "oh",
    "two",
    "twelve",
    "hundred",
    "point",
    "won",
    "to",
]
SAID = [
    "pup",
    "pup 3",
    "Olive",
    "blue",
    "mom",
    "all",
    "the rest",
    "both",
    "no",
    "no wait",
    "I meant",
    "at 3:10",
    "20 min ago",
    "yesterday",
    "I'll",
    "if",
]


@given(st.lists(st.one_of(st.sampled_from(WORDS), st.sampled_from(SAID + FIGURES), st.sampled_from(MARKS)), max_size=25), st.data())
@settings(max_examples=600)
def test_any_words_of_the_trade_in_any_order_give_a_valid_reading(words: list[str], data: st.DataObject) -> None:
    card = HOUSES[data.draw(st.sampled_from(sorted(HOUSES)))]
    _check_any(" ".join(words), card, last_who=data.draw(st.sampled_from([None, 1, 3, "dam"])))


@pytest.mark.parametrize(
    "text",
    [
        "a" * 100_000,
        "pup 3 212 g " * 8_000,
        "🐶" * 3_000,
        " ".join(str(number) for number in range(1_000)),
        "1" * 100_000,
        "pup " + "9" * 400,
        "two twelve " * 500,
        "212, " * 1_500,
        "2:10-2:25 " * 600,
        "no wait " * 1_500,
        "the " * 1_500,
        "all but " * 1_000,
        "is " * 1_500,
        "why? " * 1_000,
        "'s " * 1_500,
        "(" * 3_000,
        "\n" * 3_000,
        "a\n" * 1_500,
        "pup 1 " * 1_500,
        "call pup 3 Olive " * 500,
        "not 3, 4 " * 800,
    ],
    ids=lambda text: f"{text[:12].strip()!r} {len(text)}",
)
def test_a_message_far_too_long_is_read_in_time(text: str) -> None:
    _check_any(text)


@pytest.mark.parametrize("text", ["pup 3 nursed 99999999 hours ago", "pup 3 nursed 999999999999 min ago", "nursed 100000 weeks ago"])
def test_a_time_before_all_calendars_is_not_read(text: str) -> None:
    assert _read(text, last_who=3).does in ("check", "note")


def test_half_a_letter_of_a_broken_text_is_read_over() -> None:
    reading = _read("pup 3 212 g \ud800")
    assert [event.as_json() for event in _facts(reading)] == [{"kind": "weight", "who": 3, "grams": 212.0}]
    assert json.dumps(reading.as_json())


def test_the_time_grows_with_the_words_and_no_faster() -> None:
    sentence = "Pip 204 g nursed 15 min at 2:10 and cleared with the bulb, then um the rest nursed 10, box 86, she seems happy. "
    seconds = {}
    for times in (20, 80):
        text = sentence * times
        best = float("inf")
        for _ in range(3):
            started = time.process_time()
            _read(text)
            best = min(best, time.process_time() - started)
        seconds[times] = best
    assert seconds[80] < 4 * 2 * seconds[20], f"four times the words took {seconds[80] / seconds[20]:.1f} times as long"


# --- no word is lost --------------------------------------------------------------------------------------------------------------------

PLAIN = [
    "pup 3 212 g nursed 15 min cleared",
    "1 205, 2 188, 3 212",
    "Olive temp 96.4, peed, no poop",
    "pup 4 fed 4 ml formula by tube at 2:10",
    "mom ate half, drank",
    "mom calcium 2 clicks 20 min ago",
    "all back in the box, box 86",
    "1 and 2 nursed 10, the rest 15",
    "pup 3 limp and crying",
    "cleared 3 and 4",
    "changed the bedding",
    "pup 2 wouldn't latch",
    "pup 6 born 2:52 girl 198 g",
    "two twelve pup three",
]
STRANGE = ["zorblat", "quimbly", "vexnor"]
"""Words that no list of ours has and that are a slip of none."""


def _kept(reading: Reading) -> str:
    """All words that the reading keeps as words: unread, notes, names, marks, what is set."""
    parts = [reading.unread, json.dumps(reading.setup.sets) if reading.setup else ""]
    parts += [str(value) for event in reading.events for value in event.as_json().values() if isinstance(value, str)]
    return " ".join(parts).lower()


def _with_a_strange_word(texts: Sequence[str]) -> Iterator[str]:
    for text in texts:
        words = text.split(" ")
        for place in range(len(words) + 1):
            yield " ".join([*words[:place], STRANGE[place % len(STRANGE)], *words[place:]])


@pytest.mark.parametrize("text", PLAIN)
def test_a_strange_word_anywhere_is_kept_and_shown(text: str) -> None:
    lost = [strange for strange in _with_a_strange_word([text]) if not any(word in _kept(_read(strange)) for word in STRANGE)]
    assert not lost, f"a word is dropped in silence: {lost}"


@pytest.mark.parametrize("text", ["pup 3 210 no 212", "pup 3 210 g no wait 212 g", "pup 3 nursed 10, no, 15", "box 68 no wait 86"])
def test_a_strange_word_in_a_correction_of_oneself_is_kept_and_shown(text: str) -> None:
    lost = [strange for strange in _with_a_strange_word([text]) if not any(word in _kept(_read(strange)) for word in STRANGE)]
    assert not lost, f"a word is dropped in silence: {lost}"


@pytest.mark.parametrize(
    "text", ["weights 206 187 213 200 177", "weights 206, 187, 213, 200 and 177", "weights: 206 / 187 / 213 / 200 / 177"]
)
def test_a_strange_word_in_a_list_of_weights_loses_neither_itself_nor_a_weight(text: str) -> None:
    for strange in _with_a_strange_word([text]):
        reading = _read(strange)
        grams = {event.as_json().get("grams") for event in reading.events}
        missing = [number for number in (206, 187, 213, 200, 177) if number not in grams and str(number) not in _kept(reading)]
        assert not missing, f"{strange!r} loses {missing}"
        assert any(word in _kept(reading) for word in STRANGE), f"{strange!r} loses its strange word"


# --- the order of clauses ---------------------------------------------------------------------------------------------------------------

CALLED = {
    1: ["pup 1", "blue", "#1", "1"],
    2: ["pup 2", "Olive", "no. 2"],
    3: ["pup 3", "puppy three", "p3"],
    4: ["Pip", "4"],
    5: ["pup five", "5"],
}
DOINGS = [
    "212 g", "weighs 7 oz", "nursed 15 min", "nursed 10", "cleared", "suctioned with the bulb", "peed", "pee and poop", "no poop",
    "loose stool", "temp 96.4", "fed 4 ml formula by tube", "bottle 6", "limp", "crying", "milk at nose", "refused the nipple",
    "back in the box", "died", "gave wormer 1 ml",
]  # fmt: skip


@given(st.data())
@settings(max_examples=150)
def test_clauses_of_a_pup_each_mean_the_same_in_any_order(data: st.DataObject) -> None:
    pups = data.draw(st.permutations(list(CALLED)).map(lambda order: order[:3]))
    parts = [f"{data.draw(st.sampled_from(CALLED[pup]))} {data.draw(st.sampled_from(DOINGS))}" for pup in pups]
    joint = data.draw(st.sampled_from([", ", "; ", ". ", "\n"]))
    alone = sorted(json.dumps(event.as_json()) for part in parts for event in _facts(_read(part)))
    for order in itertools.permutations(parts):
        together = sorted(json.dumps(event.as_json()) for event in _facts(_read(joint.join(order))))
        assert together == alone, f"{joint.join(order)!r}"


_OF_SEVERAL_SORTS = ["3 soon", "2 and 3 tomorrow", "both 3 and 4 are little", "3 is little", "3 is up 4 g", "4 before the feed"]


def test_a_reading_does_not_hang_on_the_order_of_a_set() -> None:
    """Python begins each run with another order of its sets; the same message reads the same in all of them."""
    code = (
        "import json; from parsers import read; from tests.parsers.litters import NOW, litter;"
        f"print(json.dumps([read(text, litter(), now=NOW).as_json() for text in {_OF_SEVERAL_SORTS!r}]))"
    )
    runs = [
        subprocess.run([sys.executable, "-c", code], env=os.environ | {"PYTHONHASHSEED": seed}, capture_output=True, text=True, check=True)
        for seed in ("1", "3", "6")
    ]
    assert len({run.stdout for run in runs}) == 1


def test_a_litter_is_read_as_it_stands_now() -> None:
    """What is kept ready of a litter's names knows neither its old units nor its old weights."""
    _read("30 in the box", litter(temperatures_in="F"))
    later = _read("30 in the box", litter(temperatures_in="C"))
    assert [event.as_json() for event in later.events] == [{"kind": "climate", "place": "box", "celsius": 30.0}]


# --- thanks, sighs and fillers ----------------------------------------------------------------------------------------------------------

MEANT = [
    *PLAIN,
    "212",
    "nursed 15",
    "she peed",
    "no poop from Olive",
    "Pip didn't make it",
    "mom won't eat",
    "MOM IS TREMBLING",
    "clr 1, 2, 5",
    "pup 3 pale gums",
    "1 206, 2 189, at 1:10",
]
BEHIND = ["thanks", "thank you so much", "sigh", "um", "ok", "phew", "ugh", "so tired"]
BEFORE = ["um", "okay so", "well", "hi", "thanks,", "ugh,", "let me see,"]
ASKED = ["who's due", "is 212 ok for pup 3", "chart", "last calcium", "how is Pip", "is pup 4 gaining"]
FIXED = ["no, 221", "I meant 221", "that was pup 4", "undo", "not 3, 4", "make that 20 min"]
SET = ["use ounces", "snooze 20", "remind me every 2 hours", "call pup 3 Rusty"]

NOT_YET: dict[str, str] = {}
"""Messages that thanks or a sigh still change, with the reason."""


def _polite(texts: Sequence[str]) -> list[Any]:
    said = [f"{text}{gap}{word}" for text in texts for word in BEHIND for gap in (" ", ", ", ". ")]
    said += [f"{word} {text}" for text in texts for word in BEFORE]
    return said


def _gist(reading: Reading) -> tuple[str, list[str], Question | None, Fix | None, Setup | None]:
    facts = sorted(json.dumps(event.as_json()) for event in _facts(reading))
    return (reading.does, facts, reading.about, reading.fix, reading.setup)


@pytest.mark.parametrize("text", [*MEANT, *ASKED, *FIXED, *SET])
def test_a_thank_you_a_sigh_or_a_filler_changes_nothing(text: str) -> None:
    card = litter(last_logged={"by": "Ines", "events": [{"kind": "weight", "who": 3, "grams": 212.0}]})
    meant = _gist(_read(text, card, last_who=4))
    changed = {polite: _gist(_read(polite, card, last_who=4)) for polite in _polite([text])}
    wrong = {polite: gist for polite, gist in changed.items() if gist != meant and polite not in NOT_YET}
    assert not wrong, "\n".join([f"{text!r} means {meant}, but", *(f"  {polite!r} means {gist}" for polite, gist in wrong.items())])


# --- the words before the state ---------------------------------------------------------------------------------------------------------

ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
).split()
TENS = "- - twenty thirty forty fifty sixty seventy eighty ninety".split()


def _under_a_hundred(number: int) -> str:
    return ONES[number] if number < 20 else TENS[number // 10] + (f" {ONES[number % 10]}" if number % 10 else "")


def _ways_to_say(number: int) -> list[str]:
    """A number of three figures as people write and say it (the contract's Numbers)."""
    hundreds, rest = ONES[number // 100], number % 100
    ways = [
        f"{number}",
        f"{number} g",
        f"{number}g",
        f"weighs {number} grams",
        f"{hundreds} hundred {_under_a_hundred(rest)} g" if rest else f"{hundreds} hundred g",
    ]
    if rest:
        ways.append(f"{hundreds} hundred and {_under_a_hundred(rest)}")
        ways.append(f"{hundreds} {_under_a_hundred(rest) if rest > 9 else f'oh {ONES[rest]}'}")
    return [*ways, " ".join(ONES[int(digit)] if digit != "0" else "oh" for digit in str(number))]


@given(
    grams=st.integers(101, 999),
    pup=st.sampled_from(sorted(WEIGHTS)),
    factor=st.floats(0.02, 50, allow_nan=False),
    own=st.booleans(),
    data=st.data(),
)
@settings(max_examples=400)
def test_last_weights_of_any_size_never_bend_a_weight(grams: int, pup: int, factor: float, own: bool, data: st.DataObject) -> None:
    """Whatever the state, the grams are those of the words; the state only decides between logging and asking."""
    last = {each: round(weight * factor, 1) for each, weight in WEIGHTS.items()}
    if own:
        last[pup] = round(grams * data.draw(st.floats(0.7, 1.3)), 1)
    said = f"{data.draw(st.sampled_from(['pup ', 'Pup ', 'puppy ', '#']))}{pup} {data.draw(st.sampled_from(_ways_to_say(grams)))}"
    reading = _read(said, litter(grams=last, named=False))
    assert reading.does in ("log", "check"), said
    assert [event.as_json() for event in reading.events] == [{"kind": "weight", "who": pup, "grams": float(grams)}], said


@given(rest=st.integers(60, 999), pup=st.sampled_from(sorted(WEIGHTS)), factor=st.floats(0.05, 20), joined=st.booleans())
@settings(max_examples=150)
def test_a_number_that_swallowed_its_pup_is_cut_or_asked_about_but_never_changed(rest: int, pup: int, factor: float, joined: bool) -> None:
    """`pup 3212 g`: every figure of it stands, and where the state chose, the reply says so."""
    last = {each: round(weight * factor, 1) for each, weight in WEIGHTS.items()}
    reading = _read(f"pup {pup}{rest}{' g' if joined else ''}", litter(grams=last, named=False))
    for event in _facts(reading):
        plain = event.as_json()
        grams = plain.get("grams")
        assert grams is not None
        assert f"{plain['who']}{grams:.0f}" == f"{pup}{rest}" or f"{grams:.0f}" == f"{pup}{rest}"
    assert reading.does != "log" or reading.assumed


@given(ounces=st.integers(30, 400).map(lambda tenths: tenths / 10), house=st.sampled_from(sorted(HOUSES)), factor=st.floats(0.05, 20))
@settings(max_examples=100)
def test_ounces_are_ounces_in_every_house(ounces: float, house: str, factor: float) -> None:
    units = HOUSES[house].weights_in
    card = litter(grams={pup: round(weight * factor, 1) for pup, weight in WEIGHTS.items()}, weights_in=units)
    reading = _read(f"pup 3 {ounces} oz", card)
    grams = [event.as_json()["grams"] for event in reading.events]
    assert grams == [pytest.approx(ounces * 28.349523125, abs=0.0051)]  # the international avoirdupois ounce, by definition


# --- the two nights a year --------------------------------------------------------------------------------------------------------------


def _latest(now: datetime, tz: ZoneInfo, hour: int, minute: int) -> datetime:
    """The latest moment that is not in the future at which a clock of twelve hours shows these figures."""
    moment = now
    while True:
        shown = moment.astimezone(tz)
        if (shown.hour % 12 or 12, shown.minute) == (hour, minute):
            return moment
        moment -= timedelta(minutes=1)


@given(zone=st.sampled_from(sorted(NIGHTS)), forward=st.booleans(), minute=st.integers(-60, 300), back=st.integers(1, 290))
@settings(max_examples=250)
def test_times_are_right_in_the_nights_when_clocks_change(zone: str, forward: bool, minute: int, back: int) -> None:
    tz = ZoneInfo(zone)
    now = datetime.fromisoformat(NIGHTS[zone][0 if forward else 1]).replace(tzinfo=UTC) + timedelta(minutes=minute)
    then = now - timedelta(minutes=back)
    shown = then.astimezone(tz)
    hour = shown.hour % 12 or 12
    card = litter(zone=zone, now=now.isoformat(), born=(now - timedelta(days=2)).isoformat(), named=False)
    half = "am" if shown.hour < 12 else "pm"
    wanted = {
        f"pup 3 nursed 10, {back} min ago": then,
        f"pup 3 nursed 10 at {hour}:{shown.minute:02d}": _latest(now, tz, hour, shown.minute),
        f"pup 3 nursed 10 at {hour}:{shown.minute:02d} {half}": _latest(now, tz, hour, shown.minute),
    }
    for text, moment in wanted.items():
        reading = _read(text, card, now=now)
        assert reading.does == "log", text
        assert [(event.kind, (event.at or now).astimezone(UTC)) for event in reading.events] == [("nursed", moment)], text


@pytest.mark.parametrize(
    ("now", "told"),
    [
        ("2026-03-08T03:20:00-05:00", "2026-03-07T23:00:00-06:00"),  # clocks went from 2 to 3 in the night
        ("2026-11-01T03:20:00-06:00", "2026-10-31T23:00:00-05:00"),  # clocks went from 2 to 1
    ],
)
def test_last_night_at_eleven_is_eleven_by_the_clock_of_that_evening(now: str, told: str) -> None:
    moment = datetime.fromisoformat(now)
    card = litter(now=now, born=(moment - timedelta(days=2)).isoformat())
    [event] = _read("pup 3 nursed 10 last night at 11", card, now=moment).events
    assert event.at == datetime.fromisoformat(told)


# --- spelling ---------------------------------------------------------------------------------------------------------------------------

SPELLED = {
    "weight": "pup 3 {} 212 g",
    "nursed": "pup 3 {} 15",
    "fed": "pup 3 {} 4 ml",
    "refused": "pup 3 {}",
    "cleared": "pup 3 {}",
    "toilet": "pup 3 {}",
    "temperature": "pup 3 {} 96.4",
    "dose": "{} calcium 2 clicks",
    "intake": "mom {}",
    "placed": "pup 3 {}",
    "climate": "{} 86",
    "cleaned": "{} the bedding",
    "born": "pup 6 {}",
    "died": "pup 3 {}",
    "pup": "pup 3 {}",
    "dam": "mom {}",
}
LET_BE = {
    "a word of its own, and likelier meant": (
        "barley cold died eight hallow hardy hole lugs lung moth nurse oops padding peeing sill sopped sound till topped trough tuned "
        "weeing"
    ).split(),
    "two words are as near, so it stays unread": "ater awter craped gass nursse stpped sucke".split(),
}
"""Slips that change what a phrase tells and are let be, with the reason: what is unread is shown to the keeper."""


def slips(word: str) -> list[str]:
    """The word with one letter dropped, doubled, or two swapped."""
    found = set()
    for place in range(len(word)):
        found.add(word[:place] + word[place + 1 :])
        found.add(word[: place + 1] + word[place:])
        found.add(word[:place] + word[place + 1 : place + 2] + word[place : place + 1] + word[place + 2 :])
    return sorted(found - {word})


def _spelled_phrases() -> list[tuple[str, tuple[str, ...]]]:
    """The longest form of every pattern of the kinds and of the signs: (which sentence, words)."""
    found: list[tuple[str, tuple[str, ...]]] = []
    for kind, entry in load("kinds").items():
        if kind not in SPELLED:
            continue
        patterns = [*entry.get("says", ()), *(pattern for form in entry.get("forms", ()) for pattern in form["says"])]
        found += [(kind, max(expand(pattern), key=len)) for pattern in patterns]
    for who, signs in load("signs").items():
        found += [(who, max(expand(pattern), key=len)) for patterns in signs.values() for pattern in patterns]
    return found


@pytest.mark.parametrize("kind", SPELLED)
def test_a_slip_reads_as_the_word_or_stays_unread_and_never_as_another_kind(kind: str) -> None:
    card = litter(named=False)
    wrong = []
    for _, phrase in (each for each in _spelled_phrases() if each[0] == kind):
        right = _told(_read(SPELLED[kind].format(" ".join(phrase)), card))
        for place, word in enumerate(phrase):
            if len(word) < 5 or not word.isalpha():
                continue
            for slip in slips(word):
                said = SPELLED[kind].format(" ".join([*phrase[:place], slip, *phrase[place + 1 :]]))
                reading = _read(said, card)
                other = _told(reading) - right
                if (other or reading.fix or reading.setup) and not any(slip in slips for slips in LET_BE.values()):
                    wrong.append(f"{said!r} ({word}): {reading.does} {sorted(other)}")
    assert not wrong, "\n".join([f"{len(wrong)} slips read as something else:", *wrong])


def _told(reading: Reading) -> set[tuple[str, str]]:
    return {(event.kind, str(event.as_json().get("sign", ""))) for event in _facts(reading)}


@given(digits=st.from_regex(r"[1-9][0-9]{1,2}(\.[0-9])?", fullmatch=True), pup=st.integers(1, 5))
@settings(max_examples=60)
def test_digits_are_never_mended(digits: str, pup: int) -> None:
    reading = _read(f"pup {pup} wieghs {digits} g", litter(grams={}, named=False))
    assert [event.as_json() for event in reading.events] == [{"kind": "weight", "who": pup, "grams": float(digits)}]
