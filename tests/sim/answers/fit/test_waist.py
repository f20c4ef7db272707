"""Where a waist strap lies, by hand: webbing 5 cm wide, half a centimetre over either bone."""

from __future__ import annotations

import numpy as np
import pytest

from sim.answers.fit.waist import strap_place, waist_margin, waist_room


@pytest.mark.parametrize(
    ("gap", "room"),
    [
        (0.090, 0.025),  # 2 cm clear each side of the webbing, and half a centimetre over
        (0.060, 0.010),
        (0.050, 0.005),  # as wide as the webbing
        (0.030, 0.005),  # 1 cm over each cannot be helped
        (0.006, 0.003),  # the middle stays between the bones
        (0.000, 0.000),
        (-0.020, -0.010),  # the rib is below the hip bone: nowhere
    ],
)
def test_room_beside_the_natural_waist(gap: float, room: float) -> None:
    assert waist_room(0.14, 0.14 + gap) == pytest.approx(room, abs=1e-12)


@pytest.mark.parametrize(
    ("strap", "place"),
    [
        (0.1599, "on the hips"), (0.1601, "on the waist"), (0.17, "on the waist"), (0.1799, "on the waist"),
        (0.1801, "above the waist"), (-0.3, "on the hips"), (0.6, "above the waist"),
    ],
)  # fmt: skip
def test_bones_6_cm_apart_leave_1_cm_either_way(strap: float, place: str) -> None:
    assert strap_place(strap, 0.14, 0.20) == place


def test_where_no_strap_is_on_the_waist_a_low_one_is_on_the_hips() -> None:
    assert strap_place(0.129, 0.14, 0.12) == "on the hips"
    assert strap_place(0.131, 0.14, 0.12) == "above the waist"


def test_what_is_not_a_number_is_not_on_the_waist() -> None:
    assert strap_place(float("nan"), 0.14, 0.20) != "on the waist"
    assert not waist_margin(0.17, float("nan"), 0.20) >= 0.0


def test_the_margin_is_a_tent_over_the_natural_waist() -> None:
    straps = np.linspace(0.10, 0.24, 15)
    margins = np.array([waist_margin(s, 0.14, 0.20) for s in straps])
    np.testing.assert_allclose(margins, 0.01 - np.abs(straps - 0.17), atol=1e-12)
