"""The schedule of one dog: what is due of it, by its age, by what was done, and by what the household chose. A rule for each care."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from bot.care import dam_check, first_milk, weigh_in_times
from bot.care.choice import Choices
from bot.care.dog import Dog, Dues
from bot.care.doing import Doing
from bot.care.due import STAGES, Due
from bot.care.figures import figures
from bot.care.nursery import Nursery
from bot.care.wall import at_hour, local_day

_FIGURES = figures("rounds")
_CLEAR = timedelta(minutes=_FIGURES.number("clearing_after"))
_TOILET = timedelta(minutes=_FIGURES.number("toilet_after"))
_WEIGHED = timedelta(hours=_FIGURES.number("weighed_before"))
_TOO_LATE = timedelta(minutes=_FIGURES.number("not_said_when_told_after"))


def due_of(dog: Dog, nursery: Nursery, now: datetime) -> tuple[Due, ...]:
    """All that is or will be due of a living dog, as it stands now.

    It is kept on the dog until the dog, a choice or the birth changes, or the next hour of the wall clock has come that makes care due.
    """
    kept, birth = dog.dues, nursery.birth(dog)
    if kept is None or kept.choices is not nursery.choices or kept.birth != birth or not kept.since <= now < kept.until:
        found = tuple(_Rules(dog, nursery, birth, now).dues())
        until = min((one.at for one in found if one.by_the_clock and one.at > now), default=_NEVER)
        kept = dog.dues = Dues(found, nursery.choices, birth, now, until)
    return kept.all


_NEVER = datetime.max.replace(tzinfo=UTC)


def interval(choices: Choices, birth: datetime | None, began: datetime) -> float | None:
    """Minutes between nursings for a pup of its age when it began the last one; None: no longer by the clock."""
    return _chosen("nursing", choices, birth, began) or _FIGURES.on_day("nursing_interval", _day(birth, began))


@dataclass(frozen=True, slots=True)
class _Rules:
    """The rules for one dog, with what they rest on."""

    dog: Dog
    nursery: Nursery
    birth: datetime | None
    now: datetime

    @property
    def choices(self) -> Choices:
        return self.nursery.choices

    def dues(self) -> Iterator[Due]:
        if self.dog.died_at is not None:
            return
        if self.dog.who != "dam":
            yield from self._first_milk()
            yield from self._nursing()
            yield from self._clearing()
            yield from self._toilet()
            yield from self._weighing()
            yield from self._temperature()
        elif self.birth is not None:
            yield from self._dam_check(self.birth)
        yield from self._doses()

    def _first_milk(self) -> Iterator[Due]:
        birth = self.birth
        if birth is None or self.dog.had_first_milk:
            return
        moments = first_milk.moments(birth)
        cause = f"first milk/{self.dog.who}/{birth.isoformat(timespec='seconds')}"
        yield Due(
            "first milk",
            self.dog.who,
            moments[0],
            tuple([f"{cause}/{stage}" for stage in STAGES[: len(moments)]]),
            until=first_milk.too_late(birth),
            moments=moments,
            nudged_until=first_milk.vet_at(birth),
        )

    def _nursing(self) -> Iterator[Due]:
        last = self.dog.last_fed()
        minutes = None if last is None else interval(self.choices, self.birth, last.began)
        if last is not None and minutes is not None:
            yield self._due("nursing", last.began + timedelta(minutes=minutes), last)

    def _clearing(self) -> Iterator[Due]:
        fed = self.dog.last_fed()
        if (chosen := self._chosen("clearing", "cleared", "cleared")) is not None:
            yield chosen
        elif fed is not None:
            yield from self._after_a_feed("clearing", fed, _CLEAR, "cleared")

    def _toilet(self) -> Iterator[Due]:
        fed = self.dog.last_fed()
        if (chosen := self._chosen("toilet", "toilet", "stimulated")) is not None:
            yield chosen
        elif fed is not None and _FIGURES.on_day("toilet_days", _day(self.birth, fed.began)):
            yield from self._after_a_feed("toilet", fed, _TOILET, "toilet")

    def _weighing(self) -> Iterator[Due]:
        if (chosen := self._chosen("weighing", "weight", "weighed")) is not None:
            yield chosen
            return
        latest = self.dog.weighings.latest()
        past, ahead = weigh_in_times.last_and_next(self.birth, self.now, self.nursery.zone)
        if past is not None and self._was_known(past) and (latest is None or latest.at < past - _WEIGHED):
            yield self._by_the_clock("weighing", past, "weighed", latest and latest.at, next(ahead, weigh_in_times.end(self.birth)))
            past, ahead = weigh_in_times.last_and_next(self.birth, self.now, self.nursery.zone)
        coming = next((at for at in ahead if latest is None or latest.at < at - _WEIGHED), None)
        if coming is not None:
            yield self._by_the_clock("weighing", coming, "weighed", latest and latest.at, None)

    def _temperature(self) -> Iterator[Due]:
        """A pup's temperature is due only where the household wants it so."""
        if (chosen := self._chosen("temperature", "temperature", "measured")) is not None:
            yield chosen

    def _dam_check(self, birth: datetime) -> Iterator[Due]:
        if (chosen := self._chosen("dam check", "temperature", "measured")) is not None:
            yield chosen
            return
        zone, now, last = self.nursery.zone, self.now, self.dog.last.get("temperature")
        checked = None if last is None else local_day(last.began, zone)
        for day, at in dam_check.checks(birth, zone):
            end = at_hour(day + timedelta(days=1), 0, zone)
            if now < end and self._was_known(at) and checked != day:
                yield self._by_the_clock("dam check", at, "measured", None if last is None else last.began, end)
                if at > now:
                    return

    def _was_known(self, moment: datetime) -> bool:
        """Whether the litter was told of by then: nobody waits for what was due before."""
        return self.nursery.known is not None and self.nursery.known <= moment

    def _by_the_clock(self, care: str, at: datetime, done: str, last_at: datetime | None, until: datetime | None) -> Due:
        causes = _stages(f"{care}/{self.dog.who}/{at.isoformat()}")
        return Due(care, self.dog.who, at, causes, done, last_at, until=until, by_the_clock=True)

    def _after_a_feed(self, care: str, fed: Doing, wait: timedelta, kind: str) -> Iterator[Due]:
        """Care that is needed once after the last nursing or feed. An entry told long after that moment makes nothing due."""
        done, at = self.dog.last.get(kind), fed.ended + wait
        if (done is None or done.began < fed.began) and fed.told_at - at <= _TOO_LATE:
            yield self._due(care, at, fed, once=True)

    def _doses(self) -> Iterator[Due]:
        for drug, given in self.dog.doses.items() if self.choices.plan else ():
            minutes = self.choices.plan.get(drug, self.choices.plan.get(""))
            if minutes is not None:
                last = given.last
                name, causes = str(getattr(last.event, "drug", drug)), _stages(f"dose/{drug}/{self.dog.who}/{last.cause}")
                yield Due("dose", self.dog.who, last.began + timedelta(minutes=minutes), causes, "given", last.began, name)

    def _chosen(self, care: str, kind: str, done: str) -> Due | None:
        """Care by the interval that the household chose: so long after it was last done, or after the choice where it never was.

        None: none was chosen, or the pup is too old for it by now, and the table holds.
        """
        since = self.choices.since.get(_CHOSEN_AS.get(care, care))
        if since is None:
            return None
        last = self.dog.last.get(kind)
        start = max(since, self.birth or since) if last is None else last.began
        minutes = _chosen(care, self.choices, self.birth, start)
        if minutes is None:
            return None
        causes = _stages(f"{care}/{self.dog.who}/{f'chosen {start.isoformat()}' if last is None else last.cause}")
        return Due(care, self.dog.who, start + timedelta(minutes=minutes), causes, done, None if last is None else last.began)

    def _due(self, care: str, at: datetime, last: Doing, *, once: bool = False) -> Due:
        who = self.dog.who
        return Due(care, who, at, _stages(f"{care}/{who}/{last.cause}"), last.event.kind, last.began, once=once)


_CHOSEN_AS = {"dam check": "temperature"}
"""An interval for the temperatures is the dam's too: she is then checked as often, and not at her hour."""


def _stages(cause: str) -> tuple[str, ...]:
    return tuple([f"{cause}/{stage}" for stage in STAGES])


def _day(birth: datetime | None, moment: datetime) -> int:
    """The day of a pup's life. Where its birth was not told, it counts as newborn: better a nudge too many."""
    return 0 if birth is None else max(0, (moment - birth).days)


def _chosen(care: str, choices: Choices, birth: datetime | None, moment: datetime) -> float | None:
    """Minutes of the interval that the household chose for a care, while the pup is of the age for which a choice holds."""
    chosen = choices.every.get(_CHOSEN_AS.get(care, care))
    return None if _FIGURES.on_day("interval_by_choice", _day(birth, moment)) is None else chosen
