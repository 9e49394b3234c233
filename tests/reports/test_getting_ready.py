"""The list for the way home in words: the open things by group, then what is done; before there is any pup."""

from __future__ import annotations

from tests.care.written_log import Log, event
from tests.reports.asking import ask


def test_in_an_empty_log_all_of_it_is_open_on_one_screen() -> None:
    answer = ask(Log(), "2026-02-28 18:00", "getting ready")
    lines = answer.text.splitlines()
    assert lines[0] == "Ready for the way home: 0 of 12 done."
    assert lines[1].startswith("Warmth: box pre-warmed to 84 to 90 F, with a cool side; warm carrier for the pups, apart from the dam")
    assert "Hands: gloves; gowns." in lines
    assert "Common practice" in lines[-1]
    assert len(lines) <= 12
    assert answer.values["done"] == []
    assert answer.values["open"] == [
        "box", "carrier", "bedding", "scale", "thermometer", "aspirator", "bulbs", "gloves", "gowns", "milk", "vet", "emergency",
    ]  # fmt: skip


def test_what_is_done_is_told_apart() -> None:
    log = (
        Log().at("2026-02-28 18:00", event("note", text="gloves done")).at("2026-02-28 18:05", event("climate", place="box", celsius=30.0))
    )
    answer = ask(log.at("2026-02-28 18:06", temperatures_in="C"), "2026-02-28 18:10", "getting ready")
    assert "Done: box, gloves." in answer.text
    assert "Hands: gowns." in answer.text
    assert answer.values["done"] == ["box", "gloves"]


def test_when_all_is_done_nothing_is_asked_for() -> None:
    log = Log().at("2026-02-28 18:00", event("note", text="box, carrier, bedding, scale, thermometer, aspirator, bulbs done"))
    log.at("2026-02-28 18:01", event("note", text="gloves, gowns, milk, vet and emergency done"))
    answer = ask(log, "2026-02-28 18:10", "getting ready")
    assert answer.text.splitlines()[0] == "Ready for the way home: 12 of 12 done."
    assert len(answer.text.splitlines()) == 2
    assert answer.values["open"] == []
