"""Cylinders: the wall formula against elasticity, exact identities, and what cannot be one cylinder."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from meshes.gear.cylinder import Metal, cylinder, least_wall
from meshes.gear.cylinder_ends import Base
from meshes.solid import volume_integrals

# Strength Rg of quenched 34CrMo4 880-1030 MPa, of real lots of 6061-T6 45 ksi (from memory); densities of handbooks
STRENGTH: dict[Metal, float] = {"steel": 950e6, "aluminium": 310e6}
DENSITY: dict[Metal, float] = {"steel": 7850.0, "aluminium": 2700.0}
TWELVE: dict[str, Any] = {"water_capacity": 0.012, "outer_diameter": 0.171, "working_pressure": 232e5}


@pytest.mark.parametrize("metal", ["steel", "aluminium"])
@pytest.mark.parametrize("pressure", [200e5, 232e5, 300e5])
def test_wall_meets_the_stress_of_a_thick_tube(metal: Metal, pressure: float) -> None:
    """Lame's stresses at the inside of a closed thick tube at test pressure, 1.5 times the working one, combined by
    von Mises, use 0.65 of the strength: both factors of ISO 9809-1 and ISO 7866, from memory."""
    outer = 0.1
    inner = outer - least_wall(2.0 * outer, pressure, metal)
    p = 1.5 * pressure
    a = p * inner**2 / (outer**2 - inner**2)
    hoop, radial, axial = a * (1.0 + (outer / inner) ** 2), -p, a
    mises = np.sqrt(0.5 * ((hoop - radial) ** 2 + (radial - axial) ** 2 + (axial - hoop) ** 2))
    assert mises == pytest.approx(0.65 * STRENGTH[metal], rel=1e-12)


@settings(max_examples=40, deadline=None)
@given(
    capacity=st.floats(0.006, 0.02),
    slimness=st.floats(3.0, 5.0),
    share=st.floats(0.7, 1.5),
    metal=st.sampled_from(["steel", "aluminium"]),
)
def test_stated_mass_and_capacity_hold_exactly(capacity: float, slimness: float, share: float, metal: Metal) -> None:
    diameter = float((4.0 * capacity / np.pi / slimness) ** (1.0 / 3.0))
    usual = cylinder(water_capacity=capacity, outer_diameter=diameter, working_pressure=200e5, metal=metal)
    mass = share * usual.solid.mass
    got = cylinder(water_capacity=capacity, outer_diameter=diameter, mass=mass, metal=metal)
    assert got.solid.mass == pytest.approx(mass, rel=1e-10)
    assert got.water_capacity == pytest.approx(capacity, rel=1e-12)
    # buoyancy_empty = rho_w (V + m / rho_metal) - m
    assert got.solid.volume == pytest.approx(capacity + mass / DENSITY[metal], rel=1e-10)
    assert got.wall == pytest.approx(usual.wall, rel=1e-6) or (got.wall > usual.wall) == (share > 1.0)


@pytest.mark.parametrize("base", ["convex", "concave", "flat"])
@pytest.mark.parametrize("metal", ["steel", "aluminium"])
def test_every_base_holds_its_water_and_is_sound(base: Base, metal: Metal) -> None:
    got = cylinder(**TWELVE, base=base, metal=metal)
    assert got.solid.mesh is not None
    body = trimesh.Trimesh(got.solid.mesh.vertices, got.solid.mesh.faces, process=False)
    assert body.is_volume
    assert got.water_capacity == pytest.approx(0.012, rel=1e-12)
    assert np.ptp(got.solid.mesh.vertices[:, 0]) == pytest.approx(got.length, rel=1e-12)
    assert 0.0 <= got.base_top_x < got.shoulder_x < got.neck_x
    assert got.neck[0] == pytest.approx(got.solid.mesh.vertices[:, 0].max(), rel=1e-12)
    # gas fills the middle, the heavier base pulls the metal's centre below that of the gas or close to it
    assert abs(got.solid.cm[0] - got.gas_centroid[0]) < 0.1 * got.length


def test_frame_starts_at_the_pole_of_the_base() -> None:
    flat, concave = cylinder(**TWELVE, base="flat"), cylinder(**TWELVE, base="concave")
    for got in (flat, concave):
        assert got.solid.mesh is not None
        on_axis = got.solid.mesh.vertices[np.hypot(*got.solid.mesh.vertices[:, 1:].T) < 1e-9, 0]
        assert on_axis.min() == pytest.approx(0.0, abs=1e-12)
    assert concave.solid.mesh is not None
    # foot of a concave base stands 0.12 D below the pole
    assert concave.solid.mesh.vertices[:, 0].min() == pytest.approx(-0.12 * 0.171, rel=1e-9)


def test_drawn_mesh_converges_to_the_exact_integrals_at_second_order() -> None:
    errors = []
    for points in (24, 48, 96):
        got = cylinder(**TWELVE, points=points)
        assert got.solid.mesh is not None
        drawn = volume_integrals(got.solid.mesh)
        errors.append(got.solid.volume - drawn.volume)
        assert drawn.centroid == pytest.approx(got.solid.cb, abs=1e-12)
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.02)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.02)
    # 96-sided: 0.07 % low
    assert errors[2] < 8e-4 * 0.0138


def test_metal_is_the_difference_of_two_full_bodies() -> None:
    """Independent: trimesh on the outer mesh, the gas space subtracted through its own integrals."""
    got = cylinder(**TWELVE, points=256)
    assert got.solid.mesh is not None
    outer = trimesh.Trimesh(got.solid.mesh.vertices, got.solid.mesh.faces, process=False)
    metal = outer.volume - got.water_capacity
    # 256 sides lack 0.01 % of 13.7 l, which is 0.08 % of the 1.7 l of metal
    assert 7850.0 * metal == pytest.approx(got.solid.mass, rel=1e-3)
    cm = (outer.volume * outer.center_mass - got.water_capacity * got.gas_centroid) / metal
    assert cm[0] == pytest.approx(got.solid.cm[0], abs=5e-4)


def test_long_cylinder_turns_like_a_thin_tube() -> None:
    """Axial inertia of a thin tube is m r^2; 20 m long, so that the ends are under 1 % of the mass."""
    got = cylinder(water_capacity=0.4, outer_diameter=0.171, working_pressure=232e5)
    r = 0.5 * 0.171 - 0.5 * got.wall
    assert got.solid.inertia[0, 0] == pytest.approx(got.solid.mass * r**2, rel=0.01)
    # and across, m L^2 / 12 of a rod
    assert got.solid.inertia[1, 1] == pytest.approx(got.solid.mass * got.length**2 / 12.0, rel=0.01)
    assert got.solid.inertia[1, 1] == pytest.approx(got.solid.inertia[2, 2], rel=1e-12)


def test_stated_length_is_built() -> None:
    free = cylinder(**TWELVE, mass=14.2)
    for change in (-0.012, 0.008):
        got = cylinder(**TWELVE, mass=14.2, length=free.length + change)
        assert got.length == pytest.approx(free.length + change, abs=1e-8)
        assert got.solid.mass == pytest.approx(14.2, rel=1e-10)
        assert got.solid.volume == pytest.approx(free.solid.volume, rel=1e-10)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"water_capacity": float("nan")}, "water capacity > 0"),
        ({"water_capacity": 12.0}, "long without its valve|too large|too small|weighs"),
        ({"outer_diameter": 0.02}, "outer diameter"),
        ({"water_capacity": 0.0005}, "too small"),
        ({"working_pressure": None}, "working pressure or the mass"),
        ({"working_pressure": 5000e5}, "no wall"),
        ({"working_pressure": float("nan")}, "> 0"),
        ({"mass": 1.0}, "weighs"),
        ({"mass": float("nan")}, "weighs"),
        ({"length": 0.9}, "long without its valve"),
        ({"length": float("nan")}, "long without its valve"),
    ],
)
def test_refuses_what_is_no_cylinder(change: dict[str, Any], words: str) -> None:
    call = TWELVE | {"length": 0.69} | change
    with pytest.raises(ValueError, match=words):
        cylinder(**call)
