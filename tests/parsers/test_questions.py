"""What a message asks about the log, and what only looks like a question."""

from __future__ import annotations

from typing import get_args

import pytest

from parsers.litter_card import LitterCard
from parsers.questions import find, is_question, worry_span
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


def asked(text: str) -> dict[str, object] | None:
    words = cut(text)
    found = find(words, 0, len(words), NAMES, CARD)
    return found.question.model_dump(exclude_none=True) if found else None


def test_every_topic_of_a_reading_has_its_words_and_no_words_are_of_another() -> None:
    assert set(load("topics")) == set(get_args(Topic))


@pytest.mark.parametrize(("topic", "example"), [(topic, example) for topic, entry in load("topics").items() for example in entry["examples"]])
def test_every_example_asks_for_its_topic(topic: str, example: str) -> None:
    question = asked(example)
    assert question is not None
    assert question["topic"] == topic
