"""A weigh-in: what the weights that were taken together come to, for each pup, for the litter, and for the scale."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial

from bot.care.concern import SAID_AGAIN_AFTER, Concern, Words
from bot.care.dog import Dog
from bot.care.figures import figures
from bot.care.growth import LOSSES, Growth, grown, litter_values
from bot.care.nursery import Nursery
from bot.care.weighings import Weighing
from bot.care.wording import say_change, say_hours, say_percent, say_span, say_weight
from parsers.events import Who

_FIGURES = figures("growth")
_STANDS = timedelta(hours=_FIGURES.number("weight_stands"))
_TOGETHER = timedelta(hours=_FIGURES.number("slow_litter_within"))
_SLOW_SHARE, _SLOW_PUPS = _FIGURES.number("slow_litter_share"), int(_FIGURES.number("slow_litter_from_pups"))
_FAULT_PUPS, _MAY_MISS = int(_FIGURES.number("scale_from_pups")), int(_FIGURES.number("scale_may_miss"))
_FAULT_WITHIN = timedelta(hours=_FIGURES.number("scale_within"))
_DROP = _FIGURES.number("scale_drop") / 100
_LAST_WITHIN = timedelta(hours=_FIGURES.number("scale_last_weight_within"))
_OLDER_THAN = timedelta(hours=_FIGURES.number("scale_litter_older_than"))
_AGAIN_WITHIN = timedelta(hours=_FIGURES.number("weigh_again_within"))
_ROUNDING = _FIGURES.number("whole_ounce_within")
_EARLY, _GREAT = -_FIGURES.number("early_loss"), -_FIGURES.number("great_loss")

_WEIGH_AGAIN = "weigh again, watch a whole nursing and see that it swallows"
_LOSS_WHY = {
    "early loss": (f"{_EARLY:g} % or more under the birth weight on day 2 went with more deaths", "mila15"),
    "great loss": (f"{_GREAT:g} % or more under the birth weight needs help now", "dohvh_493"),
    "below birth weight": ("By the third day no pup should weigh less than at birth", "dohvh_493"),
}


@dataclass(frozen=True, slots=True)
class OnTheScale:
    """One pup as it was last weighed."""

    pup: Dog
    growth: Growth
    dropped: frozenset[Weighing]
    """The weighings of the last hours that fell well below the one before."""
    lost: bool
    stalled: bool
    """It does not gain."""

    @property
    def who(self) -> Who:
        return self.pup.who

    @property
    def at(self) -> datetime:
        return self.growth.latest.at


@dataclass(frozen=True, slots=True)
class WeighIn:
    """The pups whose last weights are of one weigh-in."""

    start: datetime
    """The first weight of it, of any pup."""
    end: datetime
    pups: tuple[OnTheScale, ...]
    whole: bool
    """Whether every living pup was weighed."""
    before: frozenset[datetime]
    """When pups were weighed shortly before it: stragglers of that weigh-in may be what makes this one."""

    @property
    def deadline(self) -> datetime:
        """Until then the rest of the litter is waited for."""
        return self.start + _TOGETHER


def on_the_scale(pup: Dog, birth: datetime | None) -> OnTheScale | None:
    """A pup as it was last weighed; kept on the pup until it, or its birth, changes."""
    kept = pup.scaled
    if kept is None or kept[0] != birth:
        latest = pup.weighings.latest()
        kept = pup.scaled = (birth, None if latest is None else _put_on(pup, birth, latest))
    scaled: OnTheScale | None = kept[1]
    return scaled


def _put_on(pup: Dog, birth: datetime | None, latest: Weighing) -> OnTheScale:
    growth = grown(pup, birth, latest)
    return OnTheScale(pup, growth, frozenset(_drops(pup, latest)), growth.loss in LOSSES, growth.stall == "no gain")


def _drops(pup: Dog, latest: Weighing) -> Iterator[Weighing]:
    near = pup.weighings.between(latest.at - _AGAIN_WITHIN, latest.at)
    grams = [grams for _, grams in near]
    most = max(*grams, (pup.weighings.before(near[0].at) or latest).grams)
    if most - min(grams) < most * _DROP - _ROUNDING:
        return  # none fell so far, whichever came first
    step = pup.weighings.step() or 0.0
    for one in near:
        before = pup.weighings.before(one.at)
        if before is None or one.at - before.at > _LAST_WITHIN:
            continue
        lost = before.grams - one.grams
        if lost >= before.grams * _DROP and (not step or lost > step + _ROUNDING):
            yield one


def concerns_of(nursery: Nursery, weighed: Sequence[OnTheScale]) -> Iterator[Concern]:
    """What the last weights of the living pups come to."""
    if any(one.lost or one.stalled or one.dropped for one in weighed):
        living = len(nursery.living)
        for one in _weigh_ins(weighed, living):
            yield from _judge(nursery, one, living)


def _weigh_ins(weighed: Sequence[OnTheScale], living: int) -> Iterator[WeighIn]:
    """The last weights by weigh-in, the latest weigh-in first."""
    rest = sorted(weighed, key=lambda one: one.at, reverse=True)
    while rest:
        end = rest[0].at
        firsts = (one.pup.weighings.from_on(end - _TOGETHER) for one in weighed)
        start = min(first.at for first in firsts if first is not None and first.at <= end)
        pups = tuple(one for one in rest if one.at >= start)
        earlier = (one.pup.weighings.between(start - _TOGETHER, start) for one in weighed)
        before = frozenset(weighing.at for several in earlier for weighing in several if weighing.at < start)
        yield WeighIn(start, end, pups, len(pups) == living, before)
        rest = rest[len(pups) :]


def _judge(nursery: Nursery, weigh_in: WeighIn, living: int) -> Iterator[Concern]:
    fault = _fault(nursery, weigh_in)
    suspects = fault[0] if fault is not None else ()
    again = [one for one in suspects if one.at > _first(one, weigh_in).at]
    if fault is not None and len(again) < len(suspects):
        yield _scale(weigh_in, suspects, since=fault[1])
        held, slow = {one.who for one in suspects}, False
    else:
        held = set()
        stalled = [one for one in weigh_in.pups if one.stalled or (one in again and _still_low(one, weigh_in))]
        slow = len(weigh_in.pups) >= _SLOW_PUPS and len(stalled) >= _SLOW_SHARE * len(weigh_in.pups)
        if slow:
            yield _slow_litter(nursery, weigh_in, stalled)
    # A litter of so few cannot be a slow one: nothing is waited for.
    judged = weigh_in.end if weigh_in.whole or living < _SLOW_PUPS else weigh_in.deadline
    for one in weigh_in.pups:
        if one.lost:
            yield _own("weight loss", nursery, one, weigh_in.deadline if one.who in held else one.at)
        if one.stalled and not slow:
            yield _own("no gain", nursery, one, weigh_in.deadline if one.who in held else judged)
        elif one.stalled and weigh_in.before and one.at > min(weigh_in.before) + _TOGETHER:
            # A straggler of a weigh-in that was judged already: where the litter was told of then, its own warning is not replaced.
            yield _own("no gain", nursery, one, weigh_in.deadline)


def _first(one: OnTheScale, weigh_in: WeighIn) -> Weighing:
    """A pup's first weight of the weigh-in."""
    return one.pup.weighings.from_on(weigh_in.start) or one.growth.latest


