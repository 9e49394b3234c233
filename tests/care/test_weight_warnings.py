"""Warnings of weight: a pup's loss, no gain, a slow litter, a scale at fault; each bound from just inside and just outside."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from bot.care.notices import next_moment, standing, warnings
from tests.care.shepherds import on_day, shepherds
from tests.care.warned import line, stands, told_one_by_one, warned
from tests.care.written_log import Listening, Log, event, litter

BORN = datetime.fromisoformat("2026-03-01T09:40:00-06:00").astimezone(UTC)


def wall(hours: float) -> str:
    """So many hours after the birth, on the wall of the litter."""
    return f"{(BORN + timedelta(hours=hours)).astimezone(litter().zone):%Y-%m-%d %H:%M}"


def weighed(log: Log, hours: float, weights: dict[int, float]) -> Log:
    return log.at(wall(hours), *[event("weight", pup, grams=grams) for pup, grams in weights.items()])


def one_pup(*weights: tuple[float, float], pups: int = 1) -> Log:
    """Pup 1's weights: (hours after the birth, grams), the first the birth weight."""
    log = litter(pups)
    for hours, grams in weights:
        weighed(log, hours, {1: grams})
    return log


def grams_of(*weights: float) -> dict[int, float]:
    return dict(enumerate(weights, start=1))


# Loss


@pytest.mark.parametrize(
    ("hours", "birth", "grams", "loss"),
    [
        (48, 301, 288, True),
        (48, 300, 288, True),  # W15 of our figures, Mila 2015: -4.0 % at risk
        (48, 300, 289, False),  # W15: -3.67 % not
        (36, 300, 288, True),
        (35.9, 300, 288, False),
        (60, 300, 288, True),
        (60.1, 300, 288, False),
        (24, 301, 271, False),  # under 10 % in the first day is usual (Root Kustritz, Home Veterinary Handbook p. 493)
        (24, 301, 270, True),
        (48, 401, 364, True),  # W16, Home Veterinary Handbook p. 493: -9 % is past the 4 % line of day 2 all the same
        (64, 401, 364, False),  # W16: -9 %, watch closely
        (64, 401, 360, True),  # W16: -10 %
        (72, 401, 358, True),
        (72, 401, 364, False),
        (72.1, 401, 400, True),  # after the third day any weight below the birth weight
        (72.1, 401, 401, False),
    ],
)
def test_a_loss(hours: float, birth: float, grams: float, loss: bool) -> None:
    log = one_pup((0.1, birth), (hours, grams))
    assert ("weight loss 1 vet today" in warned(log, wall(hours))) is loss


def test_a_loss_says_what_was_weighed_and_its_values_are_not_rounded() -> None:
    log = one_pup((0.1, 300), (48, 287), pups=3)
    [notice] = standing(log.nursery(), log.moment(wall(48)))
    assert notice.text == (
        "Pup 1: weigh again, watch a whole nursing and see that it swallows, and call your vet today. "
        "Weighed: 287 g, -4.3 % since birth. 4 % or more under the birth weight on day 2 went with more deaths. Source: Mila 2015."
    )
    assert notice.values["since_birth_percent"] == (287 - 300) / 300 * 100
    assert (notice.values["grams"], notice.values["gain_g"], notice.to) == (287, -13, "all")


def test_a_loss_is_said_once_for_each_weighing_that_shows_it_and_not_again_within_two_hours() -> None:
    log = one_pup((0.1, 300), (40, 287), (41, 286), (42, 286), (42.1, 286), (54, 286))
    assert told_one_by_one(log, "weight loss") == [f"{wall(hours)[11:]} weight loss 1 vet today" for hours in (40, 42.1, 54)]


def test_it_stands_until_the_next_weighing() -> None:
    log = one_pup((0.1, 300), (48, 287), pups=5)
    assert stands(log, wall(95)) == ["weight loss 1 vet today"]
    assert stands(log, wall(96)) == []
    assert stands(weighed(log, 60, {1: 305}), wall(60)) == []


# No gain


@pytest.mark.parametrize(
    ("first", "then", "grams", "lines"),
    [
        (48, 72, 331, ["no gain 1 vet today"]),
        (48, 72, 330, ["no gain 1 vet today"]),
        (48, 72, 332, []),
        (24, 48, 331, []),  # not older than 48 h
        (24.1, 48.1, 331, ["no gain 1 vet today"]),
        (54, 72, 331, ["no gain 1 vet today"]),  # 18 h back
        (54.1, 72, 331, []),
        (48, 84, 331, ["no gain 1 vet today"]),  # 36 h back
        (48, 84.1, 331, []),
    ],
)
def test_no_gain_over_about_a_day(first: float, then: float, grams: float, lines: list[str]) -> None:
    """Home Veterinary Handbook p. 492: any day without a gain is a concern."""
    assert warned(one_pup((0.1, 301), (first, 331), (then, grams)), wall(then)) == lines


