"""What is said goes out by every channel; what reached nobody stays owed."""

from __future__ import annotations

from dataclasses import dataclass, field

from bot.conversation import Said
from bot.delivery import Delivery
from tests.conversation.talk import Talk

AT = Talk().at("03:14")


@dataclass
class Box:
    """A channel that puts what it is given into a list."""

    name: str = "box"
    open: bool = True
    broken: bool = False
    got: list[str] = field(default_factory=list)

    async def say(self, said: Said) -> bool:
        if self.broken:
            raise OSError("the wire is cut")
        self.got.append(said.text)
        return self.open


def said(id: int) -> Said:
    return Said(AT, "all", "nudge", f"nudge {id}", id=id)


async def test_every_channel_is_told_and_what_reached_someone_is_marked() -> None:
    here, away, marked = Box(), Box("far", open=False), list[int]()
    await Delivery([here, away], marked.extend).tell([said(1), said(2)])
    assert (here.got, away.got, marked) == (["nudge 1", "nudge 2"], ["nudge 1", "nudge 2"], [1, 2])


async def test_what_reached_nobody_stays_owed() -> None:
    marked: list[int] = []
    await Delivery([Box(open=False)], marked.extend).tell([said(1)])
    assert marked == []


async def test_a_channel_that_breaks_hinders_no_other() -> None:
    here, marked = Box(), list[int]()
    await Delivery([Box("cut", broken=True), here], marked.extend).tell([said(1)])
    assert (here.got, marked) == (["nudge 1"], [1])


async def test_what_the_household_owes_is_known_after_a_restart_until_it_is_delivered() -> None:
    talk = Talk()
    talk.say("03:14", "Ines", "pup 3 nursed 15")
    owed = talk.house.owed()
    assert [one.text for one in owed] == ["Pup 3: nursed 15 min."]
    talk.house.delivered([one.id for one in owed if one.id is not None])
    assert talk.house.owed() == []
