"""Ends of cylinders: closed forms of their volumes, what the standards ask of them, and where they put the mass."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from meshes.gear.cylinder import Metal, cylinder, least_wall
from meshes.gear.cylinder_ends import Base, base_profiles, dished_end, domed_end
from meshes.mesh import Floats
from meshes.revolved import revolved_integrals

R = 0.0855  # m, a 171 mm cylinder


def order_of(errors: list[float]) -> list[float]:
    return [a / b for a, b in itertools.pairwise(errors)]


@pytest.mark.parametrize("depth", [0.5 * R, 0.8 * R, R])
def test_domed_end_is_half_an_ellipsoid(depth: float) -> None:
    """V = 2/3 pi R^2 H, its centroid 3/8 H from the side's end; chords are good to second order."""
    ends = [revolved_integrals(domed_end(0.1, depth, R, n)) for n in (32, 64, 128)]
    errors = [2.0 / 3.0 * np.pi * R**2 * depth - e.volume for e in ends]
    assert order_of(errors) == pytest.approx([4.0, 4.0], rel=0.02)
    assert errors[-1] < 1e-4 * ends[-1].volume
    assert ends[-1].centroid[0] == pytest.approx(0.1 - 0.375 * depth, abs=1e-4 * depth)


def dished_volume(rise: float, radius: float, knuckle: float) -> float:
    """Closed form [m^3] from the end's surface up to the plane of the knuckle's end.

    A cap that touches the knuckle from outside: with the sum of both radii S and the knuckle's ring at a, S^2 = a^2 +
    (S - rise)^2. Each of the two arcs is integrated over rings 2 pi r (knuckle - x(r)) dr.
    """
    a = radius - knuckle
    total = (a**2 + rise**2) / (2.0 * rise)
    crown = total - knuckle
    meet = crown * a / total  # radius at which they touch
    centre = rise - crown
    cap = np.pi * meet**2 * (knuckle - centre) + 2.0 / 3.0 * np.pi * ((crown**2 - meet**2) ** 1.5 - crown**3)
    t = meet - a

    def ring(u: float) -> float:
        left = np.sqrt(max(knuckle**2 - u**2, 0.0))
        return float(-(left**3) / 3.0 + 0.5 * a * (u * left + knuckle**2 * np.arcsin(u / knuckle)))

    return float(cap + 2.0 * np.pi * (ring(knuckle) - ring(t)))


@pytest.mark.parametrize(("rise", "knuckle"), [(0.24 * R, 0.24 * R), (0.24 * R, 0.15 * R), (0.5 * R, 0.3 * R)])
def test_dished_end_is_a_cap_that_touches_a_torus(rise: float, knuckle: float) -> None:
    want = dished_volume(rise, R, knuckle)
    got = [revolved_integrals(dished_end(0.0, rise, R, knuckle, n)).volume for n in (32, 64, 128)]
    errors = [abs(want - g) for g in got]
    assert order_of(errors) == pytest.approx([4.0, 4.0], rel=0.05)
    assert got[-1] == pytest.approx(want, rel=1e-3)


def test_dish_with_hardly_any_rise_is_the_flat_end() -> None:
    """Continuous in the rise; a flat end is a disc and a quarter torus, whose volume Pappus gives."""
    k = 0.2 * R
    a = R - k
    flat = revolved_integrals(dished_end(0.0, 0.0, R, k, 400)).volume
    pappus = np.pi * a**2 * k + 2.0 * np.pi * (np.pi / 4.0 * k**2) * (a + 4.0 * k / (3.0 * np.pi))
    assert flat == pytest.approx(pappus, rel=1e-5)
    assert revolved_integrals(dished_end(0.0, 1e-6, R, k, 400)).volume == pytest.approx(flat, rel=1e-4)


