"""Signs: every row of the table, what is seen together, how long it stands and when it is said again.

The rows, their urgency and their names are those of our care contract, which takes them from the triage of Veterinary Focus 32.1 and
26.1, the Home Veterinary Handbook and the other sources of bot/care/signs.toml; the spans of time are *derived*.
"""

from __future__ import annotations

import pytest

from bot.care.figures import source_in_short
from bot.care.notice import EVERYONE
from bot.care.notices import standing, warnings
from bot.care.sign_table import table
from parsers.events.sign import DamSign, PupSign
from tests.care.warned import stands, told_one_by_one, warned
from tests.care.written_log import Log, event, litter

DAY_TWO = "2026-03-03"
"""The litter is born on 1 March at 9:40."""


def seen(*told: tuple[str, int | str, str], log: Log | None = None) -> Log:
    """Signs told one after the other: (time, who, sign)."""
    log = log or litter()
    for wall, who, sign in told:
        log.at(f"{DAY_TWO} {wall}", event("sign", who, sign=sign))
    return log


PUP_ALONE = {
    "emergency": ("gasping", "blue gums", "pale gums", "limp"),
    "vet today": (
        *("aspirated", "cleft", "weak", "bloated", "vomiting", "diarrhea", "dehydrated", "wound", "navel swollen", "eye discharge"),
        "not nursing",
    ),
    "soon": ("congested", "restless", "thin", "crying"),
}


@pytest.mark.parametrize(("urgency", "sign"), [(urgency, sign) for urgency, signs in PUP_ALONE.items() for sign in signs])
def test_a_sign_of_a_pup_alone(urgency: str, sign: str) -> None:
    assert warned(seen(("03:14", 3, sign)), f"{DAY_TWO} 03:14") == [f"sign 3 {urgency}"]


@pytest.mark.parametrize(
    ("sign", "line"), [("milk at nose", "milk at nose 3 vet today"), ("cold", "cold pup 3 soon"), ("hot", "hot pup 3 soon")]
)
def test_signs_with_a_name_of_their_own(sign: str, line: str) -> None:
    assert warned(seen(("03:14", 3, sign)), f"{DAY_TWO} 03:14") == [line]


def test_a_pup_that_twitches_in_its_sleep_is_well() -> None:
    assert warned(seen(("03:14", 3, "twitching")), f"{DAY_TWO} 03:14") == []


def test_every_sign_of_the_reader_has_a_row_or_is_known_to_need_company() -> None:
    for whose, signs, alone_is_well in (
        ("pup", PupSign.__args__, {"twitching"}),  # type: ignore[attr-defined]
        ("dam", DamSign.__args__, {"panting", "restless", "green discharge"}),  # type: ignore[attr-defined]
    ):
        alone = {name for row in table(whose) if not row.with_ for name in row.seen}
        assert set(signs) - alone == alone_is_well


@pytest.mark.parametrize(
    ("first", "second", "minutes", "lines"),
    [
        ("twitching", "limp", 119, ["sign 3 emergency"]),
        ("twitching", "not nursing", 120, ["sign 3 emergency"]),
        ("twitching", "not nursing", 121, ["sign 3 vet today"]),
        ("milk at nose", "gasping", 120, ["milk at nose 3 emergency"]),
        ("milk at nose", "congested", 60, ["milk at nose 3 emergency"]),
        ("congested", "milk at nose", 60, ["milk at nose 3 emergency"]),
        ("milk at nose", "blue gums", 0, ["milk at nose 3 emergency"]),
        ("milk at nose", "limp", 120, ["milk at nose 3 emergency"]),
        ("milk at nose", "limp", 121, ["sign 3 emergency", "milk at nose 3 vet today"]),
        ("milk at nose", "congested", 121, ["milk at nose 3 vet today", "sign 3 soon"]),
        ("milk at nose", "pale gums", 60, ["sign 3 emergency", "milk at nose 3 vet today"]),
        ("aspirated", "congested", 120, ["sign 3 emergency"]),
        ("aspirated", "congested", 121, ["sign 3 vet today"]),
        ("aspirated", "gasping", 60, ["sign 3 emergency"]),
        ("crying", "crying", 120, ["sign 3 vet today"]),
        ("crying", "crying", 121, ["sign 3 soon"]),
    ],
)
def test_signs_of_a_pup_seen_together(first: str, second: str, minutes: int, lines: list[str]) -> None:
    later = f"{5 + minutes // 60:02d}:{minutes % 60:02d}"
    assert warned(seen(("05:00", 3, first), (later, 3, second)), f"{DAY_TWO} {later}") == lines


