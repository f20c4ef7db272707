"""Lead: weight in water, sizes that follow from mass, and where belt and ankle weights lie."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from meshes.gear.lead import (
    ankle_weight,
    channel_weight,
    gap_weight,
    lead_block,
    shot_pouch,
    tail_weight,
    weight_belt,
)
from meshes.solid import volume_integrals

LEAD = 11340.0  # kg/m^3, handbook value of pure lead
SHOT = 6800.0  # kg/m^3: spheres packed at random fill 0.60 of the room, 0.60 * 11340


@pytest.mark.parametrize("make", [lead_block, tail_weight, channel_weight, shot_pouch, ankle_weight])
def test_weight_in_sea_water(make: Callable[[float], object]) -> None:
    """m (1 - 1025/11340) = 0.910 m, shot and pouch alike, since water fills the voids."""
    got = make(2.0)
    assert got.mass - 1025.0 * got.volume == pytest.approx(2.0 * (1.0 - 1025.0 / 11340.0), rel=1e-9)  # type: ignore[attr-defined]
    assert got.mass - 1025.0 * got.volume == pytest.approx(0.910 * 2.0, abs=0.001)  # type: ignore[attr-defined]


@settings(max_examples=30, deadline=None)
@given(mass=st.floats(0.3, 6.0))
def test_cast_shapes_are_drawn_to_size(mass: float) -> None:
    for got in (lead_block(mass), tail_weight(mass), channel_weight(mass)):
        assert got.mesh is not None
        assert volume_integrals(got.mesh).volume == pytest.approx(mass / LEAD, rel=1e-9)


def test_shot_is_drawn_as_packed() -> None:
    pouch, ankle = shot_pouch(1.5), ankle_weight(0.5)
    assert pouch.mesh is not None
    assert ankle.mesh is not None
    assert volume_integrals(pouch.mesh).volume == pytest.approx(1.5 / SHOT, rel=1e-9)
    # 24-sided section and 49 stations round the leg: 1.2 % low
    assert volume_integrals(ankle.mesh).volume == pytest.approx(0.5 / SHOT, rel=0.015)


def test_upright_channel_is_a_plain_bar() -> None:
    """With walls square to the plate the inertia is that of a brick."""
    got = channel_weight(3.0, length=0.30, floor=0.05, slope=90.0)
    thick = 3.0 / LEAD / (0.30 * 0.05)
    assert got.cm == pytest.approx([0.0, 0.0, -0.5 * thick], abs=1e-12)
    want = 3.0 / 12.0 * np.array([0.05**2 + thick**2, 0.30**2 + thick**2, 0.30**2 + 0.05**2])
    assert np.diag(got.inertia) == pytest.approx(want, rel=1e-9)


def test_sloping_channel_holds_more_toward_its_mouth() -> None:
    square, sloping = channel_weight(4.0, slope=90.0), channel_weight(4.0, slope=45.0)
    assert square.mesh is not None
    assert sloping.mesh is not None
    assert np.ptp(sloping.mesh.vertices[:, 2]) < np.ptp(square.mesh.vertices[:, 2])
    assert np.ptp(sloping.mesh.vertices[:, 1]) > 0.045


@pytest.mark.parametrize("mass", [1.0, 3.0, 8.0])
def test_gap_weight_touches_no_cylinder(mass: float) -> None:
    diameter, spacing = 0.171, 0.185
    got = gap_weight(mass, outer_diameter=diameter, spacing=spacing)
    assert got.mesh is not None
    y, z = got.mesh.vertices[:, 1], got.mesh.vertices[:, 2]
    for side in (0.5, -0.5):
        # chords of the hollow flank come up to 0.2 mm nearer than its points; 3 mm of clearance stay
        assert np.hypot(y - side * spacing, z).min() > 0.5 * diameter + 0.0028
    assert z.min() >= -0.5 * diameter
    assert z.max() < 0.0
    # 13 stations across a hollow flank: 0.5 % of the section
    assert volume_integrals(got.mesh).volume == pytest.approx(mass / LEAD, rel=5e-3)
    assert np.ptp(got.mesh.vertices[:, 0]) == pytest.approx(0.30)


def test_belt_balances_and_leaves_room_for_the_buckle() -> None:
    got = weight_belt([1.0] * 4, breadth=0.36, depth=0.26, belt=False)
    assert got.cm[1] == pytest.approx(0.0, abs=1e-6)
    assert got.cm[0] == pytest.approx(0.0, abs=1e-6)
    assert got.mesh is not None
    front = got.mesh.vertices[got.mesh.vertices[:, 2] < -0.10]
    # 60 mm either side of the middle are kept free, blocks are centred in what is left
    assert (np.abs(front[:, 1]) > 0.05).all()
    left_heavy = weight_belt([2.0, 1.0], breadth=0.36, depth=0.26, belt=False)
    assert left_heavy.cm[1] > 0.03
    belted = weight_belt([1.0] * 4, breadth=0.36, depth=0.26)
    # circumference 0.98 m of webbing at 67.5 g/m
    assert belted.mass - 4.0 == pytest.approx(0.0675 * 0.98, rel=0.02)


def test_ankle_weight_sits_round_the_leg() -> None:
    got = ankle_weight(0.5, girth=0.28)
    assert got.mesh is not None
    inner = np.hypot(got.mesh.vertices[:, 1], got.mesh.vertices[:, 2]).min()
    # chords of the ring only; the two end hubs lie at mid-thickness, outside of it
    assert inner == pytest.approx(0.28 / (2.0 * np.pi), rel=0.01)
    # the buckle's gap is on the outside of the left leg, so the lead lies inward
    assert got.cm[1] < 0.0


@pytest.mark.parametrize(
    "call",
    [
        lambda: gap_weight(40.0, outer_diameter=0.171, spacing=0.185),
        lambda: gap_weight(1.0, outer_diameter=0.171, spacing=0.15),
        lambda: channel_weight(1.0, slope=float("nan")),
        lambda: channel_weight(1.0, floor=0.0),
        lambda: weight_belt([], breadth=0.36, depth=0.26),
        lambda: weight_belt([1.0], breadth=float("nan"), depth=0.26),
    ],
)
def test_refuses(call: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"gap|axes|needs"):
        call()