def _fault(nursery: Nursery, weigh_in: WeighIn) -> tuple[list[OnTheScale], datetime] | None:
    """The pups that all dropped at once, as only a scale makes them, and since when; None: the scale seems right."""
    born = nursery.born
    firsts = sorted(((_first(one, weigh_in), one) for one in weigh_in.pups), key=lambda pair: pair[0].at)
    if born is not None:
        firsts = [pair for pair in firsts if pair[0].at - born > _OLDER_THAN]
    reach = 0
    for place, (first, _) in enumerate(firsts):
        near = [pair for pair in firsts[place:] if pair[0].at - first.at <= _FAULT_WITHIN]
        if place + len(near) == reach:  # all of them were looked at together with one before them
            continue
        reach = place + len(near)
        dropped = [one for weighing, one in near if weighing in one.dropped]
        if len(near) >= _FAULT_PUPS and len(dropped) >= len(near) - _MAY_MISS:
            return dropped, near[-1][0].at
    return None


def _still_low(one: OnTheScale, weigh_in: WeighIn) -> bool:
    """Whether a second weighing confirms the drop of the first."""
    before = one.pup.weighings.before(_first(one, weigh_in).at)
    return before is not None and before.grams - one.growth.latest.grams >= before.grams * _DROP


def _scale(weigh_in: WeighIn, suspects: Sequence[OnTheScale], since: datetime) -> Concern:
    return Concern(
        about="scale",
        who=tuple(one.who for one in _by_number(suspects)),
        urgency="soon",
        seen_at=since,
        at=since,
        until=weigh_in.deadline,
        cause=f"scale/{weigh_in.start.isoformat()}",
        words=partial(_scale_words, len(suspects), len(weigh_in.pups)),
    )


