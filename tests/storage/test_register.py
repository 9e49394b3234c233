"""The household's litters, people, devices and invites."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from storage import Device, Invite, Journal, Litter, NotKept, Person
from tests.storage.told import NIGHT, Fact, minutes_later, open_journal


def test_litters_are_opened_named_and_closed(journal: Journal[Fact]) -> None:
    first = journal.register.add_litter("", NIGHT)
    second = journal.register.add_litter("Hazel", minutes_later(1))
    journal.register.rename_litter(first, "Juniper")
    journal.register.close_litter(second, minutes_later(5))
    assert [
        Litter(first, "Juniper", NIGHT, None),
        Litter(second, "Hazel", minutes_later(1), minutes_later(5)),
    ] == journal.register.litters()


def test_a_name_is_one_person_whatever_its_capitals(journal: Journal[Fact]) -> None:
    assert journal.register.add_person("Ines", "keeper", NIGHT)
    assert journal.register.add_person("Theo", "helper", minutes_later(1))
    assert not journal.register.add_person("ines", "helper", minutes_later(2))
    assert [Person("Ines", "keeper", NIGHT), Person("Theo", "helper", minutes_later(1))] == journal.register.people()
    assert Person("Ines", "keeper", NIGHT) == journal.register.person("INES")
    assert journal.register.person("Mara") is None

    journal.register.set_rights("theo", "keeper")
    assert Person("Theo", "keeper", minutes_later(1)) == journal.register.person("Theo")


def test_a_device_is_known_by_its_session_until_it_is_removed(journal: Journal[Fact]) -> None:
    journal.register.add_person("Ines", "keeper", NIGHT)
    journal.register.add_person("Theo", "helper", NIGHT)
    journal.register.add_device("f00d", "Ines", "phone", NIGHT)
    journal.register.add_device("beef", "Theo", "tablet", minutes_later(1))
    journal.register.device_seen("f00d", minutes_later(9))
    journal.register.set_reach("f00d", '{"push": 1}')

    phone = Device("f00d", "Ines", "phone", NIGHT, minutes_later(9), '{"push": 1}')
    tablet = Device("beef", "Theo", "tablet", minutes_later(1), minutes_later(1), None)
    assert phone == journal.register.device("f00d")
    assert [phone, tablet] == journal.register.devices()
    assert [tablet] == journal.register.devices("theo")

    journal.register.remove_device("f00d")
    assert journal.register.device("f00d") is None
    assert [tablet] == journal.register.devices()


def test_a_device_that_was_undone_is_not_known(journal: Journal[Fact]) -> None:
    journal.register.add_person("Ines", "keeper", NIGHT)

    def add_and_fail() -> None:
        with journal.together():
            journal.register.add_device("f00d", "Ines", "phone", NIGHT)
            assert journal.register.device("f00d") is not None
            raise RuntimeError("undone")

    with pytest.raises(RuntimeError):
        add_and_fail()
    assert journal.register.device("f00d") is None


def test_a_device_of_nobody_is_refused_in_words(journal: Journal[Fact]) -> None:
    with pytest.raises(NotKept, match="Nothing was kept"):
        journal.register.add_device("f00d", "nobody", "phone", NIGHT)
    assert journal.register.devices() == []


def test_an_invite_is_good_once_and_until_it_expires(journal: Journal[Fact]) -> None:
    register = journal.register
    register.add_invite("aa", "Ines", "Theo", "helper", NIGHT, NIGHT + timedelta(days=1))
    register.add_invite("bb", "Ines", None, "helper", minutes_later(1), minutes_later(10))

    assert register.use_invite("aa", "Theo", minutes_later(5))
    assert not register.use_invite("aa", "Mara", minutes_later(6))
    assert not register.use_invite("bb", "Mara", minutes_later(10))
    assert not register.use_invite("cc", "Mara", minutes_later(6))

    used = Invite("aa", "Ines", "Theo", "helper", NIGHT, NIGHT + timedelta(days=1), minutes_later(5), "Theo")
    assert used == register.invite("aa")
    assert [used, Invite("bb", "Ines", None, "helper", minutes_later(1), minutes_later(10), None, None)] == register.invites()
    assert register.invite("cc") is None


def test_the_register_is_there_when_the_file_is_opened_again(path: Path) -> None:
    journal = open_journal(path)
    journal.register.add_person("Ines", "keeper", NIGHT)
    journal.register.add_device("f00d", "Ines", "phone", NIGHT)
    journal.close()

    journal = open_journal(path)
    assert [person.name for person in journal.register.people()] == ["Ines"]
    assert Device("f00d", "Ines", "phone", NIGHT, NIGHT, None) == journal.register.device("f00d")
    journal.close()
