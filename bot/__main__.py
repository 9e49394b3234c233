"""The command line: `lampwatch serve`, and the commands beside it. Each loads only the rooms that it needs."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Sequence
from datetime import date, datetime
from pathlib import Path

NOT_KEPT = 1
"""Exit code: something was not kept, or is not as it should be."""
SET_UP_WRONG = 2
"""Exit code: the command cannot run as it was given."""
INTERRUPTED = 130
"""Exit code: stopped by Ctrl-C before there was anything to finish."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal that cannot show a sign still gets the rest
    given = _commands().parse_args(arguments)
    run: Callable[[argparse.Namespace], int] = given.run
    from bot.data_home import SetupError

    try:
        return run(given)
    except SetupError as fault:
        print(fault, file=sys.stderr)
        return SET_UP_WRONG
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:  # whoever read our output has gone (`lampwatch log | head`)
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return NOT_KEPT


def _serve(given: argparse.Namespace) -> int:
    gc.disable()  # nothing that a start makes is garbage, and looking for it costs a tenth of it; `serve` enables it again
    from bot.app.serve import serve
    from bot.settings import load

    settings = load(config=given.config, data=given.data, port=given.port)
    return serve(settings, demo=given.demo, say=_say_now)


def _read(given: argparse.Namespace) -> int:
    from bot.app.read import load_card, read_lines
    from bot.clock import now

    for line in read_lines(sys.stdin.buffer, load_card(given.litter), now, steps=given.explain):
        _say_now(line)
    return 0


def _replay(given: argparse.Namespace) -> int:
    from bot.transcript import run_replay

    return run_replay(given.file, check=given.check, accept=given.accept, as_json=given.json, until=given.until)


def _say(given: argparse.Namespace) -> int:
    from bot.app.say import as_line, say, say_lines
    from bot.channels.talk import NoBot

    directory = _directory(given)
    try:
        if given.text == ["-"]:
            kept = True
            for answer in say_lines(directory, sys.stdin.buffer, given.by):
                kept = kept and answer["kept"]
                _say_now(as_line(answer) if given.json else answer["text"])
            return 0 if kept else NOT_KEPT
        answer = say(directory, " ".join(given.text), given.by)
    except NoBot as gone:
        print(gone, file=sys.stderr)
        return NOT_KEPT
    print(as_line(answer) if given.json else answer["text"], file=sys.stdout if answer["kept"] or given.json else sys.stderr)
    return 0 if answer["kept"] else NOT_KEPT


def _invite(given: argparse.Namespace) -> int:
    from bot.app.say import invite, invite_sensor
    from bot.channels.talk import NoBot
    from bot.data_home import SetupError

    name = " ".join(given.name)
    if bool(name) == bool(given.sensor):
        raise SetupError(
            "Say whom the link is for, or with --sensor where a sensor is: lampwatch invite Theo, lampwatch invite --sensor box"
        )
    try:
        answer = invite_sensor(_directory(given), given.sensor) if given.sensor else invite(_directory(given), name)
    except NoBot as gone:
        print(gone, file=sys.stderr)
        return NOT_KEPT
    print(answer["text"], file=sys.stdout if answer["kept"] else sys.stderr)
    return 0 if answer["kept"] else NOT_KEPT


def _log(given: argparse.Namespace) -> int:
    from bot.app.log import log_lines

    for line in log_lines(_directory(given), as_json=given.json):
        print(line)
    return 0


def _figures(given: argparse.Namespace) -> int:
    from bot.app.figures import figure_lines

    for line in figure_lines(as_json=given.json):
        print(line)
    return 0


def _export(given: argparse.Namespace) -> int:
    from bot.app.export import Only, export
    from bot.clock import now

    only = Only(given.litter, given.pup, given.since, given.each_pup)
    form = "pdf" if given.pdf else "csv" if given.csv else "json"
    data = export(_directory(given), form, only, given.to, now=now(), say=_say_now)
    if data is not None:
        sys.stdout.buffer.write(data)
        sys.stdout.flush()
    return 0


def _import(given: argparse.Namespace) -> int:
    from bot.app.importing import How, import_file
    from bot.clock import now

    how = How(given.dry_run, given.unit, given.dates, given.born, given.litter)
    import_file(_directory(given), given.file, how, now=now(), ask=_ask, say=_say_now)
    return 0


def _ask(question: str, answers: tuple[str, ...]) -> str | None:
    """Ask at the terminal until one of the answers is given; None where nobody is there."""
    if not sys.stdin.isatty():
        return None
    while True:
        answer = input(f"{question} ({' or '.join(answers)}) ").strip().casefold()
        if answer in answers:
            return answer


def _doctor(given: argparse.Namespace) -> int:
    from bot.app.doctor import examine
    from bot.settings import load

    well = True
    for finding in examine(load(config=given.config, data=given.data, port=given.port)):
        print(finding)
        well = well and finding.well
    return 0 if well else NOT_KEPT


def _directory(given: argparse.Namespace) -> Path:
    """Where the log is kept, found without loading the settings where nothing of them can matter."""
    from bot.data_home import FILE_NAME, data_home

    if given.data:
        return Path(given.data).expanduser()
    if not (data_home() / FILE_NAME).exists():
        return data_home()
    from bot.settings import load

    return load().directory


def _say_now(line: str) -> None:
    print(line, flush=True)


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return f"lampwatch {version('lampwatch')}"
    except PackageNotFoundError:
        return "lampwatch, run from its source without being installed"


