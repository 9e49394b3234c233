"""Written phrases are taken apart and laid out as far as they are needed, and lose nothing by it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from parsers.household import OF_A_PUP
from parsers.litter_card import LitterCard
from parsers.patterns import ANYTHING, Parts, beginnings, compile_pattern
from parsers.phrase_list import PhraseList
from parsers.phrasings import VocabularyError, begins, behind, expand, parsed, words_of
from parsers.subjects import Names
from parsers.telling import TAGS
from parsers.templates import share
from parsers.vocabulary import Phrases, Tag, load
from parsers.words import cut


def test_a_phrasing_stands_for_every_choice_with_and_without_what_may_be_left_out() -> None:
    assert sorted(expand("[has] (fed|let nurse) her")) == [
        ("fed", "her"), ("has", "fed", "her"), ("has", "let", "nurse", "her"), ("let", "nurse", "her"),
    ]  # fmt: skip


@pytest.mark.parametrize("pattern", ["(a|b", "a] b", "[a (b)", "a)"])
def test_brackets_that_do_not_fit_are_named_with_what_to_do(pattern: str) -> None:
    with pytest.raises(VocabularyError, match="pattern"):
        expand(pattern)


def _patterns(data: Any) -> Iterator[str]:
    """Every text in lists of the data: far more than phrases, which does no harm."""
    if isinstance(data, list):
        yield from (each for each in data if isinstance(each, str))
    for each in data if isinstance(data, list) else data.values() if isinstance(data, dict) else ():
        yield from _patterns(each)


@pytest.mark.parametrize("name", ["kinds", "signs", "parts", "talk", "subjects"])
def test_what_follows_each_first_word_makes_up_the_whole_phrasing(name: str) -> None:
    for pattern in _patterns(load(name)):
        phrasing = parsed(pattern)
        laid = {(first, *rest) for first in begins(phrasing)[0] for rest in behind(phrasing, first)}
        assert laid == {phrase for phrase in expand(pattern) if phrase}, pattern
        assert words_of([pattern]) == {word for phrase in laid for word in phrase}


def test_a_phrase_added_after_its_first_word_was_met_is_found_too() -> None:
    phrases = Phrases()
    phrases.add(["red"], Tag("look", "red"))
    assert phrases.longest(cut("red gums"), 0) == (1, [Tag("look", "red")])
    phrases.add(["red gums", "red"], Tag("sign", "red gums"))
    assert phrases.longest(cut("red gums"), 0) == (2, [Tag("sign", "red gums")])
    assert phrases.longest(cut("red"), 0) == (1, [Tag("look", "red"), Tag("sign", "red gums")])


def test_a_fixed_phrase_is_found_as_a_message_is_cut() -> None:
    phrases = PhraseList({"section": ["c-section [at (5%|noon)]"]})
    assert phrases.at(cut("a C-section at 5%"), 1) == ("section", 5)
    assert phrases.at(cut("c-section at 6"), 0) == ("section", 2)
    assert phrases.words == {"c", "section", "at", "5", "%", "noon"}


@pytest.mark.parametrize(
    ("written", "begin"),
    [
        ("who is due", {"who"}),
        ("[(so|and)] {who} due", {"so", "and", "{who}"}),
        ("(a b|[c] <many>) d", {"a", "c", "one", "two"}),
        ("(a|b)* c", {"a", "b", "c"}),
        ("<may> x", {"m", "x"}),
        (".. due", {ANYTHING, "due"}),
        ("? a", {"{asks}"}),
    ],
)
def test_a_pattern_of_questions_begins_with(written: str, begin: set[str]) -> None:
    parts = Parts({"many": "(one|two)", "may": "[m]"})
    assert beginnings(written, parts) == begin


@pytest.mark.parametrize(
    ("written", "needs"),
    [
        ("who is due", [{"who"}, {"is"}, {"due"}]),
        ("[who] (is|are [they]) (due|over due) ..", [{"is", "are"}, {"due", "over"}]),
        ("(a|b)* [c]", []),
        ("{who} (a|[b])", [{"{who}"}]),
    ],
)
def test_a_pattern_of_questions_needs(written: str, needs: list[set[str]]) -> None:
    assert [set(need) for need in compile_pattern(written, Parts({})).needs] == needs


def _always(phrasing: Any, word: str) -> bool:
    """True where the word stands in every phrase."""
    return any(piece == word if isinstance(piece, str) else all(_always(choice, word) for choice in piece) for piece in phrasing)


def test_every_template_of_a_section_of_a_pup_speaks_of_one() -> None:
    setup = load("setup")
    for section in OF_A_PUP:
        for tag in TAGS[section]:
            for written in setup[section][tag]:
                shared = setup["shared"] | {key: value for key, value in setup[section].items() if key not in TAGS[section]}
                assert _always(parsed(share(written, shared)), "{pup}"), written


@pytest.mark.parametrize("how", ["all", "boys", "girls", "but"])
def test_what_means_several_pups_is_known_by_one_of_its_words(how: str) -> None:
    names = Names(LitterCard())
    missed = [phrase for written in load("subjects")[how]["says"] for phrase in expand(written) if not names.may_name(phrase)]
    assert not missed


def test_names_and_their_owners_may_name_a_pup_and_everyday_words_may_not() -> None:
    names = Names(LitterCard.model_validate({"pups": [{"pup": 1, "names": ["Olive", "tall boy"]}], "people": ["Ines"]}))
    assert all(names.may_name([text]) for text in ("olive", "olive's", "tall", "pup", "pups", "pub", "#"))
    assert not names.may_name("so the old clock in our hall was one of them last night".split())
