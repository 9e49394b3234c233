"""A message, what it meant and what was replied are kept together or not at all."""

from __future__ import annotations

import sqlite3
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from pydantic import BaseModel

from storage import Journal, NewEvent, NewMessage, NotKept
from tests.storage.told import (
    NIGHT,
    Chosen,
    Cleared,
    Fact,
    Weighed,
    browse,
    message,
    minutes_later,
    nudge,
    open_journal,
    reply,
    standing,
    weighed,
)


def test_a_message_its_events_and_its_reply_come_back_as_they_were(journal: Journal[Fact], litter: int) -> None:
    said = NewMessage(
        at=minutes_later(1), by="bot", text="Pup 3: 212 g, cleared.", litter=litter, channel="terminal", to="ines", says="answer",
        does="ask", about="gains", who=(3, "dam"), urgency="soon", values={"3": {"gain_g": 6.5}, "not_weighed": [1, 2]}, owed=True,
    )  # fmt: skip
    kept = journal.write(message("pup 3 212 g cleared", litter), [weighed(3, 212.0), NewEvent(Cleared(who=3))], [said])

    assert not kept.again
    assert kept.entries == tuple(journal.entries(litter))
    assert [Weighed(who=3, grams=212.0), Cleared(who=3)] == standing(journal, litter)
    assert [(kept.message, NIGHT, "ines")] * 2 == [(entry.message, entry.told_at, entry.by) for entry in kept.entries]

    asked, answered = journal.history(litter)
    assert (kept.message, "pup 3 212 g cleared", "ines", None, None) == (asked.id, asked.text, asked.by, asked.reply_to, asked.delivered)
    assert kept.said == (answered.id,)
    assert (kept.message, False) == (answered.reply_to, answered.delivered)
    for field in ("at", "by", "text", "litter", "channel", "client_id", "to", "says", "does", "about", "who", "urgency", "values"):
        assert getattr(said, field) == getattr(answered, field), field


def test_a_message_without_events_keeps_its_words_and_no_event(journal: Journal[Fact], litter: int) -> None:
    kept = journal.write(message("she is so calm tonight", litter))
    assert [kept_message.text for kept_message in journal.messages([kept.message])] == ["she is so calm tonight"]
    assert journal.entries(litter) == []


@pytest.mark.parametrize("text", ["", "x" * 100_000, "a\0b", "🐾 pup 3", "‏גור 3‏", "'; drop table events; --", "line\r\nline"])
def test_no_word_of_any_text_is_lost(journal: Journal[Fact], litter: int, text: str) -> None:
    kept = journal.write(message(text, litter), [NewEvent(Chosen(sets={"text": text}))])
    assert text == journal.messages([kept.message])[0].text
    assert [Chosen(sets={"text": text})] == standing(journal, litter)


def test_moments_are_kept_in_utc_and_are_the_same_moments(journal: Journal[Fact], litter: int) -> None:
    chicago = timezone(timedelta(hours=-6))
    told = datetime(2026, 3, 2, 3, 14, 15, 123456, tzinfo=chicago)
    happened = datetime(2026, 3, 2, 1, 0, tzinfo=chicago)
    kept = journal.write(message("pup 3 212 at 1", litter, at=told), [weighed(3, 212.0, at=happened)])
    (entry,) = journal.entries(litter)
    (line,) = journal.history(litter)
    assert (told, UTC) == (entry.told_at, entry.told_at.tzinfo)
    assert (told, UTC) == (line.at, line.at.tzinfo)
    assert happened == entry.event.at
    assert kept.entries == (entry,)


def test_an_event_keeps_what_was_said_and_no_more(journal: Journal[Fact], litter: int) -> None:
    unsaid, emptied = Cleared(who=3), Cleared(who=3, with_=None)
    journal.write(message("cleared 3", litter), [NewEvent(unsaid), NewEvent(emptied), NewEvent(Chosen(sets={"watch": None}))])
    first, second, third = standing(journal, litter)
    assert unsaid.model_fields_set - {"kind"} == first.model_fields_set
    assert emptied.model_fields_set - {"kind"} == second.model_fields_set
    assert Chosen(sets={"watch": None}) == third


