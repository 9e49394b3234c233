"""A message that is sent again is not kept again, and no message is taken for another."""

from __future__ import annotations

import pytest

from storage import ClientIdReused, Journal
from tests.storage.told import Fact, message, reply, weighed


def test_a_resend_writes_nothing_and_gives_what_was_kept_the_first_time(journal: Journal[Fact], litter: int) -> None:
    journal.write(message("pup 2 190", litter, client_id="a"), [weighed(2, 190.0)], [reply("Pup 2: 190 g.", litter)])
    sent = message("pup 3 212", litter, client_id="b")
    first = journal.write(sent, [weighed(3, 212.0), weighed(4, 200.0)], [reply("Pup 3: 212 g.", litter), reply("Pup 4: 200 g.", litter)])
    journal.write(message("pup 5 180", litter, client_id="c"), [weighed(5, 180.0)], [reply("Pup 5: 180 g.", litter)])
    before = (journal.history(None), journal.entries(litter))

    again = journal.write(sent, [weighed(3, 212.0), weighed(4, 200.0)], [reply("Pup 3: 212 g.", litter)])
    assert again.again
    assert (first.message, first.entries, first.said) == (again.message, again.entries, again.said)
    assert [line.text for line in journal.messages(again.said)] == ["Pup 3: 212 g.", "Pup 4: 200 g."]
    assert before == (journal.history(None), journal.entries(litter))


def test_a_resend_of_a_message_that_meant_nothing_has_no_events(journal: Journal[Fact], litter: int) -> None:
    journal.write(message("pup 2 190", litter), [weighed(2, 190.0)])
    journal.write(message("hello", litter, client_id="a"))
    journal.write(message("pup 3 212", litter), [weighed(3, 212.0)], [reply("Pup 3: 212 g.", litter)])
    again = journal.write(message("hello", litter, client_id="a"))
    assert (again.again, again.entries, again.said) == (True, (), ())


def test_two_senders_may_use_the_same_mark(journal: Journal[Fact], litter: int) -> None:
    journal.write(message("pup 3 212", litter, by="ines", client_id="1"), [weighed(3, 212.0)])
    assert not journal.write(message("pup 4 200", litter, by="theo", client_id="1"), [weighed(4, 200.0)]).again
    assert len(journal.entries(litter)) == 2


def test_messages_without_a_mark_are_never_taken_for_a_resend(journal: Journal[Fact], litter: int) -> None:
    for _ in range(2):
        assert not journal.write(message("pup 3 nursed", litter), [weighed(3, 212.0)]).again
    assert len(journal.entries(litter)) == 2


def test_other_words_under_a_used_mark_are_not_swallowed_as_a_resend(journal: Journal[Fact], litter: int) -> None:
    journal.write(message("pup 3 212", litter, client_id="1"), [weighed(3, 212.0)])
    with pytest.raises(ClientIdReused, match="Send this one under a new id"):
        journal.write(message("pup 4 200", litter, client_id="1"), [weighed(4, 200.0)])
    assert [line.text for line in journal.history(None)] == ["pup 3 212"]
