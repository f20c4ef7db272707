"""Drag: published coefficients in, always dissipative, closed forms of a turning rod."""

import numpy as np
import pytest

from meshes.loft import lathe
from meshes.primitives import box
from meshes.solid import moved, solid_of
from sim.rig import Part, Water, rig_of
from sim.settling.drag import cylinder_size, drag, drag_about, strips_of, turning_drag
from sim.settling.extent import Extent, extents

VISCOSITY = 1.35e-6  # m^2/s, sea water at 10 C: IAPWS value of fresh water and 4 % more
SWING = 10.0  # s, the period for which the viscous layer is worked out (a diver's swings take 4 to 20 s)

LENGTH, DIAMETER, DENSITY = 0.8, 0.08, 1000.0


def rod(points=192):
    radius = 0.5 * DIAMETER
    mesh = lathe([(-0.5 * LENGTH, 0.0), (-0.5 * LENGTH, radius), (0.5 * LENGTH, radius), (0.5 * LENGTH, 0.0)], points)
    rig = rig_of([Part("rod", "cylinder", solid_of(mesh, 1500.0))], Water(DENSITY, 9.81, 2e5))
    return extents(rig)[0]


def layer():
    """The viscous layer's force [N] a metre and m/s: 2 pi^1.5 rho D sqrt(nu / T)."""
    return 2.0 * np.pi**1.5 * DENSITY * DIAMETER * np.sqrt(VISCOSITY / SWING)


def test_a_cylinder_keeps_its_size():
    # 192 points round: radius 1e-4 short
    assert cylinder_size(rod()) == pytest.approx((LENGTH, DIAMETER, DIAMETER), rel=5e-4)


def test_force_on_a_rod_drifting_broadside():
    strips = strips_of([rod()], np.zeros(3), DENSITY)
    speed = 0.4
    torque, force = drag(strips, np.zeros(3), np.array([0.0, 0.0, speed]))
    expected = 0.5 * DENSITY * 0.82 * LENGTH * DIAMETER * speed**2 + layer() * LENGTH * speed
    assert force == pytest.approx([0.0, 0.0, -expected], rel=2e-3, abs=1e-9)  # 192 points round
    assert torque == pytest.approx(np.zeros(3), abs=1e-9)


def test_torque_on_a_rod_turning_about_one_end():
    strips = strips_of([rod()], np.array([-0.5 * LENGTH, 0.0, 0.0]), DENSITY)
    spin = 0.7
    torque, _ = drag(strips, np.array([0.0, spin, 0.0]), None)
    # integrals of x^3 and x^2 over the rod, which four Gauss points do exactly
    quadratic = 0.5 * DENSITY * 0.82 * DIAMETER * spin**2 * LENGTH**4 / 4.0
    assert torque == pytest.approx([0.0, -quadratic - layer() * spin * LENGTH**3 / 3.0, 0.0], rel=2e-3, abs=1e-9)


def test_only_the_viscous_layer_resists_a_round_rod_turning_about_its_own_axis():
    strips = strips_of([rod()], np.zeros(3), DENSITY)
    torque, _ = drag(strips, np.array([2.0, 0.0, 0.0]), None)
    # half the layer's force a metre, on the skin at D/2
    expected = 0.5 * layer() * LENGTH * (0.5 * DIAMETER) ** 2 * 2.0
    # the mesh's 192 points leave the section flat by 1e-4, which lets a trace of pressure drag in
    assert torque == pytest.approx([-expected, 0.0, 0.0], rel=5e-3, abs=1e-9)


def plate(length=0.6, breadth=0.2, at=(-0.8, 0.0, 0.0)):
    sheet = moved(solid_of(box([length, breadth, 0.006]), 1100.0), shift=at)
    return extents(rig_of([Part("plate", "other", sheet)], Water(DENSITY, 9.81, 2e5)))


@pytest.mark.parametrize("spin", [0.5, 1.0, 3.0])
def test_a_plate_turning_about_a_distant_axis(spin):
    torque, _ = drag(strips_of(plate(), np.zeros(3), DENSITY), np.array([0.0, spin, 0.0]), None)
    # the integral of x^3 from 0.5 to 1.1 m
    quadratic = 0.5 * DENSITY * 1.17 * 0.2 * (1.1**4 - 0.5**4) / 4.0 * spin**2
    # some per cent of a slow turn are the layer on the skin
    assert torque[1] == pytest.approx(-quadratic, rel=0.015 / spin)
    assert torque[1] < -quadratic
    assert torque[[0, 2]] == pytest.approx([0.0, 0.0], abs=1e-6 * quadratic)


def test_a_plate_turning_about_an_axis_beside_it():
    torque, _ = drag(strips_of(plate(at=(0.0, 0.3, 0.0)), np.zeros(3), DENSITY), np.array([2.0, 0.0, 0.0]), None)
    # strips across the axis, 0.2 to 0.4 m off: two points across are exact for x^3
    quadratic = 0.5 * DENSITY * 1.17 * 0.6 * (0.4**4 - 0.2**4) / 4.0 * 4.0
    assert torque[0] == pytest.approx(-quadratic, rel=0.02)


def test_a_plate_in_its_own_plane_has_friction_and_thin_edges():
    strips = strips_of(plate(at=(0.0, 0.0, 0.0)), np.zeros(3), DENSITY)
    speed = 2.0

    def resisted(direction):
        return -drag(strips, np.zeros(3), speed * np.array(direction))[1] @ direction

    along, across, broadside = (resisted(d) for d in np.eye(3))
    dynamic = 0.5 * DENSITY * speed**2
    layer = np.diag(strips.viscous)[3:] * speed  # the plate lies along the axes
    friction = 2.0 * 1.328 / np.sqrt(1e5) * 0.6 * 0.2  # Blasius 1908, both sides, Reynolds number 1e5
    # edges of 6 mm with the coefficients of bluff ends
    assert along - layer[0] == pytest.approx(dynamic * (friction + 0.87 * np.pi / 4.0 * 0.2 * 0.006), rel=0.01)
    assert across - layer[1] == pytest.approx(dynamic * (friction + 0.98 * 0.6 * 0.006), rel=0.03)
    assert broadside > 20.0 * max(along, across)


def test_drag_only_takes_energy():
    r = np.random.default_rng(1)
    shapes = []
    for _ in range(6):
        axes = np.linalg.qr(r.normal(size=(3, 3)))[0]
        axes *= np.linalg.det(axes)
        shapes.append(Extent(r.normal(size=3), axes, np.sort(r.uniform(0.02, 0.5, 3))[::-1], bool(r.random() < 0.5)))
    strips = strips_of(shapes, r.normal(size=3), 1025.0)
    for scale in np.geomspace(1e-9, 10.0, 300):
        omega, v = scale * r.normal(size=(2, 3))
        torque, force = drag(strips, omega, v)
        assert torque @ omega + force @ v < 0.0
        turning = drag(strips, omega, None)[0]
        assert turning @ omega < 0.0
        np.testing.assert_allclose(turning_drag(strips, omega), turning, rtol=1e-12)
        rate = np.linalg.norm(omega)
        square, linear = drag_about(strips, omega / rate)
        # about one axis every strip's speed goes with the rate, so that drag is its square and the rate itself
        assert turning @ omega / rate == pytest.approx(-(square * rate + linear) * rate, rel=1e-11)


def test_no_parts_no_drag():
    torque, force = drag(strips_of([], np.zeros(3), DENSITY), np.ones(3), np.ones(3))
    assert not torque.any()
    assert not force.any()
