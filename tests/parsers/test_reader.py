"""The reader's small parts, one table each: words, numbers, measures, subjects, and what fits a litter."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parsers import LitterCard, plausibility
from parsers.measures import celsius_to_fahrenheit, fahrenheit_to_celsius, measures, say_celsius, say_grams, tidy
from parsers.numbers import readings
from parsers.plausibility import Fit
from parsers.pup_numbers import Subject
from parsers.subjects import Names
from parsers.vocabulary import VocabularyError, expand
from parsers.words import Speller, cut
from tests.parsers.litters import NOW, WEIGHTS, litter

CARD = litter()
NAMES = Names(CARD)


def _with(**fields: Any) -> LitterCard:
    """The litter with other fields; `model_copy` would keep what the card has already worked out of the old ones."""
    return LitterCard.model_validate(CARD.model_dump() | fields)


# --- words ------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("pup 3 212g", ["pup", "3", "212", "g"]),
        ("7.4oz", ["7.4", "oz"]),
        ("Olive's nose", ["olive's", "nose"]),
        ("won\u2019t latch", ["won't", "latch"]),  # a phone's curly apostrophe
        ("c-section", ["c", "section"]),
        ("1-4", ["1", "-", "4"]),
        ("1\u20134", ["1", "-", "4"]),  # an en dash
        ("2:31", ["2:31"]),
        ("2O5", ["205"]),  # `O` for zero in a run of digits (the contract's Numbers)
        ("21o g", ["210", "g"]),
        ("7 1/2 oz", ["7", "1/2", "oz"]),
        ("7½", ["7", "½"]),
        ("a\n\nb", ["a", "\n", "b"]),
        ("p3", ["p", "3"]),
        ("#3:", ["#", "3", ":"]),
        ("", []),
        (" \t ", []),
    ],
)
def test_a_message_is_cut_into_words_numbers_and_marks(text: str, words: list[str]) -> None:
    assert [word.text for word in cut(text)] == words


@given(st.text(max_size=200))
def test_every_character_but_space_and_joining_hyphens_is_in_one_word(text: str) -> None:
    places = [place for word in cut(text) for place in range(word.start, word.end)]
    assert places == sorted(set(places))
    missing = {text[place] for place in range(len(text)) if place not in set(places)}
    assert all(character.isspace() or character in "-–—−" for character in missing)


@pytest.mark.parametrize(
    ("slip", "meant"),
    [
        ("nusred", "nursed"),  # the contract's own slips
        ("suctoined", "suctioned"),
        ("incubater", "incubator"),
        ("nurssed", "nursed"),  # a doubled letter
        ("nurse", None),  # a word itself
        ("cler", None),  # two letters short of the only long word: too far
        ("n", None),
        ("zorblat", None),
    ],
)
def test_a_slip_of_a_long_word_is_mended(slip: str, meant: str | None) -> None:
    assert Speller(["nursed", "nurse", "suctioned", "incubator", "cleared"]).mend(slip) == meant


def test_a_word_that_is_left_alone_is_no_slip() -> None:
    assert Speller(["cleared"], leave=["clearer"]).mend("clearer") is None


def test_a_slip_that_could_be_of_two_words_is_left_as_it_is() -> None:
    assert Speller(["batch", "patch"]).mend("xatch") is None


# --- numbers ----------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "value"),
    [  # the contract's Numbers, and their kin
        ("212", 212),
        ("two hundred twelve", 212),
        ("two hundred and twelve", 212),
        ("two twelve", 212),
        ("two one two", 212),
        ("one oh five", 105),
        ("one hundred", 100),
        ("a hundred and five", 105),
        ("two thirty", 230),
        ("ninety nine", 99),
        ("thirty-seven", 37),
        ("7 1/2", 7.5),
        ("seven and a half", 7.5),
        ("seven and three quarters", 7.75),
        ("seven point four", 7.4),
        ("seven point two five", 7.25),
        ("7.4", 7.4),
        ("7,4", 7.4),
        ("½", 0.5),
        ("2O5", 205),
        ("ten fifty", 1050),
    ],
)
def test_a_number_is_read_however_it_is_said(said: str, value: float) -> None:
    words = cut(said)
    whole = [number.value for number in readings(words, 0) if number.length == len(words) and not number.tenths]
    assert whole[0] == pytest.approx(value)


@pytest.mark.parametrize(
    ("said", "value"),
    [("thirty seven two", 37.2), ("ninety six four", 96.4), ("36 4", 36.4), ("a hundred one five", 101.5)],
)
def test_the_last_word_of_a_temperature_can_be_tenths(said: str, value: float) -> None:
    words = cut(said)
    assert value in [number.value for number in readings(words, 0) if number.tenths and number.length == len(words)]


@pytest.mark.parametrize("said", ["to", "for", "won", "ate", "tree"])
def test_a_sound_alike_is_a_number_only_where_one_is_looked_for(said: str) -> None:
    assert readings(cut(said), 0) == []
    assert [number.alike for number in readings(cut(said), 0, alike=True)] == [True]


@given(st.integers(0, 99_999))
def test_digits_are_what_they_are(number: int) -> None:
    assert [reading.value for reading in readings(cut(str(number)), 0)] == [number]


# --- measures ---------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "dimension", "value"),
    [  # an ounce is 28.349523125 g and a pound 16 of them, by definition (international agreement of 1959)
        ("212 g", "mass", 212),
        ("7.4 oz", "mass", 7.4 * 28.349523125),
        ("7 and a half ounces", "mass", 7.5 * 28.349523125),
        ("1 lb 2 oz", "mass", 18 * 28.349523125),
        ("a pound seven", "mass", 23 * 28.349523125),
        ("a pound and a half", "mass", 24 * 28.349523125),
        ("0.212 kg", "mass", 212),
        ("half a pound", "mass", 8 * 28.349523125),
        ("3 cc", "volume", 3),
        ("5 mls", "volume", 5),
        ("15 min", "duration", 15),
        ("quarter of an hour", "duration", 15),
        ("half an hour", "duration", 30),
        ("an hour and a half", "duration", 90),
        ("1h20", "duration", 80),
        ("96.4 F", "warmth", 96.4),
        ("thirty seven two degrees", "warmth", 37.2),
        ("60 percent", "percent", 60),
        ("2 clicks", "dose", 2),
        ("212 grahams", "mass", 212),  # a phone's dictation
    ],
)
def test_a_measure_is_a_number_with_its_unit(said: str, dimension: str, value: float) -> None:
    words = cut(said)
    found = [each for each in measures(words, 0) if each.length == len(words)]
    assert found, said
    assert found[0].dimension == dimension
    assert found[0].value == pytest.approx(value)


def test_the_scales_of_temperature_meet_where_they_are_defined_to() -> None:
    assert [fahrenheit_to_celsius(degrees) for degrees in (32, 212, -40)] == pytest.approx([0, 100, -40])
    assert [celsius_to_fahrenheit(degrees) for degrees in (0, 100, -40)] == pytest.approx([32, 212, -40])


@given(st.integers(1, 200_000).map(lambda cents: cents / 100), st.sampled_from(["g", "oz"]))
def test_a_weight_that_is_said_reads_as_the_same_grams(grams: float, unit: str) -> None:
    [measure] = measures(cut(say_grams(grams, unit)), 0)
    assert tidy(measure.value) == grams


@given(st.integers(2_000, 4_500).map(lambda cents: cents / 100), st.sampled_from(["F", "C"]))
def test_a_temperature_that_is_said_reads_as_the_same_degrees(celsius: float, unit: str) -> None:
    [measure] = measures(cut(say_celsius(celsius, unit)), 0)
    assert tidy(measure.value if unit == "C" else fahrenheit_to_celsius(measure.value)) == celsius


# --- subjects ---------------------------------------------------------------------------------------------------------------------------


def _subject(said: str) -> Subject:
    words = cut(said)
    found = NAMES.match(words, 0)
    assert found is not None, f"{said!r} names nobody"
    assert found.length == len(words), f"{said!r}: only {found.length} of {len(words)} words are taken"
    return found


@pytest.mark.parametrize(
    ("said", "whos"),
    [  # the contract's Subject
        ("pup 3", (3,)),
        ("p3", (3,)),
        ("#3", (3,)),
        ("puppy three", (3,)),
        ("no. 3", (3,)),
        ("pup number 3", (3,)),
        ("Olive", (2,)),
        ("olive's", (2,)),
        ("the blue boy", (1,)),
        ("little Pip", (4,)),
        ("white chest", (4,)),
        ("1-4", (1, 2, 3, 4)),
        ("1 thru 4", (1, 2, 3, 4)),
        ("1, 2 and 5", (1, 2, 5)),
        ("pups 1 and 3", (1, 3)),
        ("Olive and blue", (2, 1)),
        ("all", (1, 2, 3, 4, 5)),
        ("everyone", (1, 2, 3, 4, 5)),
        ("all pups", (1, 2, 3, 4, 5)),
        ("the litter", (1, 2, 3, 4, 5)),
        ("the whole gang", (1, 2, 3, 4, 5)),
        ("all five", (1, 2, 3, 4, 5)),
        ("the boys", (1, 3, 5)),
        ("the girls", (2, 4)),
        ("all but 2", (1, 3, 4, 5)),
        ("everyone except Olive", (1, 3, 4, 5)),
        ("mom", ("dam",)),
        ("the dam", ("dam",)),
        ("Juniper", ("dam",)),
        ("pup tree", (3,)),  # a phone's dictation
        ("pub 3", (3,)),
        ("pup to", (2,)),
        ("pup for", (4,)),
        ("pup won", (1,)),
    ],
)
def test_a_subject_is_who_is_meant(said: str, whos: tuple[int | str, ...]) -> None:
    assert _subject(said).whos == whos


@pytest.mark.parametrize(
    ("said", "how"), [("the rest", "rest"), ("the others", "rest"), ("both", "both"), ("the two of them", "both"), ("she", "pronoun")]
)
def test_some_subjects_depend_on_who_was_named_before(said: str, how: str) -> None:
    assert (_subject(said).how, _subject(said).whos) == (how, ())


@pytest.mark.parametrize("said", ["my mum", "your mom", "212", "3 min", "3 oz", "7 1/2", "marta"])
def test_what_is_nobody_of_the_litter_is_no_subject(said: str) -> None:
    assert NAMES.match(cut(said), 0) is None


def test_a_pup_that_the_litter_does_not_have_is_named_and_unknown() -> None:
    assert (_subject("pup 9").whos, _subject("pup 9").unknown) == ((9,), True)


def test_a_pup_that_died_is_not_among_all_nor_in_a_range_but_can_be_named() -> None:
    names = Names(_with(pups=[pup.model_copy(update={"died": NOW}) if pup.pup == 3 else pup for pup in CARD.pups]))
    for said in ("all", "1-5", "everyone"):
        found = names.match(cut(said), 0)
        assert found is not None
        assert found.whos == (1, 2, 4, 5)
    named = names.match(cut("pup 3"), 0)
    assert named is not None
    assert (named.whos, named.named) == ((3,), (3,))


@pytest.mark.parametrize(("slip", "name"), [("Jumiper", "juniper"), ("olvie", "olive"), ("juniperr", "juniper"), ("pop", None)])
def test_names_of_five_letters_and_more_are_mended(slip: str, name: str | None) -> None:
    assert NAMES.mend(slip.lower()) == name


def test_another_name_of_the_household_is_no_slip_of_a_pups() -> None:
    assert Names(_with(people=["Oliver"])).mend("oliver") is None


# --- what fits --------------------------------------------------------------------------------------------------------------------------


def _fit(grams: float, *, last: float | None = 200, hours: float = 2, age_days: float = 3) -> Fit:
    """How a weight fits pup 3 whose last one is `hours` old."""
    third = {"pup": 3, "last_grams": last, "last_at": NOW - timedelta(hours=hours)}
    return plausibility.weight(_with(pups=[third], born=NOW - timedelta(days=age_days)), 3, grams, NOW).fit


@pytest.mark.parametrize(
    ("grams", "hours", "fit"),
    [  # the contract's Plausibility, at and beside each edge, for a last weight of 200 g
        (216, 2, Fit.PLAUSIBLE),  # "within 8 % of its last weight when that is at most 12 hours old"
        (184, 12, Fit.PLAUSIBLE),
        (217, 2, Fit.BETWEEN),
        (205, 12.1, Fit.BETWEEN),
        (250, 24, Fit.BETWEEN),  # "implausible if it differs by more than 25 % at up to 24 hours"
        (150, 2, Fit.BETWEEN),
        (251, 2, Fit.IMPLAUSIBLE),
        (149, 24, Fit.IMPLAUSIBLE),
        (248, 48, Fit.PLAUSIBLE),  # "a gain of up to 12 % a day and a loss of up to 12 % in all are logged; beyond that, `check`"
        (249, 48, Fit.IMPLAUSIBLE),
        (176, 72, Fit.PLAUSIBLE),
        (175, 72, Fit.IMPLAUSIBLE),
        (272, 72, Fit.PLAUSIBLE),
    ],
)
def test_a_weight_fits_by_the_last_one_and_its_age(grams: float, hours: float, fit: Fit) -> None:
    assert _fit(grams, hours=hours) is fit


@pytest.mark.parametrize(
    ("grams", "age_days", "fit"),
    [  # "would be under 40 g or over 1,500 g in the first two weeks"; "With no last weight only the bounds hold."
        (40, 3, Fit.PLAUSIBLE),
        (39.9, 3, Fit.IMPLAUSIBLE),
        (1500, 3, Fit.PLAUSIBLE),
        (1501, 3, Fit.IMPLAUSIBLE),
        (1501, 15, Fit.PLAUSIBLE),
    ],
)
def test_without_a_last_weight_only_the_bounds_hold(grams: float, age_days: float, fit: Fit) -> None:
    assert _fit(grams, last=None, age_days=age_days) is fit


@pytest.mark.parametrize(("grams", "named"), [(188 * 1.04, True), (188 * 0.97, True), (188 * 0.95, False)])
def test_an_implausible_weight_names_the_pup_that_it_is_near(grams: float, named: bool) -> None:
    """`where it is within 4 % of another pup's last weight, why names that pup`: Olive weighed 188 g, pup 3 is given 400 g."""
    pups = [{"pup": 2, "names": ["Olive"], "last_grams": 188.0}, {"pup": 3, "last_grams": 400.0}]
    judged = plausibility.weight(_with(pups=pups), 3, grams, NOW)
    assert judged.fit is Fit.IMPLAUSIBLE
    assert ("pup 2 Olive" in judged.why) is named


@pytest.mark.parametrize(
    ("grams", "fit"),
    [(11_800 * 1.15, Fit.PLAUSIBLE), (11_800 * 0.85, Fit.PLAUSIBLE), (11_800 * 1.16, Fit.IMPLAUSIBLE), (212, Fit.IMPLAUSIBLE)],
)
def test_the_dams_weight_fits_within_fifteen_percent(grams: float, fit: Fit) -> None:
    assert plausibility.weight(CARD, "dam", grams, NOW).fit is fit


@pytest.mark.parametrize(
    ("judged", "fits"),
    [  # "A body temperature under 25 °C or over 43 °C, a nursing of over 90 minutes, a feed of over 10 % of the pup's weight in ml,
        # a climate of over 45 °C: `check`."
        (plausibility.body(CARD, 25), True),
        (plausibility.body(CARD, 24.9), False),
        (plausibility.body(CARD, 43), True),
        (plausibility.body(CARD, 43.1), False),
        (plausibility.nursing(90), True),
        (plausibility.nursing(91), False),
        (plausibility.nursing(0), False),
        (plausibility.feed(CARD, 3, WEIGHTS[3] / 10), True),
        (plausibility.feed(CARD, 3, WEIGHTS[3] / 10 + 0.1), False),
        (plausibility.air(CARD, 45), True),
        (plausibility.air(CARD, 45.1), False),
    ],
)
def test_what_no_pup_and_no_box_can_be_is_asked_about(judged: plausibility.Judgement, fits: bool) -> None:
    assert (judged.fit is not Fit.IMPLAUSIBLE) is fits
    assert bool(judged.why) is not fits


# --- the vocabulary's own language ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pattern", "phrases"),
    [
        ("cleared", ["cleared"]),
        ("latched [on]", ["latched", "latched on"]),
        ("(on|at) the teat", ["on the teat", "at the teat"]),
        ("weighed [(in|out) at]", ["weighed", "weighed in at", "weighed out at"]),
        ("Nose (clear|all clear)", ["nose clear", "nose all clear"]),
    ],
)
def test_a_pattern_stands_for_its_phrases(pattern: str, phrases: list[str]) -> None:
    assert [" ".join(phrase) for phrase in expand(pattern)] == phrases


@pytest.mark.parametrize("pattern", ["(on|at the teat", "latched [on", "latched on]", "on|at)"])
def test_a_pattern_with_a_bracket_missing_is_refused_with_the_remedy(pattern: str) -> None:
    with pytest.raises(VocabularyError, match="bracket"):
        expand(pattern)
