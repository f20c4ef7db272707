"""Hoses: mass by the metre, water displaced by the outside diameter."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from meshes.gear.hose import cord, hose, inflator_hose
from meshes.solid import volume_integrals

HOSE_MASS = 0.27  # kg/m, from memory, 0.25 to 0.3
HOSE_DIAMETER = 0.0115  # m, from memory, 11 to 13 mm

STRAIGHT = [[0.0, 0.1, 0.2], [0.8, 0.1, 0.2]]


def test_straight_hose_is_a_slender_rod() -> None:
    got = hose(STRAIGHT, fittings=False)
    assert got.mass == pytest.approx(HOSE_MASS * 0.8, rel=1e-12)
    assert got.volume == pytest.approx(0.25 * np.pi * HOSE_DIAMETER**2 * 0.8, rel=1e-12)
    assert got.cm == pytest.approx([0.4, 0.1, 0.2], abs=1e-12)
    r, m = 0.5 * HOSE_DIAMETER, got.mass
    # a 14-sided section: its second moment is 6.6 % below the circle's per area, along it nothing changes
    assert got.inertia[0, 0] == pytest.approx(0.5 * m * r**2, rel=0.07)
    assert got.inertia[1, 1] == pytest.approx(m * (0.8**2 / 12.0 + r**2 / 4.0), rel=1e-5)


def test_length_as_bought_counts() -> None:
    drawn, bought = hose(STRAIGHT), hose(STRAIGHT, length=1.0)
    assert bought.mass == pytest.approx(drawn.mass / 0.8, rel=1e-12)
    assert bought.volume == pytest.approx(drawn.volume / 0.8, rel=1e-12)
    assert bought.cm == pytest.approx(drawn.cm)


def test_quarter_circle_has_its_centre_off_the_line() -> None:
    """Centroid of a quarter arc of radius R lies at 2 R / pi on both axes."""
    t = np.linspace(0.0, 0.5 * np.pi, 9)
    got = hose(0.5 * np.column_stack([np.cos(t), np.sin(t), 0.0 * t]), fittings=False)
    # thickness moves it by r^2 / (4 R^2), less than 1e-4
    assert got.cm[:2] == pytest.approx([1.0 / np.pi, 1.0 / np.pi], rel=3e-4)
    assert got.mass == pytest.approx(HOSE_MASS * 0.25 * np.pi, rel=1e-4)


def test_cord_is_lighter_and_bellows_wave() -> None:
    assert cord(STRAIGHT).mass < 0.4 * hose(STRAIGHT).mass
    got = inflator_hose(STRAIGHT, 0.4)
    assert got.mesh is not None
    assert volume_integrals(got.mesh).volume > 0.0
    # the head sits at the far end and pulls the centre there
    assert got.cm[0] > 0.4


@pytest.mark.parametrize(
    "call",
    [
        lambda: hose(STRAIGHT, mass_per_metre=float("nan")),
        lambda: hose(STRAIGHT, outer_diameter=0.0),
        lambda: hose(STRAIGHT, length=float("nan")),
        lambda: hose([[0.0, 0.0, 0.0]]),
    ],
)
def test_refuses(call: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"> 0|path"):
        call()
