"""The top of the page: what is next and for whom, the watch, the box, what is wrong, and a row for each pup by need."""

from __future__ import annotations

from tests.conversation.talk import Talk


def test_a_glance_tells_what_is_next_and_who_needs_someone_most() -> None:
    talk = Talk()
    talk.say("03:00", "Ines", "new litter of 3 from Juniper, c-section at 1:00 am")
    talk.say("03:01", "Ines", "skip all")
    assert talk.house.glance(talk.at("03:01"))[0]["watch"] is None
    talk.say("03:02", "Ines", "1 200, 2 210, 3 205")
    talk.say("03:12", "Ines", "all nursed 10 and cleared")
    talk.say("03:13", "Ines", "I'm on until 5 am")
    talk.say("03:14", "Ines", "box 30 C")
    talk.say("03:15", "Ines", "pup 2 limp")
    (shown,) = talk.house.glance(talk.at("03:15"))
    assert shown["name"] == "Juniper's litter"
    assert (shown["now"], shown["watch"], shown["until"]) == ("2026-03-02T03:15:00-06:00", "Ines", "2026-03-02T05:00:00-06:00")
    assert shown["late"] == []
    assert shown["box"] == {"said": "box 86 F", "at": "2026-03-02T03:14:00-06:00"}
    assert shown["worries"] == ["Emergency: limp (Pup 2)"]
    assert shown["next"]["care"] in ("toilet", "supervision")
    first = shown["rows"][0]
    assert (first["n"], first["grams"], first["fed_at"]) == (2, 210.0, "2026-03-02T03:02:00-06:00")
    assert first["worry"]["urgency"] == "emergency"
    assert [row["n"] for row in shown["rows"]] == [2, 1, 3]
    assert all(row["due_at"].startswith("2026-03-02T03:4") for row in shown["rows"])


def test_a_pup_that_died_has_no_row_and_an_empty_store_has_no_glance() -> None:
    talk = Talk()
    assert talk.house.glance(talk.at("03:00")) == []
    talk.say("03:00", "Ines", "new litter of 2 from Juniper, c-section at 1:00 am")
    talk.say("03:05", "Ines", "pup 1 died")
    assert [row["n"] for row in talk.house.glance(talk.at("03:06"))[0]["rows"]] == [2]