def _scale_words(dropped: int, weighed: int) -> Words:
    return Words(
        f"zero the scale and weigh again within {say_span(_AGAIN_WITHIN / timedelta(minutes=1))}",
        f"{dropped} of {weighed} are {_DROP * 100:g} % or more below their last weight",
        "Weighed",
        "A litter that drops at once is a scale more often than an illness",
        values={"pups_weighed": weighed, "pups_dropped": dropped},
    )


def _slow_litter(nursery: Nursery, weigh_in: WeighIn, stalled: Sequence[OnTheScale]) -> Concern:
    stalled = _by_number(stalled)
    return Concern(
        about="slow litter",
        who=(*(one.who for one in stalled), "dam"),
        urgency="vet today",
        seen_at=weigh_in.end,
        at=weigh_in.end if weigh_in.whole else weigh_in.deadline,
        until=weigh_in.end + _STANDS,
        cause=f"slow litter/{weigh_in.start.isoformat()}",
        near=tuple([f"slow litter/{at.isoformat()}" for at in weigh_in.before]),
        also=tuple(_cause("no gain", one) for one in weigh_in.pups if one.stalled),
        words=partial(_slow_words, nursery, weigh_in, stalled),
    )


def _slow_words(nursery: Nursery, weigh_in: WeighIn, stalled: Sequence[OnTheScale]) -> Words:
    weighed = {one.who for one in weigh_in.pups}
    not_weighed = [int(pup.who) for pup in nursery.living if pup.who not in weighed]
    return Words(
        "look at the dam: milk in every teat, temperature, discharge, glands",
        f"{len(stalled)} of {len(weigh_in.pups)} do not gain",
        "Weighed",
        "Where most of a litter does not gain, the cause is sought in the dam",
        "dohvh_492",
        litter_values([one.growth for one in weigh_in.pups], not_weighed)
        | {str(one.who): {"grams": one.growth.latest.grams, **one.growth.values(nursery.zone)} for one in stalled},
    )


def _own(about: str, nursery: Nursery, one: OnTheScale, at: datetime) -> Concern:
    """A pup's own warning."""
    near = one.pup.weighings.between(one.at - SAID_AGAIN_AFTER, one.at)
    return Concern(
        about=about,
        who=(one.who,),
        urgency="vet today",
        seen_at=one.at,
        at=at,
        until=one.at + _STANDS,
        cause=_cause(about, one),
        near=tuple([f"{about}/{one.who}/{other.at.isoformat()}" for other in near if other is not one.growth.latest]),
        alone=True,
        words=partial(_loss_words if about == "weight loss" else _no_gain_words, nursery, one),
    )


def _loss_words(nursery: Nursery, one: OnTheScale) -> Words:
    why, source = _LOSS_WHY[one.growth.loss]
    return _own_words(nursery, one, f"{say_percent(one.growth.since_birth_percent or 0.0)} since birth", why, source)


def _no_gain_words(nursery: Nursery, one: OnTheScale) -> Words:
    growth = one.growth
    gained = f"{say_change(growth.gain_g or 0.0, nursery.units)} in {say_hours(growth.hours or 0.0)}"
    why = "Any day without a gain is a concern" if growth.step is None else "Two days without a step of this scale are a concern"
    return _own_words(nursery, one, gained, why, "dohvh_492")


def _own_words(nursery: Nursery, one: OnTheScale, changed: str, why: str, source: str) -> Words:
    grams = one.growth.latest.grams
    values = {"grams": grams, **one.growth.values(nursery.zone)}
    return Words(_WEIGH_AGAIN, f"{say_weight(grams, nursery.units)}, {changed}", "Weighed", why, source, values)


def _cause(about: str, one: OnTheScale) -> str:
    return f"{about}/{one.who}/{one.at.isoformat()}"


def _by_number(pups: Iterable[OnTheScale]) -> list[OnTheScale]:
    return sorted(pups, key=lambda one: int(one.who))