def _moment(text: str) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        moment = datetime.min  # noqa: DTZ901 (it has no offset either)
    if moment.tzinfo is None:
        raise argparse.ArgumentTypeError(f"{text!r} is no time with an offset: write it as 2026-03-02T06:00:00-06:00")
    return moment


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no date: write it as 2026-03-01") from None


class _Version(argparse.Action):
    """Looks the version up only when it is asked for."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        print(_version())
        parser.exit()


def _commands() -> argparse.ArgumentParser:
    top = argparse.ArgumentParser(
        prog="lampwatch", description="A chat bot for your home network that keeps the night log of a newborn litter and says who is due."
    )
    top.add_argument("--version", action=_Version, nargs=0, help="print the version")
    commands = top.add_subparsers(metavar="COMMAND", required=True)
    data = argparse.ArgumentParser(add_help=False)
    data.add_argument("--data", metavar="DIR", help="where the log is kept (as a rule lampwatch in your own data directory)")
    settings = argparse.ArgumentParser(add_help=False, parents=[data])
    settings.add_argument("--port", metavar="N", help="the port of the page (as a rule 8420; 0: any that is free)")
    settings.add_argument("--config", metavar="FILE.toml", help="the settings (as a rule lampwatch.toml in the data directory)")

    serve = commands.add_parser("serve", parents=[settings], help="run the bot: its page, its reminders, its log")
    serve.add_argument("--demo", action="store_true", help="try it out: an invented night, kept nowhere")
    serve.set_defaults(run=_serve)

    read = commands.add_parser("read", help="show how messages are read, one a line from standard input, without keeping anything")
    read.add_argument("--litter", metavar="LITTER.json", type=Path, required=True, help="what the reader may know of the litter")
    read.add_argument("--json", action="store_true", help="print one JSON object a line (it always does)")
    read.add_argument("--explain", action="store_true", help="print the steps by which each reading was reached")
    read.set_defaults(run=_read)

    replay = commands.add_parser("replay", help="run a written-down conversation against a clock of its own")
    replay.add_argument("file", metavar="FILE", type=Path)
    how = replay.add_mutually_exclusive_group()
    how.add_argument("--check", action="store_true", help="fail where a line of the bot is missing, extra, late or different")
    how.add_argument("--accept", action="store_true", help="write the bot's true lines into the file")
    how.add_argument("--json", action="store_true", help="print what the bot says to the people's lines, one JSON object a line")
    replay.add_argument("--until", metavar="TIME", type=_moment, help="run the clock on until then (ISO 8601, with offset)")
    replay.set_defaults(run=_replay)

    say = commands.add_parser("say", parents=[data], help="say something to the bot that runs on this machine")
    say.add_argument("text", metavar="TEXT", nargs="+", help="the message; - takes one a line from standard input")
    say.add_argument("--as", dest="by", metavar="NAME", help="who says it (as a rule the first who joined)")
    say.add_argument("--json", action="store_true", help="print each answer as a line of JSON")
    say.set_defaults(run=_say)

    invite = commands.add_parser("invite", parents=[data], help="make a link by which one more device joins, once, or let a sensor in")
    invite.add_argument("name", metavar="NAME", nargs="*", help="whom it is for")
    invite.add_argument("--sensor", metavar="PLACE", help="a token for a sensor of warmth and humidity: box, incubator or room")
    invite.set_defaults(run=_invite)

    log = commands.add_parser("log", parents=[data], help="print the log, one message a line")
    log.add_argument("--json", action="store_true", help="print one JSON object a line: at, by, text, events")
    log.set_defaults(run=_log)

    export = commands.add_parser("export", parents=[data], help="write the log to a file: a sheet for the vet, a table, or all of it")
    form = export.add_mutually_exclusive_group(required=True)
    form.add_argument("--pdf", action="store_true", help="a sheet for the vet or the new owner, with the growth chart")
    form.add_argument("--csv", action="store_true", help="a table of every entry; what each column holds is written beside it")
    form.add_argument("--json", action="store_true", help="every message with its entries; `lampwatch import` takes it in again")
    export.add_argument("--pup", metavar="N", type=int, help="one pup alone")
    export.add_argument("--litter", metavar="N", type=int, help="one litter alone")
    export.add_argument("--from", dest="since", metavar="DATE", type=_day, help="from this day on (2026-03-01)")
    export.add_argument("--each-pup", action="store_true", help="with --pdf: a page for each pup too")
    export.add_argument("--to", metavar="FILE", help="where to (- is the standard output); as a rule named by what it is, in this folder")
    export.set_defaults(run=_export)

    take = commands.add_parser("import", parents=[data], help="take in an exported log, or a spreadsheet of older weights (CSV)")
    take.add_argument("file", metavar="FILE", type=Path)
    take.add_argument("--dry-run", action="store_true", help="only say what would be taken in")
    take.add_argument("--unit", choices=("g", "oz"), help="the unit of weights that have none")
    take.add_argument("--dates", choices=("dmy", "mdy"), help="whether 3/4/2026 has the day or the month first")
    take.add_argument("--born", metavar="DATE", type=_day, help="the day of birth, where the file counts the days of their lives")
    take.add_argument("--litter", metavar="N", type=int, help="the litter that the weights are of, where there are several")
    take.set_defaults(run=_import)

    figures = commands.add_parser("figures", help="print every number that the care rests on, and where it is from")
    figures.add_argument("--json", action="store_true", help="print one JSON object a line: file, name, value, unit, days, status, source")
    figures.set_defaults(run=_figures)

    doctor = commands.add_parser("doctor", parents=[settings], help="look whether all is well, and say what to do where it is not")
    doctor.set_defaults(run=_doctor)
    return top


if __name__ == "__main__":
    sys.exit(main())
