"""`lampwatch serve` and the commands that talk to it, each in a process of its own."""

from __future__ import annotations

import json
import re
import signal
import socket
import stat
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.app.served import COMMAND, ROOT, Served, environment, run, serving

LITTER = "new litter of 5 from Juniper, c-section 20 hours ago"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One bot for the tests that only talk to it."""
    with serving(tmp_path_factory.mktemp("served") / "data") as bot:
        yield bot


def test_a_start_shows_the_page_the_log_the_link_and_its_picture(served: Served) -> None:
    assert served.link in served.printed
    assert any(str(served.data / "lampwatch.db") in line for line in served.printed)
    assert sum("█" in line for line in served.printed) > 12
    with pytest.raises(urllib.error.HTTPError) as refused:
        urllib.request.urlopen(f"http://127.0.0.1:{served.port}/")
    refused.value.close()
    assert refused.value.code == 401
    with urllib.request.urlopen(served.local_link) as form:
        assert form.status == 200


def test_only_the_owner_can_open_the_data_and_the_terminals_socket(served: Served) -> None:
    assert stat.S_IMODE(served.data.stat().st_mode) == 0o700
    assert stat.S_IMODE((served.data / "lampwatch.sock").stat().st_mode) == 0o600


def test_what_is_said_is_kept_read_back_and_logged(served: Served) -> None:
    said = run("say", "pup 3 212 g nursed 15 min cleared", "--as", "Ines", data=served.data)
    assert (said.returncode, said.stderr) == (0, "")
    assert "Pup 3: 212 g, nursed 15 min, cleared." in said.stdout
    log = [json.loads(line) for line in run("log", "--json", data=served.data).stdout.splitlines()]
    mine = next(line for line in log if line["text"] == "pup 3 212 g nursed 15 min cleared")
    assert mine["by"] == "Ines"
    assert [event["kind"] for event in mine["events"]] == ["weight", "nursed", "cleared"]
    assert mine["at"].endswith(("-06:00", "-05:00"))
    assert any(line["by"] == "bot" and line["says"] == "reply" for line in log)


def test_the_log_shows_what_stands_what_was_corrected_and_what_was_set_up(tmp_path: Path) -> None:
    with serving(tmp_path / "data") as bot:
        for words in ("new litter of 5 from Juniper, c-section 20 hours ago", "pup 3 212 g", "no, 221", "pup 4 cleared", "undo"):
            bot.say(words)
        bot.say("\x1b[2J gone\nsecond row", by="Theo")
    log = [json.loads(line) for line in run("log", "--json", data=tmp_path / "data").stdout.splitlines()]
    litter, weighed, corrected, cleared, undone = (line for line in log if line["by"] == "Ines")
    assert litter["events"] == []
    assert (litter["setup"]["sets"]["litter"]["pups"], litter["setup"]["sets"]["litter"]["dam"]) == (5, "Juniper")
    assert (weighed["events"], weighed["corrected"]) == ([], [{"kind": "weight", "who": 3, "grams": 212.0}])
    assert corrected["events"] == [{"kind": "weight", "who": 3, "grams": 221.0}]
    assert (cleared["events"], cleared["corrected"]) == ([], [{"kind": "cleared", "who": 4}])
    assert undone["events"] == []
    words = run("log", data=tmp_path / "data").stdout
    assert "Ines: pup 3 212 g  (1 of its entries corrected or undone since)" in words
    assert "bot: Pup 4: cleared." in words
    assert "Theo: \ufffd[2J gone\n    second row" in words
    assert "\x1b" not in words


def test_lines_from_standard_input_are_answered_one_by_one(served: Served) -> None:
    said = run("say", "-", "--json", "--as", "Ines", data=served.data, given="pup 1 205 g\npup 2 188 g\r\npup 2 cleared")
    answers = [json.loads(line) for line in said.stdout.splitlines()]
    assert said.returncode == 0
    assert [answer["kept"] for answer in answers] == [True, True, True]
    assert [answer["text"].splitlines()[-1] for answer in answers] == ["Pup 1: 205 g.", "Pup 2: 188 g.", "Pup 2: cleared."]
    assert len({answer["id"] for answer in answers}) == 3


def test_each_line_is_answered_before_the_next_is_said(served: Served) -> None:
    command = [*COMMAND, "say", "-", "--json", "--as", "Ines", "--data", str(served.data)]
    with subprocess.Popen(
        command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=environment(served.data)
    ) as saying:
        assert saying.stdin is not None
        assert saying.stdout is not None
        for number in (1, 2, 3):
            saying.stdin.write(f"pup {number} cleared\n")
            saying.stdin.flush()
            assert json.loads(saying.stdout.readline())["kept"] is True
        saying.stdin.close()
        assert saying.wait(10) == 0


def test_what_is_not_kept_ends_with_another_code(served: Served) -> None:
    empty = run("say", "  ", data=served.data)
    assert empty.returncode == 1
    assert "nothing was kept" in empty.stderr
    some = run("say", "-", "--json", "--as", "Ines", data=served.data, given="pup 1 cleared\n\npup 2 cleared\n")
    assert some.returncode == 1
    assert [json.loads(line)["kept"] for line in some.stdout.splitlines()] == [True, False, True]


def test_a_name_that_cannot_be_one_is_refused(served: Served) -> None:
    said = run("say", "pup 3 212", "--as", "bot", data=served.data)
    assert said.returncode == 1
    assert "Nothing was kept" in said.stderr


@pytest.mark.parametrize(
    "words",
    [b"\xff\xfe pup 3", b"\x00" * 1000, "🐕".encode() * 1000, b"a" * 100_000, "שלום \u202e".encode(), b"7 " * 1000],
    ids=["no UTF-8", "NUL", "emoji", "100 kB", "right to left", "numbers"],
)
def test_odd_lines_are_kept_and_answered(served: Served, words: bytes) -> None:
    said = run("say", "-", "--json", "--as", "Ines", data=served.data, given=words + b"\n")
    (answer,) = [json.loads(line) for line in said.stdout.splitlines()]
    assert (said.returncode, answer["kept"]) == (0, True)
    assert answer["text"]


def test_a_line_longer_than_any_message_is_answered(served: Served) -> None:
    said = run("say", "-", "--json", data=served.data, given="a" * 5_000_000 + "\npup 1 cleared\n")
    answers = [json.loads(line) for line in said.stdout.splitlines()]
    assert [answer["kept"] for answer in answers] == [False, True]
    assert "send it in parts" in answers[0]["text"]


def test_an_invitation_is_a_link_that_joins(served: Served) -> None:
    invited = run("invite", "Theo", data=served.data)
    assert invited.returncode == 0
    link = invited.stdout.splitlines()[-1]
    token = link.rpartition("/")[2]
    with urllib.request.urlopen(f"http://127.0.0.1:{served.port}/join/{token}") as form:
        assert 'value="Theo"' in form.read().decode()


def test_an_invitation_for_a_name_that_cannot_be_one_is_refused(served: Served) -> None:
    invited = run("invite", "bot", data=served.data)
    assert (invited.returncode, invited.stdout) == (1, "")
    assert "Take another name" in invited.stderr


def test_a_second_bot_does_not_start_on_the_same_log(served: Served) -> None:
    second = run("serve", "--port", "0", data=served.data)
    assert second.returncode == 2
    assert second.stderr.startswith("A bot runs already in")
    assert len(second.stderr.splitlines()) == 1
    assert run("say", "pup 3 cleared", "--as", "Ines", data=served.data).returncode == 0


def test_the_doctor_finds_a_running_bot_well(served: Served) -> None:
    found = run("doctor", data=served.data)
    assert (found.returncode, found.stderr) == (0, "")
    assert [line.split(":")[0].split()[-1] for line in found.stdout.splitlines()][:5] == ["directory", "clock", "zone", "log", "port"]
    assert f":{served.port}" in found.stdout


def test_the_doctor_lists_the_ways_to_each_person(served: Served) -> None:
    served.say("test my alarm")
    found = run("doctor", data=served.data)
    assert "well   ways to Ines: 1. page: nothing has arrived by it yet." in found.stdout
    assert 'lampwatch say --as "Ines" "test my alarm"' in found.stdout


def test_a_log_can_be_read_by_a_program_that_stops_listening(served: Served) -> None:
    for number in range(1, 4):
        served.say(f"pup {number} cleared")
    shell = f"{sys.executable} -m bot log --data {served.data} | head -n 1"
    done = subprocess.run(["bash", "-c", shell], cwd=ROOT, capture_output=True, text=True, env=environment(served.data))
    assert len(done.stdout.splitlines()) == 1
    assert done.stderr == ""


@pytest.mark.parametrize("sign", [signal.SIGINT, signal.SIGTERM])
def test_a_stop_takes_less_than_two_seconds_and_leaves_nothing_behind(tmp_path: Path, sign: signal.Signals) -> None:
    with serving(tmp_path / "data") as bot:
        assert run("say", "pup 3 212 g", "--as", "Ines", data=bot.data).returncode == 0
        code, seconds = bot.stop(sign)
        assert (code, seconds < 2) == (0, True)
        assert bot.process.stderr is not None
        assert bot.process.stderr.read() == ""
        assert not (bot.data / "lampwatch.sock").exists()
    assert not list(bot.data.glob("*-wal"))


def test_a_stop_does_not_wait_for_a_phone_that_has_vanished(tmp_path: Path) -> None:
    with serving(tmp_path / "data") as bot:
        host = f"Host: 127.0.0.1:{bot.port}\r\n"
        body = "name=Ines"
        form = f"{host}Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {len(body)}\r\nConnection: close\r\n\r\n{body}"
        with socket.create_connection(("127.0.0.1", bot.port)) as joining:
            joining.sendall(f"POST /join/{bot.link.rpartition('/')[2]} HTTP/1.1\r\n{form}".encode())
            answer = joining.makefile().read()
        cookie = next(line.split(": ")[1].split(";")[0] for line in answer.splitlines() if line.startswith("Set-Cookie"))
        upgrade = (
            "Upgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\n"
        )
        with socket.create_connection(("127.0.0.1", bot.port)) as vanished:
            vanished.sendall(f"GET /socket HTTP/1.1\r\n{host}Cookie: {cookie}\r\n{upgrade}\r\n".encode())
            assert vanished.recv(12) == b"HTTP/1.1 101"
            code, seconds = bot.stop()
            assert (code, seconds < 2) == (0, True)


def test_after_a_kill_all_that_was_answered_is_there_and_the_bot_starts_again(tmp_path: Path) -> None:
    with serving(tmp_path / "data") as bot:
        said = run("say", "-", "--json", "--as", "Ines", data=bot.data, given="".join(f"pup {n} cleared\n" for n in (1, 2, 3)))
        assert said.stdout.count('"kept": true') == 3
        bot.process.kill()
        bot.process.wait()
    with serving(tmp_path / "data") as bot:
        log = [json.loads(line) for line in run("log", "--json", data=bot.data).stdout.splitlines()]
        assert [line["text"] for line in log if line["by"] == "Ines"] == ["pup 1 cleared", "pup 2 cleared", "pup 3 cleared"]
        assert run("say", "pup 4 cleared", data=bot.data).returncode == 0


def test_before_anyone_has_joined_a_terminal_must_say_who_speaks(tmp_path: Path) -> None:
    with serving(tmp_path / "data") as bot:
        said = run("say", "pup 3 212 g", data=bot.data)
        assert said.returncode == 1
        assert "--as NAME" in said.stderr


def test_a_long_path_to_the_data_does_not_keep_the_terminal_out(tmp_path: Path) -> None:
    data = tmp_path / ("a long name of a directory " * 4).strip() / "data"
    with serving(data) as bot:
        assert run("say", "pup 3 212 g", "--as", "Ines", data=bot.data).returncode == 0


def test_the_settings_file_of_the_data_directory_holds(tmp_path: Path) -> None:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    (tmp_path / "data").mkdir()
    (tmp_path / "other.toml").write_text(f'port = {port}\naddress = "127.0.0.1"\nzone = "Europe/London"\n')
    process = subprocess.Popen(
        [*COMMAND, "serve", "--data", str(tmp_path / "data"), "--config", str(tmp_path / "other.toml")],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
        env=environment(tmp_path / "data"),
    )
    with process:
        assert process.stdout is not None
        assert process.stdout.readline() == f"The page:  http://127.0.0.1:{port}\n"
        process.send_signal(signal.SIGTERM)
        process.stdout.read()
        assert process.wait(10) == 0


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["serve", "--port", "abc"], "--port must be a whole number from 0 to 65535, not 'abc'."),
        (["serve", "--config", "/nowhere/x.toml"], "There is no settings file /nowhere/x.toml"),
        (["serve", "--data", "/proc/nowhere"], "The data directory /proc/nowhere cannot be used"),
        (["log", "--data", "/nowhere"], "There is no log in /nowhere"),
        (["doctor", "--port", "70000"], "--port must be a whole number"),
    ],
)
def test_what_is_set_up_wrong_ends_with_one_clear_sentence(arguments: list[str], said: str) -> None:
    done = run(*arguments)
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_a_port_that_is_taken_ends_with_one_clear_sentence(tmp_path: Path) -> None:
    with socket.socket() as other:
        other.bind(("0.0.0.0", 0))
        other.listen()
        port = other.getsockname()[1]
        done = run("serve", "--port", str(port), data=tmp_path / "data")
        assert done.returncode == 2
        assert done.stderr == f"Port {port} is used by another program: stop that one, or choose another port with --port.\n"
        found = run("doctor", "--port", str(port), data=tmp_path / "data")
        assert found.returncode == 1
        assert f"WRONG  port: port {port} cannot be had" in found.stdout


def test_a_file_that_is_no_log_ends_with_one_clear_sentence_and_stays_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "data").mkdir(mode=0o700)
    (tmp_path / "data" / "lampwatch.db").write_text("not a log" * 200)
    for command in (["serve", "--port", "0"], ["log"]):
        done = run(*command, data=tmp_path / "data")
        assert done.returncode == 2
        assert "is not a log of this bot" in done.stderr
        assert len(done.stderr.splitlines()) == 1
    assert "WRONG  log" in run("doctor", "--port", "0", data=tmp_path / "data").stdout
    assert (tmp_path / "data" / "lampwatch.db").read_text() == "not a log" * 200


def test_without_a_bot_say_and_invite_tell_how_to_start_one(tmp_path: Path) -> None:
    for command in (["say", "pup 3 212"], ["say", "-"], ["invite", "Theo"]):
        done = run(*command, data=tmp_path, given="pup 3 212\n")
        assert (done.returncode, done.stdout) == (1, "")
        assert "start it with `lampwatch serve`" in done.stderr


def test_the_doctor_says_what_is_wrong_with_a_directory(tmp_path: Path) -> None:
    tmp_path.chmod(0o755)
    found = run("doctor", "--port", "0", data=tmp_path)
    assert found.returncode == 1
    assert f"WRONG  data directory: other users of this machine can open {tmp_path}: run  chmod 700 {tmp_path}" in found.stdout
    assert tmp_path.stat().st_mode & 0o777 == 0o755


def test_a_sensor_is_let_in_by_the_terminal_and_heard_at_the_page(served: Served) -> None:
    answer = run("invite", "--sensor", "box", data=served.data)
    assert answer.returncode == 0
    token = re.search(r"Bearer ([\w-]+)", answer.stdout)
    assert token is not None
    served.say("new litter of 2 from Juniper")
    request = urllib.request.Request(
        f"http://127.0.0.1:{served.port}/api/climate", b'{"celsius": 30.4}', {"Authorization": f"Bearer {token[1]}"}
    )
    with urllib.request.urlopen(request, timeout=5) as heard:
        assert json.load(heard) == {"kept": True, "written": True, "said": []}
    assert "box sensor: box 86.72 F" in run("log", data=served.data).stdout
    assert token[1] not in (served.data / "lampwatch.db").read_bytes().decode("latin-1")


@pytest.mark.parametrize(
    ("given", "said"),
    [(["--sensor", "garden"], "not in 'garden'"), ([], "invite --sensor box"), (["Theo", "--sensor", "box"], "invite Theo")],
)
def test_an_invitation_of_nobody_or_of_nowhere_is_refused(served: Served, given: list[str], said: str) -> None:
    answer = run("invite", *given, data=served.data)
    assert answer.returncode != 0
    assert said in answer.stderr
