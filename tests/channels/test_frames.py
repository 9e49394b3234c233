"""What a page sends is read strictly, and whatever else comes is answered politely."""

from __future__ import annotations

import json
from datetime import timedelta

import pytest

from bot.channels.intake import LONGEST_TEXT
from bot.channels.web.frames import LONGEST_FRAME, TOO_LATE, Earlier, Ping, Unusable, Words, read_frame


def test_a_message_is_read_with_its_mark_and_its_wait() -> None:
    assert read_frame('{"say": "pup 3 212 g", "id": "a1", "typed_ago": 90}') == Words("pup 3 212 g", "a1", timedelta(seconds=90))


def test_a_message_that_waited_for_longer_than_a_night_is_asked_for_again_with_its_time() -> None:
    assert read_frame(json.dumps({"say": "x", "id": "a", "typed_ago": 12 * 3600})) == Words("x", "a", timedelta(hours=12))
    for seconds in (12 * 3600 + 1, float("inf"), 10**400):
        assert read_frame(json.dumps({"say": "x", "id": "a", "typed_ago": seconds})) == Unusable(TOO_LATE, "a")


@pytest.mark.parametrize("waited", [None, "90", -5, True, [], float("nan")])
def test_a_wait_that_makes_no_sense_is_none(waited: object) -> None:
    assert read_frame(json.dumps({"say": "x", "id": "a", "typed_ago": waited})) == Words("x", "a", timedelta())


def test_an_earlier_part_of_the_log_is_asked_for_by_id() -> None:
    assert read_frame('{"before": 12}') == Earlier(12)


@pytest.mark.parametrize("data", ['{"ping": 1}', "{}", '{"before": 0}', '{"before": "12"}', '{"before": 4611686018427387904}'])
def test_what_asks_for_nothing_is_a_sign_of_life(data: str) -> None:
    assert read_frame(data) == Ping()


@pytest.mark.parametrize("data", ["", "{", "[]", "3", "null", "[" * 200_000, '{"say": "x"} trailing', "\x00", "9" * 5000])
def test_what_is_no_frame_is_answered_and_not_raised(data: str) -> None:
    found = read_frame(data)
    assert isinstance(found, Unusable)
    assert "nothing was kept" in found.why


@pytest.mark.parametrize("mark", [None, "", 7, "a" * 65, "ä", "a\nb", ["a"]])
def test_a_message_without_a_proper_mark_is_not_taken(mark: object) -> None:
    found = read_frame(json.dumps({"say": "x", "id": mark}))
    assert isinstance(found, Unusable)
    assert found.client_id is None


@pytest.mark.parametrize("text", [None, 3, ["x"], {"text": "x"}, True])
def test_what_is_no_text_is_refused_under_its_mark(text: object) -> None:
    found = read_frame(json.dumps({"say": text, "id": "a"}))
    assert isinstance(found, Unusable)
    assert found.client_id == "a"


def test_the_longest_message_is_taken_and_one_character_more_is_refused_politely() -> None:
    assert isinstance(read_frame(json.dumps({"say": "é" * LONGEST_TEXT, "id": "a"})), Words)
    found = read_frame(json.dumps({"say": "é" * (LONGEST_TEXT + 1), "id": "a"}))
    assert isinstance(found, Unusable)
    assert found == Unusable("That is 150,001 characters long, and one message holds 150,000. Nothing was kept: send it in parts.", "a")


def test_the_longest_message_fits_a_frame_however_it_is_written() -> None:
    assert len(json.dumps({"say": "\x00" * LONGEST_TEXT, "id": "a" * 64, "typed_ago": 1})) < LONGEST_FRAME
    assert len(json.dumps({"say": "🐕" * LONGEST_TEXT, "id": "a" * 64, "typed_ago": 1})) < LONGEST_FRAME


def test_half_a_character_becomes_a_sign_that_can_be_kept() -> None:
    assert read_frame('{"say": "pup \\ud83d 3", "id": "a"}') == Words("pup \ufffd 3", "a", timedelta())
    assert read_frame('{"say": "\\ud83d\\udc15 ok", "id": "a"}') == Words("🐕 ok", "a", timedelta())