def test_cap_and_knuckle_meet_without_a_kink() -> None:
    """The greatest turn from chord to chord halves as the chords do; a kink would stay."""

    def sharpest(n: int) -> float:
        steps = np.diff(dished_end(0.0, 0.24 * R, R, 0.2 * R, n), axis=0)
        way = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
        return float(np.abs(np.diff(way)).max())

    assert sharpest(64) / sharpest(128) == pytest.approx(2.0, rel=0.05)


def nearest(points: Floats, line: Floats) -> Floats:
    """Distance (k,) of points (k, 2) from a fine polyline's points (m, 2)."""
    return np.asarray(np.linalg.norm(points[:, None] - line[None], axis=2).min(axis=1))


@settings(max_examples=30, deadline=None)
@given(
    radius=st.floats(0.05, 0.11),
    pressure=st.floats(150e5, 300e5),
    base=st.sampled_from(["convex", "concave", "flat"]),
    metal=st.sampled_from(["steel", "aluminium"]),
)
def test_bases_are_as_the_standards_ask(radius: float, pressure: float, base: Base, metal: Metal) -> None:
    """ISO 9809-1, from memory: a convex base has 1.5 least walls; a concave one 2 in the middle and at its edge, a
    rise of 0.12 D and an inner knuckle of 0.075 D. Nowhere is a base thinner than the least wall."""
    least = least_wall(2.0 * radius, pressure, metal)
    outer, inner = base_profiles(base, radius, 1.04 * least, radius, 200)
    middle = inner[0, 0] - outer[0, 0]
    assert middle >= (1.5 if base == "convex" else 2.0) * least
    assert nearest(inner, outer).min() >= 0.98 * least  # half a chord between two of the outline's points
    if base == "concave":
        assert inner[:, 0].min() - outer[:, 0].min() >= 2.0 * least
        assert outer[0, 0] - outer[:, 0].min() == pytest.approx(0.12 * 2.0 * radius, rel=1e-9)
        assert inner[0, 0] - inner[:, 0].min() >= 0.12 * 2.0 * radius * (1.0 - 1e-9)
        # curvature of the inner knuckle, from three points of it
        assert circle_through(inner[[-1, -40, -80]]) >= 0.075 * 2.0 * radius * (1.0 - 1e-6)


def circle_through(three: Floats) -> float:
    """Radius of the circle through three points (3, 2): abc / 4 area."""
    sides = np.linalg.norm(three - np.roll(three, 1, axis=0), axis=1)
    u, v = three[1] - three[0], three[2] - three[0]
    return float(sides.prod() / (2.0 * abs(u[0] * v[1] - u[1] * v[0])))


@pytest.mark.parametrize(
    ("capacity", "diameter", "low", "high"), [(0.012, 0.171, 0.0, 0.007), (0.0085, 0.140, 0.009, 0.016)]
)
def test_steel_cylinders_centre_of_mass_by_estimate(
    capacity: float, diameter: float, low: float, high: float
) -> None:
    """How far CM lies toward the valve of CB; a second estimate by hand, made with the same thick bases."""
    made = cylinder(water_capacity=capacity, outer_diameter=diameter, working_pressure=232e5)
    assert low < made.solid.cm[0] - made.solid.cb[0] < high


def test_a_foot_brings_the_mass_toward_the_base() -> None:
    """By hand: both hold the same water at the same wall, the concave base is the shorter and the heavier one."""
    call = {"water_capacity": 0.012, "outer_diameter": 0.171, "working_pressure": 232e5}
    convex, concave = cylinder(**call, base="convex"), cylinder(**call, base="concave")  # type: ignore[arg-type]
    assert concave.length < convex.length - 0.01
    assert concave.solid.mass > convex.solid.mass
    lags = [c.solid.cm[0] - c.solid.cb[0] for c in (convex, concave)]
    assert lags[1] < lags[0]
    # each displaces what it holds and its metal, whatever its ends: exact
    for made in (convex, concave):
        assert made.solid.volume == pytest.approx(0.012 + made.solid.mass / 7850.0, rel=1e-12)
