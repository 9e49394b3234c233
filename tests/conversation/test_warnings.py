"""Warnings in a talk: said with the message that brought them, once over restarts, and withdrawn in words by a correction."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.conversation.talk import CHICAGO, Talk

LITTER = "new litter of 4 from Juniper, c-section at 9:40 this morning"


@pytest.fixture
def talk(tmp_path: Path) -> Talk:
    talk = Talk(tmp_path / "log.sqlite")
    talk.hear("20:00", "Ines", LITTER)
    return talk


def said(talk: Talk, wall: str, text: str, by: str = "Ines") -> list[str]:
    """All that is said to a message, a line each: `warning sign 3 emergency all`, `reply Pup 3: limp`."""
    return [
        f"warning {one.about} {','.join(map(str, one.who))} {one.urgency} {one.to}" if one.says == "warning" else f"{one.says} {one.text}"
        for one in talk.hear(wall, by, text).said
    ]


def test_a_warning_is_a_line_of_its_own_and_the_reply_reads_back_as_ever(talk: Talk) -> None:
    assert said(talk, "20:10", "pup 3 limp") == ["warning sign 3 emergency all", "reply Pup 3: limp."]


def test_it_is_said_once_over_restarts_and_again_after_two_hours(talk: Talk) -> None:
    said(talk, "20:10", "pup 3 limp")
    talk.restart()
    assert said(talk, "20:20", "pup 3 limp") == ["reply Pup 3: limp."]
    talk.restart()
    assert "warning sign 3 emergency all" in said(talk, "22:11", "pup 3 limp")


def test_undo_withdraws_what_the_entry_had_caused_and_says_so(talk: Talk) -> None:
    said(talk, "20:10", "pup 3 limp")
    assert said(talk, "20:11", "undo") == ["reply Taken back, from 8:10 pm: Pup 3: limp. No longer holds: the warning about Pup 3 (limp)."]
    talk.restart()
    assert said(talk, "20:12", "pup 3 limp") == ["warning sign 3 emergency all", "reply Pup 3: limp."]


def test_undo_of_an_entry_that_caused_nothing_says_nothing_of_warnings(talk: Talk) -> None:
    said(talk, "20:10", "pup 3 limp")
    said(talk, "20:11", "pup 2 nursed 10")
    assert said(talk, "20:12", "undo") == ["reply Taken back, from 8:11 pm: Pup 2: nursed 10 min."]


def test_an_entry_moved_to_another_pup_warns_of_that_pup_and_withdraws_the_first(talk: Talk) -> None:
    said(talk, "20:10", "pup 3 limp")
    assert said(talk, "20:11", "that was pup 4") == [
        "warning sign 4 emergency all",
        "reply Corrected: Pup 4: limp. Was: Pup 3: limp. No longer holds: the warning about Pup 3 (limp).",
    ]


def test_a_corrected_value_that_is_worse_is_said_and_one_that_is_milder_is_told_in_the_reply(talk: Talk) -> None:
    assert said(talk, "20:10", "pup 3 temp 95.5")[0] == "warning cold pup 3 soon all"
    assert said(talk, "20:11", "no, 93.5")[0] == "warning cold pup 3 emergency all"
    talk.restart()
    [reply] = said(talk, "20:12", "no, 94.5")
    assert reply.endswith("The warning about Pup 3 (temperature 94.5 F) is milder now: vet today.")
    [reply] = said(talk, "20:13", "no, 97.5")
    assert reply.endswith("No longer holds: the warning about Pup 3 (temperature 94.5 F).")
    talk.restart()
    assert [one for one in talk.until("21:00") if one.says == "warning"] == []


def test_a_fact_that_a_second_correction_brings_back_is_warned_of_again(talk: Talk) -> None:
    said(talk, "20:10", "pup 3 temp 93.5")
    for minute, milder in ((11, "97.5"), (13, "94.5"), (15, "97.5")):
        assert not said(talk, f"20:{minute}", f"no, {milder}")[0].startswith("warning")
        talk.restart()
        assert said(talk, f"20:{minute + 1}", "no, 93.5")[0] == "warning cold pup 3 emergency all"
    assert [one for one in talk.until("21:00") if one.says == "warning"] == []


def test_pups_whose_litter_is_not_slow_after_all_have_their_own_warnings(talk: Talk) -> None:
    talk.hear("20:05", "Ines", "weights 301 302 303 304")
    talk.hear("2026-03-03 20:10", "Ines", "weights 321 322 323 324")
    talk.hear("2026-03-04 20:20", "Ines", "1 321 g, 3 333 g, 4 334 g")
    assert said(talk, "2026-03-04 20:21", "pup 2 322 g")[0].startswith("warning slow litter 1,2")
    assert said(talk, "2026-03-04 20:22", "no, 332")[0] == "warning no gain 1 vet today all"


def test_a_corrected_time_says_nothing_twice(talk: Talk) -> None:
    said(talk, "20:10", "pup 3 limp")
    [reply] = said(talk, "20:11", "that was at 7:50 pm")
    assert "hold" not in reply
    talk.restart()
    assert [one for one in talk.until("21:00") if one.says == "warning"] == []


def test_what_another_person_saw_too_stands_and_is_not_said_again(talk: Talk) -> None:
    said(talk, "20:10", "pup 3 limp")
    assert said(talk, "20:12", "pup 3 limp", by="Theo") == ["reply Pup 3: limp."]
    assert said(talk, "20:13", "undo") == ["reply Taken back, from 8:10 pm: Pup 3: limp."]
    talk.restart()
    assert [one for one in talk.until("21:00") if one.says == "warning"] == []


def test_a_corrected_weight_withdraws_a_loss(talk: Talk) -> None:
    talk.hear("20:05", "Ines", "weights 301 302 303 304")
    assert said(talk, "2026-03-03 22:00", "pup 2 281 g")[0] == "warning weight loss 2 vet today all"
    [reply] = said(talk, "2026-03-03 22:01", "no, 318")
    assert reply == "reply Corrected: Pup 2: 318 g. Was: Pup 2: 281 g. No longer holds: the warning about Pup 2 (281 g, -7 % since birth)."


def test_a_dose_too_soon_is_said_first_each_time_and_warned_of_once_in_two_hours(talk: Talk) -> None:
    talk.hear("20:01", "Ines", "calcium every 4 hours")
    talk.hear("20:02", "Ines", "mom calcium 1 click")
    assert said(talk, "20:30", "mom calcium 1 click") == [
        "warning dose too soon dam soon all",
        "reply Too soon after the last one. Dam: calcium 1 click.",
    ]
    assert said(talk, "21:00", "mom calcium 1 click") == ["reply Too soon after the last one. Dam: calcium 1 click."]
    assert said(talk, "22:31", "mom calcium 1 click")[0] == "warning dose too soon dam soon all"


def test_a_warning_ahead_is_said_at_its_minute_and_once(talk: Talk) -> None:
    talk.hear("20:05", "Ines", "all nursed 10")
    warned = [f"{one.at.astimezone(CHICAGO):%H:%M} {one.about} {one.who}" for one in talk.until("23:59") if one.says == "warning"]
    assert warned == ["23:55 refusals (1, 2, 3, 4)"]
    talk.restart()
    assert [one for one in talk.until("2026-03-03 03:00") if one.says == "warning"] == []