def test_a_pups_own_no_gain_waits_for_the_rest_of_the_litter() -> None:
    log = weighed(weighed(litter(4), 24, grams_of(301, 302, 303, 304)), 48.5, grams_of(301))
    bot = Listening(log, says="warning")
    assert bot.until(wall(51.4)) == []
    assert next_moment(log.nursery(), bot.told, log.moment(wall(51.4))) == log.moment(wall(51.5))
    assert bot.until(wall(52)) == [f"{wall(51.5)[11:]} no gain 1 vet today all"]


def test_it_is_said_when_the_last_living_pup_is_weighed() -> None:
    log = weighed(litter(4), 24, grams_of(301, 302, 303, 304)).at(wall(30), event("died", 4))
    for minutes, (pup, grams) in enumerate({1: 301, 2: 320, 3: 320}.items()):
        weighed(log, 48.5 + minutes / 60, {pup: grams})
    assert told_one_by_one(log) == [f"{wall(48.5 + 2 / 60)[11:]} no gain 1 vet today"]


# A slow litter


@pytest.mark.parametrize(
    ("weights", "lines"),
    [
        ((301, 302, 320, 320), ["slow litter 1,2,dam vet today"]),
        ((301, 320, 320, 320), ["no gain 1 vet today"]),
        ((301, 320, 320, 304), ["slow litter 1,4,dam vet today"]),
        ((301, 302, 303, 304), ["slow litter 1,2,3,4,dam vet today"]),
    ],
)
def test_half_of_a_litter_that_does_not_gain_is_a_slow_litter(weights: tuple[float, ...], lines: list[str]) -> None:
    """Home Veterinary Handbook p. 492: look for a cause in the dam."""
    log = weighed(weighed(litter(4), 24, grams_of(301, 302, 303, 304)), 48.5, grams_of(*weights))
    assert warned(log, wall(48.5)) == lines


def test_two_pups_are_no_slow_litter_and_three_are() -> None:
    two = weighed(weighed(litter(2), 24, grams_of(301, 302)), 48.5, grams_of(301, 302))
    assert warned(two, wall(48.5)) == ["no gain 1 vet today", "no gain 2 vet today"]
    three = weighed(weighed(litter(3), 24, grams_of(301, 302, 303)), 48.5, grams_of(301, 302, 320))
    assert warned(three, wall(48.5)) == ["slow litter 1,2,dam vet today"]


def test_a_slow_litter_is_said_once_with_the_last_pup_and_no_pup_of_it_is_said_by_itself() -> None:
    log = weighed(litter(4), 24, grams_of(301, 302, 303, 304))
    for place, pup in enumerate((3, 1, 4, 2)):
        weighed(log, 48.5 + place / 6, {pup: 300 + pup})
    assert told_one_by_one(log) == [f"{wall(49)[11:]} slow litter 1,2,3,4,dam vet today"]
    bot = Listening(log, says="warning")
    assert bot.until(wall(60)) == [f"{wall(49)[11:]} slow litter 1,2,3,4,dam vet today all"]


def test_the_rest_is_waited_for_three_hours_from_the_first() -> None:
    log = weighed(litter(5), 24, grams_of(301, 302, 303, 304, 305))
    weighed(weighed(weighed(log, 49, {1: 301}), 50, {2: 302}), 51.9, {3: 320})
    bot = Listening(log, says="warning")
    assert bot.until(wall(52.05)) == [f"{wall(52)[11:]} slow litter 1,2,dam vet today all"]
    weighed(log, 52.1, {4: 304})
    # A straggler makes no second slow litter; but its own warning, which nobody was told of, is not swallowed by the first.
    assert bot.until(wall(60)) == [f"{wall(53)[11:]} no gain 4 vet today all"]


