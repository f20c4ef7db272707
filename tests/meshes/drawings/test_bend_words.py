"""What is written beside bend lines."""

import math

import numpy as np
import pytest

from meshes.drawings.bend_words import Label, bend_words, words_of_lines

LINES = np.array([[[0.03, -0.2], [0.03, 0.2]], [[-0.03, -0.2], [-0.03, 0.2]], [[0.09, -0.2], [0.09, 0.2]]])


@pytest.mark.parametrize(
    ("text", "degrees", "radius"),
    [
        ("65 deg", 65.0, None),
        ("65° toward R4.5", 65.0, 4.5e-3),
        ("-65 degrees", -65.0, None),
        ("\u221265 deg", -65.0, None),
        ("65 deg away", -65.0, None),
        ("UP  90°  R 3", -90.0, 3e-3),
        ("DOWN 90° R=3", 90.0, 3e-3),
        ("bend 47,5 deg R0,5", 47.5, 0.5e-3),
    ],
)
def test_an_angle_with_its_way_and_its_radius(text: str, degrees: float, radius: float | None) -> None:
    said = bend_words(text, 1e-3)
    assert said is not None
    assert math.degrees(said.angle) == pytest.approx(degrees, abs=1e-12)
    assert said.inner_radius == (None if radius is None else pytest.approx(radius, rel=1e-15))


@pytest.mark.parametrize(
    "text", ["", "bend", "R4", "65", "0 deg", "121 deg", "9" * 50 + " deg", "x" * 10**5 + "9 deg"]
)
def test_what_names_no_angle_says_nothing(text: str) -> None:
    assert bend_words(text, 1e-3) is None


def test_a_text_belongs_to_the_line_nearest_to_it_and_a_layer_to_all_of_its_lines() -> None:
    labels = [Label("30 deg", np.array([0.032, 0.1])), Label("R2", np.array([0.029, 0.0]))]
    first, second, third = words_of_lines(LINES, ["bend", "bend", "bend 65 deg away"], labels, 1e-3)
    assert first is not None
    assert (math.degrees(first.angle), first.inner_radius) == pytest.approx((30.0, 2e-3), rel=1e-12)
    assert second is None
    assert third is not None
    assert math.degrees(third.angle) == pytest.approx(-65.0, rel=1e-12)
    assert words_of_lines(np.empty((0, 2, 2)), [], labels, 1e-3) == ()
