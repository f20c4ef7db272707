"""Colours for readers of every kind of colour vision, in grey too, and words dark enough to read."""

from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from sim.drawing.palette import GAS_THICK, GAS_THIN, INK, SERIES, SOFT_INK, WATER_BOTTOM, WING_CLOTH, rgb
from sim.drawing.style import STYLES

ROOT = Path(__file__).parents[3]
# Machado, Oliveira & Fernandes 2009 (IEEE TVCG 15:1291), severity 1.0, for linear RGB; from memory
VISION = {
    "usual": np.eye(3),
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritanopia": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}
# sRGB to CIE XYZ, D65 (IEC 61966-2-1)
XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
NOTICED = 2.3  # CIE 1976 colour difference that is just noticeable (Mahy et al. 1994, from memory)
AT_A_GLANCE = 10.0 * NOTICED
SIDE_BY_SIDE = 4.0 * NOTICED  # where words or another mark help
GREY = 14.0  # of lightness L*: print of a photocopy still shows two greys (assumed)


def linear(colour):
    value = np.asarray(rgb(colour))
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def lab(light):
    """CIE L*a*b* of linear RGB."""
    share = XYZ @ np.clip(light, 0.0, 1.0) / XYZ.sum(axis=1)
    f = np.where(share > (6 / 29) ** 3, np.cbrt(share), share / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def apart(one, other, vision="usual"):
    return float(np.linalg.norm(np.subtract(*(lab(VISION[vision] @ linear(colour)) for colour in (one, other)))))


def opposed(style):
    return [
        (style.weight, style.buoyancy), (style.head_up, style.head_down), (style.passes, style.fails),
        (GAS_THIN, GAS_THICK), (WING_CLOTH, GAS_THICK),
    ]  # fmt: skip


@pytest.mark.parametrize("vision", VISION)
def test_simulated_vision_leaves_white_white(vision):
    # each row adds up to one, to the six digits printed
    assert VISION[vision].sum(axis=1) == pytest.approx(1.0, abs=2e-6)


@pytest.mark.parametrize("vision", VISION)
@pytest.mark.parametrize("style", STYLES)
def test_opposites_are_told_apart_at_a_glance(style, vision):
    assert min(apart(*pair, vision) for pair in opposed(STYLES[style])) > AT_A_GLANCE


@pytest.mark.parametrize("style", STYLES)
def test_opposites_are_told_apart_in_grey(style):
    for one, other in opposed(STYLES[style]):
        assert abs(lab(linear(one))[0] - lab(linear(other))[0]) > GREY, (one, other)


@pytest.mark.parametrize("vision", VISION)
@pytest.mark.parametrize("style", STYLES)
def test_no_two_meanings_share_a_colour(style, vision):
    look = STYLES[style]
    meanings = [look.head_up, look.head_down, look.passes, look.fails, GAS_THICK]
    assert min(apart(*pair, vision) for pair in combinations(meanings, 2)) > SIDE_BY_SIDE
    assert min(apart(*pair, vision) for pair in combinations(SERIES, 2)) > SIDE_BY_SIDE


@pytest.mark.parametrize("colour", [INK, SOFT_INK])
def test_words_stand_out_from_the_darkest_water(colour):
    word, water = (float(XYZ[1] @ linear(c)) for c in (colour, WATER_BOTTOM))
    assert (water + 0.05) / (word + 0.05) > 4.5  # WCAG 2.1, success criterion 1.4.3


@pytest.mark.parametrize("style", STYLES)
def test_words_stand_out_from_their_ground(style):
    look = STYLES[style]
    for ground in (*look.ground, look.paper, look.sky, look.sea):
        for ink in (look.ink, look.soft_ink):
            low, high = sorted(float(XYZ[1] @ linear(c)) for c in (ink, ground))
            assert (high + 0.05) / (low + 0.05) > 4.5, (ink, ground)


def test_the_hand_out_and_the_page_have_the_same_colours():
    """Their sources are read by a typesetter and by a browser, which know nothing of the palette."""
    light, dark = STYLES["light"], STYLES["dark"]
    sheet = (ROOT / "sim/answers/sheet/sheet.typ").read_text(encoding="utf-8")
    page = (ROOT / "sim/page/web/bench.css").read_text(encoding="utf-8")
    assert f'#let head-up = rgb("{light.head_up}")' in sheet
    assert f'#let head-down = rgb("{light.head_down}")' in sheet
    for look in (light, dark):
        assert f"--up: {look.head_up}; --down: {look.head_down};" in page
