"""What a household may set, and the one sentence that a wrong value gets."""

from __future__ import annotations

from pathlib import Path

import pytest

from bot.settings import SetupError, data_home, load


def test_without_a_file_the_settings_are_the_usual_ones(tmp_path: Path) -> None:
    settings = load(data=str(tmp_path))
    assert (settings.port, settings.address, settings.zone, settings.directory) == (8420, "", None, tmp_path)


def test_the_file_in_the_data_directory_is_read(tmp_path: Path) -> None:
    (tmp_path / "lampwatch.toml").write_text('port = 9000\nzone = "America/Chicago"\naddress = "192.168.1.20"\n')
    settings = load(data=str(tmp_path))
    assert (settings.port, str(settings.tz), settings.address) == (9000, "America/Chicago", "192.168.1.20")


def test_the_speaker_speaks_at_its_hours(tmp_path: Path) -> None:
    (tmp_path / "lampwatch.toml").write_text('speaker = true\nspeaker_volume = 60\nspeaker_hours = "22 - 7"\n')
    settings = load(data=str(tmp_path))
    assert (settings.speaker, settings.speaker_volume, settings.speaks) == (True, 60, (22, 7))


def test_the_command_line_goes_before_the_file(tmp_path: Path) -> None:
    (tmp_path / "other.toml").write_text(f'port = 9000\ndata = "{tmp_path / "from the file"}"\n')
    settings = load(config=str(tmp_path / "other.toml"), data=str(tmp_path / "said"), port="9001")
    assert (settings.port, settings.directory) == (9001, tmp_path / "said")


def test_a_file_may_name_the_data_directory(tmp_path: Path) -> None:
    (tmp_path / "other.toml").write_text('data = "~/kennel"\n')
    assert load(config=str(tmp_path / "other.toml")).directory == Path("~/kennel").expanduser()


def test_the_data_directory_is_the_users_own() -> None:
    assert data_home({"XDG_DATA_HOME": "/srv/share"}) == Path("/srv/share/lampwatch")
    assert data_home({}) == Path("~/.local/share/lampwatch").expanduser()
    assert data_home({"XDG_DATA_HOME": "not/absolute"}) == Path("~/.local/share/lampwatch").expanduser()


@pytest.mark.parametrize(
    ("port", "said"),
    [
        ("abc", "--port must be a whole number from 0 to 65535, not 'abc'."),
        ("70000", "--port must be a whole number from 0 to 65535, not '70000'."),
        ("-1", "--port must be a whole number from 0 to 65535, not '-1'."),
        ("²", "--port must be a whole number from 0 to 65535, not '²'."),
        ("", "--port must be a whole number from 0 to 65535, not ''."),
    ],
)
def test_a_wrong_port_is_said_in_one_sentence(tmp_path: Path, port: str, said: str) -> None:
    with pytest.raises(SetupError) as fault:
        load(data=str(tmp_path), port=port)
    assert said == str(fault.value)


@pytest.mark.parametrize(
    ("file", "said"),
    [
        ("prot = 3", "there is no setting 'prot': did you mean port?"),
        (
            "colour = 3",
            "there is no setting 'colour': known are port, address, zone, broker, speaker, speaker_volume, speaker_hours, webhook",
        ),
        ('port = "8420"', "port must be a whole number from 0 to 65535, not '8420'."),
        ("port = true", "port must be a whole number from 0 to 65535, not 'True'."),
        ("port = 8420.5", "port must be a whole number from 0 to 65535, not '8420.5'."),
        ('zone = "America/Chicgo"', "'America/Chicgo' (did you mean America/Chicago?)."),
        ('zone = "New York"', "'New York' (did you mean America/New_York?)."),
        ('zone = "../../etc/passwd"', "(write it like America/Chicago)."),
        ('address = "300.1.1.1"', "an address of this machine such as 192.168.1.20, or empty for all, not '300.1.1.1'."),
        ("speaker = 1", "speaker must be true or false, not '1'."),
        ("speaker_volume = 101", "speaker_volume must be a whole number from 0 to 100, not '101'."),
        (
            'speaker_hours = "ten to four"',
            "speaker_hours must be two hours of the day such as \"22-7\", or empty for all, not 'ten to four'.",
        ),
        ('webhook = "secret-place"', "webhook must be a web address such as http://192.168.1.5/nudges."),
        ('notify = "json://secret@x"', 'notify must be a list of addresses such as ["json://192.168.1.5/nudges"].'),
        ('push_contact = "me"', "push_contact must be an address such as mailto:you@example.org, not 'me'."),
        ('speaker_hours = "7-7"', "speaker_hours must be two hours of the day"),
        ("data = 3", "data must be the path of a directory, in quotes, not '3'."),
        ('broker = "http:secret"', "broker must be the address of a broker such as mqtt://192.168.1.5/lampwatch."),
        ("port = ", "is not TOML"),
        ("\x00", "is not TOML"),
    ],
)
def test_a_wrong_file_is_said_in_one_sentence(tmp_path: Path, file: str, said: str) -> None:
    path = tmp_path / "lampwatch.toml"
    path.write_text(file)
    with pytest.raises(SetupError) as fault:
        load(data=str(tmp_path))
    assert said in str(fault.value)
    assert str(path) in str(fault.value)
    assert "\n" not in str(fault.value)


def test_a_settings_file_that_was_named_must_be_there(tmp_path: Path) -> None:
    with pytest.raises(SetupError, match=r"There is no settings file .*check the name after --config"):
        load(config=str(tmp_path / "none.toml"))


def test_a_settings_file_that_is_a_directory_is_said(tmp_path: Path) -> None:
    with pytest.raises(SetupError, match="cannot be read"):
        load(config=str(tmp_path))