def test_signs_of_two_pups_are_not_seen_together() -> None:
    assert warned(seen(("05:00", 3, "twitching"), ("05:10", 4, "limp")), f"{DAY_TWO} 05:10") == ["sign 4 emergency"]


@pytest.mark.parametrize(
    ("toilet", "lines"),
    [
        ({"urine": True, "look": "yellow"}, ["sign 3 vet today"]),
        ({"urine": True, "look": "dark"}, ["sign 3 vet today"]),
        ({"urine": True, "look": "bloody"}, ["sign 3 vet today"]),
        ({"urine": True, "look": "normal"}, []),
        ({"stool": True, "look": "gray"}, ["sign 3 vet today"]),
        ({"stool": True, "look": "white"}, ["sign 3 vet today"]),
        ({"stool": True, "look": "bloody"}, ["sign 3 vet today"]),
        ({"stool": True, "look": "watery"}, ["sign 3 vet today"]),
        ({"stool": True, "urine": True, "look": "gray"}, ["sign 3 vet today"]),
        ({"stool": True, "look": "yellow"}, []),
        ({"stool": True, "look": "mustard"}, []),
        ({"stool": True, "look": "loose"}, []),
        ({"stool": True, "look": "green"}, []),
        ({"stool": False, "urine": False}, []),
    ],
)
def test_looks_of_what_a_pup_passed(toilet: dict[str, object], lines: list[str]) -> None:
    assert warned(litter().at(f"{DAY_TWO} 03:14", event("toilet", 3, **toilet)), f"{DAY_TWO} 03:14") == lines


DAM_ALONE = {
    "low calcium signs dam emergency": ("trembling", "stiff", "seizure"),
    "sign dam emergency": ("heavy bleeding", "incision open"),
    "sign dam vet today": (
        *("foul discharge", "green discharge", "breast hot", "incision swollen", "incision discharge", "vomiting", "diarrhea", "weak"),
        *("rejecting pups", "mouthing pups hard", "growling", "lay on pup", "pale gums"),
    ),
}


@pytest.mark.parametrize(("line", "sign"), [(line, sign) for line, signs in DAM_ALONE.items() for sign in signs])
def test_a_sign_of_the_dam_alone(line: str, sign: str) -> None:
    assert warned(seen(("03:14", "dam", sign)), f"{DAY_TWO} 03:14") == [line]


@pytest.mark.parametrize("sign", ["panting", "restless"])
def test_a_dam_that_pants_or_is_restless_and_no_more_is_left_in_peace(sign: str) -> None:
    assert warned(seen(("03:14", "dam", sign)), f"{DAY_TWO} 03:14") == []


@pytest.mark.parametrize(
    ("first", "second", "minutes", "lines"),
    [
        ("panting", "restless", 180, ["low calcium signs dam vet today"]),
        ("panting", "restless", 181, []),
        ("panting", "panting", 10, []),
        ("panting", "growling", 180, ["low calcium signs dam vet today", "sign dam vet today"]),
        ("rejecting pups", "restless", 60, ["sign dam vet today", "low calcium signs dam vet today"]),
        ("rejecting pups", "growling", 60, ["sign dam vet today"]),
        ("weak", "pale gums", 12 * 60, ["sign dam emergency"]),
        ("weak", "pale gums", 12 * 60 + 1, ["sign dam vet today"]),
    ],
)
def test_signs_of_the_dam_seen_together(first: str, second: str, minutes: int, lines: list[str]) -> None:
    later = f"{5 + minutes // 60:02d}:{minutes % 60:02d}"
    assert sorted(warned(seen(("05:00", "dam", first), (later, "dam", second)), f"{DAY_TWO} {later}")) == sorted(lines)


@pytest.mark.parametrize(("celsius", "urgency"), [(39.6, "emergency"), (39.5, "vet today")])
def test_a_weak_dam_with_a_fever_is_an_emergency(celsius: float, urgency: str) -> None:
    log = litter().at(f"{DAY_TWO} 05:00", event("temperature", "dam", celsius=celsius))
    assert f"sign dam {urgency}" in warned(seen(("17:00", "dam", "weak"), log=log), f"{DAY_TWO} 17:00")


@pytest.mark.parametrize(("wall", "lines"), [("2026-03-02 09:40", []), ("2026-03-02 09:41", ["sign dam vet today"])])
def test_green_discharge_is_usual_for_a_day_after_the_birth(wall: str, lines: list[str]) -> None:
    """LSU: green for more than 24 to 26 hours."""
    assert warned(litter().at(wall, event("sign", "dam", sign="green discharge")), wall) == lines


# A meal not eaten


TWICE = [("08:00", "soon"), ("09:00", "vet today"), ("11:01", "vet today")]


