"""Lamb 1932, Hydrodynamics, art. 71, 102, 108 and 114: water moved by a disc, an elliptic disc and a long plate."""

import numpy as np
import pytest
from scipy.special import ellipe

from meshes.loft import lathe
from meshes.mesh import Mesh
from meshes.solid import moved, solid_of
from sim.rig import Part, Water, rig_of
from sim.settling.added_mass import added_mass, ellipsoid_coefficients
from sim.settling.extent import extents

THIN = 1e-6
RHO = 1025.0


def carried(a, b):
    """Water over density moved along (3,) and about (3,) the axes of an ellipsoid nearly without thickness."""
    along, about = ellipsoid_coefficients(np.array([a, b, THIN]))
    volume = 4.0 / 3.0 * np.pi * a * b * THIN
    squares = np.array([a**2, b**2, THIN**2])
    return along * volume, about * volume / 5.0 * (squares.sum() - squares)


def test_a_disc_broadside_and_about_a_diameter():
    along, about = carried(1.0, 1.0)
    assert along[2] == pytest.approx(8.0 / 3.0, rel=1e-5)
    assert about[:2] == pytest.approx([16.0 / 45.0] * 2, rel=1e-5)
    assert about[2] == 0.0
    assert along[:2] == pytest.approx([0.0, 0.0], abs=1e-5)


@pytest.mark.parametrize("ratio", [1.2, 2.0, 3.0, 8.0])
def test_an_elliptic_disc_broadside(ratio):
    along, _ = carried(ratio, 1.0)
    # rho 4/3 pi a b^2 / E(k), k^2 = 1 - b^2/a^2
    assert along[2] == pytest.approx(4.0 / 3.0 * np.pi * ratio / ellipe(1.0 - ratio**-2), rel=1e-5)


def test_a_long_plate_goes_as_the_plane_flow():
    """Art. 71: rho pi b^2 a length broadside, rho pi b^4 / 8 a length in turning about the long axis."""
    length = 400.0
    along, about = carried(length, 1.0)
    # over an ellipse's length the breadth squared has a mean of 2/3, its fourth power of 8/15
    assert along[2] / (2.0 * length) == pytest.approx(2.0 / 3.0 * np.pi, rel=1e-3)
    assert about[0] / (2.0 * length) == pytest.approx(8.0 / 15.0 * np.pi / 8.0, rel=1e-3)


@pytest.mark.parametrize("thickness", [0.002, 0.008])
def test_a_lid_of_a_hand_s_breadth_as_the_program_takes_it(thickness):
    radius, at = 0.15, np.array([-0.7, 0.0, 0.0])
    profile = [(-0.5 * thickness, 0.0), (-0.5 * thickness, radius), (0.5 * thickness, radius), (0.5 * thickness, 0.0)]
    upright = lathe(profile, 256)
    flat = np.array([[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]])
    lid = moved(solid_of(Mesh(upright.vertices, upright.faces), 1200.0), flat, at)
    water = added_mass(extents(rig_of([Part("lid", "other", lid)], Water(RHO, 9.81, 2e5))), np.zeros(3), RHO)
    # first order in thickness over radius
    slack = 1.5 * thickness / radius + 2e-3
    assert water.translation[2, 2] == pytest.approx(8.0 / 3.0 * RHO * radius**3, rel=slack)
    far = RHO * (16.0 / 45.0 * radius**5 + 8.0 / 3.0 * radius**3 * at[0] ** 2)
    assert water.rotation[1, 1] == pytest.approx(far, rel=slack)
    assert water.rotation[0, 0] == pytest.approx(16.0 / 45.0 * RHO * radius**5, rel=2.0 * slack)
