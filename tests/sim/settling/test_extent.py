"""The ellipsoid that stands for a part."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from meshes.loft import lathe
from meshes.solid import Solid, moved, point_mass, solid_of
from sim.fill_laws import logistic_law
from sim.rig import Part, SuitPocket, Water, rig_of
from sim.settling.extent import extents

WATER = Water(1025.0, 9.81, 2.5e5)


def rig_with(*parts):
    return rig_of([Part(f"{i}", kind, solid) for i, (kind, solid) in enumerate(parts)], WATER)


def test_an_ellipsoid_is_its_own_extent_wherever_it_lies():
    semi = np.array([0.5, 0.2, 0.1])
    turn = Rotation.from_euler("zyx", [0.4, -0.7, 1.1]).as_matrix()
    volume = 4.0 / 3.0 * np.pi * semi.prod()
    inertia = 50.0 / 5.0 * np.diag((semi**2).sum() - semi**2)
    solid = moved(Solid(50.0, np.zeros(3), inertia, volume, np.array([0.0, 0.0, 0.01])), turn, [1.0, 2.0, 3.0])
    (extent,) = extents(rig_with(("body", solid)))
    assert extent.semi == pytest.approx(semi, rel=1e-12)
    assert extent.centre == pytest.approx(solid.cb, rel=1e-14)
    # same lines as the turned axes, either sense
    assert np.abs(np.sum(extent.axes * turn.T, axis=1)) == pytest.approx(np.ones(3), rel=1e-12)
    assert np.linalg.det(extent.axes) == pytest.approx(1.0, rel=1e-12)


def test_a_hollow_cylinder_takes_its_shape_from_the_mesh_and_its_size_from_the_water():
    mesh = lathe([(-0.3, 0.0), (-0.3, 0.08), (0.3, 0.08), (0.3, 0.0)], 96)
    solid = solid_of(mesh, 1200.0)
    (extent,) = extents(rig_with(("cylinder", solid)))
    assert extent.volume == pytest.approx(solid.volume, rel=1e-12)
    # L^2/12 to r^2/4, the variances of a cylinder; 96 points round leave 1e-3
    assert extent.semi[0] / extent.semi[1] == pytest.approx(np.sqrt(0.6**2 / 12.0) / (0.08 / 2.0), rel=1e-3)


def test_what_has_no_shape_is_a_ball_of_its_water():
    (extent,) = extents(rig_with(("other", point_mass(2.0, [0.1, 0.0, 0.0], volume=1e-3))))
    assert extent.semi == pytest.approx(np.full(3, np.cbrt(1e-3 / (4.0 / 3.0 * np.pi))), rel=1e-12)


def test_what_is_worn_does_not_count_unless_there_is_nothing_else():
    body, plate = point_mass(80.0, [0.0] * 3, 0.08), point_mass(3.0, [0.1] * 3, 4e-4)
    assert len(extents(rig_with(("body", body), ("plate", plate), ("suit", plate)))) == 1
    assert len(extents(rig_with(("plate", plate), ("suit", plate)))) == 2
    assert extents(rig_with(("lead", point_mass(3.0, [0.0] * 3)))) == ()


def test_a_bag_too_large_to_be_worn_reaches_as_far_as_its_cells():
    """Two balls of half the gas 60 cm apart: r^2/5 across, and the square of half their distance more along."""
    gas, apart = 0.2, 0.6
    law = logistic_law([0.0, 0.0], [0.15, 0.15], 300.0)
    bag = SuitPocket(np.array([[0.0, 0.5 * apart, 1.0], [0.0, -0.5 * apart, 1.0]]), law, gas)
    load = point_mass(200.0, [0.0] * 3, 0.02)
    _, extent = extents(rig_of([Part("load", "other", load)], WATER, suit=bag))
    across = np.cbrt(0.5 * gas / (4.0 / 3.0 * np.pi)) ** 2 / 5.0
    assert extent.volume == pytest.approx(gas, rel=1e-12)
    assert extent.centre == pytest.approx([0.0, 0.0, 1.0], abs=1e-12)
    assert np.abs(extent.axes[0]) == pytest.approx([0.0, 1.0, 0.0], abs=1e-12)
    assert extent.semi[0] / extent.semi[1:] == pytest.approx(np.sqrt(1.0 + 0.25 * apart**2 / across), rel=1e-12)
