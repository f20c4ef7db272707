"""The moment field: gradient of the energy, exact second derivatives, and what it must not depend on."""

from dataclasses import replace

import numpy as np
import pytest

from sim.statics.energy import energy
from sim.statics.field import field, soft_rig, stiffness, tangent_basis

STEP = 1e-5  # rad: truncation 1e-10, rounding 1e-16 * 10 J / 1e-5 = 1e-10


@pytest.mark.parametrize("law", ["logistic", "garment"])
@pytest.mark.parametrize("seed", range(5))
def test_torque_is_minus_the_energy_gradient(make_rig, directions, law, seed):
    soft = soft_rig(make_rig(seed, law=law, wing_gas=9e-3, gas_density=3.0))
    basis = tangent_basis(directions)
    d = np.einsum("kai,ki->ka", basis, field(soft, directions).d)
    for axis in range(2):
        moved = [directions + side * STEP * basis[:, axis] for side in (1.0, -1.0)]
        ahead, behind = (energy(soft, field(soft, m / np.linalg.norm(m, axis=1)[:, None])) for m in moved)
        # a tangent step s along the sphere turns by atan(s): third order, below the tolerance
        np.testing.assert_allclose((ahead - behind) / (2.0 * STEP), d[:, axis], atol=2e-6)


@pytest.mark.parametrize("law", ["logistic", "garment"])
@pytest.mark.parametrize("wing_gas", [9e-3, None])
def test_jacobian_of_the_torque(make_rig, directions, law, wing_gas):
    soft = soft_rig(make_rig(2, law=law, wing_gas=wing_gas, gas_density=3.0))
    values = field(soft, directions)
    numeric = np.zeros((len(directions), 3, 3))
    for axis in range(3):
        shift = np.zeros(3)
        shift[axis] = 1e-6
        numeric[:, :, axis] = (field(soft, directions + shift).d - field(soft, directions - shift).d) / 2e-6
    # central differences of a gas state solved to 1e-13 of its capacity: 1e-13 * 0.02 m^3 * 1e4 N/m^3 / 1e-6
    np.testing.assert_allclose(values.bend + values.refill, numeric, atol=5e-4)


def test_gas_only_ever_takes_stiffness_away(make_rig, directions):
    for seed in range(5):
        values = field(soft_rig(make_rig(seed)), directions)
        assert np.linalg.eigvalsh(values.bend).max() < 1e-9


def test_neutral_torque_does_not_depend_on_the_held_point(make_rig, directions):
    """A neutral rig feels a pure couple; the gas is the same when the pressure is told for the new point too."""
    rig = make_rig(5, wing_gas=None)
    rig = replace(rig, suit=None)
    other = replace(rig, held=rig.held + np.array([0.3, -0.1, 0.2]))
    one, two = (field(soft_rig(r), directions) for r in (rig, other))
    np.testing.assert_allclose(np.cross(directions, one.d), np.cross(directions, two.d), atol=1e-7)


def test_mirrored_rig_has_the_mirrored_moment(make_rig, mirror_rig, directions):
    flip = np.array([1.0, -1.0, 1.0])
    rig = make_rig(6)
    one, two = field(soft_rig(rig), directions), field(soft_rig(mirror_rig(rig)), directions * flip)
    np.testing.assert_allclose(one.d * flip, two.d, atol=1e-8)  # the same sums in another order


def test_sizes_of_the_gas_free_rig(make_rig, directions):
    """Without gas the moment is that of two weights: m g at the CM, rho g V at the CB."""
    rig = replace(make_rig(0), suit=None, wing=None)
    values = field(soft_rig(rig), directions)
    whole, water = rig.whole, rig.water
    by_hand = water.gravity * (
        whole.mass * (whole.cm - rig.held) - water.density * whole.volume * (whole.cb - rig.held)
    )
    np.testing.assert_allclose(values.d, np.tile(by_hand, (len(directions), 1)), rtol=1e-14)


def test_tangent_basis_is_orthonormal(directions):
    every = np.concatenate([directions, [[1.0, 0.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 1.0, 0.0]]])
    basis = tangent_basis(every)
    np.testing.assert_allclose(basis @ basis.transpose(0, 2, 1), np.tile(np.eye(2), (len(every), 1, 1)), atol=1e-15)
    np.testing.assert_allclose(np.einsum("kai,ki->ka", basis, every), 0.0, atol=1e-15)


def test_stiffness_is_symmetric_with_the_wing_frozen(make_rig, directions):
    soft = soft_rig(make_rig(1))
    matrix = stiffness(field(soft, directions), tangent_basis(directions))
    np.testing.assert_allclose(matrix, matrix.transpose(0, 2, 1), atol=1e-9)
