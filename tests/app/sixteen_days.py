"""A household with a litter of six, sixteen days old, and a log of its weights, its last night and the dam's temperatures, for tests."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

from bot.app.serve import DATABASE
from bot.conversation import Message
from bot.household import Household, open_household

NAMES = ("blue", "Olive", "Moss", "Pip", "Fern", "Tansy")
AT_BIRTH = (205, 188, 212, 176, 198, 220)
A_DAY = (1.068, 1.055, 1.062, 1.045, 1.07, 1.06)
DAYS = 16


def grow(data: Path, moment: datetime, zone: str = "America/Chicago") -> int:
    """Keep it all in that directory, as if it were told until `moment`; gives how many messages were kept."""
    data.mkdir(parents=True, exist_ok=True)
    household = open_household(data / DATABASE, zone=zone)
    household.take_in("Ines", moment - timedelta(days=DAYS, hours=1))
    told = 0

    def say(text: str, ago: timedelta) -> None:
        nonlocal told
        heard = household.hear(Message("Ines", text), moment - ago)
        assert heard.kept
        assert not heard.said[0].text.endswith("or say it again."), (text, heard.said[0].text)
        told += 1

    _set_up(household, moment, say)
    for half_day in range(1, 2 * DAYS):
        dip = 0.985 if half_day <= 2 else 1.0
        grams = [
            round(first * dip * rate ** max(0.0, (half_day - 2) / 2) * (1 + 0.004 * ((half_day * 7 + pup * 3) % 5 - 2)))
            for pup, (first, rate) in enumerate(zip(AT_BIRTH, A_DAY, strict=True))
        ]
        ago = timedelta(days=DAYS) - timedelta(hours=12 * half_day)
        say(" ".join(["weights", *map(str, grams)]), ago)
        if half_day % 2:
            say(f"dam temp {101.2 + 0.3 * (half_day % 5) - 0.2 * (half_day % 3):.1f}", ago - timedelta(minutes=4))
    for hours in (10, 7, 4, 1):
        say("all nursed 14 and cleared", timedelta(hours=hours))
        say("1, 3 and 5 peed and pooped, 2 and 4 peed", timedelta(hours=hours, minutes=-22))
    say("6 wouldn't nurse", timedelta(minutes=58))
    say("6 fed 9 ml formula by bottle, cleared", timedelta(minutes=48))
    household.close()
    return told


def _set_up(household: Household, moment: datetime, say: object) -> None:
    born = moment - timedelta(days=DAYS)
    assert callable(say)
    say(f"new litter of 6 from Juniper, c-section at {born.astimezone(household.zone):%H:%M}", timedelta(days=DAYS, minutes=-1))
    say("use grams", timedelta(days=DAYS, minutes=-2))
    say("skip all", timedelta(days=DAYS, minutes=-3))
    for pup, name in enumerate(NAMES, 1):
        say(f"call pup {pup} {name}", timedelta(days=DAYS, minutes=-3 - pup))
    say(" ".join(["weights", *map(str, AT_BIRTH)]), timedelta(days=DAYS, minutes=-20))