def test_a_dam_that_ate_nothing_is_looked_at_soon_and_the_second_time_goes_to_the_vet() -> None:
    log = litter()
    for wall in ("02 08:00", "02 09:00", "02 09:30", "02 11:01"):
        log.at(f"2026-03-{wall}", event("intake", "dam", what="food", amount="none"))
    assert told_one_by_one(log) == [
        "08:00 dam not eating dam soon",
        "09:00 dam not eating dam vet today",
        "11:01 dam not eating dam vet today",
    ]


@pytest.mark.parametrize(("wall", "urgency"), [("2026-03-03 08:00", "vet today"), ("2026-03-03 08:01", "soon")])
def test_twice_is_within_a_day(wall: str, urgency: str) -> None:
    log = litter().at("2026-03-02 08:00", event("intake", "dam", what="food", amount="none"))
    assert stands(log.at(wall, event("intake", "dam", amount="none")), wall) == [f"dam not eating dam {urgency}"]


@pytest.mark.parametrize(("what", "amount"), [("water", "none"), ("food", "little"), ("food", "half")])
def test_other_meals_are_no_concern(what: str, amount: str) -> None:
    assert warned(litter().at("2026-03-02 08:00", event("intake", "dam", what=what, amount=amount)), "2026-03-02 08:00") == []


def test_it_stands_until_she_eats() -> None:
    log = litter().at("2026-03-02 08:00", event("intake", "dam", what="food", amount="none"))
    assert stands(log, "2026-03-03 07:59") == ["dam not eating dam soon"]
    assert stands(log.at("2026-03-02 12:00", event("intake", "dam", what="water", amount="all")), "2026-03-02 12:00") != []
    assert stands(log.at("2026-03-02 13:00", event("intake", "dam", what="food", amount="most")), "2026-03-02 13:00") == []


# Said once, and again only after a while or where it is worse


def test_the_same_sign_within_two_hours_is_said_once() -> None:
    log = seen(("03:00", 3, "limp"), ("04:59", 3, "limp"), ("05:00", 3, "limp"), ("05:01", 3, "limp"))
    assert told_one_by_one(log) == ["03:00 sign 3 emergency", "05:01 sign 3 emergency"]


def test_another_sign_and_another_pup_are_said() -> None:
    log = seen(("03:00", 3, "weak"), ("03:10", 3, "bloated"), ("03:20", 4, "weak"))
    assert told_one_by_one(log) == ["03:00 sign 3 vet today", "03:10 sign 3 vet today", "03:20 sign 4 vet today"]


def test_what_becomes_worse_is_said_at_once() -> None:
    log = seen(("03:00", 3, "crying"), ("03:10", 3, "crying"), ("03:20", 3, "crying"))
    assert told_one_by_one(log) == ["03:00 sign 3 soon", "03:10 sign 3 vet today"]
    log = seen(("03:00", 3, "milk at nose"), ("03:30", 3, "congested"), ("03:40", 3, "limp"))
    assert told_one_by_one(log) == ["03:00 milk at nose 3 vet today", "03:30 milk at nose 3 emergency"]


def test_a_correction_that_makes_it_less_is_not_said_again() -> None:
    log = litter().at(f"{DAY_TWO} 03:00", event("temperature", 3, celsius=34.0))
    told = {cause for notice in warnings(log.nursery(), set(), log.moment(f"{DAY_TWO} 03:00")) for cause in notice.causes}
    entry = log.entries.pop()
    log.at(f"{DAY_TWO} 03:00", event("temperature", 3, celsius=34.8))
    assert log.entries[-1].told_at == entry.told_at
    assert warned(log, f"{DAY_TWO} 03:01", told) == []
    assert stands(log, f"{DAY_TWO} 03:01") == ["cold pup 3 vet today"]


def test_a_sign_stands_for_half_a_day() -> None:
    log = seen(("03:00", 3, "weak"))
    assert stands(log, f"{DAY_TWO} 14:59") == ["sign 3 vet today"]
    assert stands(log, f"{DAY_TWO} 15:00") == []


def test_what_was_seen_longer_ago_is_left_to_the_handover() -> None:
    log = litter()
    log.at("2026-03-03 20:00", event("sign", 3, sign="limp", at=log.moment("2026-03-03 07:59")))
    assert warned(log, "2026-03-03 20:00") == []
    log.at("2026-03-03 20:01", event("sign", 3, sign="limp", at=log.moment("2026-03-03 08:02")))
    assert warned(log, "2026-03-03 20:01") == ["sign 3 emergency"]


