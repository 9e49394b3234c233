"""What is said goes out by every way until it is known to have arrived; what reached nobody is said to have reached nobody."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path

from bot.conversation import Message, Said
from bot.delivery import Came, Delivery, Try, Way
from storage import TriedWay
from tests.conversation.talk import Talk


@dataclass
class Box:
    """A way that puts what it is given into a list."""

    way: Way
    came: Came = Came.FAILED
    broken: bool = False
    got: list[tuple[str, str]] = field(default_factory=list)

    async def say(self, said: Said, to: str) -> Came:
        if self.broken:
            raise OSError("the wire is cut")
        self.got.append((to, said.text))
        return self.came


class Night:
    """A household of two with a nudge that is due, and ways to them."""

    def __init__(self, path: Path | None = None) -> None:
        self.talk = Talk(path)
        self.talk.say("02:00", "Ines", "new litter of 2 from Juniper, c-section at 2:00 am")
        self.talk.say("02:01", "Ines", "skip all")
        self.talk.say("02:02", "Theo", "pups 1 and 2 nursed 10 min cleared stimulated")
        self.now = self.talk.at("04:10")
        self.page, self.push = Box(Way("page", timedelta(seconds=8))), Box(Way("push", timedelta(minutes=1)))
        self.speaker = Box(Way("speaker", shared=True))
        self.marked: list[int] = []
        self.unheard: list[Said] = []
        self.open()

    def open(self) -> None:
        self.delivery = Delivery(
            [self.page, self.push, self.speaker],
            self.talk.house,
            lambda: self.now,
            delivered=self._mark,
            tried=self._tried,
            unheard=self._nobody,
        )

    def _mark(self, ids: Sequence[int]) -> None:
        self.marked += ids
        self.talk.house.delivered(ids)

    def _tried(self, id: int, person: str, tried: Try) -> None:
        self.talk.house.keep_tries([TriedWay(id, person, tried.way, tried.at, tried.times, tried.came)])

    def _nobody(self, missed: Sequence[Said]) -> None:
        self.unheard += missed

    async def speak_up(self) -> Said:
        said, *others = self.talk.house.speak_up(self.now)
        self.talk.house.delivered([one.id for one in others if one.id is not None])
        await self.delivery.tell([said])
        await self.delivery.settled()
        return said

    async def later(self, **by: float) -> None:
        self.now += timedelta(**by)
        self.delivery.sweep()
        await self.delivery.settled()

    def gone(self) -> list[tuple[str, str]]:
        return [(box.way.name, to) for box in (self.page, self.push, self.speaker) for to, _ in box.got]


async def test_a_reply_stands_on_the_page_and_goes_by_no_other_way() -> None:
    night = Night()
    night.page.came = Came.HANDED
    heard = night.talk.hear("04:10", "Ines", "pup 1 200 g")
    await night.delivery.tell(heard.said)
    assert night.gone() == [("page", "Ines")]
    assert night.marked == [heard.said[0].id]


async def test_a_reply_that_no_page_could_show_stays_owed() -> None:
    night = Night()
    heard = night.talk.hear("04:10", "Ines", "pup 1 200 g")
    await night.delivery.tell(heard.said)
    assert night.marked == []
    assert heard.said[0] in night.talk.house.owed()


async def test_what_an_open_page_confirms_in_time_goes_by_no_other_way() -> None:
    night = Night()
    night.page.came = Came.HANDED
    said = await night.speak_up()
    assert night.marked == []
    assert said.id is not None
    night.delivery.arrived([said.id], "Ines", "page")
    night.delivery.arrived([said.id], "Theo", "page")
    await night.later(minutes=15)
    assert night.gone() == [("page", "Ines"), ("page", "Theo")]
    assert (night.marked, night.unheard) == ([said.id], [])


async def test_what_only_one_confirms_goes_on_to_the_other() -> None:
    night = Night()
    night.page.came = night.push.came = Came.HANDED
    said = await night.speak_up()
    assert said.id is not None
    night.delivery.arrived([said.id], "Ines", "page")
    await night.later(seconds=7)
    assert night.push.got == []
    await night.later(seconds=1)
    assert night.push.got == [("Theo", said.text)]
    await night.later(minutes=12)
    assert night.unheard == [], "Ines has it"


async def test_where_no_page_is_open_the_next_way_is_gone_at_once_and_a_way_of_the_house_once_for_all() -> None:
    night = Night()
    night.speaker.came = Came.ARRIVED
    said = await night.speak_up()
    assert night.gone() == [("page", "Ines"), ("page", "Theo"), ("push", "Ines"), ("push", "Theo"), ("speaker", "Ines")]
    assert night.marked == [said.id]


async def test_a_way_that_breaks_hinders_no_other() -> None:
    night = Night()
    night.push.broken = True
    night.speaker.came = Came.ARRIVED
    assert (await night.speak_up()).id in night.marked


async def test_what_nobody_got_within_ten_minutes_is_a_warning_once_and_never_of_itself() -> None:
    night = Night()
    said = await night.speak_up()
    await night.later(minutes=9)
    assert night.unheard == []
    await night.later(minutes=1)
    assert night.unheard == [said]
    (warning,) = night.talk.house.say_unheard(night.unheard, night.now)
    assert (warning.says, warning.about, warning.urgency, warning.to) == ("warning", "unheard", "soon", "all")
    assert said.text in warning.text
    await night.delivery.tell([warning])
    await night.later(minutes=60)
    assert night.unheard == [said]
    assert night.talk.house.say_unheard([said], night.now) == []


async def test_while_a_warning_of_it_has_reached_nobody_there_is_no_second_one() -> None:
    night = Night()
    await night.speak_up()
    await night.later(minutes=10)
    (warning,) = night.talk.house.say_unheard(night.unheard, night.now)
    await night.later(minutes=20)
    second = await night.speak_up()
    assert night.talk.house.say_unheard([second], night.now) == []
    assert warning.id is not None
    night.talk.house.delivered([warning.id])
    assert [one.about for one in night.talk.house.say_unheard([second], night.now)] == ["unheard"]


async def test_nobody_is_woken_by_what_was_logged_or_snoozed_in_the_meantime() -> None:
    for words in ("pups 1 and 2 nursed 10 min", "snooze 20"):
        night = Night()
        night.page.came = Came.HANDED
        await night.speak_up()
        night.talk.hear("04:10", "Ines", words)
        await night.later(seconds=20)
        assert night.push.got == []
        await night.later(minutes=15)
        assert night.unheard == []


async def test_who_writes_on_the_page_has_seen_what_stands_there() -> None:
    night = Night()
    night.page.came = Came.HANDED
    said = await night.speak_up()
    night.delivery.spoke("Ines")
    await night.later(seconds=20)
    assert night.push.got == [("Theo", said.text)]


async def test_after_a_restart_it_goes_on_where_it_was(tmp_path: Path) -> None:
    night = Night(tmp_path / "lampwatch.db")
    night.page.came = night.push.came = Came.HANDED
    said = await night.speak_up()
    assert said.id is not None
    night.delivery.arrived([said.id], "Ines", "page")
    night.delivery.stop()
    night.talk.restart()
    night.open()
    night.delivery.go_on()
    await night.later(seconds=7)
    assert night.gone() == [("page", "Ines"), ("page", "Theo")]
    await night.later(seconds=1)
    assert night.gone()[2:] == [("push", "Theo")]


async def test_what_is_confirmed_long_after_is_no_longer_owed() -> None:
    night = Night()
    said = await night.speak_up()
    await night.later(hours=1)
    assert said in night.talk.house.owed()
    assert said.id is not None
    night.delivery.arrived([said.id, 10_000], "Theo", "page")
    assert said not in night.talk.house.owed()


async def test_what_the_household_owes_is_known_after_a_restart_until_it_is_delivered() -> None:
    talk = Talk()
    talk.say("03:14", "Ines", "pup 3 nursed 15")
    owed = talk.house.owed()
    assert [one.text for one in owed] == ["Pup 3: nursed 15 min."]
    talk.house.delivered([one.id for one in owed if one.id is not None])
    assert talk.house.owed() == []
    assert talk.house.hear(Message("Ines", "pup 3 cleared"), talk.at("03:15")).kept