def test_a_field_with_another_name_in_json_comes_back(journal: Journal[Fact], litter: int) -> None:
    journal.write(message("3 cleared with the bulb", litter), [NewEvent(Cleared(who=3, with_="bulb", by="ines"))])
    assert [Cleared(who=3, with_="bulb", by="ines")] == standing(journal, litter)


def test_the_same_words_of_two_kinds_are_not_confused(journal: Journal[Fact], litter: int) -> None:
    class Napped(Cleared):
        kind: str = "napped"  # type: ignore[assignment]

    both: Journal[Fact] = Journal(None, {"cleared": Cleared, "napped": Napped})
    room = both.register.add_litter("Juniper", NIGHT)
    both.write(message("3 cleared, napped", room), [NewEvent(Cleared(who=3)), NewEvent(Napped(who=3))])
    assert [Cleared, Napped] == [type(event) for event in standing(both, room)]
    both.close()


def test_a_write_that_fails_at_its_last_row_leaves_nothing(journal: Journal[Fact], litter: int) -> None:
    journal.say([nudge("Pup 3 is due.", litter, "nursing/3/1")])
    before = journal.history(None)
    with pytest.raises(NotKept, match="said once"):
        journal.write(message("pup 3 212", litter), [weighed(3, 212.0)], [nudge("Pup 3 is due.", litter, "nursing/4/1", "nursing/3/1")])
    assert before == journal.history(None)
    assert journal.entries(litter) == []
    assert {"nursing/3/1"} == journal.told(litter)
    assert journal.write(message("pup 3 212", litter), [weighed(3, 212.0)]).entries == tuple(journal.entries(litter))


@pytest.mark.parametrize(
    ("event", "why"),
    [
        (Weighed(who=2**70, grams=212.0), "Nothing was kept"),
        (Cleared(who=3, by="\ud800"), "broken character"),
    ],
)
def test_what_no_file_can_hold_is_refused_in_words_and_leaves_nothing(journal: Journal[Fact], litter: int, event: Fact, why: str) -> None:
    with pytest.raises(NotKept, match=why):
        journal.write(message("pup 3 212", litter), [NewEvent(event)])
    assert journal.history(None) == []


def test_a_broken_character_in_the_words_is_refused_in_words(journal: Journal[Fact], litter: int) -> None:
    with pytest.raises(NotKept, match="broken character"):
        journal.write(message("pup 3 \ud800", litter))
    assert journal.history(None) == []


def test_a_full_disk_is_told_in_words_and_leaves_nothing(journal: Journal[Fact], litter: int) -> None:
    (pages,) = browse(journal, "pragma page_count")
    browse(journal, f"pragma max_page_count = {pages['page_count']}")
    with pytest.raises(NotKept, match="the disk is full"):
        journal.write(message("pup 3 " + "212 " * 10_000, litter), [weighed(3, 212.0)])
    assert journal.history(None) == []
    assert journal.entries(litter) == []


def test_a_moment_without_a_zone_is_refused(journal: Journal[Fact], litter: int) -> None:
    with pytest.raises(ValueError, match="must know its zone"):
        journal.write(message("pup 3 212", litter, at=NIGHT.replace(tzinfo=None)))
    assert journal.history(None) == []


def test_an_event_without_a_litter_is_refused(journal: Journal[Fact]) -> None:
    with pytest.raises(ValueError, match="of which litter"):
        journal.write(message("pup 3 212", None), [weighed(3, 212.0)])
    assert journal.history(None) == []


def test_an_event_of_a_kind_that_could_not_be_read_again_is_refused(journal: Journal[Fact], litter: int) -> None:
    class Stray(Fact):
        kind: str = "stray"

    with pytest.raises(ValueError, match="'stray'"):
        journal.write(message("stray", litter), [NewEvent(Stray())])
    assert journal.history(None) == []


def test_models_that_could_be_changed_after_they_were_kept_are_refused() -> None:
    class Loose(BaseModel):
        kind: str = "loose"

    with pytest.raises(ValueError, match="must be frozen: loose"):
        Journal(None, {"loose": Loose})