def test_a_slow_litter_tells_its_figures() -> None:
    log = weighed(weighed(litter(4), 24, grams_of(300.5, 302, 303, 304)), 48.5, grams_of(300.5, 301, 323, 324))
    [notice] = standing(log.nursery(), log.moment(wall(48.5)))
    assert notice.text == (
        "Pups 1 and 2: look at the dam: milk in every teat, temperature, discharge, glands, and call your vet today. "
        "Weighed: 2 of 4 do not gain. Where most of a litter does not gain, the cause is sought in the dam. "
        "Source: Home Veterinary Handbook p. 492."
    )
    values: dict[str, Any] = dict(notice.values)
    assert (values["mean_gain_g"], values["min_gain_g"], values["max_gain_g"], values["not_weighed"]) == (39 / 4, -1, 20, [])
    assert (values["2"]["gain_g"], values["1"]["grams"]) == (-1, 300.5)


# The scale


def dropped(*weights: float, hours: float = 72, pups: int | None = None, back: float = 24) -> Log:
    """A litter weighed at 402 g each and, so many hours later, as told."""
    log = litter(pups or len(weights))
    weighed(log, 0.1, dict.fromkeys(range(1, (pups or len(weights)) + 1), 301.0))
    weighed(log, hours - back, dict.fromkeys(range(1, (pups or len(weights)) + 1), 402.0))
    return weighed(log, hours, grams_of(*weights))


@pytest.mark.parametrize(
    ("log", "lines"),
    [
        (dropped(389, 389, 389, 389), ["scale 1,2,3,4 soon"]),
        (dropped(389, 389, 389, 403), ["scale 1,2,3 soon"]),  # all but one
        (dropped(389, 389, 403, 403), ["slow litter 1,2,dam vet today"]),  # two are not
        (dropped(389, 389, 389), ["scale 1,2,3 soon"]),
        (dropped(389, 389), ["no gain 1 vet today", "no gain 2 vet today"]),
        (dropped(391, 391, 391, 391), ["slow litter 1,2,3,4,dam vet today"]),  # less than 3 %
        (dropped(389, 389, 389, 389, back=36), ["scale 1,2,3,4 soon"]),
        (dropped(389, 389, 389, 389, back=36.1), []),
        (dropped(389, 389, 389, 389, hours=48.1), ["scale 1,2,3,4 soon"]),
        (dropped(389, 389, 389, 389, hours=48), []),  # so young all may dip
        (dropped(389, 389, 389, pups=5), ["scale 1,2,3 soon"]),  # three of them weighed so far
    ],
)
def test_a_litter_that_drops_at_once_is_weighed_again(log: Log, lines: list[str]) -> None:
    assert [line(one) for one in warnings(log.nursery(), set(), log.entries[-1].told_at)] == lines


def test_the_scale_is_said_when_the_third_pup_dropped_within_two_hours() -> None:
    log = dropped(389, pups=4)
    weighed(weighed(log, 73, {2: 389}), 74, {3: 389})
    assert told_one_by_one(log, "scale") == [f"{wall(74)[11:]} scale 1,2,3 soon"]
    log = dropped(389, pups=4)
    weighed(weighed(log, 73, {2: 389}), 74.1, {3: 389})
    assert told_one_by_one(log, "scale") == []


def test_a_second_weighing_that_is_right_ends_it() -> None:
    log = dropped(389, 389, 389, 389)
    weighed(log, 72.5, grams_of(415, 416, 417, 418))
    bot = Listening(log, says="warning")
    assert stands(log, wall(72.5)) == []
    assert bot.until(wall(90)) == []


def test_pup_by_pup_no_word_is_said_before_all_that_dropped_were_weighed_again() -> None:
    log = dropped(389, 389, 389, 389)
    for place in range(3):
        weighed(log, 72.5 + place / 60, {place + 1: 415})
        assert stands(log, wall(72.5 + place / 60)) == ["scale 1,2,3,4 soon"]
    assert stands(weighed(log, 72.6, {4: 415}), wall(72.6)) == []


def test_a_second_weighing_that_confirms_it_is_a_slow_litter() -> None:
    log = weighed(dropped(389, 389, 389, 389), 72.5, grams_of(389, 388, 390, 389))
    assert told_one_by_one(log, "scale", "slow litter") == [
        f"{wall(72)[11:]} scale 1,2,3,4 soon",
        f"{wall(72.5)[11:]} slow litter 1,2,3,4,dam vet today",
    ]


def test_it_is_a_slow_litter_too_where_the_last_weights_are_of_half_a_day_ago() -> None:
    log = weighed(dropped(389, 389, 389, 389, back=12), 72.5, grams_of(389, 388, 389, 389))
    assert stands(log, wall(72.5)) == ["slow litter 1,2,3,4,dam vet today"]


