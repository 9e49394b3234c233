"""A message is kept with what it means, and read back; no word is lost, and nothing is logged by guess."""

from __future__ import annotations

from pathlib import Path

import pytest

from bot.conversation import Message
from tests.conversation.talk import Talk

TITLE = "pup 3 212 g nursed 15 min cleared"


@pytest.fixture
def talk() -> Talk:
    talk = Talk()
    talk.say("02:00", "Ines", "new litter of 5 from Juniper, c-section at 9:40 am yesterday")
    return talk


def test_a_message_is_read_back_and_kept_as_what_it_means(talk: Talk) -> None:
    heard = talk.hear("03:14", "Ines", TITLE)
    assert [(said.says, said.to, said.does, said.who, said.text) for said in heard.said] == [
        ("reply", "Ines", "log", (3,), "Pup 3: 212 g, nursed 15 min, cleared.")
    ]
    assert talk.events() == [
        {"kind": "weight", "who": 3, "grams": 212.0},
        {"kind": "nursed", "who": 3, "minutes": 15},
        {"kind": "cleared", "who": 3},
    ]


def test_what_is_given_is_kept_by_then(talk: Talk) -> None:
    heard = talk.hear("03:14", "Ines", TITLE)
    kept = talk.house.history(limit=2)
    assert [(row.by, row.text) for row in kept] == [("Ines", TITLE), ("bot", "Pup 3: 212 g, nursed 15 min, cleared.")]
    assert (heard.message_id, heard.said[0].id) == (kept[0].id, kept[1].id)
    assert kept[1].reply_to == kept[0].id


@pytest.mark.parametrize("text", [TITLE, "pup 3 900 g", "who's due", "use ounces", "pup 3 nursed, who's due"])
def test_what_is_given_as_kept_is_what_stands_in_the_journal(talk: Talk, text: str) -> None:
    heard = talk.hear("03:14", "Ines", text, "a-mark")
    assert len(heard.lines) == 1 + len(heard.said)
    assert list(heard.lines) == talk.house.history()[-len(heard.lines) :]
    assert talk.hear("03:15", "Ines", text, "a-mark").lines == ()


def test_what_is_made_ready_beforehand_changes_no_reply(talk: Talk) -> None:
    said = []
    for wall, by, text in (
        ("03:14", "Ines", TITLE),
        ("03:15", "Theo", "nursed 10"),
        ("03:16", "Ines", "no, 221"),
        ("03:17", "Ines", "undo"),
    ):
        said.append(talk.say(wall, by, text))
        talk.house.make_ready("Ines")
        talk.house.make_ready("Nobody")
    fresh = Talk()
    fresh.say("02:00", "Ines", "new litter of 5 from Juniper, c-section at 9:40 am yesterday")
    assert said == [
        fresh.say(wall, by, text)
        for wall, by, text in (
            ("03:14", "Ines", TITLE),
            ("03:15", "Theo", "nursed 10"),
            ("03:16", "Ines", "no, 221"),
            ("03:17", "Ines", "undo"),
        )
    ]


def test_the_same_message_sent_again_is_kept_once_and_answered_the_same(talk: Talk) -> None:
    first = talk.hear("03:14", "Ines", TITLE, client_id="a1")
    again = talk.hear("03:15", "Ines", TITLE, client_id="a1")
    assert (first.again, again.again, again.kept) == (False, True, True)
    assert [said.text for said in again.said] == [said.text for said in first.said]
    assert len(talk.events()) == 3


def test_the_same_id_of_another_sender_is_another_message(talk: Talk) -> None:
    talk.hear("03:14", "Ines", "pup 3 212 g", client_id="a1")
    talk.hear("03:15", "Theo", "pup 4 212 g", client_id="a1")
    assert len(talk.events()) == 2


def test_words_that_were_not_read_are_a_note_on_the_same_pup_and_are_shown(talk: Talk) -> None:
    assert "“flumphed”" in talk.say("03:14", "Ines", "pup 3 nursed 15 flumphed")
    assert talk.events() == [{"kind": "nursed", "who": 3, "minutes": 15}]
    assert talk.notes() == [{"kind": "note", "text": "flumphed", "who": 3}]


def test_what_means_nothing_is_a_note_and_says_so(talk: Talk) -> None:
    heard = talk.hear("03:14", "Ines", "what a long night")
    assert [(said.says, said.does) for said in heard.said] == [("reply", "note")]
    assert "what a long night" in heard.said[0].text
    assert talk.events() == []


def test_a_question_is_answered_and_keeps_nothing_as_an_event(talk: Talk) -> None:
    heard = talk.hear("03:14", "Ines", "who's next?")
    assert [(said.says, said.about, said.does) for said in heard.said] == [("answer", "due", None)]
    assert talk.events() == []


def test_one_message_may_log_and_ask(talk: Talk) -> None:
    heard = talk.hear("03:14", "Ines", "pup 3 221 g, who's next?")
    assert [(said.says, said.does, said.about) for said in heard.said] == [("reply", "log", None), ("answer", None, "due")]
    assert talk.events() == [{"kind": "weight", "who": 3, "grams": 221.0}]