def test_several_verbs_made_together_are_kept_together(journal: Journal[Fact]) -> None:
    def break_off() -> None:
        with journal.together():
            room = journal.register.add_litter("Juniper", NIGHT)
            journal.write(message("pup 3 212", room), [weighed(3, 212.0)])
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        break_off()
    assert journal.register.litters() == []
    assert journal.history(None) == []

    with journal.together():
        room = journal.register.add_litter("Juniper", NIGHT)
        journal.write(message("pup 3 212", room), [weighed(3, 212.0)])
    assert [Weighed(who=3, grams=212.0)] == standing(journal, room)


def test_a_refusal_inside_a_block_leaves_the_rest_of_the_block_whole(journal: Journal[Fact], litter: int) -> None:
    with journal.together():
        journal.write(message("pup 3 212", litter), [weighed(3, 212.0)])
        with pytest.raises(NotKept):
            journal.write(message("pup 4 \ud800", litter), [weighed(4, 200.0)])
    assert [Weighed(who=3, grams=212.0)] == standing(journal, litter)


@pytest.mark.parametrize(
    "change",
    [
        "delete from messages",
        "delete from events",
        "delete from told",
        "update messages set text = 'pup 3 999'",
        "update events set body = '{}'",
        "update told set cause = 'other'",
    ],
)
def test_the_file_itself_refuses_to_forget(journal: Journal[Fact], litter: int, change: str) -> None:
    journal.write(message("pup 3 212", litter), [weighed(3, 212.0)], [nudge("Pup 3 is due.", litter, "nursing/3/1")])
    before = (list(journal.log()), journal.told(litter))
    with pytest.raises(sqlite3.IntegrityError):
        browse(journal, change)
    assert (list(journal.log()), journal.told(litter)) == before


def test_the_history_pages_forwards_and_backwards(journal: Journal[Fact], litter: int) -> None:
    ids = [journal.write(message(f"note {n}", litter, at=minutes_later(n)), said=[reply("Kept.", litter)]).message for n in range(5)]
    everything = journal.history(litter)
    assert len(everything) == 10
    assert sorted(line.id for line in everything) == [line.id for line in everything]
    assert everything[-3:] == journal.history(litter, limit=3)
    assert everything[4:7] == journal.history(litter, after=everything[3].id, limit=3)
    assert everything[3:6] == journal.history(litter, before=everything[6].id, limit=3)
    assert everything[:2] == journal.history(litter, before=everything[2].id)
    assert journal.history(litter, after=everything[-1].id) == []
    assert [ids[3], ids[1]] == [line.id for line in journal.messages([ids[3], 999, ids[1]])]


def test_the_file_that_is_written_ahead_stays_short_where_there_are_quiet_moments(path: Path) -> None:
    journal = open_journal(path)
    room = journal.register.add_litter("Juniper", NIGHT)
    ahead = path.with_name(f"{path.name}-wal")
    sizes: list[int] = []
    for n in range(200):
        kept = journal.write(
            message(f"pup {n} 212", room, at=minutes_later(n)), [weighed(n, 212.0)], [reply("Kept.", room)._replace(owed=True)]
        )
        journal.mark_delivered(kept.said)
        sizes.append(ahead.stat().st_size)
    assert max(sizes) < 500_000
    journal.close()


def test_it_is_known_when_a_litter_was_last_heard_of(path: Path) -> None:
    journal = open_journal(path)
    first, second = (journal.register.add_litter(name, NIGHT) for name in ("Juniper", "Bramble"))
    assert journal.last_heard(first) is None
    later = NIGHT + timedelta(minutes=5)
    journal.write(message("pup 3 cleared", first), said=[reply("Pup 3: cleared.", first)])
    journal.write(message("30 C", first)._replace(at=later, channel="sensor"))
    journal.write(message("pup 1 cleared", second)._replace(at=later))
    journal.say([nudge("Pup 3 is due.", first, "nursing/3/1")])
    journal.close()

    journal = open_journal(path)
    assert journal.last_heard(first, besides=("sensor", "import")) == NIGHT
    assert journal.last_heard(first) == journal.last_heard(second) == later
    journal.close()
