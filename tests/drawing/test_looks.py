"""Every curve is told apart without its colour, and its colour is seen: at night, by day, on paper, by eyes that mix up colours."""

from __future__ import annotations

from itertools import combinations

import pytest

from bot.drawing.looks import LOOKS, Look, dash, marker

PUPS = range(1, 11)
SEEN = 3.0
"""The contrast that lines and shapes need against their ground (Web Content Accessibility Guidelines 2.2, 1.4.11)."""
READ = 4.5
"""The contrast that small letters need (the same, 1.4.3)."""

MIXED_UP = {  # what is seen of red, green and blue light (Machado, Oliveira, Fernandes 2009, severity 1.0)
    "protan": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "deutan": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    "tritan": ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
}


def light(colour: str) -> tuple[float, float, float]:
    red, green, blue = (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in (red, green, blue)]
    return linear[0], linear[1], linear[2]


def brightness(rgb: tuple[float, float, float]) -> float:
    return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]


def contrast(one: str, other: str) -> float:
    dark, bright = sorted((brightness(light(one)), brightness(light(other))))
    return (bright + 0.05) / (dark + 0.05)


def test_ten_pups_have_ten_markers_and_an_eleventh_has_another_dash_than_its_double() -> None:
    assert len({marker(pup) for pup in PUPS}) == 10
    assert len({(marker(pup), dash(pup)) for pup in range(1, 21)}) == 20


@pytest.mark.parametrize("look", LOOKS.values(), ids=LOOKS)
def test_every_curve_is_seen_on_its_ground_and_on_the_shaded_range(look: Look) -> None:
    for colour in look.colours:
        assert contrast(colour, look.ground) >= SEEN
        assert contrast(colour, look.band) >= SEEN


@pytest.mark.parametrize("look", LOOKS.values(), ids=LOOKS)
def test_every_word_is_read(look: Look) -> None:
    for colour in (look.ink, look.faint, look.alarm):
        assert contrast(colour, look.ground) >= READ
    assert contrast(look.faint, look.band) >= READ


@pytest.mark.parametrize("eyes", MIXED_UP)
@pytest.mark.parametrize("look", LOOKS.values(), ids=LOOKS)
def test_eyes_that_mix_up_colours_tell_the_colours_apart(look: Look, eyes: str) -> None:
    rows = MIXED_UP[eyes]
    for one, other in combinations(range(len(look.colours)), 2):
        seen = [
            tuple(sum(part * amount for part, amount in zip(row, light(look.colours[place]), strict=True)) for row in rows)
            for place in (one, other)
        ]
        apart = max(abs(first - second) for first, second in zip(*seen, strict=True))
        assert apart > 0.03, (look.colours[one], look.colours[other])