def test_not_weighed_again_each_pup_is_said_by_itself_after_three_hours() -> None:
    bot = Listening(dropped(389, 389, 389, 265), says="warning")
    assert bot.until(wall(80)) == [
        f"{wall(72)[11:]} scale 1,2,3,4 soon all",
        *[f"{wall(75)[11:]} {about} {pup} vet today all" for pup, about in ((1, "no gain"), (2, "no gain"), (3, "no gain"))],
        *[f"{wall(75)[11:]} {about} 4 vet today all" for about in ("weight loss", "no gain")],
    ]


def test_the_scale_says_how_many_dropped() -> None:
    log = dropped(389, 389, 389, 403)
    [notice] = standing(log.nursery(), log.moment(wall(72)))
    assert notice.text == (
        "Pups 1, 2 and 3: zero the scale and weigh again within 3 h. Weighed: 3 of 4 are 3 % or more below their last weight. "
        "A litter that drops at once is a scale more often than an illness."
    )
    assert notice.values == {"pups_weighed": 4, "pups_dropped": 3}


# A scale that reads in steps


@pytest.mark.parametrize(
    ("step", "birth", "grams", "loss"),
    [(5, 105, 100, False), (5, 115, 105, True), (10, 110, 100, False), (10, 120, 100, True), (28.35, 6, 5, False), (28.35, 7, 5, True)],
)
def test_one_step_of_a_coarse_scale_is_no_loss(step: float, birth: float, grams: float, loss: bool) -> None:
    ounces = step if step > 10 else 1
    log = one_pup((0.1, round(birth * ounces, 2)), (48, round(grams * ounces, 2)))
    assert ("weight loss 1 vet today" in warned(log, wall(48))) is loss


def test_on_a_coarse_scale_no_gain_is_two_days_without_a_step() -> None:
    log = one_pup((0.1, 200), (60, 210), (84, 210))
    assert warned(log, wall(84)) == []
    assert warned(weighed(log, 108, {1: 210}), wall(108)) == ["no gain 1 vet today"]


def test_on_a_coarse_scale_a_litter_that_drops_one_step_did_not_drop() -> None:
    log = litter(3)
    for hours, grams in ((0.1, 100.0), (48, 120.0), (72, 115.0)):
        weighed(log, hours, dict.fromkeys((1, 2, 3), grams))
    assert warned(log, wall(72)) == []


# The open table of a litter of German Shepherds (tests/care/data), a home record on a scale of whole ounces


def shepherds_told(*abouts: str) -> dict[int, list[str]]:
    """What is said of them, by day."""
    log = shepherds(50)
    told: set[str] = set()
    found: dict[int, list[str]] = {}
    for day in range(1, 51):
        morning = Log(log.zone, [entry for entry in log.entries if entry.told_at <= log.moment(on_day(day))])
        nursery = morning.nursery()
        for hour in ("07:00", "10:00"):
            for notice in warnings(nursery, told, log.moment(on_day(day, hour))):
                told |= set(notice.causes)
                if notice.about in abouts:
                    found.setdefault(day, []).append(line(notice))
    return found


def test_the_published_litter_one_step_down_on_its_first_days_is_no_loss() -> None:
    """Rounding to an ounce alone crosses the 4 % line; pink is the only one two steps down, on day 4 (-11.8 %, as the table says)."""
    found = shepherds_told("weight loss")
    assert found == {4: ["weight loss 1 vet today"]}


def test_the_days_on_which_most_of_the_published_litter_fell_are_said_once_and_not_as_sick_pups() -> None:
    """Day 39 (the day before, the scale was not zeroed) and day 50: five of six fell, said as one warning of the litter.

    By the rule of 3 % for all but one it is no fault of the scale: on day 39 emerald fell 2.2 % and yellow rose.
    """
    found = shepherds_told("slow litter", "scale", "no gain")
    assert found[39] == ["slow litter 1,2,3,4,6,dam vet today"]
    assert found[50] == ["slow litter 1,2,3,4,5,6,dam vet today"]


def test_the_published_litter_with_a_scale_not_zeroed_for_all() -> None:
    """The table's day 30 is a gap; the weights of day 29 less 4 ounces each are what a scale off by 4 ounces would have read."""
    log = shepherds(28)
    log.at(
        on_day(29),
        *[event("weight", pup, grams=grams) for pup, grams in grams_of(1360.78, 1303.99, 1899.42, 1615.93, 1615.93, 1814.37).items()],
    )
    assert warned(log, on_day(29)) == ["scale 1,2,3,4,5,6 soon"]