def test_what_has_no_subject_goes_to_the_pup_that_the_sender_named_within_three_minutes(talk: Talk) -> None:
    talk.say("03:14", "Ines", "pup 3 212 g")
    assert "pup 3" in talk.say("03:16", "Ines", "nursed 10").lower()
    assert talk.events()[-1] == {"kind": "nursed", "who": 3, "minutes": 10}


def test_after_three_minutes_or_from_someone_else_it_is_asked_back(talk: Talk) -> None:
    talk.say("03:14", "Ines", "pup 3 212 g")
    assert talk.hear("03:15", "Theo", "nursed 10").said[0].does == "check"
    assert talk.hear("03:19", "Ines", "nursed 10").said[0].does == "check"
    assert len(talk.events()) == 1


def test_several_pups_named_at_once_are_nobody_in_particular(talk: Talk) -> None:
    talk.say("03:14", "Ines", "1 and 2 nursed 10")
    assert talk.hear("03:15", "Ines", "peed").said[0].does == "check"


def test_with_nothing_told_of_the_litter_a_pup_is_there_once_it_is_named() -> None:
    talk = Talk()
    assert talk.say("03:14", "ines", TITLE) == "Pup 3: 212 g, nursed 15 min, cleared."
    assert talk.say("03:15", "ines", "pup 4 nursed 10") == "Pup 4: nursed 10 min."
    talk.say("03:20", "ines", "all cleared")
    assert [event["who"] for event in talk.events() if event["kind"] == "cleared"] == [3, 3, 4]


def test_once_the_pups_were_counted_another_number_is_asked_back(talk: Talk) -> None:
    assert talk.hear("03:14", "Ines", "pup 9 nursed 10").said[0].does == "check"
    assert talk.events() == []


def test_a_new_name_is_known_in_the_same_reply(talk: Talk) -> None:
    assert "Pup 3 Olive: 212 g" in talk.say("03:14", "Ines", "call pup 3 Olive, 212 g")
    assert talk.say("03:15", "Ines", "olive nursed 10").startswith("Pup 3 Olive: nursed 10 min.")


@pytest.mark.parametrize(
    "text", ["\0\0\0", "\ud83d\udc36 pup \ud800", "🐶🐶🐶", "שלום לכולם", "pup 3 " + "9 " * 1000, "a" * 100_000, "?" * 500, "3"]
)
def test_strange_words_are_kept_and_answered_and_never_logged_by_guess(talk: Talk, text: str) -> None:
    heard = talk.hear("03:14", "Ines", text)
    assert heard.kept
    assert heard.said
    assert talk.events() == []
    assert len(talk.house.history(limit=50)) >= 4


def test_what_is_shown_back_steers_no_terminal_and_turns_no_line_round(talk: Talk) -> None:
    text = talk.say("03:14", "Ines", "so \x1b[2J tired \u202eregnol")
    assert "tired" in text
    assert not set(text) & {"\x1b", "\u202e"}


def test_an_empty_message_is_not_kept_and_says_so(talk: Talk) -> None:
    heard = talk.hear("03:14", "Ines", "  \n ")
    assert (heard.kept, [said.says for said in heard.said]) == (False, ["reply"])


def test_a_stranger_is_not_heard(talk: Talk) -> None:
    heard = talk.house.hear(Message("Mallory", TITLE), talk.at("03:14"))
    assert not heard.kept
    assert talk.events() == []


def test_nothing_is_known_that_a_restart_forgets(tmp_path: Path) -> None:
    talk = Talk(tmp_path / "log.db")
    talk.say("03:14", "Ines", "pup 3 212 g")
    talk.restart()
    talk.say("03:15", "Ines", "nursed 15")
    talk.restart()
    talk.say("03:16", "Ines", "make that 20 min")
    talk.restart()
    talk.say("03:17", "Ines", "pup 3 2120 g")
    talk.restart()
    talk.say("03:18", "Ines", "yes")
    assert [(event["kind"], event.get("grams"), event.get("minutes")) for event in talk.events()] == [
        ("weight", 212.0, None),
        ("nursed", None, 20),
        ("weight", 2120.0, None),
    ]


def test_where_nothing_can_be_kept_the_sender_is_told_and_nothing_is_known(tmp_path: Path) -> None:
    talk = Talk(tmp_path / "log.db")
    talk.say("03:14", "Ines", "pup 3 212 g")
    other = Talk(tmp_path / "log.db")
    with other.house._journal.together():
        other.house._journal.register.set_rights("Ines", "keeper")  # holds the file, as a backup may
        talk.house._journal._database.execute("pragma busy_timeout = 1")
        heard = talk.hear("03:15", "Ines", "pup 3 nursed 15")
    assert not heard.kept
    assert "Nothing was kept" in heard.said[0].text
    assert talk.say("03:16", "Ines", "pup 3 cleared") == "Pup 3: cleared."
    assert [event["kind"] for event in talk.events()] == ["weight", "cleared"]
