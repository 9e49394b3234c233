"""A published litter, day by day, as a log: the table of tests/care/data/shepherd_litter.csv."""

from __future__ import annotations

import csv
from datetime import date, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from parsers.measures import GRAMS_PER_OUNCE, tidy
from tests.care.written_log import Log, event

NAMES = ("pink", "emerald", "orange", "purple", "yellow", "blue")
BORN = date(2019, 3, 19)
ZONE = ZoneInfo("America/Los_Angeles")


def table() -> dict[int, dict[str, float | None]]:
    """Ounces by day and pup; `mean_g` as published."""
    lines = Path(__file__).with_name("data").joinpath("shepherd_litter.csv").read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return {int(row["day"]): {name: float(row[name]) if row[name] else None for name in (*NAMES, "mean_g")} for row in rows}


def on_day(day: int, wall: str = "07:00") -> str:
    return f"{BORN + timedelta(days=day)} {wall}"


def shepherds(until_day: int = 55) -> Log:
    """The litter's log: weighed at 7 in the morning, and born late on its birth date, so that the first weights stand for birth weights."""
    log = Log(ZONE).at("2019-03-19 21:00", litter={"pups": 6, "born": log_moment("2019-03-19 20:00")}, weights_in="oz")
    log.at("2019-03-19 21:01", name=[{"pup": number, "as": name} for number, name in enumerate(NAMES, start=1)])
    for day, row in table().items():
        if day <= until_day:
            weights = [(number, row[name]) for number, name in enumerate(NAMES, start=1)]
            told = [event("weight", number, grams=tidy(ounces * GRAMS_PER_OUNCE)) for number, ounces in weights if ounces is not None]
            log.at(on_day(day), *told)
    return log


def log_moment(wall: str) -> str:
    return Log(ZONE).moment(wall).isoformat()
