"""A bot in a process of its own, as `lampwatch serve` starts it, and the commands beside it."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from bot.channels.talk import Talk

ROOT = Path(__file__).parents[2]
COMMAND = [sys.executable, "-m", "bot"]
STARTED = "Ctrl-C stops the bot"
START_SECONDS = 30.0


@dataclass
class Served:
    """A bot that runs."""

    process: subprocess.Popen[str]
    data: Path
    printed: list[str]

    @property
    def link(self) -> str:
        """The join link that it printed."""
        return next(line for line in self.printed if re.fullmatch(r"http://\S+/join/[\w-]+", line))

    @property
    def port(self) -> int:
        """The port that it serves on."""
        return int(self.link.split("/")[2].rpartition(":")[2])

    @property
    def local_link(self) -> str:
        """The join link by this machine's own address."""
        return f"http://127.0.0.1:{self.port}/join/{self.link.rpartition('/')[2]}"

    def say(self, text: str, by: str = "Ines") -> str:
        """Say something by its terminal socket; the reply."""
        with Talk(self.data) as talk:
            answer = talk.ask({"do": "say", "text": text, "by": by})
        assert answer["kept"], answer
        return str(answer["text"])

    def invite(self, name: str) -> str:
        """A new link to join by, by this machine's own address."""
        with Talk(self.data) as talk:
            token = str(talk.ask({"do": "invite", "name": name})["link"]).rpartition("/")[2]
        return f"http://127.0.0.1:{self.port}/join/{token}"

    def stop(self, sign: signal.Signals = signal.SIGTERM) -> tuple[int, float]:
        """Tell it to stop: its exit code, and the seconds that it took."""
        started = time.monotonic()
        self.process.send_signal(sign)
        code = self.process.wait(10)
        return code, time.monotonic() - started


@contextmanager
def serving(data: Path, *more: str) -> Iterator[Served]:
    """Serve on a data directory (unless a demo finds its own) and a free port."""
    command = [*COMMAND, "serve", "--port", "0", "--data", str(data), *more]
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment(data))
    assert process.stdout is not None
    assert process.stderr is not None
    printed: list[str] = []
    try:
        for line in process.stdout:
            printed.append(line.rstrip("\n"))
            if line.startswith(STARTED):
                break
        else:
            raise AssertionError(f"it did not start: {printed} {process.stderr.read()}")
        yield Served(process, data, printed)
    finally:
        process.kill()
        process.wait()
        process.stdout.close()
        process.stderr.close()


def run(*arguments: str, data: Path | None = None, given: str | bytes = "") -> subprocess.CompletedProcess[str]:
    """One command of `lampwatch`, from start to end."""
    where = ["--data", str(data)] if data is not None else []
    done = subprocess.run(
        [*COMMAND, *arguments, *where],
        cwd=ROOT,
        input=given.encode() if isinstance(given, str) else given,
        capture_output=True,
        timeout=START_SECONDS,
        env=environment(data),
    )
    return subprocess.CompletedProcess(done.args, done.returncode, done.stdout.decode(), done.stderr.decode())


def environment(data: Path | None) -> dict[str, str]:
    """An environment in which nothing of this machine's user is read or written."""
    home = str(data.parent) if data is not None else "/nowhere"
    return {**os.environ, "TZ": "America/Chicago", "XDG_DATA_HOME": home, "HOME": home, "PYTHONUTF8": "1", "PYTHONUNBUFFERED": "1"}
