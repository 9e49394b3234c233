"""Who may come in, by which link, and under which name."""

from __future__ import annotations

from datetime import timedelta
from hashlib import sha256
from pathlib import Path

import pytest

from bot.household import INVITE_HOLDS, Household, JoinRefused, open_household
from tests.conversation.talk import Talk

NOW = Talk().at("03:14")


@pytest.fixture
def house() -> Household:
    return open_household(None, zone="America/Chicago")


def joined(house: Household) -> str:
    """The session of Ines, the keeper."""
    return house.join(house.invite("bot", None, NOW), "Ines", NOW)


def test_the_first_to_join_is_the_keeper(house: Household) -> None:
    session = joined(house)
    assert (house.people(), house.keepers(), house.person(session)) == (["Ines"], ["Ines"], "Ines")


def test_the_next_ones_are_not(house: Household) -> None:
    joined(house)
    house.join(house.invite("Ines", "Theo", NOW), "Theo", NOW)
    assert (house.people(), house.keepers()) == (["Ines", "Theo"], ["Ines"])


def test_a_link_joins_one_device(house: Household) -> None:
    joined(house)
    token = house.invite("Ines", "Theo", NOW)
    assert house.invited(token, NOW) == "Theo"
    house.join(token, "Theo", NOW)
    assert house.invited(token, NOW) is None
    with pytest.raises(JoinRefused, match="was used already"):
        house.join(token, "Marta", NOW)
    assert house.people() == ["Ines", "Theo"]


def test_a_link_is_too_old_after_a_day(house: Household) -> None:
    token = house.invite("bot", None, NOW)
    later = NOW + INVITE_HOLDS + timedelta(seconds=1)
    assert house.invited(token, later) is None
    with pytest.raises(JoinRefused, match="too old"):
        house.join(token, "Ines", later)


def test_a_made_up_token_joins_nobody(house: Household) -> None:
    with pytest.raises(JoinRefused, match="not one of ours"):
        house.join("made-up", "Ines", NOW)
    assert house.person("made-up") is None


def test_nobody_joins_under_the_name_of_someone_else(house: Household) -> None:
    joined(house)
    for invited in (None, "Theo"):
        with pytest.raises(JoinRefused, match="is in the household already"):
            house.join(house.invite("Ines", invited, NOW), "ines", NOW)


def test_a_second_device_of_the_same_person_is_invited_by_name(house: Household) -> None:
    first = joined(house)
    second = house.join(house.invite("Ines", "ines", NOW), "Ines", NOW)
    assert first != second
    assert [house.person(first), house.person(second)] == ["Ines", "Ines"]
    assert house.people() == ["Ines"]


@pytest.mark.parametrize("name", ["", "  ", "bot", "All", "everyone", "mom", "12", "a" * 41, "Ines\x00", "a:b", "<b>"])
def test_some_words_are_no_names(house: Household, name: str) -> None:
    token = house.invite("bot", None, NOW)
    with pytest.raises(JoinRefused):
        house.join(token, name, NOW)
    assert house.invited(token, NOW) == ""


def test_only_hashes_of_secrets_are_kept(tmp_path: Path) -> None:
    house = open_household(tmp_path / "log.db", zone="America/Chicago")
    token = house.invite("bot", None, NOW)
    session = house.join(token, "Ines", NOW)
    house.close()
    kept = b"".join(path.read_bytes() for path in tmp_path.iterdir())
    assert sha256(session.encode()).hexdigest().encode() in kept
    assert session.encode() not in kept
    assert token.encode() not in kept


def test_a_session_outlives_a_restart(tmp_path: Path) -> None:
    house = open_household(tmp_path / "log.db", zone="America/Chicago")
    session = joined(house)
    house.close()
    assert open_household(tmp_path / "log.db", zone="America/Chicago").person(session) == "Ines"


def test_an_invitation_by_chat_gives_a_link_that_joins() -> None:
    talk = Talk()
    talk.house = open_household(None, zone=talk.zone, link=lambda token: f"http://box/join/{token}")
    text = talk.say("21:00", "Ines", "invite Theo")
    assert "Theo is invited" in text
    talk.house.join(text.rsplit("/", 1)[1], "Theo", talk.at("21:05"))
    assert talk.house.people() == ["Ines", "Theo"]


def test_who_is_no_keeper_invites_nobody() -> None:
    talk = Talk()
    talk.say("21:00", "Ines", "new litter of 4 from Juniper")
    heard = talk.hear("21:01", "Theo", "invite Marta")
    assert heard.said[0].does == "setup"
    assert "Only a keeper" in heard.said[0].text
    assert talk.house._journal.register.invites() == []