def test_not_nursing_ends_with_a_nursing_and_no_pup_is_warned_of_once_it_died() -> None:
    log = seen(("03:00", 3, "not nursing"), ("03:00", 4, "limp"))
    assert stands(log, f"{DAY_TWO} 04:00") == ["sign 4 emergency", "sign 3 vet today"]
    log.at(f"{DAY_TWO} 04:10", event("nursed", 3)).at(f"{DAY_TWO} 04:10", event("died", 4))
    assert [one for one in stands(log, f"{DAY_TWO} 04:10") if one.startswith("sign")] == []


# To whom, and in which words


def test_soon_goes_to_who_is_on_duty_and_the_rest_to_all() -> None:
    log = seen(("03:00", 3, "thin"), ("03:00", 4, "weak"))
    assert [notice.to for notice in warnings(log.nursery(), set(), log.moment(f"{DAY_TWO} 03:00"))] == [EVERYONE, EVERYONE]
    log = seen(("03:00", 3, "thin"), ("03:00", 4, "weak"), log=litter().at(f"{DAY_TWO} 00:00", on_duty="Theo"))
    assert [notice.to for notice in warnings(log.nursery(), set(), log.moment(f"{DAY_TWO} 03:00"))] == [EVERYONE, "Theo"]


def test_an_emergency_says_the_act_then_the_reason_then_the_source_with_the_stored_numbers() -> None:
    phones = [{"of": "vet", "number": "555 0134", "name": "Dr Hale"}, {"of": "emergency", "number": "555 0199"}]
    log = seen(("03:00", 3, "milk at nose"), ("03:20", 3, "gasping"), log=litter().at(f"{DAY_TWO} 00:00", phone=phones))
    [notice] = standing(log.nursery(), log.moment(f"{DAY_TWO} 03:20"))
    assert notice.text == (
        "Pup 3: stop the feed, hold the head level, clear mouth and nose, nothing by mouth, "
        "and call your vet or the emergency clinic now (Dr Hale 555 0134, emergency clinic 555 0199). "
        "Seen: milk at nose with gasping. Milk may be in the lungs. Source: veterinary proceedings."
    )


def test_pups_with_the_same_sign_come_in_one_warning_and_all_signs_of_a_pup_too() -> None:
    log = litter().at(f"{DAY_TWO} 03:00", *[event("sign", pup, sign="weak") for pup in (1, 2)], event("sign", 4, sign="limp"))
    log.at(f"{DAY_TWO} 03:00", event("sign", 4, sign="thin"))
    found = standing(log.nursery(), log.moment(f"{DAY_TWO} 04:00"))
    assert [(notice.who, notice.urgency) for notice in found] == [((4,), "emergency"), ((1, 2), "vet today")]
    assert "Seen at 3:00 am: limp and thin." in found[0].text


def test_no_warning_is_longer_than_sixty_words_or_names_an_amount_of_a_drug() -> None:
    phones = [{"of": of, "number": "+1 507 555 0134", "name": name} for of, name in (("vet", "Dr Hale"), ("emergency", "Ridge clinic"))]
    for whose in ("pup", "dam"):
        for row in table(whose):
            assert source_in_short(row.source)
            assert not any(word in row.act for word in ("mg", "ml", "tablet", "dose"))
    for who, signs in (("dam", DamSign.__args__), (3, PupSign.__args__)):  # type: ignore[attr-defined]
        for first in signs:
            for second in signs:
                log = litter().at(f"{DAY_TWO} 00:00", phone=phones, name=[{"pup": 3, "as": "Olive Marigold"}])
                log.at(f"{DAY_TWO} 03:00", event("sign", who, sign=first), event("sign", who, sign=second))
                for notice in standing(log.nursery(), log.moment(f"{DAY_TWO} 03:30")):
                    assert len(notice.text.split()) <= 60, notice.text


def test_a_whole_litter_is_one_subject_and_many_names_give_way_to_numbers() -> None:
    phones = [{"of": of, "number": "+1 507 555 0134", "name": name} for of, name in (("vet", "Dr Hale"), ("emergency", "Ridge clinic"))]
    named = [{"pup": pup, "as": f"Olive Marigold {pup}"} for pup in range(1, 11)]
    for pups, subject in ((range(1, 11), "All 10 pups: "), (range(1, 10), "Pups 1, 2, 3, 4, 5, 6, 7, 8 and 9: ")):
        log = litter(10).at(f"{DAY_TWO} 00:00", phone=phones, name=named)
        log.at(f"{DAY_TWO} 03:00", *[event("sign", pup, sign="limp") for pup in pups])
        [notice] = standing(log.nursery(), log.moment(f"{DAY_TWO} 03:30"))
        assert notice.text.startswith(subject)
        assert len(notice.text.split()) <= 60
