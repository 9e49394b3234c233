"""What is shown beside an answer stays as it was when it was given, whatever was told or corrected since, and over a restart."""

from __future__ import annotations

from pathlib import Path

from bot.charts import Curves
from bot.conversation import Heard
from bot.reports import chart
from tests.conversation.talk import Talk


def answer_id(heard: Heard) -> int:
    found = next(said.id for said in heard.said if said.says == "answer")
    assert found is not None
    return found


def drawn(talk: Talk, answer: int) -> Curves:
    asked = talk.house.looking_back(answer)
    assert asked is not None
    picture = chart.picture(asked)
    assert isinstance(picture, Curves)
    return picture


def weighed() -> Talk:
    talk = Talk()
    return begin(talk)


def begin(talk: Talk) -> Talk:
    for wall, text in (
        ("00:10", "new litter of 3 from Juniper, c-section at 12:05 am"),
        ("00:11", "skip all"),
        ("00:20", "weights 205 188 212"),
        ("12:20", "weights 203 187 210"),
    ):
        talk.hear(wall, "ines", text)
    return talk


def test_a_chart_is_drawn_from_the_log_of_its_moment(tmp_path: Path) -> None:
    talk = begin(Talk(tmp_path / "log.db"))
    heard = talk.hear("12:30", "ines", "chart")
    before = drawn(talk, answer_id(heard))
    assert [len(curve.points) for curve in before.curves] == [2, 2, 2]
    assert before.alt == heard.said[-1].text
    talk.hear("12:31", "ines", "pup 3 211 g")
    talk.hear("20:00", "ines", "weights 206 190 214")
    assert drawn(talk, answer_id(heard)) == before
    talk.restart()
    assert drawn(talk, answer_id(heard)) == before


def test_a_correction_or_an_undo_later_leaves_it_as_it_was() -> None:
    talk = weighed()
    talk.hear("12:25", "ines", "pup 2 189 g")
    heard = talk.hear("12:30", "ines", "chart of 2")
    before = drawn(talk, answer_id(heard))
    assert before.curves[0].points[-1][1] == 189
    assert "Corrected: Pup 2: 186 g." in talk.say("12:31", "ines", "no, 186")
    assert talk.say("12:32", "ines", "undo").startswith("Taken back")
    assert drawn(talk, answer_id(heard)) == before
    after = drawn(talk, answer_id(talk.hear("12:40", "ines", "chart of 2")))
    assert after.curves[0].points[-1][1] == 187


def test_a_weight_told_with_the_question_is_on_the_chart() -> None:
    talk = weighed()
    heard = talk.hear("20:00", "ines", "pup 1 207 g, chart of 1")
    assert drawn(talk, answer_id(heard)).curves[0].points[-1][1] == 207


def test_what_shows_nothing_but_words_has_nothing_to_look_back_at() -> None:
    talk = weighed()
    gains = talk.hear("12:30", "ines", "today's gains")
    none = Talk().hear("00:10", "ines", "chart")
    for answer in (answer_id(gains), answer_id(none), 1, 9999):
        assert talk.house.looking_back(answer) is None


def test_the_chart_of_each_litter_is_its_own() -> None:
    talk = weighed()
    talk.hear("13:00", "ines", "new litter of 2 from Willow, c-section at 12:45 pm")
    talk.hear("13:01", "ines", "Willow: weights 150 160")
    first = talk.hear("13:05", "ines", "Juniper: chart")
    assert [curve.place for curve in drawn(talk, answer_id(first)).curves] == [1, 2, 3]
    second = talk.hear("13:06", "ines", "Willow: chart")
    assert [curve.place for curve in drawn(talk, answer_id(second)).curves] == [1, 2]
