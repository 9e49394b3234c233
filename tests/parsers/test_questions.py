"""What a message asks about the log, and what only looks like a question."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest

from parsers.litter_card import LitterCard
from parsers.patterns import Parts, PatternError, compile_pattern
from parsers.questions import Asked, find, is_question, known_words, mended_words, worry_span
from parsers.reading import Topic
from parsers.subjects import Names
from parsers.vocabulary import load
from parsers.words import cut

CARD = LitterCard.model_validate(
    {
        "born": "2026-03-01T09:40:00-06:00",
        "dam": {"names": ["Juniper", "mom", "dam", "mama"], "last_grams": 11800},
        "pups": [
            {"pup": 1, "names": ["blue"], "sex": "m", "last_grams": 205},
            {"pup": 2, "names": ["Olive"], "sex": "f", "last_grams": 188},
            {"pup": 3, "names": [], "sex": "m", "last_grams": 212},
            {"pup": 4, "names": ["Pip"], "sex": "f", "last_grams": 199},
        ],
        "people": ["Ines", "Theo"],
        "doses": [{"drug": "calcium", "every_minutes": 150}],
    }
)
NAMES = Names(CARD)
TOPICS = get_args(Topic)


def lines(name: str) -> list[str]:
    """The lines of a table beside this file, without its remarks."""
    text = (Path(__file__).parent / name).read_text(encoding="utf-8")
    return [line for line in text.splitlines() if line and not line.startswith("#")]


def asked(text: str) -> Asked | None:
    words = cut(text)
    return find(words, 0, len(words), NAMES, CARD)


def label(found: Asked | None) -> str:
    """A question as the table writes it."""
    if found is None:
        return "-"
    plain = found.question.model_dump(exclude_none=True)
    who = plain.get("who")
    said = [plain["topic"]]
    if who is not None:
        said.append(f"who={','.join(map(str, who)) if isinstance(who, tuple) else who}")
    said += [f"{key}={plain[key]}" for key in ("of", "span") if key in plain]
    return " ".join(said)


def taken(text: str) -> str | None:
    """The words that the question in a message takes."""
    words = cut(text)
    found = find(words, 0, len(words), NAMES, CARD)
    return text[words[found.start].start : words[found.end - 1].end] if found else None


def asks(text: str) -> bool:
    words = cut(text)
    return is_question(words, 0, len(words), NAMES)


def cry(text: str) -> str | None:
    words = cut(text)
    span = worry_span(words, 0, len(words))
    return text[words[span[0]].start : words[span[1] - 1].end] if span else None


def test_every_topic_of_a_reading_has_its_words_and_no_words_are_of_another() -> None:
    assert set(load("topics")) == set(TOPICS)


@pytest.mark.parametrize("topic", TOPICS)
def test_every_topic_says_what_it_is_for_and_its_examples_ask_for_it(topic: str) -> None:
    entry = load("topics")[topic]
    assert entry["help"]
    assert [(example, found.question.topic if found else None) for example in entry["examples"] for found in [asked(example)]] == [
        (example, topic) for example in entry["examples"]
    ]


@pytest.mark.parametrize("topic", TOPICS)
def test_questions_in_everyday_words_are_of_their_topic_with_whom_what_and_which_days(topic: str) -> None:
    table = [line.rsplit(" | ", 1) for line in lines("asked.txt")]
    rows = [(text, want) for text, want in table if want.startswith(topic)]
    assert rows
    assert [(text, label(asked(text))) for text, _ in rows] == rows


def test_capitals_and_a_question_mark_change_nothing() -> None:
    for line in lines("asked.txt"):
        text, want = line.rsplit(" | ", 1)
        if want != "-":
            assert (text, label(asked(text.upper()))) == (text, want)


def test_talk_requests_and_entries_ask_nothing_about_the_log() -> None:
    assert [(text, label(asked(text))) for text in lines("not_asked.txt") if asked(text)] == []


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("pup 3 221 g who's next", "who's next"),
        ("pup 3 221 g, who's next?", "who's next?"),
        ("nettle nursed 12 when is calcium due", "when is calcium due"),
        ("cleared 2 did anyone clear blue", "did anyone clear blue"),
        ("who's due, i fell asleep", "who's due"),
        ("who's due 3 nursed 10", "who's due"),
        ("how's pip? blue nursed 10", "how's pip?"),
        ("is blue limp or just asleep", "is blue limp or just asleep"),
        ("hey so who's due please", "hey so who's due please"),
        ("Ines, did 3 nurse?", "Ines, did 3 nurse?"),
        ("pip is cold what do I do", "what do I do"),
        ("what do i do if pup 3 gets cold", "what do i do if pup 3 gets cold"),
        ("mom is shaking help", "help"),
    ],
)
def test_a_question_takes_its_own_words_and_leaves_the_rest_to_be_read(text: str, question: str) -> None:
    assert taken(text) == question


def test_a_pronoun_is_left_to_the_reader_which_knows_who_was_named_last() -> None:
    found = asked("is she gaining")
    assert found is not None
    assert found.question.who is None
    assert found.subject is not None
    assert found.subject.how == "pronoun"


def test_the_pup_that_stands_before_a_question_is_the_one_it_is_about() -> None:
    assert label(asked("olive when did she last nurse")) == "last who=2 of=nursed"


@pytest.mark.parametrize(
    "text",
    [
        "did you feed the cat", "who ate my lunch", "what time is it", "why is it always 3 am", "when are you home",
        "how much is the formula", "where are the towels", "is pip ok", "has olive nursed", "did anyone clear 3", "was 3 cleared",
        "can you clear 3", "could someone weigh pip", "would you feed 3", "are you up", "pup 3 212?", "which towel is clean",
        "who's there", "hey did mom eat", "Theo did you clear 3", "should i feed pip", "will you weigh them", "do we have formula",
    ],
)  # fmt: skip
def test_what_has_the_form_of_a_question_is_one_whatever_it_is_about(text: str) -> None:
    assert asks(text)


@pytest.mark.parametrize(
    "text",
    [
        "did pee", "did his business", "has pooped", "is cold", "was limp", "had 5 ml formula", "did 15 min", "what a night",
        "how lovely", "who's a good girl", "pup 3 212 g", "mom did eat", "3 has nursed", "weighed 3 at 205",
        "when she woke she nursed 10", "what a night, pup 3 is 212", "did both", "is 212 g", "have cleared 3",
        "does well on the bottle", "was cleared at 3:10", "had a poop",
    ],
)  # fmt: skip
def test_a_doing_without_its_subject_an_exclamation_and_a_clause_of_time_are_no_questions(text: str) -> None:
    assert not asks(text)


def test_the_words_of_questions_are_known_to_the_speller_and_long_enough_to_be_mended_into() -> None:
    assert {"who", "handover", "gains", "overdue", "calcium"} <= known_words()
    assert all(len(word) >= 5 for word in mended_words())


def test_the_form_of_a_question_is_known_without_the_litters_names_too() -> None:
    words = cut("has mum eaten her tea")
    assert is_question(words, 0, len(words))


@pytest.mark.parametrize(
    ("text", "span"),
    [
        ("pip is cold what do I do", "what do I do"),
        ("mom is shaking help", "help"),
        ("help mom is shaking", "help"),
        ("3 is limp, please help", "please help"),
        ("3 is crying nonstop is that bad", "is that bad"),
        ("mom is panting should i call the vet", "should i call the vet"),
        ("blue has milk at the nose should I worry?", "should I worry"),
        ("what should i do pip is gasping", "what should i do"),
        ("pip is limp i don't know what to do", "i don't know what to do"),
        ("olive won't stop crying, any ideas?", "any ideas"),
        ("thanks for the help", None),
        ("that didn't help", None),
        ("can you help me weigh them", None),
        ("what do i do next", None),
        ("need help with the dishes", None),
        ("help yourself to coffee", None),
        ("pup 3 212 g", None),
    ],
)
def test_a_cry_for_help_is_found_and_thanks_for_help_are_none(text: str, span: str | None) -> None:
    assert cry(text) == span


def test_help_alone_asks_what_can_be_said_and_beside_a_sign_it_is_a_cry() -> None:
    assert label(asked("help")) == "help"
    assert label(asked("mom had a seizure help")) == "worry who=dam"
    assert label(asked("help 3 latch")) == "-"


def test_a_ramble_of_five_thousand_words_is_looked_through_and_nothing_is_asked() -> None:
    assert asked("the thing is that we were talking about what is on and then she was asleep " * 330) is None


@pytest.mark.parametrize("written", ["who (is due", "who is] due", "who [is due)", "who <nobody> due"])
def test_a_pattern_that_is_written_wrong_says_what_to_do(written: str) -> None:
    with pytest.raises(PatternError, match="pattern"):
        compile_pattern(written, Parts({}))
