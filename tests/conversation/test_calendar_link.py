"""The words by which a link to the calendar is asked for, or ended; and where none can be made."""

from __future__ import annotations

import pytest

from tests.conversation.talk import Talk


@pytest.mark.parametrize(
    "words",
    [
        "calendar link",
        "Calendar link please",
        "make a new calendar link",
        "subscribe to the calendar",
        "calendar on my phone",
        "calendar feed",
    ],
)
def test_a_link_is_asked_for(words: str) -> None:
    talk = Talk()
    talk.say("20:00", "Ines", "new litter of 2 from Juniper, c-section at 9:40 this morning")
    assert "makes that link; here nothing was made" in talk.say("20:01", "Ines", words)


@pytest.mark.parametrize("words", ["end the calendar links", "stop the calendar link", "revoke all calendar links"])
def test_the_links_are_ended(words: str) -> None:
    talk = Talk()
    talk.say("20:00", "Ines", "new litter of 2 from Juniper, c-section at 9:40 this morning")
    assert talk.say("20:01", "Ines", words) == "There is no calendar link that could be ended."


@pytest.mark.parametrize("words", ["the calendar link is odd", "my calendar", "pup 3 calendar link", "the link is broken"])
def test_other_words_are_a_note_or_a_question(words: str) -> None:
    talk = Talk()
    talk.say("20:00", "Ines", "new litter of 3 from Juniper, c-section at 9:40 this morning")
    assert "link; here" not in talk.say("20:01", "Ines", words)
