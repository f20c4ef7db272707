"""Colours for readers of every kind of colour vision, and words dark enough to read."""

import numpy as np
import pytest

from sim.drawing.palette import (
    BUOYANCY,
    GAS_THICK,
    GAS_THIN,
    HEAD_DOWN,
    HEAD_UP,
    INK,
    SOFT_INK,
    WATER_BOTTOM,
    WEIGHT,
    WING_CLOTH,
    rgb,
)

# Machado, Oliveira & Fernandes 2009 (IEEE TVCG 15:1291), severity 1.0, for linear RGB; from memory
VISION = {
    "usual": np.eye(3),
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
}
# sRGB to CIE XYZ, D65 (IEC 61966-2-1)
XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
OPPOSED = [(WEIGHT, BUOYANCY), (HEAD_UP, HEAD_DOWN), (GAS_THIN, GAS_THICK), (WING_CLOTH, GAS_THICK)]
TOLD_APART = 25.0  # CIE 1976 colour difference; 2.3 is just noticeable, ten times that is plain at a glance


def linear(colour):
    value = np.asarray(rgb(colour))
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def lab(light):
    """CIE L*a*b* of linear RGB."""
    share = XYZ @ np.clip(light, 0.0, 1.0) / XYZ.sum(axis=1)
    f = np.where(share > (6 / 29) ** 3, np.cbrt(share), share / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@pytest.mark.parametrize("vision", VISION)
def test_simulated_vision_leaves_white_white(vision):
    # each row adds up to one, to the six digits printed
    assert VISION[vision].sum(axis=1) == pytest.approx(1.0, abs=2e-6)


@pytest.mark.parametrize("vision", VISION)
@pytest.mark.parametrize(("one", "other"), OPPOSED)
def test_colours_with_opposite_meanings_are_told_apart(one, other, vision):
    seen = [lab(VISION[vision] @ linear(colour)) for colour in (one, other)]
    assert np.linalg.norm(seen[0] - seen[1]) > TOLD_APART


@pytest.mark.parametrize("colour", [INK, SOFT_INK, WEIGHT])
def test_words_stand_out_from_the_darkest_water(colour):
    word, water = (float(XYZ[1] @ linear(c)) for c in (colour, WATER_BOTTOM))
    # WCAG 2.1 success criterion 1.4.3, large and bold text 3:1, other text 4.5:1
    assert (water + 0.05) / (word + 0.05) > (3.0 if colour == WEIGHT else 4.5)
